"""Numbers as a cook writes them, and what stands in a number's place."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from slabwright.quantity.numbers import Hostile, Number, number_at


def number(text: str, at: int = 0) -> Number:
    found = number_at(text, at)
    assert isinstance(found, Number), text
    return found


@pytest.mark.parametrize(
    ("text", "value"),
    [
        # the forms that the description of the card names
        ("1½ tsp", 1.5), ("1 ½ tsp", 1.5), ("1 1/2 cups", 1.5), ("1-1/2 cups", 1.5),
        ("½ tsp", 0.5), ("1/2 tsp", 0.5), ("1⁄2 tsp", 0.5), ("⅓ cup", 1 / 3),
        ("2⅔ cups", 8 / 3), ("¾ cup", 0.75), ("1⅛ tsp", 1.125), ("3/8 tsp", 0.375),
        ("0,5 l", 0.5), ("1,20 kg", 1.2), ("1,2345 kg", 1.2345), ("12,5 g", 12.5),
        ("1,200 g", 1200), ("10,000 g", 10_000), ("1,234,567 g", 1_234_567),
        ("1,200.5 g", 1200.5), ("0,500 kg", 0.5), ("00,500 kg", 0.5),
        ("1.200 kg", 1.2), (".5 g", 0.5), ("0.25 g", 0.25), ("170 g", 170),
        ("a dozen eggs", 12), ("half a dozen eggs", 6), ("one egg", 1), ("Two eggs", 2),
        ("a couple of eggs", 2), ("three quarters of a cup", 0.75), ("half a cup", 0.5),
        ("one and a half cups", 1.5), ("half an egg", 0.5),
    ],
)  # fmt: skip
def test_a_number_is_read_as_its_cook_means_it(text: str, value: float) -> None:
    found = number(text)

    assert found.value == pytest.approx(value, rel=1e-12)
    assert (found.low, found.high) == (found.value, found.value)
    assert found.start == 0
    assert text[found.end :].startswith(" ")


@pytest.mark.parametrize(
    ("text", "low", "high"),
    [
        ("100-120 g", 100, 120), ("100 - 120 g", 100, 120), ("100–120 g", 100, 120),
        ("100—120 g", 100, 120), ("100−120 g", 100, 120), ("100 to 120 g", 100, 120),
        ("1 or 2 eggs", 1, 2), ("½-¾ tsp", 0.5, 0.75), ("1 - 1 1/2 tsp", 1, 1.5),
        ("1,000-1,200 g", 1000, 1200), ("0,5-0,7 l", 0.5, 0.7), ("0.5-1 g", 0.5, 1),
    ],
)  # fmt: skip
def test_a_range_counts_by_its_middle(text: str, low: float, high: float) -> None:
    found = number(text)

    assert (found.low, found.high) == (low, high)
    assert found.value == pytest.approx((low + high) / 2)
    assert found.is_range


@pytest.mark.parametrize(
    ("text", "value", "left"),
    [
        ("120-100 g", 120, "-100 g"),  # it does not rise
        ("100-100 g", 100, "-100 g"),
        ("100- g", 100, "- g"),
        ("2 x 250 g", 2, " x 250 g"),
        ("1 12-inch tin", 1, " 12-inch tin"),
        ("1 200 g", 1, " 200 g"),  # one number or two: the line must ask
        ("100-120-130 g", 110, "-130 g"),
        ("5. stir", 5, ". stir"),
        ("1..5 g", 1, "..5 g"),
        ("0x10", 0, "x10"),
    ],
)
def test_a_number_ends_where_it_ends(text: str, value: float, left: str) -> None:
    found = number(text)

    assert found.value == value
    assert text[found.end :] == left


@pytest.mark.parametrize(
    ("text", "is_it"),
    [
        ("nan g", "nan"), ("NaN g", "NaN"), ("inf g", "inf"), ("-inf g", "-inf"),
        ("infinity g", "infinity"), ("∞ g", "∞"), ("-5 g", "-5"), ("−5 g", "−5"),
        ("- 5 g", "- 5"), ("-½ tsp", "-½"), ("1e9 g", "1e9"), ("1E-3 g", "1E-3"),
        ("1/0 g", "1/0"), ("5/00 g", "5/00"),
    ],
)  # fmt: skip
def test_what_no_kitchen_weighs_is_hostile_and_keeps_its_words(
    text: str, is_it: str
) -> None:
    found = number_at(text)

    assert isinstance(found, Hostile)
    assert found.text == is_it


@pytest.mark.parametrize("text", ["", " ", "flour", "-", "+5", "Ⅷ", "²", "%"])
def test_what_is_no_number_is_none(text: str) -> None:
    assert number_at(text) is None


def test_a_number_is_read_from_its_place_in_the_line() -> None:
    found = number("butter 1 1/2 lb", 7)

    assert (found.value, found.start, found.end) == (1.5, 7, 12)


@given(st.integers(0, 999_999), st.integers(0, 99))
def test_a_number_printed_is_a_number_read(whole: int, hundredths: int) -> None:
    value = whole + hundredths / 100

    assert number(f"{value:.2f} g").value == pytest.approx(value, rel=1e-12)
    assert number(f"{whole} g").value == whole
    assert number(f"{whole:,} g").value == whole


@given(st.integers(0, 99), st.integers(1, 98), st.integers(2, 99))
def test_a_mixed_fraction_is_its_parts_added(whole: int, top: int, low: int) -> None:
    assert number(f"{whole} {top}/{low} g").value == pytest.approx(whole + top / low)


@given(st.text(max_size=30))
def test_no_text_breaks_it(text: str) -> None:
    found = number_at(text)

    if isinstance(found, Number):
        assert found.low <= found.value <= found.high
        assert 0 == found.start < found.end <= len(text)
    elif isinstance(found, Hostile):
        assert text[found.start : found.end] == found.text
