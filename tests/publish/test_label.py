"""A label in a terminal: what stands on it, and what must not."""

import re
from dataclasses import replace

import pytest
from tests.spec.labelled import DAY, card, label, worked_out

from slabwright.desk.label import Asked
from slabwright.label.allergen.allergens import State, Trace
from slabwright.label.codes import Number
from slabwright.label.particulars import Standing, Stated
from slabwright.publish.label import asked_lines, is_draft, label_text, summary
from slabwright.publish.label_json import label_json
from slabwright.publish.terminal import Manner
from slabwright.spec.label import Label, label_of

MANNER = Manner(80)
CALLED = "called Shortbread"


def drafted(one: Label, number: Number | None = None) -> str:
    """What stands under the heading of the label itself."""
    text = label_text(one, number, "GBP", MANNER)
    start = re.search(r"^The label.*$", text, re.MULTILINE)
    assert start is not None
    return text[start.start() :].partition("\n\n")[0]


def with_inside(way: str, inside: dict[str, Stated], *head: str) -> Label:
    """A label with these words of its inside and no others."""
    text = card(CALLED, *head)
    bare = label(text, Asked(DAY, way))
    return label_of(worked_out(text), bare.order, bare.allergens, inside)


def test_beside_a_list_of_ingredients_no_second_list_of_allergens_stands() -> None:
    # Article 21: they are set apart in the list; contains is for what has no list
    inside = {"ingredients": Stated("Ingredients: flour (WHEAT), butter (MILK), sugar")}

    assert "Contains" not in drafted(with_inside("packed here", inside))
    assert "Ingredients: flour" in drafted(with_inside("packed here", inside))
    assert "Contains wheat and milk" in drafted(with_inside("packed here", {}))


def test_a_supplier_s_warning_stands_beside_the_list() -> None:
    one = with_inside("packed here", {"ingredients": Stated("Ingredients: flour")})
    trace = Trace("sesame", State.MAY_CONTAIN, ("Base",), "", "sugar", "", "a pack")
    known = replace(one.allergens, traces=(*one.allergens.traces, trace))
    warned = replace(one, allergens=known)

    assert "\n  May contain sesame, by its suppliers\n" in f"{drafted(warned)}\n"
    assert "Contains" not in drafted(warned)
    assert "May contain" not in drafted(one)


def test_of_absence_no_label_speaks() -> None:
    sugar = "layer Base\n  300 g caster sugar\n  ends 300 g\n"
    text = card(CALLED, layer=sugar)
    full = label(text, Asked(DAY, "loose"))
    one = label_of(worked_out(text), full.order, full.allergens, {})

    assert not one.allergens.in_it
    assert "allergen" not in drafted(one).casefold()
    assert "of the 14" not in drafted(one)
    said = label_text(one, None, "GBP", MANNER)
    assert "none of the 14 is known to be in it" in " ".join(said.split())


def test_what_is_missing_or_held_makes_it_a_draft() -> None:
    missing = with_inside("packed here", {})
    whole = with_inside("packed here", {"ingredients": Stated("Ingredients: flour")})
    held = with_inside("packed here", {"ingredients": Stated("Flour", "a question")})

    assert [is_draft(one) for one in (missing, whole, held)] == [True, False, True]
    assert summary(missing) == "Missing: list of ingredients."
    assert summary(whole) == "Nothing is missing."
    assert summary(held) == "Held: list of ingredients. Nothing is missing."
    assert drafted(whole).startswith("The label\n")
    assert drafted(held).startswith("The label, a draft\n")
    assert "Flour [held]" in drafted(held)


@pytest.mark.parametrize("way", ["loose", "packed here", "wholesale", "by post"])
def test_every_particular_is_shown_or_named_as_not_asked(way: str) -> None:
    one = label(card(CALLED), Asked(DAY, way))
    text = " ".join(label_text(one, None, "GBP", MANNER).split())

    for particular in one.particulars:
        assert particular.title in text
        if particular.standing in {Standing.MISSING, Standing.YOURS}:
            assert " ".join(particular.do.split()) in text
            assert particular.law in text


def test_what_the_shop_lifts_stands_with_its_reason() -> None:
    one = label(card(CALLED), Asked(DAY, "wholesale", unless=("by-number",)))
    text = label_text(one, None, "GBP", MANNER)

    assert " -  net weight: not asked" in text
    assert "here: it is sold by number" in " ".join(text.split())


def test_price_and_number_stand_last() -> None:
    one = label(card(CALLED, "sold loose, 3.20"), Asked(DAY, "loose"))
    text = drafted(one, Number("2000000000176", is_in_store=True))

    assert text.endswith("Price: £3.20\n  2 000000 000176; in this shop alone")
    assert label_json(one, None)["number"] is None


def test_each_way_can_be_asked_for_as_it_is_told() -> None:
    near = label(card(), Asked(DAY, "loose")).order.way
    lines = list(asked_lines("Short", [("in a hat", [near])], MANNER))

    assert lines[0] == "How is Short sold?"
    assert "  loose on the counter   (nearest)" in lines
    assert '--way "loose on the counter"' in " ".join(lines)
