"""Bars read back by a decoder that is not ours, number by number."""

import numpy as np
import pytest
import zxingcpp
from hypothesis import given
from hypothesis import strategies as st

from slabwright.errors import FileError
from slabwright.kitchen import Codes
from slabwright.label.codes import (
    check_digit,
    in_store_number,
    measured_number,
    own_number,
)
from slabwright.label.paper.bars import bar_rules, bar_size, bars_of


def seen(digits: str) -> list[str]:
    """What the decoder reads from bars drawn pixel by pixel, 4 to a module."""
    bars = bars_of(digits)
    row = "0" * bars.quiet_left + bars.modules + "0" * bars.quiet_right
    line = np.repeat([0 if one == "1" else 255 for one in row], 4).astype(np.uint8)
    picture = np.tile(line, (80, 1))
    return [one.text for one in zxingcpp.read_barcodes(picture)]


def numbered(body: str) -> str:
    return body + check_digit(body)


@given(st.from_regex(r"[0-9]{12}", fullmatch=True))
def test_every_number_of_13_digits_is_read_back(body: str) -> None:
    assert seen(numbered(body)) == [numbered(body)]


@given(st.from_regex(r"[0-9]{7}", fullmatch=True))
def test_every_number_of_8_digits_is_read_back(body: str) -> None:
    assert seen(numbered(body)) == [numbered(body)]


def test_all_ten_check_digits_and_all_ten_first_digits_are_read_back() -> None:
    by_check = {check_digit(f"50123456{n:04}"): f"50123456{n:04}" for n in range(40)}
    assert sorted(by_check) == list("0123456789")

    for body in (*by_check.values(), *(f"{n}12345678901" for n in range(10))):
        assert seen(numbered(body)) == [numbered(body)]


def test_own_numbers_and_those_of_the_shop_are_read_back() -> None:
    codes = Codes("5012345", ("20", "29", "02"), "20IIIIIVPPPPC")
    numbers = [
        own_number(codes, "17"),
        in_store_number(codes, "17"),
        in_store_number(Codes("", ("02",)), "17"),
        measured_number(codes, "17", 350),
    ]

    for one in numbers:
        assert seen(one.digits) == [one.digits]


def test_a_symbol_has_as_many_modules_as_its_standard_says() -> None:
    # 95 and 67 modules, 113 and 81 with their quiet zones: from memory
    long, short = bars_of("5012345678900"), bars_of(numbered("9638507"))

    assert (len(long.modules), long.width_modules) == (95, 113)
    assert (len(short.modules), short.width_modules) == (67, 81)
    assert (long.name, short.name) == ("EAN-13", "EAN-8")
    assert sum(wide for _, wide, is_guard in long.stripes() if is_guard) == 6


@pytest.mark.parametrize(
    "digits", ["", "12", "5012345678901", "501234567890", "５012345678900", "9638507x"]
)
def test_what_is_no_number_gets_no_bars(digits: str) -> None:
    with pytest.raises(FileError, match="can't stand under bars"):
        bars_of(digits)


def test_each_size_says_how_it_is_known() -> None:
    assert {one.found for one in bar_rules()} == {"from memory"}
    assert len({one.id for one in bar_rules()}) == len(bar_rules()) == 10
    assert bar_size("module_least") < bar_size("module_usual") < bar_size("module_most")
