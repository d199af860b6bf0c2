"""The command amend: what it refuses is not written."""

from pathlib import Path

import pytest

from tests.cli.run import run

CARD = "demo/slabs/two-tides.card"


@pytest.mark.parametrize("more", [[], ["--dry-run"]], ids=["wet", "dry"])
@pytest.mark.parametrize(
    ("what", "value", "says"),
    [
        ("pectin NH", "lots", "a step, not an ingredient"),
        ("pectin NH", "6", "gives no weight here"),
        ("Baked lemon curd/ends", "heavy", "a step, not ends"),
        ("Baked lemon curd/ends", "900 kg", "only"),
        ("Baked lemon curd/glucose", "9 g", "Nothing on this card is called"),
        ("tin", "banana", "No tin here is called 'banana'"),
        ("tin", "", "The new value of 'tin' is empty"),
    ],
)
@pytest.mark.usefixtures("bench")
def test_what_would_read_otherwise_is_refused_and_nothing_is_written(
    what: str, value: str, says: str, more: list[str]
) -> None:
    before = Path(CARD).read_bytes()
    ran = run("amend", CARD, what, value, *more)

    assert (ran.code, ran.out) == (2, "")
    assert says in ran.err
    assert Path(CARD).read_bytes() == before


@pytest.mark.usefixtures("bench")
def test_a_mistake_that_was_there_before_is_not_told_again() -> None:
    text = Path(CARD).read_text("utf-8").replace("30 x 20 x 5 cm", "banana")
    Path(CARD).write_text(text, encoding="utf-8")
    ran = run("amend", CARD, "pectin NH", "7 g")

    assert (ran.code, ran.err) == (0, "")
    assert "7 g     pectin NH" in Path(CARD).read_text("utf-8")
    assert run("amend", CARD, "tin", "30 x 20 x 5 cm").code == 0
    assert run("check", CARD).code == 0


@pytest.mark.parametrize("value", ["-5 g", "-.5 g", "-5 handfuls"])
@pytest.mark.usefixtures("bench")
def test_a_number_below_nothing_is_a_value_and_refused_as_one(value: str) -> None:
    before = Path(CARD).read_bytes()
    ran = run("amend", CARD, "pectin NH", value)

    assert (ran.code, ran.out) == (2, "")
    assert "No such option" not in ran.err
    assert f"{CARD}:48:3" in ran.err
    assert "Nothing was written" in ran.err
    assert Path(CARD).read_bytes() == before


@pytest.mark.usefixtures("bench")
def test_a_minus_is_written_as_it_was_typed_and_options_stay_options() -> None:
    Path("x.card").write_text("slab X\nlayer A\n  stir\n", encoding="utf-8")
    ran = run("amend", "x.card", "3", "-18 C for an hour")

    assert ran.code == 0, ran.err
    assert Path("x.card").read_text("utf-8").endswith("\n  -18 C for an hour\n")
    assert "No such option: --dryrun" in run("amend", CARD, "tin", "--dryrun").err
    assert "No figure here is called '-77'" in run("why", CARD, "-77").err
