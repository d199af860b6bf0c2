"""What is offered at the caret: by the place in the line, best first, never noise."""

from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from slabwright.files.card.complete import MOST, Completion, completions
from slabwright.files.folder import Folder, folder_from, open_folder
from slabwright.files.raw import Text
from tests.files.cards import cards

DEMO = Path(__file__).parents[3] / "demo"
HOME = open_folder(DEMO)
TIDES = (DEMO / "slabs" / "two-tides.card").read_text(encoding="utf-8")
BLOCK = TIDES.replace("finish\n", "component Coffee ganache\n  50 g honey\nlayer Top\n")


def offered(text: str, home: Folder = HOME) -> list[str]:
    return [one.text for one in completions(text, len(text), home)]


def in_block(line: str, home: Folder = HOME) -> list[str]:
    return offered(BLOCK + line, home)


@pytest.mark.parametrize(
    ("line", "first"),
    [
        ("  190 g pla", "plain flour"),
        ("  190g fl pl", "plain flour"),
        ("\t1 lb 2 oz caster s", "caster sugar"),
        ("  2 x 250 g packs butt", "butter"),
        ("  2 heaped tbsp hon", "honey"),
        ("  6 egg y", "egg yolk"),
        ("  1½ cups of cast", "caster sugar"),
        ("  100-120 g porridge o", "porridge oats"),
        ("  a pinch of fine s", "fine salt"),
        ("  juice of 2 lemon j", "lemon juice"),
        ("  50 g HAZELN", "hazelnuts"),
        ("  50 g hazlen", "hazelnuts"),
        ("  50 g butter, unsa", "butter, unsalted"),
        ("  200 g coff", "Coffee ganache"),
    ],
)
def test_an_ingredient_after_an_amount(line: str, first: str) -> None:
    found = in_block(line)

    assert found[0] == first
    assert len(found) <= MOST
    assert len(set(found)) == len(found)


def test_a_misspelt_word_is_known_by_its_beginning() -> None:
    assert any("chocolate" in name for name in in_block("  250 g dark choclate"))
    assert in_block("  250 g zzzqqq") == []


@pytest.mark.parametrize(
    "line",
    ["  190 g p", "  190 g", "  190 g ", "  190 g plain flour", "  butt", "  bak",
     "  100 g butter, cold and", "  note 100 g pla", "  # 100 g pla",
     "  100 g honey # 10 g pla", "# pla", "  100 g 5", "  ends 100 g pla",
     "  into # wi", "  note set on lard",
     "  density 1 g pla"],
)  # fmt: skip
def test_nothing_is_offered_where_it_would_be_noise(line: str) -> None:
    assert in_block(line) == []


@pytest.mark.parametrize(
    ("line", "some"),
    [
        ("  de", ["deep ", "density "]),
        ("fin", ["finish"]),
        ("  kind cu", ["curd"]),
        ("  into wi", ["wide pan"]),
        ("  into sm", ["small pan"]),
        ("  boil to 118 C, large r", ["large ring"]),
        ("  set on lard", ["larder shelf"]),
        ("  cool at roo", ["room"]),
        ("  pour   when ba", ["Baked lemon curd"]),
        ("  pour, within 5 min of bake of le",
         ["Lemon semolina shortbread", "Baked lemon curd"]),
        ("layer Top from cof", ["Coffee ganache"]),
        ("tin sho", []),
    ],
)  # fmt: skip
def test_what_fits_the_place_in_a_block(line: str, some: list[str]) -> None:
    found = in_block(line)

    assert found[: len(some)] == some if some else "shop frame" in found


def test_within_so_long_of_a_step_of_a_layer() -> None:
    found = in_block("  pour, within 5 min of ba")

    assert found[:2] == [
        "bake of Baked lemon curd",
        "bake of Lemon semolina shortbread",
    ]


@pytest.mark.parametrize(
    ("text", "some"),
    [
        ("", ["slab ", "component "]),
        ("sl", ["slab "]),
        ("slab X\nti", ["tin "]),
        ("slab X\nke", ["keep "]),
        ("slab X\r\ntin sh", ["shop frame"]),
        ("slab X\ntin ", ["development tin", "shop frame"]),
        ("slab X\ncut 5 x 4, trim 5 mm, in sh", ["shop frame"]),
        ("slab X\nkeep froz", ["frozen"]),
        ("Fudge\n\n• 100g caster su", ["caster sugar"]),
        ("Fudge\n\n100 g caster su", ["caster sugar"]),
        ("Fudge\n\nti", []),
        ("slab X\nde", []),
        ("slab X\nlayer A\n  tr", []),
    ],
)
def test_what_fits_the_head_of_a_card_and_a_pasted_recipe(
    text: str, some: list[str]
) -> None:
    found = offered(text)

    assert found[: len(some)] == some
    assert bool(found) == bool(some)


def test_notes_say_what_it_is() -> None:
    def notes(line: str) -> dict[str, str]:
        text = BLOCK + line
        return {o.text: o.note for o in completions(text, len(text), HOME)}

    assert notes("tin shop")["shop frame"] == "57 × 37 × 4.5 cm"
    assert notes("  100 g plain f")["plain flour"] == "larder"
    assert notes("  100 g butte")["butter"] == "larder: unsalted butter"
    assert notes("  100 g coffee g")["Coffee ganache"] == "component"
    assert notes("  dee")["deep "] == "card word: depth by the ruler"
    assert notes("  into wid")["wide pan"] == "vessel"


def test_the_kitchens_own_come_first() -> None:
    own = Text("- name: plain flour, from our miller\n  like: plain flour\n")
    home = folder_from({"larder.yaml": own})
    found = completions("slab X\nlayer A\n 5 g plain", 25, home)

    assert not home.mistakes
    assert (found[0].text, found[0].note) == (
        "plain flour, from our miller", "your larder",
    )  # fmt: skip


def test_it_stands_where_the_caret_is_and_not_behind_it() -> None:
    text = f"{TIDES}layer A\r\n  50 g hon\r\n  60 g water\r\n"
    at = text.index("hon\r") + 3
    found = completions(text, at, HOME)

    assert found[0] == Completion(at - 3, at, "honey", "honey", "larder")
    assert completions(text, at - 2, HOME) == ()
    assert completions(text, -5, HOME) == completions(text, 0, HOME)
    assert completions(text, 10**9, HOME) == completions(text, len(text), HOME)


@given(cards(), st.data())
def test_anywhere_on_any_card(card: str, data: st.DataObject) -> None:
    at = data.draw(st.integers(0, len(card)))
    found = completions(card, at, HOME)

    assert len(found) <= MOST
    assert found == completions(card, at, HOME)
    for one in found:
        assert 0 <= one.start <= one.end == at
        assert "\n" not in card[one.start : one.end]
        assert card[one.start : at] != one.text
    line = card[:at].rpartition("\n")[2]
    assert not (found and " # " in line)


@given(st.text(alphabet="slab ayer\n#,.of1½ g×x-whenwithin•", max_size=60))
def test_any_text_is_answered(text: str) -> None:
    assert len(completions(text, len(text), HOME)) <= MOST


def test_five_hundred_ingredients_more_are_offered_with_ours() -> None:
    grains = ["teff", "emmer", "lupin", "carob", "khorasan"] * 100
    named = (
        f"- name: {grain} flour number {n}\n  like: plain flour\n"
        for n, grain in enumerate(grains)
    )
    home = folder_from({"larder.yaml": Text("".join(named))})
    assert len(home.larder.ingredients) >= 800
    home = replace(home, kitchen=HOME.kitchen)

    for line, wanted in (
        ("  5 g teff fl", "teff flour number 0"),
        ("  5 g khorsan", "khorasan flour number 4"),
    ):
        text = BLOCK + line
        offered = [one.text for one in completions(text, len(text), home)]
        assert wanted in offered, line
        assert len(offered) <= MOST
