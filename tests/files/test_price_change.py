"""`butter +20 %`, `plain flour = 13.20`: what it hits, and what it can't be."""

from datetime import date
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest

from slabwright.cost.change import PriceChange
from slabwright.errors import FileError
from slabwright.files.folder import open_folder
from slabwright.files.price_change import read_price_change

DEMO = Path(__file__).parents[2] / "demo"
HOME = open_folder(DEMO)
DAY = date(2026, 11, 25)


def read(text: str) -> PriceChange:
    assert HOME.prices is not None
    return read_price_change(text, HOME.prices, HOME.larder, "GB", DAY)


@pytest.mark.parametrize(
    ("text", "ids", "factor"),
    [
        ("butter, unsalted +20 %", {"butter-unsalted"}, Fraction(6, 5)),
        ("butter +20%", {"butter-unsalted"}, Fraction(6, 5)),
        ("caster sugar -5 %", {"caster-sugar"}, Fraction(19, 20)),
        ("caster sugar −2.5 per cent", {"caster-sugar"}, Fraction(39, 40)),
        ("sugar +0 %", {"caster-sugar", "light-brown-sugar"}, Fraction(1)),
        ("eggs + 12,5 %", {"whole-egg"}, Fraction(9, 8)),
        ("chocolate - 100 %", {"dark-chocolate-60", "dark-chocolate-64"}, Fraction(0)),
    ],
)
def test_a_share_hits_the_ingredient_or_all_of_its_kind(
    text: str, ids: set[str], factor: Fraction
) -> None:
    found = read(text)

    assert ids <= set(found.larder_ids)
    assert found.factor == factor
    assert len(found.names) == len(found.larder_ids)


def test_the_narrow_name_hits_that_alone() -> None:
    assert read("butter, unsalted +20 %").larder_ids == ("butter-unsalted",)
    assert read("cocoa butter +20 %").larder_ids == ("cocoa-butter",)
    assert read("caster sugar +1 %").larder_ids == ("caster-sugar",)


@pytest.mark.parametrize(
    ("text", "pack", "per_kg"),
    [
        ("butter, unsalted = 2.10", Decimal("2.10"), None),
        ("butter, unsalted = £2.10", Decimal("2.10"), None),
        ("plain flour=0.85/kg", None, Decimal("0.85")),
        ("plain flour = 0,85 a kilo", None, Decimal("0.85")),
        ("plain flour = 0", Decimal(0), None),
    ],
)
def test_a_new_price_of_a_pack_or_a_kilogram(
    text: str, pack: Decimal | None, per_kg: Decimal | None
) -> None:
    found = read(text)

    assert (found.pack_price, found.per_kg, found.factor) == (pack, per_kg, None)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "is no change of a price"),
        ("butter", "is no change of a price"),
        ("butter 20", "is no change of a price"),
        ("+20 %", "is no change of a price"),
        ("butter +nan %", "is no change of a price"),
        ("butter +-20 %", "is no change of a price|Nothing called"),
        ("butter +1e9 %", "is no change of a price"),
        ("butter = -2", "is no change of a price|Nothing called"),
        ("butter -101 %", "more than 100"),
        ("butter +999999999 %", "beyond any price"),
        ("moon dust +20 %", "Nothing called 'moon dust'"),
        ("honey +20 %", "has a price"),
        ("sugar = 2", "is several things"),
        ("b" * 300 + " +20 %", "is no change of a price"),
        ("butter +20 %; rm", "is no change of a price"),
    ],
)
def test_what_it_can_not_be_is_said(text: str, says: str) -> None:
    with pytest.raises(FileError, match=says) as raised:
        read(text)

    assert all(mistake.do for mistake in raised.value.mistakes)
