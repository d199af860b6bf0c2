"""One mistake in a kitchen's paper costs what it stands on, and nothing else."""

from collections.abc import Sequence
from decimal import Decimal

import pytest

from slabwright.errors import FileError, Mistake
from slabwright.files.folder import Folder, folder_from
from slabwright.files.kitchen_file import read_kitchen
from slabwright.files.raw import Text

KITCHEN = """\
country: GB
altitude_m: high
labour_per_hour: 15.20
colour: blue
tins:
  - {name: frame, size: 57 x 37 x 4.5 cm}
  - {name: square, size: large}
  - {name: deep one}
  - {name: Frame, size: 20 x 20 x 5 cm}
people:
  - {name: Morwen, shifts: [{days: [thu, noday], from: "06:00", to: "14:00"}]}
  - {name: Dov}
cutters:
  - {name: roller, wheels: 5, from_mm: 60, to_mm: 40}
  - {name: other, wheels: 5, from_mm: 40, to_mm: 60}
"""
LARDER = """\
- name: our miller's rye
  like: wholemeal rye flour
- name: our crisp
  per_100g: {water: lots}
- name: our butter
  like: butter
  contains: [milk]
"""
PRICES = """\
- {ingredient: plain flour, pack: 16 kg, price: 12.48}
- {ingredient: caster sugar, pack: 5 kg, price: dear}
- {ingredient: fine salt, pack: 1 kg, price: 0.60}
"""


def kitchen(**papers: str) -> Folder:
    return folder_from(
        {f"{name}.yaml": Text(text, f"{name}.yaml") for name, text in papers.items()}
    )


def places(found: Sequence[Mistake]) -> list[tuple[int | None, str]]:
    return [(m.where.span.line if m.where.span else None, m.where.field) for m in found]


def test_a_kitchen_keeps_all_that_is_sound() -> None:
    folder = kitchen(kitchen=KITCHEN)
    mine = folder.kitchen
    assert mine.is_said
    assert mine.altitude_m == 0
    assert mine.labour_per_hour == Decimal("15.20")
    assert [name for name, _ in mine.tins] == ["frame", "Frame"]
    found = mine.tin("FRAME")
    assert found is not None
    assert found.depth_mm == 45, "the first of a name is meant"
    assert [one.name for one in mine.people] == ["Dov"]
    assert [one.name for one in mine.cutters] == ["other"]


def test_every_mistake_of_a_kitchen_is_told_at_once() -> None:
    told = kitchen(kitchen=KITCHEN).mistakes
    assert places(told) == [
        (2, "altitude_m"),
        (8, "tins.2.size"),
        (11, "people.0.shifts.0.days.1"),
        (4, "colour"),
        # Rows count on without those left out: no row is said of these.
        (None, "tins.size"),
        (None, "tins.name"),
        (None, "cutters.from_mm"),
    ]
    with pytest.raises(FileError) as error:
        read_kitchen(Text(KITCHEN, "kitchen.yaml"))
    assert error.value.mistakes == told


def test_a_larder_keeps_its_sound_rows() -> None:
    folder = kitchen(larder=LARDER)
    assert [one.name for one in folder.larder.ingredients if one.own] == [
        "our miller's rye",
        "our butter",
    ]
    assert places(folder.mistakes) == [(4, "1.per_100g.water")]


def test_a_price_list_keeps_its_sound_rows() -> None:
    folder = kitchen(prices=PRICES)
    assert folder.prices is not None
    assert set(folder.prices.prices) == {"plain-flour", "fine-salt"}
    assert places(folder.mistakes) == [(2, "1.price")]


@pytest.mark.parametrize("text", ["[1, 2]", "just words", "{a: [", "a: &x 1\nb: *x"])
def test_what_is_nothing_of_a_kitchen_leaves_the_usual_one(text: str) -> None:
    folder = kitchen(kitchen=text)
    assert not folder.kitchen.is_said
    assert folder.mistakes


def test_what_is_missing_takes_its_row_along() -> None:
    folder = kitchen(kitchen="scales:\n  - {to_g: 300}\n  - {to_g: 5000, step_g: 1}\n")
    assert [scale.to_g for scale in folder.kitchen.scales] == [5000]
    assert places(folder.mistakes) == [(2, "scales.0.step_g")]
