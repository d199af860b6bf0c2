"""Every page and every address of the API, each from the module that owns it."""

import re
from typing import Final

from fastapi import FastAPI

from slabwright.web import (
    allergen_pages,
    api,
    api_kitchen,
    api_label,
    api_nutrition,
    api_price,
    buying_costs,
    buying_list,
    buying_pages,
    calc_pages,
    desk_pages,
    editing_api,
    evidence_pages,
    ingredients_pages,
    kitchen_pages,
    kitchen_paper_pages,
    label_kept_pages,
    label_pages,
    label_print_pages,
    larder_pages,
    layers_pages,
    moving_pages,
    net_weight_pages,
    nutrition_pages,
    own_adding,
    own_pages,
    photo_pages,
    price_pages,
    probe_check,
    scale_pages,
    sheet_pages,
    shelf_pages,
    start_pages,
    trial_pages,
    work_pages,
)

_UPLOADS: Final = re.compile(
    r"/kitchen/(?:import|verify)|(?:/api)?/slabs/\d+/photos|/slabs/\d+/allergens"
)


def add_to(app: FastAPI) -> None:
    """Give the app its pages."""
    for owner in (
        shelf_pages,
        start_pages,
        desk_pages,
        layers_pages,
        trial_pages,
        scale_pages,
        sheet_pages,
        label_pages,
        ingredients_pages,
        net_weight_pages,
        label_kept_pages,
        label_print_pages,
        nutrition_pages,
        price_pages,
        work_pages,
        photo_pages,
        moving_pages,
        kitchen_pages,
        kitchen_paper_pages,
        probe_check,
        own_adding,
        larder_pages,
        own_pages,
        allergen_pages,
        buying_pages,
        buying_costs,
        buying_list,
        calc_pages,
        evidence_pages,
        api,
        api_kitchen,
        api_label,
        api_nutrition,
        api_price,
        editing_api,
    ):
        app.include_router(owner.router)
    for also in (
        calc_pages.api,
        ingredients_pages.api,
        layers_pages.api,
        net_weight_pages.api,
    ):
        app.include_router(also)


def is_upload(path: str) -> bool:
    """Whether an address takes more than a form: photographs and whole kitchens."""
    return _UPLOADS.fullmatch(path) is not None
