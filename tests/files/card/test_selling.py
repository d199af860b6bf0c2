"""The card words sold, called, pictured and dated."""

from datetime import date
from decimal import Decimal

import pytest

from slabwright.files.card.form import CardForm, form_of
from slabwright.files.card.printer import card_text
from slabwright.files.card.reader import CardRead
from slabwright.files.raw import Text
from slabwright.label.ways import Selling, nearest_ways, way_of
from slabwright.spec.card import Sold
from tests.files.kitchens import bare_kitchen

BODY = "\ntin 30 x 20 x 5 cm\nlayer Base\n  170 g plain flour\n"


def read_in(text: str) -> CardRead:
    return bare_kitchen().read(Text(text))


def read(*lines: str) -> CardRead:
    return read_in("slab Try\n" + "\n".join(lines) + BODY)


def sold(line: str) -> Sold:
    (one,) = read(line).card.sales
    return one


@pytest.mark.parametrize(
    ("words", "way"),
    [
        ("loose on the counter", Selling.LOOSE),
        ("over the counter", Selling.LOOSE),
        ("wrapped when it is ordered", Selling.LOOSE),
        ("boxed after the customer has chosen", Selling.LOOSE),
        ("packed here, box of 2", Selling.PACKED_HERE),
        ("Wrapped on the premises", Selling.PACKED_HERE),
        ("prepacked for direct sale", Selling.PACKED_HERE),
        ("packed for another shop", Selling.FOR_A_SHOP),
        ("wholesale, box of 12", Selling.FOR_A_SHOP),
        ("sent by post", Selling.POSTED),
        ("online", Selling.POSTED),
        ("catering tray, whole tray", Selling.TRAY),
        ("boxed", None),
        ("in boxes of 4", None),
        ("at the market", None),
        ("not loose", None),
        ("packed here or sent by post", None),
        ("wrapped on the counter", None),
        ("", None),
    ],
)
def test_a_way_is_understood_from_plain_words_or_not_at_all(
    words: str, way: Selling | None
) -> None:
    assert way_of(words) is way


def test_what_is_not_understood_is_asked_with_the_nearest() -> None:
    assert nearest_ways("boxed") == (Selling.PACKED_HERE, Selling.FOR_A_SHOP)
    assert nearest_ways("lose on the counter")[0] is Selling.LOOSE
    assert nearest_ways("at dawn") == tuple(Selling)


def test_every_way_is_understood_from_its_own_name() -> None:
    assert [way_of(way.value) for way in Selling] == list(Selling)


def test_a_line_says_way_pack_weight_price_and_day() -> None:
    one = sold("sold packed here, box of 2, net 0.14 kg, 6.40, from 2026-10-01")

    assert (one.way, one.pieces, one.net_g) == (Selling.PACKED_HERE, 2, 140)
    assert (one.price, one.from_day) == (Decimal("6.40"), date(2026, 10, 1))
    assert one.how == "packed here, box of 2"
    assert sold("sold catering tray, whole tray, 48").is_whole_tray
    assert sold("sold loose, 2 pieces, 5.00").pieces == 2


def test_words_with_figures_in_them_stay_words_where_a_price_stands_last() -> None:
    one = sold("sold loose, 2 for a family, 3.20")

    assert (one.how, one.price) == ("loose, 2 for a family", Decimal("3.20"))


@pytest.mark.parametrize(
    ("line", "what"),
    [
        ("sold loose, 3.20 each", "no price"),
        ("sold loose, 3.2o, from 2026-01-01", "no price"),
        ("sold loose, 3.20, from 2026-02-30", "no date"),
        ("sold loose, 3.20, 3.40", "price twice"),
        ("sold packed here, box of 0, 3.20", "no number of pieces"),
        ("sold packed here, net 0 g, 3.20", "of nothing"),
        ("dated next week", "doesn't say best before"),
        ("dated best before", "no whole days"),
        ("dated best before, 3-4 days", "no whole days"),
        ("dated use by, 1.5 days", "no whole days"),
        ("dated use by, 2 days on ice", "'on ice' is not understood"),
        ("dated use by, 0 days, bake day counted", "no time"),
        ("dated best before, 900 weeks", "no time"),
        ("dated none, 3 days", "behind none"),
        ("pictured ,", "Nothing is pictured"),
        (f"called {'x' * 301}", "301 characters"),
    ],
)
def test_mistakes_are_told_at_their_line(line: str, what: str) -> None:
    (mistake,) = read(line).mistakes

    assert what in mistake.what
    assert mistake.where.span is not None
    assert mistake.where.span.line == 2


@pytest.mark.parametrize("line", ["sold loose, 3.20", "dated none", "called Cake"])
def test_one_line_twice_is_a_mistake(line: str) -> None:
    (mistake,) = read(line, line).mistakes

    assert "twice" in mistake.what


def test_prices_are_dated_and_old_lines_stay() -> None:
    card = read(
        "sold loose on the counter, 3.20",
        "sold packed here, box of 2, 6.40, from 2026-10-01",
        "sold loose on the counter, 3.40, from 2026-12-01",
        "sold packed here, box of 2, 6.80, from 2026-12-01",
    ).card
    prices = [
        [str(one.price) for one in card.sales_on(date.fromisoformat(day))]
        for day in ("2026-09-30", "2026-10-01", "2026-11-30", "2026-12-01")
    ]

    assert prices == [["3.20"], ["3.20", "6.40"], ["3.20", "6.40"], ["3.40", "6.80"]]
    first = card.sold_on(date(2026, 12, 1))
    assert first is not None
    assert first.price == Decimal("3.40")
    assert card.sold is card.sales[0]
    assert read("sold loose, 3, from 2027-01-01").card.sold_on(date(2026, 1, 1)) is None


@pytest.mark.parametrize(
    ("words", "days", "months", "counted"),
    [
        ("best before, 4 days, bake day counted", 4, 0, True),
        ("use by, 3 days after the bake day", 3, 0, False),
        ("best before 2 weeks, baking day not counted", 14, 0, False),
        ("best before, 3 months, after making day", 0, 3, False),
        ("best before, 10 days, counting the bake day", 10, 0, True),
        ("use by, 2 days", 2, 0, None),
        ("use by, 0 days after the bake day", 0, 0, False),
    ],
)
def test_a_date_is_so_many_days_counted_as_said(
    words: str, days: int, months: int, counted: bool | None
) -> None:
    dated = read(f"dated {words}").card.dated

    assert dated is not None
    assert words.startswith(dated.kind)
    assert (dated.days, dated.months, dated.counts_bake_day) == (days, months, counted)


def test_all_of_it_comes_back_from_its_json_form() -> None:
    lines = (
        "called Rye shortbread with malt caramel",
        "pictured hazelnuts, coffee",
        "dated best before, 4 days, bake day counted",
        "sold in boxes of 4, 12.80",
        "sold packed here, box of 2, net 140 g, 6.40, from 2026-10-01",
        "sold catering tray, whole tray",
    )
    form = form_of(read(*lines).card)
    again = read_in(card_text(CardForm.model_validate_json(form.model_dump_json())))

    assert again.mistakes == ()
    assert form_of(again.card) == form
    assert form.pictured == ["hazelnuts", "coffee"]
    assert [one.pieces for one in form.also_sold] == [2, None]


def test_inside_a_layer_the_words_are_steps_as_before() -> None:
    text = "slab Try\nlayer Base\n  170 g plain flour\n  called it a day, rest 1 h\n"
    card = read_in(text).card

    assert card.called == ""
    assert [step.text for step in card.layers[0].component.steps] == [
        "called it a day, rest 1 h"
    ]
