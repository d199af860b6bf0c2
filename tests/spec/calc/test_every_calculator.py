"""What every calculator keeps, whichever it is, and those written next year."""

import importlib
import re
import shlex
from math import isfinite

import pytest
from hypothesis import given
from hypothesis import strategies as st

from slabwright.errors import Mistake
from slabwright.files.card.sizes import read_tin
from slabwright.kitchen import Kitchen
from slabwright.larder.load import built_in
from slabwright.physics.species import SPECIES
from slabwright.spec.calc.calculated import calculated
from slabwright.spec.calc.calculator import (
    Answer,
    Around,
    CalcError,
    Calculator,
    Input,
    Shown,
)
from slabwright.spec.calc.calculators import CALCULATORS, calculator_named

EVERY = pytest.mark.parametrize("calculator", CALCULATORS, ids=lambda one: one.name)
AROUND = Around(Kitchen(), built_in(), read_tin)
NAMES = ("dark chocolate 60%", "double cream", "honey", "whole milk", "water", "salt",
         "caster sugar", "egg white", "butter", "moon dust", "cornflour")  # fmt: skip
TINS = ("30 x 20 x 5 cm", "23 cm round", "1 x 1 mm", "round 9 in, 2 in deep")
HOT = ("boiling-point", "water-left", "stop-weight", "boil-minutes", "sugar-stages")
"""Whoever asks these stands at hot sugar."""

Pairs = list[tuple[str, str]]


def example(calculator: Calculator) -> Pairs:
    words = (one.partition("=") for one in shlex.split(calculator.example)[2:])
    return [(key, value) for key, _, value in words]


def shown(answer: Answer) -> tuple[Shown, ...]:
    return (answer.first, *answer.also)


def sound(answer: Answer) -> None:
    """Every figure is a number within its range, or says why it is none."""
    names = [one.name for one in shown(answer)]
    assert len(set(names)) == len(names)
    for one in shown(answer):
        figure = one.figure
        assert figure.sum, one.name
        assert one.label
        if figure.value is None:
            continue
        assert isfinite(figure.value), one.name
        if figure.low is not None and figure.high is not None:
            slack = 1e-9 * max(1.0, abs(figure.number))
            assert figure.low - slack <= figure.number <= figure.high + slack, one.name
            assert figure.holds, one.name
    assert not [note for note in answer.notes if re.search(r"\bnan\b|\binf\b", note)]


def answered_or_told(calculator: Calculator, pairs: Pairs) -> None:
    """A sound answer, or mistakes with what to do."""
    told: tuple[Mistake, ...] = ()
    try:
        sound(calculated(calculator, pairs, AROUND).answer)
    except CalcError as error:
        told = error.mistakes
    assert all(one.what and one.do for one in told)


def numbers(one: Input) -> st.SearchStrategy[str]:
    low = -1e6 if one.low is None else one.low
    high = 1e6 if one.high is None else one.high
    ends = st.sampled_from([low, high])
    return (st.floats(low, high) | ends).map(lambda x: f"{x!r}")


def values(one: Input) -> st.SearchStrategy[str]:
    if one.kind == "number":
        return numbers(one)
    if one.kind == "tin":
        return st.sampled_from(TINS)
    if one.kind == "ingredient":
        return st.sampled_from(NAMES)
    return st.sampled_from(one.choices or ("GB", "US", "XX", "nonsense"))


@st.composite
def asked(draw: st.DrawFn, calculator: Calculator) -> Pairs:
    """Values within every range; what may be left out is so half the time."""
    pairs = []
    for one in calculator.inputs:
        must = one.default is None and not one.is_optional and not one.of_kitchen
        if must or draw(st.booleans()):
            pairs.append((one.name, draw(values(one))))
    if calculator.takes_parts:
        free = {one.name for one in calculator.inputs}
        names = draw(st.lists(st.sampled_from(SPECIES), max_size=4, unique=True))
        mass = st.just("0") | st.floats(1e-6, 1e6).map(lambda x: f"{x:.7g}")
        water = draw(st.booleans())
        names = [*names, *(["water"] if water and "water" not in names else [])]
        pairs += [(name, draw(mass)) for name in names if name not in free]
    return pairs


@EVERY
def test_it_says_what_it_asks_and_leans_on(calculator: Calculator) -> None:
    assert calculator_named(calculator.name) is calculator
    assert re.fullmatch(r"[a-z]+(-[a-z]+)*", calculator.name)
    assert calculator.title
    assert calculator.what.endswith((".", "?"))
    assert calculator.example.startswith(f"calc {calculator.name} ")
    assert calculator.inputs or calculator.takes_parts
    for one in calculator.inputs:
        assert one.what
        assert re.fullmatch(r"\w+", one.name)
        if one.kind == "number":
            assert one.low is not None, one.name
            assert one.high is not None, one.name
            assert one.low < one.high
            if isinstance(one.default, float):
                assert one.low <= one.default <= one.high
        if one.choices and one.default is not None:
            assert one.default in one.choices
        if one.of_kitchen:
            assert hasattr(Kitchen(), one.of_kitchen)


@EVERY
def test_the_function_for_arrays_is_there(calculator: Calculator) -> None:
    name, found = calculator.python, None
    parts = name.split(".")
    for cut in range(len(parts) - 1, 0, -1):
        try:
            found = importlib.import_module(".".join(parts[:cut]))
        except ModuleNotFoundError:
            continue
        for part in parts[cut:]:
            found = getattr(found, part)
        break
    assert callable(found), name


@EVERY
def test_its_example_is_answered(calculator: Calculator) -> None:
    found = calculated(calculator, example(calculator), AROUND)

    sound(found.answer)
    assert found.answer.first.figure.known
    figures = [one.figure for one in shown(found.answer)]
    sources = [s for figure in figures for s in figure.sources]
    assert sources or calculator.sources or calculator.name == "tin-factor"


@EVERY
@given(data=st.data())
def test_whatever_is_asked_within_its_ranges_is_answered_or_told(
    calculator: Calculator, data: st.DataObject
) -> None:
    pairs = data.draw(asked(calculator))
    answered_or_told(calculator, pairs)


@EVERY
@given(data=st.data())
def test_nonsense_is_told(calculator: Calculator, data: st.DataObject) -> None:
    keys = [one.name for one in calculator.inputs] + ["water", "sucrose", "x"]
    text = st.text(max_size=8) | st.sampled_from(
        ["nan", "-inf", "1e999", "", "0", "-1", "1e-320", "12 g", "½", "−", "1,2,3"]
    )
    pairs = data.draw(st.lists(st.tuples(st.sampled_from(keys), text), max_size=6))
    answered_or_told(calculator, pairs)


@pytest.mark.parametrize("name", HOT)
def test_a_caution_stands_where_hands_are_at_hot_sugar(name: str) -> None:
    calculator = calculator_named(name)
    assert calculator is not None
    notes = calculated(calculator, example(calculator), AROUND).answer.notes

    assert any("burn" in note for note in notes)
