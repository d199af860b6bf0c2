"""Keeping once opened: said where it is known, and how it is known."""

import pytest

from slabwright.cost.opened import once_opened
from slabwright.larder.ingredient import Ingredient
from slabwright.larder.load import built_in
from slabwright.source import Seen

LARDER = built_in()


def words(id: str) -> str:
    found = once_opened(LARDER.by_id(id))
    return found.words if found else ""


@pytest.mark.parametrize(
    ("id", "said"),
    [
        ("double-cream-48", "2 to 3 days, chilled"),
        ("butter-unsalted", "14 to 30 days, chilled, wrapped"),
        ("caster-sugar", "1 to 2 years, dry, in a closed tub"),
        ("tahini", "2 to 6 months, closed, cool"),
    ],
)
def test_how_long_and_where(id: str, said: str) -> None:
    assert words(id) == said


def test_its_own_row_goes_before_its_group_s() -> None:
    # rye with its germ, against flour as such
    assert words("wholemeal-rye-flour") != words("plain-flour")


def test_what_nobody_knows_stays_unknown() -> None:
    assert once_opened(None) is None
    assert words("water") == ""
    assert words("rose-water") == ""


def test_one_s_own_keeps_like_what_it_is_like() -> None:
    own = Ingredient("our-cream", "our cream", "", {}, own=True, like="double-cream-48")

    assert once_opened(own) == once_opened(LARDER.by_id("double-cream-48"))


def test_every_row_is_of_something_in_the_larder_and_claims_no_source() -> None:
    rows = {
        key: found
        for one in LARDER.ingredients
        for key in (one.id, one.group)
        if (found := once_opened(one)) is not None
    }

    assert {found.source.seen for found in rows.values()} <= {Seen.MEMORY, Seen.TRADE}
