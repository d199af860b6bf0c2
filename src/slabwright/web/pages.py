"""Every page and every address of the API, each from the module that owns it."""

import re
from typing import Final

from fastapi import FastAPI

from slabwright.web import (
    api,
    desk_pages,
    editing_api,
    moving_pages,
    photo_pages,
    shelf_pages,
    start_pages,
    trial_pages,
)

_UPLOADS: Final = re.compile(r"/kitchen/(?:import|verify)|/slabs/\d+/photos")


def add_to(app: FastAPI) -> None:
    """Give the app its pages."""
    for owner in (
        shelf_pages,
        start_pages,
        desk_pages,
        trial_pages,
        photo_pages,
        moving_pages,
        api,
        editing_api,
    ):
        app.include_router(owner.router)


def is_upload(path: str) -> bool:
    """Whether an address takes more than a form: photographs and whole kitchens."""
    return _UPLOADS.fullmatch(path) is not None
