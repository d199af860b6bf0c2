"""Kitchen units against their definitions and against published factors."""

import csv
from pathlib import Path

import pytest

from slabwright.quantity.amount import Amount
from slabwright.quantity.units import Regime, aliases, unit_named, units
from slabwright.source import sources
from tests.files.kitchens import kitchen, read_in

TABLE = Path(__file__).parents[1] / "reference" / "label" / "conversions.csv"
ROWS: tuple[tuple[str, str, Regime], ...] = (
    # published row, our unit, whose
    ("oz (avoirdupois)", "oz", "metric"),
    ("lb", "lb", "metric"),
    ("US fl oz", "fl oz", "US"),
    ("US cup (customary)", "cup", "US"),
    ("US tbsp", "tbsp", "US"),
    ("US tsp", "tsp", "US"),
    ("US pint", "pint", "US"),
    ("US quart", "quart", "US"),
    ("UK fl oz", "fl oz", "metric"),
    ("UK pint", "pint", "metric"),
    ("UK pint", "pint", "AU"),
    ("metric cup (AU/NZ/CA)", "cup", "AU"),
    ("metric cup (AU/NZ/CA)", "cup", "metric"),
    ("UK/US metric tbsp", "tbsp", "metric"),
    ("AU tbsp", "tbsp", "AU"),
    ("metric tsp", "tsp", "metric"),
    ("metric tsp", "tsp", "AU"),
)


def published() -> dict[str, float]:
    with TABLE.open(encoding="utf-8", newline="") as file:
        return {
            row["from_unit"]: float(row["factor"])
            for row in csv.DictReader(file)
            if row["factor"]
        }


@pytest.mark.parametrize(("row", "unit", "regime"), ROWS)
def test_a_unit_comes_to_what_the_table_says(
    row: str, unit: str, regime: Regime
) -> None:
    # Source: the table in tests/reference/label
    size = units()[unit].size(regime)

    assert size is not None
    assert size.value == published()[row]
    assert size.low == size.value == size.high


def test_american_measures_follow_from_231_cubic_inches() -> None:
    # NIST SP 811: gallon 231 in³, inch 2.54 cm exactly; 4 quarts, 8 pints, 16 cups,
    # 128 fl oz, 256 tbsp, 768 tsp
    gallon_ml = 231 * 2.54**3
    parts = {"quart": 4, "pint": 8, "cup": 16, "fl oz": 128, "tbsp": 256, "tsp": 768}

    for name, count in parts.items():
        size = units()[name].size("US")
        assert size is not None
        assert size.value == pytest.approx(gallon_ml / count, rel=1e-11)


def test_british_measures_follow_from_the_imperial_gallon() -> None:
    # 4.54609 l: 4 quarts, 8 pints, 160 fl oz
    for name, count in {"quart": 4, "pint": 8, "fl oz": 160}.items():
        size = units()[name].size("metric")
        assert size is not None
        assert size.value == pytest.approx(4546.09 / count, rel=1e-12)


def test_sixteen_ounces_are_a_pound() -> None:
    pound, ounce = units()["lb"].size(), units()["oz"].size()

    assert pound is not None
    assert ounce is not None
    assert pound.value == pytest.approx(16 * ounce.value, rel=1e-12)


@pytest.mark.parametrize(
    ("words", "name"),
    [
        ("g", "g"), ("gms", "g"), ("Grams", "g"), ("grammes", "g"), ("KG", "kg"),
        ("kilos", "kg"), ("oz.", "oz"), ("lbs", "lb"), ("ml", "ml"), ("mls", "ml"),
        ("litre", "l"), ("Liters", "l"), ("fl. oz.", "fl oz"),
        ("fluid ounces", "fl oz"),
        ("tsp.", "tsp"), ("teaspoonfuls", "tsp"), ("Tbsp", "tbsp"),
        ("TABLESPOON", "tbsp"),
        ("cups", "cup"), ("pts", "pint"), ("dsp", "dessertspoon"), ("pinch", "pinch"),
        ("tins", "tin"), ("cans", "tin"), ("packets", "pack"), ("leaves", "leaf"),
    ],
)  # fmt: skip
def test_a_unit_has_many_spellings_and_one_name(words: str, name: str) -> None:
    found = unit_named(words)

    assert found is not None
    assert found.name == name


@pytest.mark.parametrize("word", ["", "wibble", "grx", "°C", "min", "mm", "%"])
def test_a_word_that_is_no_unit_is_none(word: str) -> None:
    assert unit_named(word) is None


def test_every_unit_is_sound() -> None:
    assert len(aliases()) == len(set(aliases()))
    for unit in units().values():
        assert unit_named(unit.name) == unit
        for size in unit.sizes.values():
            assert 0 < size.low <= size.value <= size.high
            assert size.source in sources().values()
        assert bool(unit.sizes) is (unit.kind != "count")


def amounts(line: str) -> tuple[Amount, ...]:
    read, _ = read_in("layer", line)
    (only,) = read.card.layers[-1].component.lines
    return only.amounts


@pytest.mark.parametrize(
    ("line", "grams"),
    [
        # 2 x 250; 1 lb = 16 oz of 28.349523125 g
        ("2 x 250 g packs butter", 500),
        ("2 packs butter (250 g)", 500),
        ("1 x 397 g tin condensed milk", 397),
        ("1 (397 g) tin condensed milk", 397),
        ("397g tin condensed milk", 397),
        ("1 jar damson jam 340 g", 340),
        ("2 tins condensed milk, 397 g each", 794),
        ("1 lb plain flour", 453.59237),
        ("0,5 kg plain flour", 500),
        ("1,200 g plain flour", 1200),
        ("100-120 g plain flour", 110),
        ("1½ lb plain flour", 680.388555),
    ],
)
def test_a_mass_is_grams_by_itself_or_by_its_size(line: str, grams: float) -> None:
    (only,) = amounts(line)

    assert only.grams == pytest.approx(grams, rel=1e-9)


def test_two_amounts_of_one_line_are_added() -> None:
    # 1 lb 2 oz = 18 oz
    masses = [one.grams or 0.0 for one in amounts("1 lb 2 oz plain flour")]

    assert sum(masses) == pytest.approx(18 * 28.349523125)


@pytest.mark.parametrize("line", ["3 tbsp honey", "6 eggs", "1 tin condensed milk"])
def test_what_is_no_mass_has_no_grams_of_its_own(line: str) -> None:
    (only,) = amounts(line)

    assert only.grams is None


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("2 x 250 g packs butter", "2 × 250 g pack"),
        ("100-120 g plain flour", "100-120 g"),
        ("1½ tsp fine salt", "1.5 tsp"),
        ("1 heaped tbsp honey", "1 heaped tbsp"),
        ("6 eggs", "6"),
    ],
)
def test_an_amount_is_written_again_as_a_person_would(line: str, words: str) -> None:
    (only,) = amounts(line)

    assert only.in_words() == words


def test_a_line_says_whose_spoon_it_is() -> None:
    (only,) = amounts("1 US cup plain flour")

    assert only.regime == "US"
    size = only.one(kitchen().kitchen.spoons)
    assert size is not None
    assert size.value == 236.5882365
