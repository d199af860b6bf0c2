"""The shop of kitchen.yaml: what is sound counts, half a decision counts not at all."""

from datetime import date
from fractions import Fraction

import pytest

from slabwright.errors import FileError
from slabwright.files.kitchen_file import sound_kitchen
from slabwright.files.makers_line import line_asked, price_asked, read_line
from slabwright.files.raw import Text
from slabwright.kitchen import MakersLine

WHOLE = """shop:
  line: margin 60 %
  ends: [0.95, 0.20, .50]
  costs: [0.11 a piece, "1,20 a tray, rent"]
  tax:
    - {rate: 0 %, from: 2026-01-01, reason: cake says our adviser}
    - {rate: 20, from: 2026-01-01, eaten: here, reason: eaten in}
    - {rate: 5.5 %, from: 2026-02-01, slabs: Lantern Walk, sold: by post, reason: own}
    - {rate: not registered, from: 2026-03-01, reason: under the threshold}
"""


def test_all_of_it_is_read() -> None:
    kitchen, wrong = sound_kitchen(Text(WHOLE))
    shop = kitchen.shop
    assert not wrong
    assert shop.line == MakersLine("margin", Fraction(3, 5), "margin 60 %")
    assert [str(end) for end in shop.ends] == ["0.2", "0.5", "0.95"]
    assert [(told.per, told.what) for told in shop.told] == [
        ("piece", ""),
        ("tray", "rent"),
    ]
    rates = [rule.rate for rule in shop.tax]
    assert rates == [0, Fraction(1, 5), Fraction("0.055"), None]
    assert shop.tax[1].eaten == "here"
    assert shop.tax[2].slabs == ("Lantern Walk",)
    assert shop.tax[2].ways == ("sent by post",)
    assert shop.tax[3].from_day == date(2026, 3, 1)


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("line: margin 100 %", "leaves nothing"),
        ("line: plenty", "no margin"),
        ("ends: [-1]", "ends"),
        ("ends: [nan]", "ends"),
        ("costs: [5]", "a piece, a box or a tray"),
        ("tax: [{rate: 20 %, reason: why not}]", "from"),
        ("tax: [{rate: 20 %, from: 2026-01-01}]", "reason"),
        ("tax: [{rate: 120 %, from: 2026-01-01, reason: why}]", "no rate of tax"),
        ("tax: [{rate: -1, from: 2026-01-01, reason: why}]", "no rate of tax"),
        ("tax: [{rate: 1, from: 2026-01-01, reason: why, eaten: maybe}]", "neither"),
        ("tax: [{rate: 1, from: 2026-01-01, reason: why, sold: x}]", "five ways"),
        ("tax: [{rate: 1, from: 2026-13-01, reason: why}]", "from"),
    ],
)
def test_what_is_wrong_is_named_and_does_not_count(text: str, what: str) -> None:
    kitchen, wrong = sound_kitchen(Text(f"shop:\n  {text}\n", "kitchen.yaml"))
    assert len(wrong) == 1
    assert what in f"{wrong[0]}"
    assert "shop" in wrong[0].where.field
    assert not kitchen.shop.tax
    assert kitchen.shop.line is None


@pytest.mark.parametrize(
    ("text", "kind", "value"),
    [
        ("margin 60 %", "margin", "0.6"),
        ("65%", "margin", "0.65"),
        ("mark-up 150 %", "mark-up", "1.5"),
        ("markup of 150 per cent", "mark-up", "1.5"),
        ("1.20 left", "left", "1.2"),
        ("£0.80 a piece", "left", "0.8"),
    ],
)
def test_a_line_is_read_from_plain_words(text: str, kind: str, value: str) -> None:
    found = read_line(text)
    assert isinstance(found, MakersLine)
    assert (found.kind, found.value) == (kind, Fraction(value))


@pytest.mark.parametrize("text", ["", "60", "-5 %", "margin", "margin 1e3 %", "100 %"])
def test_what_is_no_line_is_refused(text: str) -> None:
    with pytest.raises(FileError):
        line_asked(text)


@pytest.mark.parametrize("text", ["", "0", "-3.20", "3.205", "nan", "three", "1e3"])
def test_what_is_no_price_is_refused(text: str) -> None:
    with pytest.raises(FileError, match="no price"):
        price_asked(text)
    assert price_asked("£3,20") == price_asked("3.20 GBP")
