"""Schemas of everything that a user or another program may write for us."""

from typing import Any, Final

from slabwright.files import kitchen_file, larder_file, prices_file
from slabwright.files.card.form import CardForm

_ABOUT: Final = {
    "card": "The JSON form of a card; layers stand bottom first.",
    "kitchen": "kitchen.yaml: country, measures, tins, vessels, places, people.",
    "larder": "larder.yaml: your own ingredients, which lie over ours.",
    "prices": "prices.yaml: packs, prices with the day they began, suppliers, stock.",
}


def file_schemas() -> dict[str, dict[str, Any]]:
    """JSON Schemas by name: card, kitchen, larder, prices."""
    made = {
        "card": CardForm.model_json_schema(),
        "kitchen": kitchen_file.ADAPTER.json_schema(),
        "larder": larder_file.ADAPTER.json_schema(),
        "prices": prices_file.ADAPTER.json_schema(),
    }
    return {name: {**made[name], "description": _ABOUT[name]} for name in made}
