"""Asks a calculator as the doors do: texts in, an answer or every mistake out."""

from slabwright.kitchen import Kitchen
from slabwright.larder.load import built_in
from slabwright.spec.calc.asked import asked_of
from slabwright.spec.calc.calculator import Answer, Around, CalcError, Calculator

EMPTY = Kitchen()
LARDER = built_in()


def ask(calculator: Calculator, kitchen: Kitchen = EMPTY, /, **given: object) -> Answer:
    """The answer to `calc NAME key=value …`."""
    around = Around(kitchen, LARDER, lambda text: None)
    pairs = [(key, f"{value}") for key, value in given.items()]
    return calculator.answer(asked_of(calculator, pairs, around))


def mistakes(calculator: Calculator, /, **given: object) -> list[str]:
    """Which fields it finds wrong; empty if it answers."""
    try:
        ask(calculator, **given)
    except CalcError as error:
        return [one.where.field or "" for one in error.mistakes if one.where]
    return []


def numbers(answer: Answer) -> dict[str, float | None]:
    """Its figures by name; None where one is withheld."""
    return {
        one.name: one.figure.number if one.figure.known else None
        for one in (answer.first, *answer.also)
    }
