"""What a layer is like, in a few words: figures rounded, classes with their scale."""

from collections.abc import Iterator
from itertools import islice
from typing import Final

from slabwright.figure import Figure
from slabwright.publish.why import number
from slabwright.publish.words import BARE, NOT_KNOWN, grams, mm, places_of
from slabwright.spec.nature.aspect import Classed, LayerNature, Touching

WATER_ACTIVITY: Final = "water_activity"
"""The figure that stands first wherever a layer is told of in one line."""
_MOST: Final = 5


def value_words(figure: Figure) -> str:
    """A figure as it stands in a row: its value, or that nobody knows.

    >>> value_words(Figure(665.62, "g", "")), value_words(Figure(0.0856, "share", ""))
    ('666 g', '8.6%')
    """
    return NOT_KNOWN if figure.value is None else _said(float(figure.value), figure)


def likely_words(figure: Figure) -> str:
    """Its likely range; empty if it has none, or none that the rounding shows.

    >>> likely_words(Figure(0.11, "W/(m K)", "", low=0.089, high=0.13))
    'likely 0.09 to 0.13 W/(m K)'
    >>> likely_words(Figure(0.2, "", "", low=0.04, high=0.72))
    'likely 0.04 to 0.7'
    >>> likely_words(Figure(844.72, "ml", "", low=737.06, high=954.39))
    'likely 737 to 954 ml'
    """
    if figure.low is None or figure.high is None:
        return ""
    low, high = _said(figure.low, figure), _said(figure.high, figure)
    if low == high:
        return ""
    return f"likely {low.removesuffix(f' {figure.unit}')} to {high}"


def _said(value: float, figure: Figure) -> str:
    """A value rounded as its figure is, whose ends are rounded alike."""
    unit = figure.unit
    if unit == "g":
        return f"{grams(value)} g"
    if unit == "mm":
        return f"{mm(value)} mm"
    if unit not in BARE or figure.low is None:
        return number(value, unit, places_of(figure))
    said = f"{value:,.{places_of(figure)}f}"
    if value != 0 and float(said.replace(",", "")) == 0:
        said = f"{value:.1g}"  # what there is never reads as nought
    return f"{said} {unit}".rstrip().replace("-", "−")


def scale_words(one: Classed) -> str:
    """Every class in order, with this one marked; empty where there is no order.

    >>> scale_words(Classed("bite", "bite", "chewy", "", ("brittle", "chewy", "soft")))
    'brittle | > chewy < | soft'
    """
    if one.word not in one.words or len(one.words) < 2:
        return ""
    return " | ".join(f"> {w} <" if w == one.word else w for w in one.words)


def brief(nature: LayerNature, most: int = _MOST) -> str:
    """A layer in one line: its water activity, and what each side says first.

    Args:
        nature: what the layer is like.
        most: of these at most.

    Returns:
        The line; empty where nothing is known of it.
    """
    return "; ".join(islice(_brief(nature), most))


def _brief(nature: LayerNature) -> Iterator[str]:
    figure = nature.figure(WATER_ACTIVITY)
    if figure is not None and figure.known:
        yield f"water activity {value_words(figure)}"
    for aspect in nature.aspects:
        told = [one for one in aspect.classes if one.name not in _NOT_IN_BRIEF]
        for one in told[:1]:
            yield _short(one)


_NOT_IN_BRIEF: Final = ("growth", "time_and_temperature", "stage", "lactose")
"""Classes that are told in full or not at all: in a line they would say too much."""
_SHORT: Final = {
    "texture_eaten": "{} when eaten",
    "fat_eaten": "its fat {}",
    "graining": "its sugar {}",
    "emulsion": "fat in water: {} to splitting",
    "crispness": "{} by its water",
}
"""What a class is called in a line, where its label says more than is needed there."""


def _short(one: Classed) -> str:
    """A class in two or three words.

    >>> _short(Classed("egg_dose", "egg: dose", "sets", ""))
    'egg sets'
    """
    if one.name == "texture_eaten" and " " in one.word:
        return one.word  # as `held by its foam`
    if one.name == "emulsion" and one.word != "close":
        return f"fat in water {one.word}"
    if one.name in _SHORT:
        return _SHORT[one.name].format(one.word)
    dose = one.label.removesuffix(": dose")
    return f"{dose} {one.word}" if dose != one.label else f"{one.label}: {one.word}"


def pair_name(pair: Touching) -> str:
    """Two layers that touch, as they lie."""
    return f"{pair.upper} on {pair.lower}"
