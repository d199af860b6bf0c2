"""The whole counter under a change of prices: what falls, and what falls now."""

from decimal import Decimal

import pytest

from slabwright.errors import FileError
from tests.spec.shop import SOLD, TOLD, card, counter

CHEAP = card("sold loose on the counter, 3.95", *TOLD, name="Cheap")
NUTS = card("sold loose on the counter, 3.95", *TOLD, name="Nuts",
            body="  300 g plain flour\n  300 g hazelnuts\n")  # fmt: skip
LOW = card(SOLD, *TOLD, name="Low")


def test_what_falls_under_the_line_stands_first() -> None:
    found = counter(CHEAP, NUTS, LOW)
    assert found.rows[0].before.name == "Low"
    assert [row.before.name for row in found.under] == ["Low"]
    assert not any(row.falls for row in found.rows)


def test_a_rise_falls_on_what_takes_it() -> None:
    # Cheap: 3.95 × 0.4 = 1.58 may be spent, and 1.4319 is: room for 0.1481 × 18.8 =
    # 2.784 a tray. Butter is 4.00 of it: +69.6 % is just not enough to fall.
    kept = counter(CHEAP, NUTS, changes=("butter +69 %",))
    assert not kept.under
    fell = counter(CHEAP, NUTS, changes=("butter +70 %",))
    assert [row.before.name for row in fell.under] == ["Cheap"]
    (row,) = fell.under
    assert row.falls
    assert row.then is not None
    assert row.then.against is not None
    price = row.then.against.mends[0]
    assert price.figure.value == Decimal("4.20")
    nuts = next(row for row in fell.rows if row.before.name == "Nuts")
    assert nuts.then is not None
    assert nuts.then.costed.cost == nuts.offer.costed.cost


def test_the_line_and_the_price_may_be_asked_for() -> None:
    found = counter(CHEAP, line="mark-up 300 %", piece_price="6.00")
    (row,) = found.rows
    # 4 × 1.4319 = 5.7277
    assert row.offer.charged.price.value == Decimal("6.00")
    assert row.is_under is False
    assert counter(CHEAP, line="3.00 left").under


def test_everything_wrong_in_a_question_is_said_at_once() -> None:
    with pytest.raises(FileError) as caught:
        counter(CHEAP, line="x", piece_price="y", eaten="z", way="w", tax="v", trays=0)
    fields = {one.where.field for one in caught.value.mistakes}
    assert fields == {"line", "price", "eaten", "way", "tax", "trays"}


def test_a_change_of_what_has_no_price_is_refused() -> None:
    with pytest.raises(FileError, match="saffron"):
        counter(CHEAP, changes=("saffron +10 %",))
