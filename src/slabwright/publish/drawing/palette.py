"""The colours of drawings: of food, and of all that is not food.

Tokens are those of the house: ink on paper, one red for what stops. The layers'
colours stand in `colours.csv`. On paper everything is black on white.
"""

import csv
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Literal

from slabwright.publish.drawing.textures import texture_name

Theme = Literal["light", "dark", "paper", "page"]
"""`page` leaves colours to the page that the drawing stands in: `page_css`."""


@dataclass(frozen=True, slots=True)
class Tokens:
    """Colours of paper, ink and tin."""

    paper: str
    ink: str
    ink_2: str
    """Second text."""
    ink_3: str
    """Least: ticks, lining paper."""
    steel: str
    stop: str


@dataclass(frozen=True, slots=True)
class Food:
    """Fill of a layer and the ink of its texture."""

    fill: str
    ink: str


TOKENS: dict[Theme, Tokens] = {
    "light": Tokens("#F7F8F6", "#1D1F1C", "#4E5149", "#696C63", "#E9ECE8", "#98182B"),
    "dark": Tokens("#191B19", "#EFEFE9", "#BDBFB5", "#9C9F94", "#2C302C", "#F4A3AB"),
    "paper": Tokens("#FFFFFF", "#000000", "#222222", "#444444", "#FFFFFF", "#000000"),
    "page": Tokens(
        "var(--paper)", "var(--ink)", "var(--ink-2)", "var(--ink-3)", "var(--steel)",
        "var(--stop)",
    ),
}  # fmt: skip
_ON_PAPER = Food("#FFFFFF", "#111111")


def colour_key(texture: str, fill: str | None) -> str:
    """Which colour a layer has: the wanted fill if it is known, or its texture's.

    >>> colour_key("crumb", "rye"), colour_key("crumb", None)
    ('rye', 'crumb')
    >>> colour_key("slate", "sky")
    'plain'
    """
    return fill if fill in _foods("light") else texture_name(texture)


def colour_keys() -> tuple[str, ...]:
    """Every colour that a layer can have; those of the textures first."""
    return tuple(_foods("light"))


def food(key: str, theme: Theme) -> Food:
    """Fill and ink of a colour in a theme."""
    if theme == "page":
        return Food(f"var(--f-{key})", f"var(--i-{key})")
    return _ON_PAPER if theme == "paper" else _foods(theme)[key]


@cache
def _foods(theme: Literal["light", "dark"]) -> dict[str, Food]:
    table = files("slabwright.publish.drawing").joinpath("colours.csv")
    rows = csv.DictReader(table.read_text(encoding="utf-8").splitlines())
    return {row["key"]: Food(row[f"{theme}_fill"], row[f"{theme}_ink"]) for row in rows}
