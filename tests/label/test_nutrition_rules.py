"""Every row of the nutrition tables against the rules as reprinted elsewhere.

Source: tests/reference/label, the file named at each test.
"""

import csv
from datetime import date
from math import inf
from pathlib import Path

import pytest

from slabwright.label.nutrition.declared import declared, kept
from slabwright.label.nutrition.front_of_pack import Level, front
from slabwright.label.nutrition.rules import (
    Rule,
    factors,
    intakes,
    panel,
    panel_of,
    roundings,
    thresholds,
    tolerance_of,
    tolerances,
)

REFERENCE = Path(__file__).parents[1] / "reference" / "label"
DAY = date(2026, 11, 25)


def rows(name: str) -> list[dict[str, str]]:
    with (REFERENCE / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


ENERGY = rows("eu_energy_factors.csv")
ROUNDING = rows("eu_rounding.csv")
TOLERANCES = rows("eu_tolerances.csv")
INTAKES = rows("eu_reference_intakes.csv")
PANEL = rows("eu_nutrition_panel_order.csv")
FRONT = rows("uk_fop_thresholds.csv")


def number(text: str, without: float = inf) -> float:
    return float(text) if text else without


def test_every_table_holds_each_row_once_and_nothing_else() -> None:
    assert len(factors()) == len(ENERGY) == 9
    assert len(roundings()) == len(ROUNDING)
    assert len(tolerances()) == len(TOLERANCES)
    assert len(intakes()) == len(INTAKES)
    assert len(panel()) == len(PANEL)
    assert len(thresholds()) == len(FRONT)


def test_a_row_says_how_it_is_known_as_its_reference_does() -> None:
    pairs: list[tuple[Rule, dict[str, str]]] = []
    for ours, theirs in (
        (factors(), ENERGY), (roundings(), ROUNDING), (tolerances(), TOLERANCES),
        (intakes(), INTAKES), (panel(), PANEL), (thresholds(), FRONT),
    ):  # fmt: skip
        pairs += zip([one.rule for one in ours], theirs, strict=True)

    for rule, row in pairs:
        assert rule.found == row["found"], rule.id
        # what was never seen is not cited as read
        if rule.found == "from memory":
            assert rule.source.seen.value == "from memory", rule.id
    assert len({rule.id for rule, _ in pairs}) == len(pairs)


@pytest.mark.parametrize("at", range(len(ENERGY)), ids=lambda i: ENERGY[i]["component"])
def test_an_energy_factor_is_the_law_s(at: int) -> None:
    ours, row = factors()[at], ENERGY[at]

    assert ours.in_law == row["component"]
    assert (ours.kJ_per_g, ours.kcal_per_g) == (
        float(row["kj_per_g"]), float(row["kcal_per_g"]),
    )  # fmt: skip


@pytest.mark.parametrize("at", range(len(INTAKES)), ids=lambda i: "-".join(
    (INTAKES[i]["nutrient"], INTAKES[i]["unit"])))  # fmt: skip
def test_a_reference_intake_is_the_law_s(at: int) -> None:
    ours, row = intakes()[at], INTAKES[at]

    assert (ours.nutrient, ours.unit) == (row["nutrient"], row["unit"])
    assert ours.amount == float(row["reference_intake"])


@pytest.mark.parametrize("row", PANEL, ids=lambda row: row["line"])
def test_a_line_stands_where_the_law_has_it(row: dict[str, str]) -> None:
    (ours,) = (one for one in panel() if one.line == row["line"])

    assert ours.order == int(row["order"])
    assert ours.is_mandatory == (row["mandatory"] == "yes")
    assert (ours.unit, ours.of_which) == (row["unit"], row["of_which"])
    assert [one.order for one in panel()] == sorted(one.order for one in panel())


GRAMS = [row for row in ROUNDING if row["increment"] or row["alternative_text"]]


@pytest.mark.parametrize(
    "row", GRAMS, ids=lambda row: f"{row['nutrient']} from {row['lower'] or 0}"
)
def test_a_value_is_rounded_as_its_row_says(row: dict[str, str]) -> None:
    nutrient, unit = row["nutrient"], row["unit"]
    lower, upper = number(row["lower"], 0.0), number(row["upper"])
    inside = [lower + share * (min(upper, lower + 40) - lower) for share in (0.3, 0.7)]

    for value in inside:
        said = declared(nutrient, value, unit)
        if row["increment"]:
            step = float(row["increment"])
            assert abs(said.number - value) <= step / 2 + 1e-9
            assert abs(said.number / step - round(said.number / step)) < 1e-9
            decimals = said.words.split()[0].partition(".")[2]
            assert len(decimals) == int(row["decimals"]) or said.number >= upper
        else:
            nothing, below = row["alternative_text"].split(" | ")
            assert said.words == below
            assert declared(nutrient, 0.0, unit, is_nothing=True).words == nothing


@pytest.mark.parametrize(
    ("nutrient", "value", "words"),
    # the guidance's own bounds, and the steps that touch them
    [
        ("fat", 0.5, "<0.5 g"), ("fat", 0.51, "0.5 g"), ("fat", 9.94, "9.9 g"),
        ("fat", 9.95, "10 g"), ("fat", 10.0, "10 g"), ("fat", 10.5, "11 g"),
        ("saturates", 0.1, "<0.1 g"), ("saturates", 0.14, "0.1 g"),
        ("saturates", 0.15, "0.2 g"), ("salt", 0.0125, "<0.01 g"),
        ("salt", 0.0126, "0.01 g"), ("salt", 0.994, "0.99 g"), ("salt", 0.996, "1.0 g"),
        ("salt", 1.25, "1.3 g"), ("sugars", 22.5, "23 g"), ("energy_kj", 1361.5,
        "1362 kJ"), ("energy_kcal", 0.4, "0 kcal"),
    ],
)  # fmt: skip
def test_a_bound_belongs_where_the_guidance_puts_it(
    nutrient: str, value: float, words: str
) -> None:
    unit = words.rsplit(maxsplit=1)[-1]

    assert declared(nutrient, value, unit).words == words


def test_only_what_is_surely_none_is_written_as_nothing() -> None:
    assert declared("fibre", 0.0, "g").words == "<0.5 g"
    assert declared("fibre", 0.0, "g", is_nothing=True).words == "0 g"


@pytest.mark.parametrize("value", [-0.1, float("nan"), float("inf")])
def test_no_value_that_is_none_is_declared(value: float) -> None:
    with pytest.raises(ValueError, match="fat of"):
        declared("fat", value, "g")


@pytest.mark.parametrize(
    "row", TOLERANCES, ids=lambda r: f"{r['nutrient']} {r['declared_from_g_per_100g']}"
)
def test_a_declared_value_keeps_the_tolerance_of_its_row(row: dict[str, str]) -> None:
    low = float(row["declared_from_g_per_100g"])
    high = number(row["declared_to"], low + 40)
    middle = (low + high) / 2
    share = middle / 100 if row["unit"] == "%" else 1.0
    minus, plus = (float(row[f"tolerance_{end}"]) * share for end in ("minus", "plus"))

    within = kept(row["nutrient"], middle, max(middle - minus, 0), middle + plus)
    beyond = kept(row["nutrient"], middle, middle, middle + plus + 1e-3)

    assert within is not None
    assert within.is_kept
    assert beyond is not None
    assert not beyond.is_kept
    if middle > minus:
        below = kept(row["nutrient"], middle, middle - minus - 1e-3, middle)
        assert below is not None
        assert not below.is_kept


@pytest.mark.parametrize(
    ("nutrient", "declared_g", "id"),
    # 10 and 40 belong to the middle band; 4 and 1.25 to the upper one
    [("fat", 9.9, "TOL-13"), ("fat", 10, "TOL-14"), ("fat", 40, "TOL-14"),
     ("fat", 41, "TOL-15"), ("sugars", 40, "TOL-06"), ("saturates", 3.9, "TOL-16"),
     ("saturates", 4, "TOL-19"), ("salt", 1.2, "TOL-24"), ("salt", 1.25, "TOL-25")],
)  # fmt: skip
def test_a_bound_of_tolerance_belongs_to_one_band(
    nutrient: str, declared_g: float, id: str
) -> None:
    row = tolerance_of(nutrient, declared_g)

    assert row is not None
    assert row.rule.id == id


def test_energy_has_no_tolerance_of_its_own() -> None:
    assert kept("energy_kj", 1800, 1000, 2600) is None


@pytest.mark.parametrize("row", FRONT, ids=lambda r: f"{r['kind']} {r['nutrient']}")
def test_a_level_turns_at_the_guide_s_thresholds(row: dict[str, str]) -> None:
    low, medium, portion, above = (
        float(row[key])
        for key in (
            "green_max_per_100", "amber_max_per_100", "red_if_portion_exceeds",
            "portion_rule_applies_above_g_or_ml",
        )
    )  # fmt: skip

    def level(value: float, piece: float | None = None) -> str:
        found = front(row["nutrient"], (value, value, value), piece, "England", DAY,
                      row["kind"])  # fmt: skip
        assert found is not None
        return found.words

    assert (level(low), level(low + 1e-6)) == ("low", "medium")
    assert (level(medium), level(medium + 1e-6)) == ("medium", "high")
    # what the portion rule just lets through in a portion twice its bound
    value, large = portion / (2 * above) * 100, 2 * above
    assert low <= value < medium
    assert level(value, large * 1.001) == "high"
    assert level(value, large * 0.999) != "high"
    assert level(medium, above) == "medium"


def test_a_range_over_a_threshold_is_said() -> None:
    found = front("fat", (17.0, 2.9, 18.0), 80.0, "Wales", DAY)

    assert found is not None
    assert (found.level, found.may_be) == (Level.MEDIUM, (Level.LOW, Level.HIGH))


@pytest.mark.parametrize("nation", ["EU", "Elsewhere"])
def test_the_front_of_a_pack_is_a_british_guide(nation: str) -> None:
    assert front("fat", (17.0, 17.0, 17.0), None, nation, DAY) is None


@pytest.mark.parametrize(
    ("nation", "on", "lines"),
    [("EU", DAY, 13), ("Northern Ireland", DAY, 13), ("United Kingdom", DAY, 13),
     ("Elsewhere", DAY, 0), ("EU", date(2014, 12, 12), 0)],
)  # fmt: skip
def test_a_table_holds_in_its_nations_from_its_day(
    nation: str, on: date, lines: int
) -> None:
    assert len(panel_of(nation, on)) == lines
