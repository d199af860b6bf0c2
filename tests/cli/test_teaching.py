"""The command teach: one reading after a boil, written where it was taken."""

from pathlib import Path

import pytest

from tests.cli.run import run

CARD = """slab Lamp
tin 20 x 20 x 5 cm

layer Malt caramel
    into wide pan
    195 g   caster sugar
    100 g   water      # tap
    boil to 118 C
    5 g     fine salt

layer Base
  170 g plain flour
"""
KITCHEN = (
    "probe_in_boiling_water_C: 101.0\nvessels: [{name: wide pan, empty_g: 2100}]\n"
)


@pytest.fixture
def card(tmp_path: Path) -> Path:
    (tmp_path / "kitchen.yaml").write_text(KITCHEN, "utf-8")
    path = tmp_path / "lamp.card"
    path.write_text(CARD, "utf-8")
    return path


@pytest.mark.parametrize(
    ("reading", "more", "line"),
    [
        ("210 g", (), "    reads 210 g at 118 C"),
        ("210 g at 117 C", (), "    reads 210 g at 117 C"),
        ("2310 g with the pan", (), "    reads 210 g at 118 C"),
        ("2.31 kg with the pan at 118 C", (), "    reads 210 g at 118 C"),
        ("92 Brix", ("--probe", "119"), "    reads 92 Brix at 118 C"),
    ],
)
def test_a_reading_stands_below_its_boil_and_nothing_else_changes(
    card: Path, reading: str, more: tuple[str, ...], line: str
) -> None:
    done = run("teach", str(card), "malt caramel", reading, *more)

    assert (done.code, done.err) == (0, "")
    lines = CARD.splitlines()
    lines.insert(8, line)
    assert card.read_text("utf-8") == "\n".join(lines) + "\n"
    assert line in done.out


def test_a_word_of_its_name_is_enough_where_it_means_one_layer(card: Path) -> None:
    assert run("teach", str(card), "caramel", "210 g").code == 0

    card.write_text(CARD + "layer Caramel top\n  9 g honey\n", "utf-8")
    done = run("teach", str(card), "caramel", "210 g")
    assert done.code == 2
    assert "more than one layer. Write one of: Malt caramel, Caramel top." in done.err


def test_a_second_reading_takes_the_place_of_the_first(card: Path) -> None:
    run("teach", str(card), "Malt caramel", "210 g")
    run("teach", str(card), "Malt caramel", "90 Brix at 116 C")

    assert card.read_text("utf-8").count("reads") == 1
    assert "    reads 90 Brix at 116 C\n" in card.read_text("utf-8")


@pytest.mark.parametrize(
    ("layer", "reading", "told"),
    [
        ("Malt caramel", "soup", "is no reading"),
        ("Malt caramel", "210", "no unit"),
        ("Malt caramel", "2050 g with the pan", "no more than the wide pan alone"),
        ("Malt caramel", "with the pan", "is no weight"),
        ("Base", "210 g", "is boiled to no temperature"),
        ("Bas", "210 g", "No layer here is called 'Bas'. Write one of: Malt caramel"),
        ("", "210 g", "No layer here is called ''"),
    ],
)
def test_what_can_not_be_a_reading_is_refused_and_nothing_written(
    card: Path, layer: str, reading: str, told: str
) -> None:
    done = run("teach", str(card), layer, reading)

    assert done.code == 2
    assert told in done.err
    assert "Traceback" not in done.err
    assert card.read_text("utf-8") == CARD


def test_a_pan_that_nobody_weighed_can_not_be_taken_off(card: Path) -> None:
    (card.parent / "kitchen.yaml").write_text("country: GB\n", "utf-8")

    done = run("teach", str(card), "Malt caramel", "2310 g with the pan")

    assert done.code == 2
    assert "Nobody weighed the wide pan empty" in done.err


def test_a_temperature_is_given_once(card: Path) -> None:
    done = run("teach", str(card), "Malt caramel", "210 g at 117 C", "--probe", "118")

    assert done.code == 2
    assert "so does the probe" in done.err
    assert card.read_text("utf-8") == CARD


def test_a_dry_run_only_shows_it(card: Path) -> None:
    done = run("teach", str(card), "Malt caramel", "210 g", "--dry-run")

    assert "reads 210 g" in done.out
    assert card.read_text("utf-8") == CARD
