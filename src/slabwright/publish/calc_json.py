"""Calculators as JSON: the list of them, and an answer."""

from collections.abc import Sequence
from typing import Final

from slabwright.physics.species import SPECIES
from slabwright.publish.calc import Defaults, sources_of
from slabwright.publish.figure_json import Json, figure_json, source_json
from slabwright.publish.json_schema import (
    DEFS,
    FIGURES,
    NUMBER,
    SOURCES,
    STRING,
    STRINGS,
    Schema,
    array_of,
    object_of,
)
from slabwright.spec.calc.calculated import Calculated, asked_values
from slabwright.spec.calc.calculator import Calculator, Input

_VALUE: Final[Schema] = {"type": ["number", "string"]}
_FLAG: Final[Schema] = {"type": "boolean"}
_ANSWER: Final = object_of(
    calculator=STRING,
    name=STRING,
    label=STRING,
    **DEFS["figure"]["properties"],
    also=FIGURES,
    labels={"type": "object", "additionalProperties": STRING},
    notes=STRINGS,
    asked={"type": "object", "additionalProperties": _VALUE},
    leans_on=SOURCES,
)
_INPUT: Final = object_of(
    name=STRING,
    unit=STRING,
    what=STRING,
    kind={"enum": ["number", "word", "ingredient", "tin"]},
    default={"type": ["number", "string", "null"]},
    low=NUMBER,
    high=NUMBER,
    choices=STRINGS,
    is_optional=_FLAG,
    of_kitchen=_FLAG,
)
_CALCULATOR: Final = object_of(
    name=STRING,
    title=STRING,
    what=STRING,
    inputs=array_of(_INPUT),
    takes_parts=_FLAG,
    parts=STRINGS,
    example=STRING,
    sources=SOURCES,
    python=STRING,
)
CALC: Final[Schema] = {"anyOf": [_ANSWER, object_of(calculators=array_of(_CALCULATOR))]}


def answer_json(found: Calculated) -> Json:
    """An answer: its first figure with what programs know it by, and all beside it."""
    answer = found.answer
    return {
        "calculator": found.calculator.name,
        "name": answer.first.name,
        "label": answer.first.label,
        **figure_json(answer.first.figure),
        "also": {one.name: figure_json(one.figure) for one in answer.also},
        "labels": {one.name: one.label for one in answer.also},
        "notes": list(answer.notes),
        "asked": dict(asked_values(found.asked)),
        "leans_on": [source_json(s) for s in sources_of(found.calculator, answer)],
    }


def calculator_json(calculator: Calculator, defaults: Defaults) -> Json:
    """A calculator: what it asks, in which range, and what it leans on."""
    return {
        "name": calculator.name,
        "title": calculator.title,
        "what": calculator.what,
        "inputs": [_input(one, defaults) for one in calculator.inputs],
        "takes_parts": calculator.takes_parts,
        "parts": list(SPECIES) if calculator.takes_parts else [],
        "example": calculator.example,
        "sources": [source_json(source) for source in calculator.sources],
        "python": calculator.python,
    }


def list_json(listed: Sequence[tuple[Calculator, Defaults]]) -> Json:
    """Every calculator."""
    return {"calculators": [calculator_json(*one) for one in listed]}


def _input(one: Input, defaults: Defaults) -> Json:
    return {
        "name": one.name,
        "unit": one.unit,
        "what": one.what,
        "kind": one.kind,
        "default": defaults.get(one.name),
        "low": one.low,
        "high": one.high,
        "choices": list(one.choices),
        "is_optional": one.is_optional,
        "of_kitchen": bool(one.of_kitchen),
    }
