"""Where a slab lies and how warm it is there: the card, the kitchen, what is usual."""

import pytest

from slabwright.files.folder import Folder
from slabwright.files.kitchen_file import read_kitchen
from slabwright.files.raw import Text
from slabwright.larder.load import built_in
from slabwright.spec.nature.places import keepings

KITCHEN = """
fridges: [{name: upright fridge, temperature_C: 4}, {name: cold drawer}]
freezers: [{name: chest freezer, temperature_C: -22}]
shelves: [{name: larder shelf, temperature_C: 17}]
"""


def told(line: str, kitchen: str = KITCHEN) -> tuple[float, float, bool]:
    home = Folder(None, read_kitchen(Text(kitchen)), built_in(), None)
    card = home.read(Text(f"slab X\n{line}\nlayer A\n  9 g honey\n")).card
    (place,) = keepings(card, home.kitchen)
    return place.temperature_C.low, place.temperature_C.high, place.is_assumed


@pytest.mark.parametrize(
    ("line", "low", "high", "is_assumed"),
    [
        ("keep closed box at 16-18 C, 10 days", 16, 18, False),
        ("keep larder shelf, up to 20 C, 4 days", 16, 20, False),
        ("keep at 4 C", 4, 4, False),
        ("keep larder shelf, 4 days", 17, 17, False),
        ("keep chilled, 3 days", 4, 4, False),
        ("keep in the upright fridge", 4, 4, False),
        ("keep frozen uncut, 28 days", -22, -22, False),
        ("keep frozen at -18 C", -18, -18, False),
        ("keep on the counter", 18, 22, True),
        ("note nothing is said", 18, 22, True),
    ],
)
def test_the_card_wins_then_the_kitchen_then_what_is_usual(
    line: str, low: float, high: float, is_assumed: bool
) -> None:
    assert told(line) == (low, high, is_assumed)


@pytest.mark.parametrize(
    ("line", "low", "high"),
    [("keep chilled", 2, 5), ("keep frozen, 4 weeks", -20, -18)],
)
def test_without_a_kitchen_what_is_usual_is_assumed(
    line: str, low: float, high: float
) -> None:
    assert told(line, "country: GB\n") == (low, high, True)
