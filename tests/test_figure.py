"""A figure's standing is the weakest of what it leans on."""

from itertools import permutations

import pytest

from slabwright.figure import Leans, Ranged, Standing, leans_of, weakest, withheld

STANDINGS = [Standing.ASSUMED, Standing.WORKED_OUT, Standing.MEASURED]


@pytest.mark.parametrize(
    ("leans", "standing"),
    [
        # the rules of the card: assumed, worked out, measured, the weakest of them;
        # what is given is worked with and measures nothing
        (["assumed", "worked out", "measured"], "assumed"),
        (["assumed", "worked out"], "assumed"),
        (["assumed", "measured"], "assumed"),
        (["assumed", "given"], "assumed"),
        (["worked out", "measured"], "worked out"),
        (["measured", "given"], "worked out"),
        (["given"], "worked out"),
        (["measured"], "measured"),
        (["measured", "measured"], "measured"),
        ([], "worked out"),
    ],
)
def test_the_weakest_counts_in_whatever_order(
    leans: list[Leans], standing: str
) -> None:
    for order in permutations(leans):
        assert weakest(order) == standing


@pytest.mark.parametrize("one", STANDINGS)
def test_a_standing_is_as_weak_as_itself(one: Standing) -> None:
    assert weakest([one]) is one


def test_only_what_is_given_throughout_stays_given() -> None:
    assert leans_of(["given", "given"]) == "given"
    assert leans_of(["given", "measured"]) == "worked out"
    assert leans_of(["given", "assumed"]) == "assumed"
    assert leans_of(["worked out", "assumed"]) == "assumed"


def test_a_range_is_shown_only_where_there_is_one() -> None:
    wide = Ranged(10, 9, 12, "assumed", "10 g").figure("g")
    narrow = Ranged(10, 10, 10, "given", "10 g").figure("g")

    assert (wide.low, wide.high, wide.standing) == (9, 12, Standing.ASSUMED)
    assert (narrow.low, narrow.high, narrow.standing) == (
        None,
        None,
        Standing.WORKED_OUT,
    )


def test_what_is_withheld_says_why_and_gives_no_number() -> None:
    figure = withheld("g", "nobody weighed it")

    assert not figure.known
    assert figure.sum == "nobody weighed it"
    with pytest.raises(ValueError, match="withheld: nobody weighed it"):
        _ = figure.number
