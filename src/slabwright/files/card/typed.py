"""A number as it is typed beside a card, made one that a card reads."""

from collections.abc import Mapping
from typing import Final

from slabwright.files.card.block import DEEPEST_MM, HEAVIEST_G_ML, LIGHTEST_G_ML
from slabwright.files.card.edit import refused
from slabwright.files.card.lines import MOST_G
from slabwright.files.card.sizes import MM
from slabwright.quantity.numbers import Number, number_at

MOST_PIECES: Final = 2000
_SHOWN: Final = 40
_G: Final = {"g": 1.0, "gram": 1.0, "grams": 1.0, "kg": 1000.0}
_G_ML: Final = dict.fromkeys(("g/ml", "g/cm3", "g/cm³", "g/cc", "kg/l"), 1.0)
_PIECES: Final = dict.fromkeys(("pieces", "piece", "pcs"), 1.0)


def typed_mm(value: str | float) -> str:
    """A depth as a card has it: `12 mm`.

    Raises:
        FileError: for no depth, or for one that no layer has.
    """
    return f"{_number(value, 'mm', MM, 0.1, DEEPEST_MM)} mm"


def typed_g(value: str | float) -> str:
    """A mass as a card has it: `451 g`.

    Raises:
        FileError: for no mass, or for one that nobody weighs.
    """
    return f"{_number(value, 'g', _G, 0.001, MOST_G)} g"


def typed_g_ml(value: str | float) -> str:
    """A density as a card has it: `0.75 g/ml`.

    Raises:
        FileError: for no density, or for one that no layer has.
    """
    return f"{_number(value, 'g/ml', _G_ML, LIGHTEST_G_ML, HEAVIEST_G_ML)} g/ml"


def typed_pieces(value: str | float) -> int:
    """A number of pieces.

    Raises:
        FileError: for no whole number, none at all, or more than can be cut.
    """
    said = _number(value, "pieces", _PIECES, 1, MOST_PIECES)
    if "." in said:
        raise refused(f"{said} pieces can't be cut.", "Give a whole number.")
    return int(said)


def _number(
    value: str | float, unit: str, units: Mapping[str, float], least: float, most: float
) -> str:
    text = str(value).strip()
    found = number_at(text)
    rest = ""
    if isinstance(found, Number):
        rest = text[found.end :].strip().casefold().removesuffix(" deep").rstrip(".")
    if not isinstance(found, Number) or found.is_range or (rest and rest not in units):
        example = {"g/ml": "0.75 g/ml", "pieces": "20"}.get(unit, f"12 {unit}")
        what = f"'{text[:_SHOWN]}' is no number of {unit}."
        raise refused(what, f"Write it so: {example}.")
    number = found.value * units.get(rest, 1.0)
    if not least <= number <= most:
        what = f"{number:,.6g} {unit} is not likely."
        raise refused(what, f"Give from {least:g} to {most:,.6g} {unit}.")
    return f"{number:.3f}".rstrip("0").rstrip(".")
