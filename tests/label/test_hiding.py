"""Each of the 14, from every place where it can hide, to text, matrix, CSV and JSON.

That each is found is plain from how the kitchen was made: nothing of the program says
where it put them.
"""

import csv
import io
from functools import cache

import jsonschema
import pytest
from tests.label.kitchen import (
    DAY,
    PLACES,
    card,
    cards_of,
    counter,
    folder,
    hiding_kitchen,
    letters,
    like,
)

from slabwright.counter.allergen_matrix import AllergenMatrix, Row
from slabwright.label.allergen.allergens import State
from slabwright.label.allergen.annex import plain_name
from slabwright.larder.ingredient import ALLERGENS
from slabwright.publish.allergen_matrix import cell_letters, matrix_csv, matrix_text
from slabwright.publish.allergens import slab_text
from slabwright.publish.allergens_json import allergens_json
from slabwright.publish.schemas import output_schemas
from slabwright.publish.terminal import Manner

EXPECTED = {
    "line": (State.CONTAINS, "C"),
    "compound": (State.THROUGH, "S"),
    "sub-compound": (State.THROUGH, "S"),
    "brackets": (State.THROUGH, "S"),
    "own overlay": (State.CONTAINS, "C"),
    "own like": (State.CONTAINS, "C"),
    "shared component": (State.CONTAINS, "C"),
    "component on a line": (State.CONTAINS, "C"),
    "greasing": (State.CONTAINS, "C"),
    "may contain": (State.MAY_CONTAIN, "M"),
    "unknown": (State.UNKNOWN, "?"),
}
CASES = [
    pytest.param(allergen, place, id=f"{allergen}-{place}")
    for allergen in ALLERGENS
    for place in PLACES
    if place != "own like" or like(allergen)
]


@cache
def found(allergen: str, place: str) -> AllergenMatrix:
    """A counter of this slab alone."""
    text = cards_of(allergen)[place]
    if place == "own overlay":
        row = f"- {{name: icing sugar, contains: ['{allergen}'], source: spec}}\n"
        return counter(folder(row), text)
    return counter(hiding_kitchen(), text)


def only(matrix: AllergenMatrix) -> Row:
    (row,) = matrix.rows
    return row


@pytest.mark.parametrize(("allergen", "place"), CASES)
def test_it_comes_to_light_wherever_it_hides(allergen: str, place: str) -> None:
    matrix = found(allergen, place)
    row, (state, letter) = only(matrix), EXPECTED[place]
    group = allergen.partition(":")[0]
    cell = next(one for one in row.cells if one.group == group)

    assert state in cell.states
    assert letter in cell_letters(cell)
    if state is State.UNKNOWN:
        assert row.found.is_held
        assert allergen in row.found.unknown
        assert allergen not in row.found.in_it
    elif state is State.MAY_CONTAIN:
        assert row.found.may_contain == (allergen,)
        assert row.found.in_it == ()
    else:
        assert row.found.in_it == (allergen,)
        traces = [t for t in row.found.traces if t.allergen == allergen]
        assert {one.state for one in traces} == {state}
        assert all(one.way[0] in {"Base", "Top"} for one in traces)


@pytest.mark.parametrize(("allergen", "place"), CASES)
def test_it_is_named_in_every_output(allergen: str, place: str) -> None:
    matrix = found(allergen, place)
    text = slab_text(only(matrix), DAY, Manner())
    table, sheet = matrix_text(matrix, Manner()), matrix_csv(matrix)
    said = allergens_json(matrix)
    name = "any of the 14" if place == "unknown" else plain_name(allergen)

    assert name in " ".join(text.split())
    assert name in " ".join(table.split())
    assert max(map(len, f"{text}{table}".splitlines())) <= 80
    assert (
        plain_name(allergen)
        in next(iter(csv.DictReader(io.StringIO(sheet))))[allergen.partition(":")[0]]
    )
    jsonschema.validate(said, output_schemas()["allergens"])
    (one,) = said["slabs"]
    where = {"unknown": "unknown", "may contain": "may_contain_by_supplier"}
    assert allergen in one[where.get(place, "contains")]
    codes = {finding["code"] for finding in one["findings"]}
    assert ("allergen_unknown" in codes) == one["held"]
    assert ("may_contain" in codes) == (place == "may contain")


def test_a_deep_compound_shows_its_whole_way() -> None:
    row = only(found("milk", "sub-compound"))
    (trace,) = [t for t in row.found.traces if t.allergen == "milk"]

    q = trace.about.split()[0]
    assert trace.way == ("Base", f"{q} deep", f"{q} compound", f"{q} plain")


def test_what_other_slabs_hold_stands_apart_from_the_suppliers_words() -> None:
    home = hiding_kitchen()
    matrix = counter(
        home, cards_of("nuts:hazelnut")["line"], cards_of("egg")["may contain"]
    )
    with_egg_warned = matrix.rows[1]

    assert [one.allergen for one in with_egg_warned.in_kitchen] == ["nuts:hazelnut"]
    assert with_egg_warned.found.may_contain == ("egg",)
    shown = {one.group: cell_letters(one) for one in with_egg_warned.cells}
    assert (shown["nuts"], shown["egg"], shown["milk"]) == ("K", "M", "-")


def test_what_it_contains_it_no_longer_may_contain() -> None:
    q = letters("milk")
    (row,) = counter(
        hiding_kitchen(), card("Both", f"20 g {q} plain", f"20 g {q} warned")
    ).rows

    shown = {one.group: cell_letters(one) for one in row.cells}
    assert (shown["milk"], row.found.may_contain) == ("C", ())
