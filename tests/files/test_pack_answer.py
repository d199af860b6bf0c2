"""What a pack says, kept in larder.yaml with who read it."""

from datetime import date

import pytest

from slabwright.errors import FileError
from slabwright.files.folder import Folder, folder_from
from slabwright.files.pack_answer import PackAnswer, answered
from slabwright.files.raw import Text
from slabwright.label.allergen.contents import Contents
from slabwright.larder.ingredient import Ingredient
from slabwright.spec.allergens import allergens_of
from slabwright.spec.work_out import Order, work_out

DAY = date(2026, 11, 26)
CARD = "slab Lamp\ntin 20 x 20 cm\n\nlayer Top\n  200 g {}\n"
OWN = """\
# ours
- name: sea crunch   # from the market
  like: digestive biscuit
  source: market sheet
"""


def folder_with(larder: str) -> Folder:
    return folder_from({"larder.yaml": Text(larder, "larder.yaml")})


def found_in(folder: Folder, name: str) -> Ingredient:
    match = folder.larder.find(name, "GB")
    assert match is not None
    return match.ingredient


def said(**changes: object) -> PackAnswer:
    usual: dict[str, object] = {
        "about": "chocolate",
        "contains": ("milk", "soya"),
        "may_contain": ("nuts:hazelnut",),
        "read": "pack, lot 12",
        "who": "Sunniva",
        "on": DAY,
    }
    return PackAnswer(**(usual | changes))  # type: ignore[arg-type]


def after(larder: str, name: str, answer: PackAnswer) -> str:
    folder = folder_with(larder)
    text = Text(larder, "larder.yaml")
    return answered(text, found_in(folder, name), answer, folder.larder, "GB")


def states(larder: str, name: str) -> tuple[set[str], set[str], int]:
    """In it, may be in it, questions open: of a slab of this ingredient alone."""
    folder = folder_with(larder)
    read = folder.read(Text(CARD.format(name)))
    spec = work_out(read.card, Order(folder.kitchen, folder.book))
    found = allergens_of(spec, Contents(folder.larder, "GB"))
    return set(found.in_it), set(found.may_contain), len(found.questions)


def test_a_question_is_closed_by_its_answer() -> None:
    assert states("", "chocolate")[2] > 0
    larder = after("", "chocolate", said())
    assert states(larder, "chocolate") == ({"milk", "soya"}, {"nuts:hazelnut"}, 0)
    assert "pack, lot 12, read by Sunniva, 26 November 2026" in larder


def test_a_pack_that_names_none_closes_it_too() -> None:
    answer = said(contains=(), may_contain=(), photo="lamp-1.jpg")
    larder = after("", "chocolate", answer)
    assert "contains: []" in larder
    assert "photograph lamp-1.jpg" in larder
    in_it, warned, asked = states(larder, "chocolate")
    assert (in_it, warned, asked) == (set(), set(), 0)


def test_an_own_row_keeps_all_else_that_it_says() -> None:
    answer = said(about="sea crunch", contains=("gluten:wheat",), may_contain=())
    larder = after(OWN, "sea crunch", answer)
    assert larder.startswith("# ours\n- name: sea crunch   # from the market\n")
    assert "like: digestive biscuit" in larder
    assert "market sheet; allergens: pack, lot 12, read by Sunniva" in larder
    assert found_in(folder_with(larder), "sea crunch").allergen_answer
    none = after(larder, "sea crunch", said(about="sea crunch", contains=()))
    assert "contains: []" in none


def test_a_source_that_grows_too_long_gives_way_to_the_answer() -> None:
    long = OWN.replace("market sheet", "m" * 480)
    answer = said(about="sea crunch", contains=("gluten:wheat",))
    larder = after(long, "sea crunch", answer)
    assert "mmm" not in larder
    assert "read by Sunniva" in larder


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"contains": ("arsenic",)}, "none of the 14"),
        ({"contains": ("milk",), "may_contain": ("milk",)}, "ticked twice"),
        ({"who": "  "}, "Nobody is named"),
        ({"read": "x" * 600}, "too many words"),
    ],
)
def test_an_answer_that_can_not_be_is_refused(
    changes: dict[str, object], says: str
) -> None:
    with pytest.raises(FileError, match=says):
        after("", "chocolate", said(**changes))


def test_a_name_that_stands_there_already_is_not_taken_twice() -> None:
    larder = after("", "chocolate", said())
    folder = folder_with("")
    ours = found_in(folder, "chocolate")
    with pytest.raises(FileError, match="already"):
        answered(Text(larder, "larder.yaml"), ours, said(), folder.larder, "GB")
