"""How a slab is sold, from the words of people who sell it."""

from collections.abc import Callable, Mapping
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.label.reference import reference

from slabwright.label.particulars import Need, rows_of
from slabwright.label.ways import Selling, nearest_ways, way_of

LOOSE, HERE, SHOP, POST, TRAY = Selling
DAY = date(2026, 11, 25)
SAID = {
    LOOSE: [
        "loose on the counter", "Loose", "on the counter, by the piece", "unwrapped",
        "packed when ordered", "boxed to order", "wrapped once chosen", "by the slice",
        "wrapped when it is asked for", "packed here when they are ordered",
        "bagged after the customer has chosen",
    ],
    HERE: [
        "packed here", "wrapped on the premises", "boxed in the shop", "packed by us",
        "prepacked for direct sale", "bagged on site", "here, wrapped in twos",
        "packed here, sold at our market stall",
    ],
    SHOP: [
        "packed for another shop", "wholesale", "for other shops", "to stockists",
        "prepacked for a farm shop", "packed for shops",
        "packed to order for other shops",
    ],
    POST: [
        "sent by post", "by mail", "mail order", "online", "posted", "by courier",
        "boxed to order and sent by post",
    ],
    TRAY: [
        "catering tray", "for a café", "for the canteen", "to caterers",
        "for cafes, whole",
    ],
}  # fmt: skip
OPEN = [
    "", "in boxes of 4", "at the market", "not packed here", "loose or packed here",
    "loose, packed in twos", "by post and loose on the counter", "packed", "???",
    "packed here and wholesale", "packed for our shop", "never by post", "x" * 5000,
]  # fmt: skip


@pytest.mark.parametrize(
    ("way", "words"), [(way, one) for way, said in SAID.items() for one in said]
)
def test_plain_words_say_one_of_the_five(way: Selling, words: str) -> None:
    assert way_of(words) is way
    assert way_of(words.upper()) is way


@pytest.mark.parametrize("words", OPEN, ids=lambda words: words[:40])
def test_what_says_none_or_two_is_asked(words: str) -> None:
    assert way_of(words) is None


@pytest.mark.parametrize("way", Selling)
def test_each_is_read_back_from_its_own_name(way: Selling) -> None:
    assert way_of(way.value) is way


@given(st.text(max_size=200))
def test_no_words_break_it_and_some_way_is_always_near(words: str) -> None:
    near = nearest_ways(words)

    assert near
    assert len(set(near)) == len(near)
    way_of(words)


@pytest.mark.parametrize(
    ("words", "first"),
    [
        ("in boxes of 4", HERE), ("loose or wrapped", LOOSE), ("catering trays", TRAY),
        ("cattering tray", TRAY), ("packed for shop", SHOP), ("sent per post", POST),
        ("loose on the countre", LOOSE),
    ],
)  # fmt: skip
def test_the_nearest_stands_first(words: str, first: Selling) -> None:
    assert nearest_ways(words)[0] is first


def test_where_nothing_is_near_all_five_are() -> None:
    assert nearest_ways("qqq") == tuple(Selling)


# --- the reference rows --------------------


def needs(way: Selling, nation: str = "England", on: date = DAY) -> dict[str, Need]:
    return {row.particular: row.need for row in rows_of(way, nation, on)}


def must(way: Selling, nation: str = "England", on: date = DAY) -> set[str]:
    found = needs(way, nation, on)
    return {name for name, need in found.items() if need is not Need.MAY}


def same_place_before_it_is_chosen() -> None:
    for words in ("packed here", "packed here, sold at our market stall"):
        assert way_of(words) is HERE


def since_october_2021() -> None:
    for nation in ("England", "Wales", "Scotland", "Northern Ireland"):
        assert "ingredients" not in must(HERE, nation, date(2021, 9, 30))
        assert "ingredients" in must(HERE, nation, date(2021, 10, 1))


def name_and_list_with_allergens() -> None:
    assert must(HERE) == {"name", "ingredients", "allergens", "defrosted", "letters"}


def packed_once_ordered_is_not_prepacked() -> None:
    assert way_of("packed when it is ordered") is LOOSE
    assert must(LOOSE) == {"name", "allergens", "allergen_sign", "defrosted"}


def packed_by_one_sold_by_another() -> None:
    asked = must(SHOP)

    assert {"name", "ingredients", "allergens", "quid", "net_quantity", "date",
            "storage", "business", "nutrition"} <= asked  # fmt: skip
    assert asked > must(HERE)


def at_a_distance_before_and_on_arrival() -> None:
    assert {"allergens_before", "allergens_on_arrival"} <= must(POST)
    rows = {row.particular: row for row in rows_of(POST, "England", DAY)}
    for one in ("allergens", "allergens_before", "allergens_on_arrival"):
        assert not rows[one].unless


def not_asked_of_what_is_packed_here() -> None:
    found = needs(HERE)

    for one in ("nutrition", "quid", "net_quantity", "date", "business"):
        assert found[one] is Need.MAY
    (nutrition,) = [
        row for row in rows_of(HERE, "England", DAY) if row.particular == "nutrition"
    ]
    assert "Articles 30 to 35" in nutrition.why


def the_smallest_pack_still_names_what_is_in_it() -> None:
    for row in rows_of(HERE, "England", DAY):
        if row.particular in {"name", "ingredients", "allergens"}:
            assert not row.unless


def a_slice_by_tongs_is_loose() -> None:
    assert way_of("cut and wrapped on site") is HERE
    assert way_of("loose, by the slice from the counter") is LOOSE


BY_ROW: Mapping[str, Callable[[], None]] = {
    "PPDS-01": same_place_before_it_is_chosen,
    "PPDS-02": since_october_2021,
    "PPDS-03": name_and_list_with_allergens,
    "PPDS-04": packed_once_ordered_is_not_prepacked,
    "PPDS-05": packed_by_one_sold_by_another,
    "PPDS-06": at_a_distance_before_and_on_arrival,
    "PPDS-07": not_asked_of_what_is_packed_here,
    "PPDS-08": the_smallest_pack_still_names_what_is_in_it,
    "PPDS-09": a_slice_by_tongs_is_loose,
}


@pytest.mark.parametrize("row", reference("uk_ppds.csv"), ids=lambda row: row["id"])
def test_a_row_of_the_reference(row: Mapping[str, str]) -> None:
    BY_ROW[row["id"]]()
