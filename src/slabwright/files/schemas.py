"""Schemas of everything that a user or another program may write for us."""

from typing import Any

from slabwright.files import kitchen_file, larder_file, prices_file
from slabwright.files.card.form import CardForm


def file_schemas() -> dict[str, dict[str, Any]]:
    """JSON Schemas by name: card, kitchen, larder, prices."""
    return {
        "card": CardForm.model_json_schema(),
        "kitchen": kitchen_file.ADAPTER.json_schema(),
        "larder": larder_file.ADAPTER.json_schema(),
        "prices": prices_file.ADAPTER.json_schema(),
    }
