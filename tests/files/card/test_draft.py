"""Blocks of a card as they are put together."""

from slabwright.files.folder import open_folder
from slabwright.files.raw import Text
from slabwright.spec.card import Card

HOME = open_folder(None)
BEGINS = "slab A\ntin 20 x 20 x 5 cm\nlayer B\n  100 g caster sugar\n"


def card(text: str) -> Card:
    return HOME.read(Text(text)).card


def test_nothing_under_a_second_finish_is_lost() -> None:
    finish = card(BEGINS + "finish\n  trim\n\nfinish\n  box  5 min hands\n").finish

    assert finish is not None
    assert [step.does for step in finish.steps] == ["trim", "box"]
    assert (finish.span.line, finish.is_broken) == (5, False)


def test_a_mistake_under_a_second_finish_breaks_it() -> None:
    finish = card(BEGINS + "finish\n  trim\nfinish\n  20 g caster sugar\n").finish

    assert finish is not None
    assert finish.is_broken


def test_a_card_without_finish_has_none() -> None:
    assert card(BEGINS).finish is None
