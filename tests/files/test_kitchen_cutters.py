"""Rollers and evenness in kitchen.yaml: read, and refused where they can't be."""

from pathlib import Path

import pytest

from slabwright.cut.spread import USUAL_KNIFE_OFF_MM, USUAL_LEVEL_MM
from slabwright.errors import FileError
from slabwright.files.kitchen_file import read_kitchen
from slabwright.files.raw import Text
from slabwright.kitchen import Cutter
from slabwright.spec.cutting import evenness_of

DEMO = Path(__file__).parents[2] / "demo/kitchen.yaml"
ROLLER = "cutters: [{{name: roller, wheels: {}, from_mm: {}, to_mm: {}}}]"


def test_the_demonstration_kitchen_has_a_roller_of_five_wheels() -> None:
    kitchen = read_kitchen(Text(DEMO.read_text(encoding="utf-8")))

    assert kitchen.cutters == (Cutter("roller cutter", 5, 40, 60),)


def test_what_is_not_said_is_usual() -> None:
    bare = evenness_of(read_kitchen(Text("")))
    said = evenness_of(read_kitchen(Text("level_mm: 0\nknife_off_mm: 2.5\n")))

    assert (bare.level_mm, bare.knife_off_mm) == (USUAL_LEVEL_MM, USUAL_KNIFE_OFF_MM)
    assert (said.level_mm, said.knife_off_mm) == (0, 2.5)


@pytest.mark.parametrize(
    ("text", "field"),
    [
        (ROLLER.format(5, 60, 40), "cutters.0.from_mm"),
        (ROLLER.format(1, 40, 60), "cutters.0.wheels"),
        (ROLLER.format(5, 0, 60), "cutters.0.from_mm"),
        (ROLLER.format(5, ".nan", 60), "cutters.0.from_mm"),
        (ROLLER.format(5, 40, ".inf"), "cutters.0.to_mm"),
        ("cutters: [{name: roller, wheels: 5, from_mm: 40}]", "cutters.0.to_mm"),
        ("level_mm: -1", "level_mm"),
        ("level_mm: .nan", "level_mm"),
        ("knife_off_mm: 2000", "knife_off_mm"),
    ],
)
def test_what_cannot_be_is_named_by_its_field(text: str, field: str) -> None:
    with pytest.raises(FileError) as caught:
        read_kitchen(Text(text))

    assert [one.where.field for one in caught.value.mistakes] == [field]
    assert all(one.do for one in caught.value.mistakes)
