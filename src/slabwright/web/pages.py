"""Every page and every address of the API, each from the module that owns it."""

from typing import Final

from fastapi import FastAPI

from slabwright.web import (
    desk_pages,
    editing_api,
    shelf_pages,
    start_pages,
    trial_pages,
)

UPLOADS: Final = ("/kitchen/import", "/kitchen/restore")
"""Addresses that take more than a form: photos and whole kitchens."""


def add_to(app: FastAPI) -> None:
    """Give the app its pages."""
    for owner in (shelf_pages, start_pages, desk_pages, trial_pages, editing_api):
        app.include_router(owner.router)
