"""Numbers under bars: by a bar writer that is not ours, and by the reference rows."""

from collections.abc import Callable, Mapping

import pytest
import zxingcpp
from hypothesis import given
from hypothesis import strategies as st
from tests.label.reference import reference

from slabwright.errors import FileError
from slabwright.kitchen import Codes
from slabwright.label.codes import (
    check_digit,
    in_store_number,
    is_restricted,
    measured_number,
    number_rules,
    own_number,
    price_check,
    read_number,
    wrong_codes,
)

CODES = Codes("5012345", ("20", "29"), "20IIIIIVPPPPC")
DIGITS_12 = st.from_regex(r"[0-9]{12}", fullmatch=True)
FORMATS = {
    7: zxingcpp.BarcodeFormat.EAN8,
    11: zxingcpp.BarcodeFormat.UPCA,
    12: zxingcpp.BarcodeFormat.EAN13,
}


def finished(body: str) -> str:
    return body + check_digit(body)


@given(st.from_regex(r"[0-9]{7}|[0-9]{11}|[0-9]{12}", fullmatch=True))
def test_a_bar_writer_that_is_not_ours_ends_a_number_with_the_same_digit(
    body: str,
) -> None:
    made = zxingcpp.create_barcode(body, FORMATS[len(body)])

    assert made.text.endswith(check_digit(body))
    assert made.text.lstrip("0") == finished(body).lstrip("0")


@given(DIGITS_12, st.integers(0, 12), st.integers(1, 9))
def test_any_one_wrong_digit_is_caught(body: str, place: int, off: int) -> None:
    right = finished(body)
    wrong = (int(right[place]) + off) % 10
    typed = f"{right[:place]}{wrong}{right[place + 1 :]}"

    assert read_number(right).digits == right
    with pytest.raises(FileError, match="last digit of"):
        read_number(typed)


@given(DIGITS_12, st.integers(0, 11))
def test_two_neighbours_swapped_are_caught_but_where_they_differ_by_five(
    body: str, place: int
) -> None:
    right = finished(body)
    one, other = right[place], right[place + 1]
    swapped = f"{right[:place]}{other}{one}{right[place + 2 :]}"
    is_seen = (int(one) - int(other)) % 5 != 0

    if is_seen:
        with pytest.raises(FileError):
            read_number(swapped)
    else:
        assert read_number(swapped).digits == swapped


@given(st.integers(0, 99_999))
def test_an_own_number_begins_with_the_prefix_and_is_read_back(item: int) -> None:
    number = own_number(CODES, str(item))

    assert number.digits == finished(f"5012345{item:05}")
    assert read_number(number.digits) == number
    assert not number.is_in_store


@given(st.integers(0, 10**10 - 1))
def test_a_number_of_the_shop_stays_in_its_range(item: int) -> None:
    number = in_store_number(CODES, str(item))

    assert number.digits == finished(f"20{item:010}")
    assert read_number(number.digits).is_in_store
    assert in_store_number(Codes("", ("02",)), str(item)).digits[:2] == "02"


@given(st.integers(0, 99_999), st.integers(0, 9999))
def test_a_number_with_a_price_says_both(item: int, pence: int) -> None:
    digits = measured_number(CODES, str(item), pence).digits

    assert (digits[:2], digits[2:7], digits[8:12]) == (
        "20", f"{item:05}", f"{pence:04}",
    )  # fmt: skip
    assert digits[7] == price_check(f"{pence:04}")
    assert read_number(digits).is_in_store


def test_a_number_with_a_weight_has_no_digit_that_checks_it() -> None:
    codes = Codes("", (), "02 IIIII WWWWW C")

    assert measured_number(codes, "17", 350).digits == finished("020001700350")


@pytest.mark.parametrize(
    ("body", "place"), [("0000", 0), ("0000", 1), ("0000", 2), ("0000", 3)]
)
def test_each_digit_of_a_price_moves_its_check(body: str, place: int) -> None:
    found = {
        price_check(f"{body[:place]}{digit}{body[place + 1 :]}")
        for digit in "0123456789"
    }

    assert len(found) == 10


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("", "no number"),
        ("nan", "no number"),
        ("+5012345678900", "no number"),
        ("501234567891", "last digit"),
        ("５０１２３４５６７８９００", "no number"),
        ("5012345678900 " * 9, "no number"),
        ("50123456789", "no number"),
        ("1e12", "no number"),
        (finished("1501234567890"), "number of a case"),
    ],
)
def test_what_is_no_number_is_refused_in_words(typed: str, says: str) -> None:
    with pytest.raises(FileError, match=says) as caught:
        read_number(typed)

    assert caught.value.mistakes[0].do
    assert len(caught.value.mistakes[0].what) < 100


@pytest.mark.parametrize(
    ("make", "says"),
    [
        (lambda: own_number(Codes(), "1"), "no company prefix"),
        (lambda: own_number(CODES, "123456"), "up to 5 digits"),
        (lambda: own_number(CODES, ""), "up to 5 digits"),
        (lambda: own_number(CODES, "-1"), "up to 5 digits"),
        (lambda: own_number(CODES, "9" * 1000), "up to 5 digits"),
        (lambda: own_number(CODES, "٣"), "up to 5 digits"),
        (lambda: in_store_number(Codes(), "1"), "no in-store range"),
        (lambda: in_store_number(CODES, "1" * 11), "up to 10 digits"),
        (lambda: measured_number(Codes(), "1", 1), "laid out"),
        (lambda: measured_number(CODES, "1", 10_000), "more than 4 digits"),
        (lambda: measured_number(CODES, "1", -1), "below 0"),
        (lambda: measured_number(CODES, "123456", 1), "up to 5 digits"),
        (lambda: price_check("123"), "3 digits"),
    ],
)
def test_what_does_not_fit_is_refused(make: Callable[[], object], says: str) -> None:
    with pytest.raises(FileError, match=says):
        make()


@pytest.mark.parametrize(
    ("codes", "fields"),
    [
        (CODES, []),
        (Codes("501"), ["company_prefix"]),
        (Codes("501234567890"), ["company_prefix"]),
        (Codes("2012345"), ["company_prefix"]),
        (Codes("0201234"), ["company_prefix"]),
        (Codes("50 1234"), ["company_prefix"]),
        (Codes("", ("30",)), ["in_store"]),
        (Codes("", ("2",)), ["in_store"]),
        (Codes("", ("200",)), ["in_store"]),
        (Codes("", (), "20IIIIIPPPPC"), ["form"]),
        (Codes("", (), "50IIIIIVPPPPC"), ["form"]),
        (Codes("", (), "20IIIIVPPPPPC"), ["form"]),
        (Codes("", (), "20IIIIIVWWWWC"), ["form"]),
        (Codes("", (), "20IIIIIPPPPPC"), []),
        (Codes("", (), "02IIIIIWWWWWC"), []),
        (Codes("x", ("y",), "z"), ["company_prefix", "in_store", "form"]),
    ],
)
def test_codes_that_cannot_be_are_named(codes: Codes, fields: list[str]) -> None:
    assert [field for field, _, _ in wrong_codes(codes)] == fields


# --- the reference rows --------------------


def lengths() -> None:
    for count in range(1, 20):
        body = "5" * (count - 1)
        known = count in {8, 12, 13, 14}
        try:
            read_number(finished(body))
        except FileError as error:
            said = str(error)
            assert ("no number" in said) is not known or "case" in said
        else:
            assert known


def check_digits() -> None:
    # by hand: 5·1 + 0·3 + 1·1 + 2·3 + … from the left, weights 1, 3
    body = "501234567890"
    total = sum(int(d) * (1, 3)[n % 2] for n, d in enumerate(body))

    assert check_digit(body) == str((10 - total % 10) % 10) == "0"


def restricted() -> None:
    beginnings = {n for n in range(1000) if is_restricted(f"{n:03}")}

    assert beginnings == {*range(20, 30), *range(40, 50), *range(200, 300)}
    assert {one.found for one in number_rules() if one.what == "restricted"} == {
        "stored secondary"
    }
    assert read_number(finished("0000001")).is_in_store
    assert read_number(finished("2000001")).is_in_store
    assert not read_number(finished("9638507")).is_in_store


def no_layout_is_assumed() -> None:
    with pytest.raises(FileError, match="doesn't say how"):
        measured_number(Codes("5012345", ("20",)), "1", 350)


def price_of_28_75() -> None:
    assert price_check("2875") == "9"


def twelve_digits() -> None:
    twelve = finished("01234567890")

    assert read_number(twelve).digits == f"0{twelve}"
    assert check_digit(f"0{twelve[:-1]}") == twelve[-1]


BY_ROW: Mapping[str, Callable[[], None] | str] = {
    "GS1-01": lengths,
    "GS1-02": check_digits,
    "GS1-03": "no country is read from a number: nothing here says one",
    "GS1-04": restricted,
    "GS1-05": "no country is read from a number: nothing here says one",
    "GS1-06": no_layout_is_assumed,
    "GS1-07": price_of_28_75,
    "GS1-08": "tests/cli/test_label.py: a number of the shop does not leave it",
    "GS1-09": "no such symbol is drawn here",
    "GS1-10": twelve_digits,
    "GS1-11": "tests/label/test_dates.py: the lot",
}


@pytest.mark.parametrize("row", reference("codes_gs1.csv"), ids=lambda row: row["id"])
def test_a_row_of_the_reference(row: Mapping[str, str]) -> None:
    tried = BY_ROW[row["id"]]

    if callable(tried):
        tried()
    else:
        assert tried


def test_it_stands_under_the_bars_as_it_is_read_out() -> None:
    assert read_number("5012345678900").grouped == "5 012345 678900"
    assert read_number("96385074").grouped == "9638 5074"
    assert read_number(" 5 012345-678900 ").digits == "5012345678900"
