"""Published numbers, asked of the calculators by key and value as a hand would."""

import pytest

from slabwright.files.card.sizes import read_tin
from slabwright.kitchen import Kitchen
from slabwright.larder.load import built_in
from slabwright.spec.calc.calculated import calculated, calculator_at
from slabwright.spec.calc.calculator import Around
from tests.physics.by_id import rows
from tests.physics.solution_rows import SPECIES_OF

AROUND = Around(Kitchen(), built_in(), read_tin)
Row = dict[str, str]
TO_WATER = {"AW0109"}
"""Does not tell its basis; in 100 g of solution other tables put 0.02 less."""


def answered(name: str, asked: dict[str, str], figure: str = "") -> float:
    """A figure of the answer by its name; the first without one."""
    answer = calculated(calculator_at(name), list(asked.items()), AROUND).answer
    shown = {one.name: one.figure.number for one in answer.also if one.figure.known}
    return shown[figure] if figure else answer.first.figure.number


def made(row: Row) -> dict[str, str]:
    """A make-up in per cent; in grams to 100 g of water where a row must mean that."""
    share = float(row["percent_w_w"])
    species = SPECIES_OF.get(row["material"], row["material"])
    if row["id"] in TO_WATER:
        return {species: f"{share:g} g", "water": "100 g"}
    return {species: f"{share:g}%", "water": f"{100 - share:g}%"}


def of(name: str, **where: str) -> list[Row]:
    every = rows(f"{name}.csv").values()
    found = [row for row in every if all(row[key] == at for key, at in where.items())]
    assert len(found) >= 3
    return found


def each(found: list[Row]) -> pytest.MarkDecorator:
    return pytest.mark.parametrize("row", found, ids=lambda row: row["id"])


def close(value: float, row: Row) -> None:
    assert value == pytest.approx(float(row["value"]), abs=float(row["tol"]))


@each(of("boiling_point", quantity="boiling_point", material="sucrose_water"))
def test_where_a_syrup_boils(row: Row) -> None:
    pressure = row["condition"].partition("pressure_kPa=")[2].partition(";")[0]
    close(answered("boiling-point", {**made(row), "pressure_kPa": pressure}), row)


@each(of("sugar_density", quantity="density", material="sucrose_water"))
def test_what_a_syrup_weighs(row: Row) -> None:
    asked = {**made(row), "temperature_C": row["T_C"]}
    close(answered("syrup-density", asked), row)


@each(of("sugar_density", quantity="baume"))
def test_what_a_spindle_shows(row: Row) -> None:
    close(answered("syrup", made(row), "baume"), row)
    brix = {"brix": row["percent_w_w"]}
    close(answered("syrup", brix, "baume"), row)


@each(of("sugar_solubility", quantity="solubility", material="sucrose"))
def test_how_much_sugar_dissolves(row: Row) -> None:
    figure = {"percent_w_w": "solubility_percent"}.get(row["unit"], "")
    asked = {"temperature_C": row["T_C"]}
    close(answered("sucrose-solubility", asked, figure), row)


@each(
    of("water_activity_solutions", quantity="water_activity", material="sucrose_water")
    + of("water_activity_solutions", quantity="water_activity", material="NaCl_water")
    + of("water_activity_solutions", quantity="water_activity",
         material="glycerol_water")
)  # fmt: skip
def test_how_free_the_water_is(row: Row) -> None:
    close(
        answered("water-activity", {**made(row), "temperature_C": row["T_C"] or "25"}),
        row,
    )


@each(of("glass_transition", quantity="Tg", material="sucrose_water"))
def test_where_sugar_turns_to_glass(row: Row) -> None:
    close(answered("glass-transition", made(row)), row)


@each(of("cooked_caramel", quantity="water_left"))
def test_water_of_a_cooked_caramel(row: Row) -> None:
    # a usual dairy caramel: sugar, corn syrup, condensed milk, fat
    asked = {"sucrose": "30", "glucose syrup 42 DE": "40", "condensed milk": "30",
             "butter": "8", "boils_at_C": row["T_C"]}  # fmt: skip
    answer = calculated(calculator_at("water-left"), list(asked.items()), AROUND).answer
    low, high = answer.first.figure.low, answer.first.figure.high
    assert low is not None
    assert high is not None
    tol = float(row["tol"]) / 100
    assert low - tol <= float(row["value"]) / 100 <= high + tol


@each(of("dew_points", quantity="dew_point"))
def test_where_room_air_wets_a_slab(row: Row) -> None:
    asked = {
        "room_C": row["room_C"], "relative_humidity": row["relative_humidity_percent"],
    }  # fmt: skip
    close(answered("dew-point", asked), row)


@each(of("bloom_factors", quantity="gelatine_factor"))
def test_what_gelatine_is_multiplied_by(row: Row) -> None:
    asked = {"mass_g": "1", "from_bloom": row["from_bloom"], "rule": row["rule"],
             "to_bloom": row["to_bloom"]}  # fmt: skip
    close(answered("gelatine-exchange", asked), row)
