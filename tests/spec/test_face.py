"""What a label or a ticket says of a slab, word for word."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date

import pytest

from slabwright.label.allergen.contents import Contents
from slabwright.label.codes import read_number
from slabwright.label.paper.face import Face, Kind, NutritionRow, Run
from slabwright.label.particulars import Stated
from slabwright.label.ways import Selling
from slabwright.spec.allergens import allergens_of
from slabwright.spec.face import (
    NONE_KNOWN,
    FaceOrder,
    allergen_face,
    face_of,
    waited_for,
)
from slabwright.spec.label import Label, LabelOrder, label_of
from tests.files.kitchens import bare_kitchen, worked

DAY = date(2026, 11, 25)
CARD = """slab Two Tides
tin 30 x 20 x 5 cm
cut 5 x 4
keep chilled, 3 days
called lemon slice
sold packed here, 3.50, net 70 g
sold loose on the counter, 3.20
dated best before, 4 days, bake day counted
layer Base
  200 g plain flour
  150 g butter, unsalted
"""
LISTED = {"ingredients": Stated("wheat flour, butter (milk)")}


def label(
    card: str = CARD,
    way: Selling = Selling.PACKED_HERE,
    inside: Mapping[str, Stated] | None = None,
    surface_cm2: float | None = None,
) -> Label:
    folder = bare_kitchen()
    spec = worked(card, folder)
    found = allergens_of(spec, Contents(folder.larder, "GB"))
    order = LabelOrder(way, "England", DAY, DAY, surface_cm2=surface_cm2)
    return label_of(spec, order, found, LISTED if inside is None else inside)


def face(one: Label, kind: Kind = "label") -> Face:
    return face_of(one, FaceOrder(kind, "£3.50", revisions=("card 1", "larder 2")))


def texts(one: Face) -> dict[str, str]:
    return {paragraph.name: paragraph.text for paragraph in one.paragraphs}


def test_a_label_says_its_particulars_once_and_sets_allergens_apart() -> None:
    one = face(label())

    assert (one.name, one.net, one.net_g) == ("Lemon slice", "70 g", 70.0)
    assert one.date == "Best before: 28 November 2026"
    assert one.storage == ("Keep chilled",)
    assert texts(one) == {"ingredients": "Ingredients: wheat flour, butter (milk)"}
    stressed = [r.text for p in one.paragraphs for r in p.runs if r.is_emphasised]
    assert set(stressed) >= {"wheat", "milk"}
    assert (one.least_x_mm, one.least_figures_mm) == (1.2, 3.0)


def test_a_ticket_says_what_it_contains_and_whom_to_ask_and_no_more() -> None:
    one = face(label(way=Selling.LOOSE), "ticket")

    assert texts(one) == {
        "contains": "Contains wheat and milk.",
        "ask": "Allergies? Please ask us.",
    }
    assert (one.net, one.date, one.storage, one.number) == ("", "", (), "")
    assert one.price == "£3.50"


def test_letters_follow_the_surface_and_figures_the_net_weight() -> None:
    small = face(label(surface_cm2=60))
    heavy = face(label(CARD.replace("net 70 g", "net 1.2 kg")))

    assert small.least_x_mm == 0.9
    assert (heavy.net, heavy.least_figures_mm) == ("1.2 kg", 6.0)


def test_runs_that_are_given_are_kept_as_they_are() -> None:
    runs = (Run("Ingredients: "), Run("wheat", is_emphasised=True), Run(" flour."))
    one = face_of(label(), FaceOrder(ingredients=runs))

    assert one.paragraphs[0].runs == runs


def test_without_a_list_a_label_says_what_it_contains() -> None:
    assert texts(face(label(inside={})))["contains"] == "Contains wheat and milk."


def test_a_slab_with_none_of_the_14_does_not_say_that_it_is_free_of_them() -> None:
    card = CARD.replace("plain flour", "caster sugar").replace(
        "butter, unsalted", "water"
    )
    one = face(label(card, Selling.LOOSE), "ticket")

    assert texts(one)["contains"] == NONE_KNOWN
    assert "free" not in NONE_KNOWN


def test_a_supplier_s_warning_stands_apart() -> None:
    one = label()
    trace = one.allergens.traces[0]
    warned = replace(trace, allergen="soya", state=type(trace.state).MAY_CONTAIN)
    found = replace(one.allergens, traces=(*one.allergens.traces, warned))
    said = texts(face(replace(one, allergens=found)))

    assert said["may_contain"] == "May contain soya, by its suppliers."
    assert "soya" not in said["ingredients"]


def test_nutrition_and_a_number_stand_on_a_label_and_on_no_ticket() -> None:
    rows = (NutritionRow("Fat", "20 g"),)
    order = FaceOrder("label", number=read_number("2001234567893"), nutrition=rows)

    assert face_of(label(), order).nutrition == rows
    assert face_of(label(), order).number == "2001234567893"
    ticket = face_of(label(), replace(order, kind="ticket"))
    assert (ticket.nutrition, ticket.number) == ((), "")


@pytest.mark.parametrize(
    ("card", "kind", "waits"),
    [
        (CARD, "label", []),
        (CARD.replace("called lemon slice\n", ""), "label", ["name"]),
        (CARD.replace("called lemon slice\n", ""), "ticket", ["name"]),
        (CARD.replace(", bake day counted", ""), "label", ["date"]),
        (CARD.replace(", bake day counted", ""), "ticket", []),
        (CARD + "  30 g qwertz\n", "label", ["allergens"]),
        (CARD + "  30 g qwertz\n", "ticket", ["allergens"]),
    ],
)
def test_it_waits_for_what_would_stand_on_it(
    card: str, kind: Kind, waits: list[str]
) -> None:
    assert [one.name for one in waited_for(label(card), kind)] == waits


def test_an_allergen_card_says_what_is_known_and_what_is_not() -> None:
    found = label(CARD + "  30 g dark chocolate 60%\n").allergens
    one = allergen_face(found, "lemon slice", ("card 1", "larder 2"))

    said = texts(one)
    assert said["contains"] == "wheat and milk"
    assert "soya" in said["unknown"]
    assert said["how wheat gets there"] == "Base > plain flour"
