"""The command check: one card, many, or a whole kitchen; and codes like its own."""

import json
from pathlib import Path

import pytest

from tests.cli.run import run

STOPS = "slab X\ntin 20 x 20 x 1 cm\nlayer A\n  900 g honey\n"
WRONG = "slab X\ntin 20 x 20 x 5 cm\nlayer A\n  90 g honey\n  ends 300 g\n"
FINE = "slab X\ntin 20 x 20 x 5 cm\nlayer A\n  236 g honey\n  loses 0 g\n"
BASE = "component Base\n  100 g milk\n"


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    for name, text in {
        "kitchen.yaml": "name: ours\n",
        "slabs/b.card": FINE,
        "slabs/winter/a.card": FINE,
        "components/base.card": BASE,
        "old/not-here.card": WRONG,
    }.items():
        path = tmp_path / "home" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return tmp_path / "home"


def test_a_kitchen_is_checked_card_by_card(home: Path) -> None:
    ran = run("check", "home")

    assert ran.code == 0
    cards = [line.partition(":")[0] for line in ran.out.splitlines()]
    names = ["slabs/b.card", "slabs/winter/a.card", "components/base.card"]
    assert cards == [f"home/{name}" for name in names]
    assert [
        one["card"] for one in json.loads(run("check", "home", "--json").out)["cards"]
    ] == cards

    (home / "slabs" / "c.card").write_text(STOPS, encoding="utf-8")
    assert run("check", "home").code == 1
    (home / "components" / "d.card").write_text(WRONG, encoding="utf-8")
    broken = run("check", "home")
    assert broken.code == 2
    assert "home/components/d.card:5:8: ends says 300 g" in broken.out
    assert "home/components/d.card: 1 mistake; " in broken.out


@pytest.mark.usefixtures("home")
def test_a_folder_that_is_no_kitchen_gives_every_card_below_it() -> None:
    assert run("check", "home/slabs").out.count("reads well") == 2
    assert run("check", "home/old").code == 2


def test_a_folder_without_cards_is_told(tmp_path: Path) -> None:
    ran = run("check", str(tmp_path))

    assert ran.code == 2
    assert "holds no card" in ran.err


def test_a_kitchens_own_mistake_is_told_once(home: Path) -> None:
    (home / "kitchen.yaml").write_text("altitude_m: high\n", encoding="utf-8")
    ran = run("check", "home")

    assert ran.code == 2
    assert ran.out.count("kitchen.yaml:1") == 1
    assert ran.out.count(": 1 mistake; ") == 3


@pytest.mark.usefixtures("home")
def test_only_what_wants_a_look_is_counted_as_that_and_where_is_said() -> None:
    card = "home/slabs/b.card"
    found = json.loads(run("check", card, "--json").out)["cards"][0]["findings"]
    notes = [one for one in found if one["severity"] == "note"]
    assert len(notes) == len(found) > 0
    said = run("check", card).out
    assert "nothing to look at" in said
    assert f"{len(notes)} note" in said
    assert f"See: slabwright spec {card}" in said

    assert (
        "can't be made so; 1 finding to look at"
        in run("check", "-", data=STOPS.encode()).out
    )


@pytest.mark.parametrize(
    ("text", "code"), [(FINE, 0), (STOPS, 1), (WRONG, 2)], ids=["fine", "stop", "wrong"]
)
@pytest.mark.usefixtures("home")
def test_spec_and_demo_end_as_check_does(text: str, code: int) -> None:
    Path("home/slabs/b.card").write_text(text, encoding="utf-8")

    assert run("check", "home/slabs/b.card").code == code
    assert run("spec", "home/slabs/b.card").code == code
    assert run("spec", "home/slabs/b.card", "--json").code == code
    assert run("demo", "home", "--out", "made").code == code
    assert Path("made/b.svg").is_file()  # it goes on to the end


# --- options of spec --------------------


@pytest.mark.usefixtures("home")
def test_a_drawing_and_json_do_not_share_a_stream() -> None:
    ran = run("spec", "home/slabs/b.card", "--json", "--svg", "-")

    assert (ran.code, ran.out) == (2, "")
    assert "can't both go to standard output" in ran.err
    both = run("spec", "home/slabs/b.card", "--json", "--svg", "x.svg")
    assert both.code == 0
    assert json.loads(both.out)["layers"]


@pytest.mark.usefixtures("bench")
def test_a_base_that_no_line_is_called_by_is_refused_with_the_nearest() -> None:
    card = "demo/slabs/two-tides.card"
    for asked, near in (("sawdust", "plain flour"), ("casster sugar", "caster sugar")):
        ran = run("spec", card, "--on", asked)
        assert (ran.code, ran.out) == (2, "")
        assert f"No line is called '{asked}'. Write one of: {near}" in ran.err
    for asked in ("caster sugar", "CASTER", "caster-sugar"):
        assert run("spec", card, "--on", asked).code == 0


@pytest.mark.usefixtures("home")
def test_a_theme_that_is_none_is_refused_even_without_a_drawing() -> None:
    ran = run("spec", "home/slabs/b.card", "--theme", "blue")

    assert ran.code == 2
    for theme in ("light", "dark", "paper"):
        assert theme in ran.err
