"""What a layer is like, in a few words: figures rounded, classes with their scale."""

from collections.abc import Iterator
from itertools import islice
from typing import Final

from slabwright.figure import Figure
from slabwright.publish.why import number
from slabwright.publish.words import NOT_KNOWN, places_of
from slabwright.spec.nature.aspect import Classed, LayerNature, Touching

WATER_ACTIVITY: Final = "water_activity"
"""The figure that stands first wherever a layer is told of in one line."""
_MOST: Final = 5


def value_words(figure: Figure) -> str:
    """A figure as it stands in a row: its value, or that nobody knows."""
    if figure.value is None:
        return NOT_KNOWN
    return number(figure.value, figure.unit, places_of(figure))


def likely_words(figure: Figure) -> str:
    """Its likely range; empty if it has none, or none that the rounding shows."""
    if figure.low is None or figure.high is None:
        return ""
    places = places_of(figure)
    low = number(figure.low, figure.unit, places)
    high = number(figure.high, figure.unit, places)
    if low == high:
        return ""
    bare = low.removesuffix(figure.unit).rstrip() if figure.unit != "share" else low
    return f"likely {bare} to {high}"


def scale_words(one: Classed) -> str:
    """Every class in order, with this one marked; empty where there is no order.

    >>> scale_words(Classed("bite", "bite", "chewy", "", ("brittle", "chewy", "soft")))
    'brittle | > chewy < | soft'
    """
    if one.word not in one.words or len(one.words) < 2:
        return ""
    return " | ".join(f"> {w} <" if w == one.word else w for w in one.words)


def brief(nature: LayerNature, most: int = _MOST) -> str:
    """A layer in one line: its water activity, and the first class of each side.

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
        for one in aspect.classes[:1]:
            yield f"{one.label}: {one.word}"


def pair_name(pair: Touching) -> str:
    """Two layers that touch, as they lie."""
    return f"{pair.upper} on {pair.lower}"
