"""The label of a slab: its name, date, storage, net weight, and what it watches."""

from datetime import date

import pytest

from slabwright.desk.label import Asked
from slabwright.errors import FileError
from slabwright.finding import Severity
from slabwright.label.particulars import Standing
from slabwright.label.ways import Selling
from slabwright.spec.label import contains_words, nation_of, net_words
from slabwright.spec.label_date import listed
from tests.spec.labelled import DAY, card, finding, label, labels, particular

MADE = date(2026, 11, 26)
SHOP = "packed for another shop"
USE_BY = "dated use by, 3 days, bake day counted"
CALLED = "called Shortbread"


def asked(
    way: str = SHOP,
    *,
    nation: str = "",
    made: date | None = None,
    frozen: date | None = None,
    thawed: date | None = None,
    unless: tuple[str, ...] = (),
    surface_cm2: float | None = None,
) -> Asked:
    return Asked(DAY, way, nation, made, frozen, thawed, unless, surface_cm2)


# --- ways --------------------


def test_a_label_for_each_way_that_the_card_says() -> None:
    text = card("sold loose on the counter, 3.20", "sold wholesale, net 70 g, 2.10")
    found = labels(text, Asked(DAY))

    assert [one.order.way for one in found.labels] == [
        Selling.LOOSE, Selling.FOR_A_SHOP,
    ]  # fmt: skip
    assert found.asked == ()
    assert found.nation == "United Kingdom"


def test_words_that_say_none_of_the_five_are_asked() -> None:
    found = labels(card("sold in boxes of 4, 9.00"), Asked(DAY))

    assert found.labels == ()
    ((words, nearest),) = [(one.words, one.nearest) for one in found.asked]
    assert words == "in boxes of 4"
    assert nearest[0] is Selling.PACKED_HERE


def test_a_card_that_does_not_say_it_is_asked_for_all_five() -> None:
    (one,) = labels(card(), Asked(DAY)).asked

    assert (one.words, one.nearest) == ("", tuple(Selling))


def test_of_two_prices_the_latest_line_counts() -> None:
    text = card(
        "sold loose on the counter, 3.20",
        "sold loose on the counter, 3.40, from 2026-11-01",
        "sold loose on the counter, 3.60, from 2027-01-01",
    )
    one = label(text, Asked(DAY))

    assert one.sold is not None
    assert str(one.sold.price) == "3.40"


# --- name, business --------------------


def test_a_name_of_fancy_is_no_name_of_the_food() -> None:
    missing = particular(label(card(), asked()), "name")
    there = particular(label(card(CALLED), asked()), "name")

    assert (missing.standing, there.standing) == (Standing.MISSING, Standing.THERE)
    assert "Short" in missing.do
    assert there.what == "Shortbread"


@pytest.mark.parametrize(
    ("kitchen", "standing"),
    [
        ("name: A\naddress: 1 Long Stair\n", Standing.THERE),
        ("name: A\n", Standing.MISSING),
        ("address: 1 Long Stair\n", Standing.MISSING),
    ],
)
def test_a_business_has_a_name_and_an_address(kitchen: str, standing: Standing) -> None:
    one = particular(label(card(), asked(), kitchen), "business")

    assert one.standing is standing


def test_the_country_of_the_kitchen_has_a_table_or_is_refused() -> None:
    assert labels(card(), asked(), "country: IE\n").nation == "EU"
    assert labels(card(), asked(), "nation: Wales\n").nation == "Wales"
    with pytest.raises(FileError, match="country NZ"):
        labels(card(), asked(), "country: NZ\n")
    assert labels(card(), asked(nation="eu"), "country: NZ\n").nation == "EU"
    with pytest.raises(FileError, match="'France'"):
        labels(card(), asked(nation="France"))
    assert nation_of("US", "") == nation_of("NO", "") == ""


# --- dates --------------------


def test_the_date_is_the_card_s_own_decision_and_told_in_full() -> None:
    one = label(card(USE_BY), asked(made=MADE))

    assert one.mark is not None
    assert one.mark.words == "Use by: 28 November 2026"
    assert "bake day, 26 November 2026, being the first" in one.counted
    assert particular(one, "date").standing is Standing.THERE
    assert particular(one, "lot").what == "the date serves: 28 November 2026"


def test_without_the_bake_day_it_is_held() -> None:
    one = label(card(USE_BY), asked())

    assert one.mark is None
    assert one.is_held
    assert "the bake day is not given" in particular(one, "date").why
    assert particular(one, "lot").standing is Standing.MISSING


def test_a_card_that_does_not_say_how_days_are_counted_shows_both() -> None:
    one = label(card("dated best before, 3 days"), asked(made=MADE))
    why = particular(one, "date").why

    assert one.mark is None
    assert "28 November 2026 if it does, 29 November 2026 if not" in why
    assert particular(one, "lot").what == "L 20261126"


def test_both_of_them_are_frozen_too() -> None:
    text = card("dated best before, 3 days", "keep frozen, 4 weeks")
    one = label(text, asked(made=MADE, frozen=MADE, thawed=date(2026, 12, 10)))

    assert "11 December 2026 if it does, 12 December 2026 if not" in (
        particular(one, "date").why
    )


@pytest.mark.parametrize("line", ["", "dated none"])
def test_no_date_is_ever_proposed(line: str) -> None:
    one = particular(label(card(line), asked(made=MADE)), "date")

    assert one.standing is Standing.MISSING
    assert "own decision" in one.do


def test_what_is_eaten_within_a_day_needs_no_date() -> None:
    one = label(card("dated none"), asked(unless=("eaten-within-24-h",)))

    assert particular(one, "date").standing is Standing.NOT_ASKED


def test_a_use_by_that_is_over() -> None:
    # DATE-09: it ends at midnight of its day
    over = label(card(USE_BY), asked(made=date(2026, 11, 22)))
    last = label(card(USE_BY), asked(made=date(2026, 11, 23)))

    found = finding(over, "date_over")
    assert found is not None
    assert found.severity is Severity.STOP
    assert "midnight" in found.why
    assert finding(last, "date_over") is None


def test_a_date_that_outlives_the_keeping() -> None:
    short = label(card(USE_BY, "keep chilled, 2 days"), asked(made=MADE))
    long = label(card(USE_BY, "keep chilled, 3 days"), asked(made=MADE))
    frozen = label(card(USE_BY, "keep frozen, 1 day"), asked(made=MADE))

    assert finding(short, "date_outlives_keep") is not None
    assert finding(long, "date_outlives_keep") is None
    assert finding(frozen, "date_outlives_keep") is None


def test_what_is_chilled_and_best_before_is_looked_at() -> None:
    kept = "keep chilled, 3 days"
    best = label(card(kept, USE_BY.replace("use by", "best before")), asked())

    assert finding(best, "date_kind") is not None
    assert finding(label(card(kept, USE_BY), asked()), "date_kind") is None
    assert finding(label(card(USE_BY), asked()), "date_kind") is None


@pytest.mark.parametrize(
    ("nation", "has", "has_not"),
    [
        ("England", "8 °C", "Scotland"),
        ("Scotland", "names no number", "8 °C"),
        ("United Kingdom", "Scotland: kept cool", "EU"),
        ("EU", "its own figure", "8 °C"),
    ],
)
def test_how_cold_is_told_of_each_nation(nation: str, has: str, has_not: str) -> None:
    one = label(card("keep chilled, 3 days"), asked(nation=nation))
    found = finding(one, "chill_rule")

    assert found is not None
    assert has in found.what
    assert has_not not in found.what
    assert "stored secondary" in found.source or nation == "EU"
    assert finding(label(card(), asked(nation=nation)), "chill_rule") is None


def test_names_are_listed() -> None:
    assert listed(("Wales",)) == "Wales"


# --- freezing --------------------


def test_what_was_frozen_says_so_and_its_count_goes_on() -> None:
    text = card(CALLED, USE_BY, "keep frozen, 4 weeks")
    one = label(
        text,
        asked(made=MADE, frozen=date(2026, 11, 27), thawed=date(2026, 12, 10)),
    )

    assert one.name == "Shortbread, defrosted"
    assert particular(one, "defrosted").standing is Standing.THERE
    assert one.mark is not None
    assert one.mark.day == date(2026, 12, 10)
    assert "never restarts" in one.counted
    assert finding(one, "frozen_too_long") is None
    assert finding(one, "frozen_unplanned") is None


def test_thawing_that_does_no_harm_need_not_be_told() -> None:
    one = label(
        card(CALLED, USE_BY, "keep frozen, 4 weeks"),
        asked(
            made=MADE, frozen=MADE, thawed=date(2026, 12, 1),
            unless=("unharmed by thawing",),
        ),
    )  # fmt: skip

    assert one.name == "Shortbread"
    assert particular(one, "defrosted").standing is Standing.NOT_ASKED


def test_defrosted_is_said_once() -> None:
    one = label(card("called Shortbread, defrosted"), asked(frozen=MADE, thawed=MADE))

    assert one.name == "Shortbread, defrosted"


def test_too_long_in_the_freezer_stops() -> None:
    frozen, thawed = date(2026, 10, 1), date(2026, 11, 1)
    asked_so = asked(made=frozen, frozen=frozen, thawed=thawed)
    long = finding(label(card("keep frozen, 4 weeks"), asked_so), "frozen_too_long")
    fits = label(card("keep frozen, 31 days"), asked_so)

    assert long is not None
    assert long.severity is Severity.STOP
    assert "31 days; the card keeps it 28" in long.what
    assert finding(fits, "frozen_too_long") is None
    assert finding(label(card(), asked_so), "frozen_unplanned") is not None


@pytest.mark.parametrize(
    ("line", "frozen", "thawed", "says"),
    [
        ("", date(2026, 12, 5), date(2026, 12, 1), "before it was frozen"),
        ("dated none", date(2026, 11, 20), date(2026, 12, 1), "before it was made"),
        (USE_BY, date(2026, 11, 29), date(2026, 12, 1), "was over"),
        (USE_BY, date(2026, 11, 27), None, "thawed is missing"),
        (USE_BY, None, date(2026, 11, 27), "frozen is missing"),
    ],
)
def test_days_of_freezing_that_cannot_be_are_refused_whatever_the_card_says(
    line: str, frozen: date | None, thawed: date | None, says: str
) -> None:
    with pytest.raises(FileError, match=says):
        label(card(line), asked(made=MADE, frozen=frozen, thawed=thawed))


# --- storage --------------------


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("keep chilled, 3 days", ("Keep chilled",)),
        ("keep chilled, below 5 C, 3 days", ("Keep chilled, below 5 °C",)),
        ("keep in a closed box, 4-6 days", ("Keep in a closed box",)),
        (
            "keep larder shelf, closed box, up to 20 C, 4 days",
            ("Keep: larder shelf, closed box, up to 20 °C",),
        ),
        (
            "keep closed box at 16-18 C, 10 days",
            ("Keep: closed box at 16-18 °C",),
        ),
        ("keep frozen, 28 days", ()),
        ("keep 3 days", ()),
    ],
)
def test_storage_is_told_without_the_days(line: str, words: tuple[str, ...]) -> None:
    one = label(card(line), asked())

    assert one.storage == words
    is_there = particular(one, "storage").standing is Standing.THERE
    assert is_there is bool(words)


# --- net weight --------------------


def test_grams_and_kilograms() -> None:
    # NET-06: grams, kilograms from a thousand on
    assert [net_words(g) for g in (5, 70, 72.5, 999, 1000, 1250)] == [
        "5 g", "70 g", "72.5 g", "999 g", "1 kg", "1.25 kg",
    ]  # fmt: skip


def test_a_net_weight_is_what_the_card_says() -> None:
    one = label(card(f"sold {SHOP}, net 25 g, 2.10"), asked())

    assert particular(one, "net_quantity").what == "25 g"
    figures = finding(one, "net_figures")
    assert figures is not None
    assert "2 mm" in figures.what


def test_without_one_the_cut_tells_how_much_it_would_keep() -> None:
    one = label(card(), asked())
    missing = particular(one, "net_quantity")

    assert missing.standing is Standing.MISSING
    assert f"up to {one.nominal.number:g} g" in missing.do
    assert "not weighed" in missing.do


def test_sold_by_number_or_below_5_g() -> None:
    # NET-07
    by_number = label(card(), asked(unless=("by-number",)))
    light = finding(label(card(f"sold {SHOP}, net 4 g, 0.10"), asked()), "net_outside")

    assert particular(by_number, "net_quantity").standing is Standing.NOT_ASKED
    assert light is not None
    assert "NET-07" in light.why
    heavy = label(card(f"sold {SHOP}, net 26 kg, 99.00"), asked())
    assert finding(heavy, "net_outside") is not None


def test_pieces_wrapped_one_by_one() -> None:
    # NET-08, DATE-06
    two = finding(label(card(f"sold {SHOP}, box of 2, 6.40"), asked()), "many_in_pack")

    assert two is not None
    assert "what each weighs" in two.why
    assert "use by stands on each" in two.why
    assert finding(label(card(f"sold {SHOP}, 3.20"), asked()), "many_in_pack") is None


def test_a_tray_says_its_own_weight() -> None:
    # NET-10: what varies is marked with what it weighs
    for line in ("sold catering tray, whole tray, 48.00", ""):
        one = label(card(line), asked("catering tray"))
        assert not one.nominal.known
        assert "its own weight" in particular(one, "net_quantity").do
    by_pieces = label(
        card("sold catering tray, 12 pieces, 20.00"), asked("catering tray")
    )
    assert by_pieces.nominal.known


def test_a_net_weight_above_what_the_cut_keeps() -> None:
    most = label(card(), asked()).nominal.number
    high = label(card(f"sold {SHOP}, net {most + 1:g} g, 2.10"), asked())
    fits = label(card(f"sold {SHOP}, net {most:g} g, 2.10"), asked())

    found = finding(high, "net_too_high")
    assert found is not None
    assert f"{most:g} g" in found.what
    assert finding(fits, "net_too_high") is None


# --- the rest --------------------


def test_by_post_the_stricter_reading_is_taken_and_told() -> None:
    assert finding(label(card(), asked("by post")), "post_reading") is not None
    assert finding(label(card(), asked()), "post_reading") is None


def test_by_post_the_telephone_tells_of_allergens_before_it_is_bought() -> None:
    number = "phone: 01632 960001\n"
    told = particular(label(card(), asked("by post"), number), "allergens_before")
    silent = particular(label(card(), asked("by post"), ""), "allergens_before")

    assert told.do == "On the page, or by telephone, 01632 960001."
    assert silent.do == "On the page, or by telephone."


@pytest.mark.parametrize(
    ("surface", "letters", "lifted"),
    [
        (None, "1.2 mm", set()),
        (100, "1.2 mm", set()),
        (79, "0.9 mm", set()),
        (24, "0.9 mm", {"nutrition"}),
        (
            9,
            "0.9 mm",
            {
                "ingredients",
                "nutrition",
                "business",
                "quid",
                "storage",
                "origin",
                "instructions",
                "lot",
            },
        ),
    ],
)
def test_a_small_pack_says_less(
    surface: float | None, letters: str, lifted: set[str]
) -> None:
    one = label(card(), asked(surface_cm2=surface))

    assert letters in particular(one, "letters").what
    assert "at one glance" in particular(one, "letters").what
    why = "; here: its largest surface is under"
    assert {p.name for p in one.particulars if why in p.why} == lifted


def test_what_is_not_known_is_never_told_as_absent() -> None:
    honey = "layer Base\n  300 g honey\n  ends 300 g\n"
    found = label(card(layer=honey), asked()).allergens
    words = contains_words(found)

    assert "known" in words or "contain" in words
    assert "free" not in words


def test_an_unknown_ingredient_holds_the_label() -> None:
    one = label(card(layer="layer Base\n  300 g moon dust\n  ends 300 g\n"), asked())

    assert one.is_held
    assert particular(one, "allergens").standing is Standing.HELD
    assert "question" in particular(one, "allergens").why


@pytest.mark.parametrize(
    ("unless", "says"), [("", "lifts nothing"), ("never-frozen", "lifts nothing")]
)
def test_what_lifts_nothing_is_refused(unless: str, says: str) -> None:
    with pytest.raises(FileError, match=says):
        label(card(), asked(unless=(unless,)))


def test_a_day_before_the_table_is_refused() -> None:
    with pytest.raises(FileError, match="begins on 1 October 2021"):
        label(card(), Asked(date(2021, 9, 30), "packed here"))
    label(card(), Asked(date(2021, 10, 1), "packed here"))
