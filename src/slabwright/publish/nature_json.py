"""What a layer is like, as JSON: figures by name, classes with their scale."""

from collections.abc import Iterable
from typing import Any, Final

from slabwright.publish.figure_json import figure_json, source_json
from slabwright.publish.json_schema import (
    FIGURES,
    SOURCES,
    STANDING,
    STRING,
    STRINGS,
    Schema,
    object_of,
)
from slabwright.publish.nature_words import WATER_ACTIVITY
from slabwright.spec.nature.aspect import (
    Aspect,
    Classed,
    LayerNature,
    Named,
    Touching,
)

Json = dict[str, Any]


def water_activity_json(nature: LayerNature) -> Json | None:
    """The figure that most is asked of; null where nobody works it out."""
    figure = nature.figure(WATER_ACTIVITY)
    return figure_json(figure) if figure else None


def nature_json(nature: LayerNature) -> Json:
    """Every side of a layer by its name."""
    return {aspect.name: aspect_json(aspect) for aspect in nature.aspects}


def aspect_json(aspect: Aspect) -> Json:
    """One side of a layer, without its charts."""
    return {
        "title": aspect.title,
        "figures": _figures(aspect.figures),
        "labels": _labels(aspect.figures),
        "classes": classes_json(aspect.classes),
        "notes": list(aspect.notes),
    }


def touching_json(pair: Touching) -> Json:
    """What happens where two layers touch."""
    return {
        "lower": pair.lower,
        "upper": pair.upper,
        "figures": _figures(pair.figures),
        "labels": _labels(pair.figures),
        "classes": classes_json(pair.classes),
    }


def _figures(named: Iterable[Named]) -> Json:
    return {one.name: figure_json(one.figure) for one in named}


def _labels(named: Iterable[Named]) -> Json:
    return {one.name: one.label for one in named}


def classes_json(classes: Iterable[Classed]) -> Json:
    """Classes by name."""
    return {one.name: class_json(one) for one in classes}


def class_json(one: Classed) -> Json:
    """A word with its rule, and every word that it might have been."""
    return {
        "label": one.label,
        "word": one.word,
        "why": one.why,
        "words": list(one.words),
        "standing": one.standing.value,
        "sources": [source_json(source) for source in one.sources],
    }


CLASSES: Final[Schema] = {
    "type": "object",
    "additionalProperties": object_of(
        label=STRING, word=STRING, why=STRING, words=STRINGS, standing=STANDING,
        sources=SOURCES,
    ),
}  # fmt: skip
LABELS: Final[Schema] = {"type": "object", "additionalProperties": STRING}
_ASPECT: Final = object_of(
    title=STRING, figures=FIGURES, labels=LABELS, classes=CLASSES, notes=STRINGS
)
NATURE: Final[Schema] = {"type": "object", "additionalProperties": _ASPECT}
TOUCHING: Final = object_of(
    lower=STRING, upper=STRING, figures=FIGURES, labels=LABELS, classes=CLASSES
)
