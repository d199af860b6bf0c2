"""Which cards, and how many trays: as a baker types it."""

from pathlib import Path

import pytest

from slabwright.errors import FileError
from slabwright.files.orders import Ordered, read_orders


@pytest.fixture
def kitchen(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    for name in ("harbour-lamp", "two-tides", "x-ray"):
        (tmp_path / "slabs").mkdir(exist_ok=True)
        (tmp_path / "slabs" / f"{name}.card").write_text("slab S\n")
    (tmp_path / "components").mkdir()
    (tmp_path / "components" / "curd.card").write_text("component Curd\n")
    (tmp_path / "odd, name = 3.card").write_text("slab S\n")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def read(*arguments: str, kitchen: Path | None = None) -> dict[str, int]:
    orders = read_orders(arguments, kitchen)
    return {one.card.name.removesuffix(".card"): one.trays for one in orders}


@pytest.mark.parametrize(
    ("arguments", "trays"),
    [
        (["slabs/two-tides.card"], {"two-tides": 1}),
        (["slabs/two-tides.card=2"], {"two-tides": 2}),
        (["slabs/two-tides.card = 2"], {"two-tides": 2}),
        (["two-tides=2"], {"two-tides": 2}),
        (["two-tides x 2"], {"two-tides": 2}),
        (["Two Tides × 2"], {"two-tides": 2}),
        (["2 x two tides"], {"two-tides": 2}),
        (["x-ray x 2"], {"x-ray": 2}),
        (["x-ray"], {"x-ray": 1}),
        (["harbour-lamp x 2, two-tides"], {"harbour-lamp": 2, "two-tides": 1}),
        (["two-tides", "two-tides=3"], {"two-tides": 4}),
        (["slabs"], {"harbour-lamp": 1, "two-tides": 1, "x-ray": 1}),
        ([".=3"], {"harbour-lamp": 3, "two-tides": 3, "x-ray": 3}),
        (["curd=2"], {"curd": 2}),
        (["odd, name = 3.card"], {"odd, name = 3": 1}),
    ],
)
def test_what_is_meant(
    kitchen: Path, arguments: list[str], trays: dict[str, int]
) -> None:
    assert read(*arguments, kitchen=kitchen) == trays


def test_trays_of_each_where_nothing_is_said(kitchen: Path) -> None:
    found = read_orders(["two-tides", "curd=1"], kitchen, 5)

    assert [one.trays for one in found] == [5, 1]


def test_a_pipe_is_a_card() -> None:
    assert read_orders(["-"], None) == (Ordered(Path("-"), 1),)


@pytest.mark.parametrize(
    ("argument", "says"),
    [
        ("two-tides=0", "asks for 0 trays"),
        ("two-tides=-2", "asks for -2 trays"),
        ("two-tides=1.5", "asks for 1.5 trays"),
        ("two-tides=99999999999", "asks for 99999999999 trays"),
        ("two-tides=two", "No card is called"),
        ("moon", "harbour-lamp, two-tides"),
        ("\x00=2", "No card is called"),
        ("a" * 5000, "No card is called"),
        (" , ", "No slab is named"),
    ],
)
def test_what_can_not_be_had_is_said(kitchen: Path, argument: str, says: str) -> None:
    with pytest.raises(FileError, match="(?s)" + says):
        read_orders([argument], kitchen)


def test_everything_that_is_wrong_is_told_at_once(kitchen: Path) -> None:
    with pytest.raises(FileError) as raised:
        read_orders(["moon", "two-tides=0"], kitchen)

    assert len(raised.value.mistakes) == 2
