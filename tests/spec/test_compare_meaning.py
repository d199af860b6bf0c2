"""Ways of writing a line that mean the same, and those that only look so."""

import pytest

from tests.spec.compare_cards import against

CARD = "slab A\ntin 20 x 20 x 5 cm\nlayer B\n  100 g caster sugar\n  {}\n"


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("5 g fine salt, sifted, dry", "5 g fine salt, dry, sifted"),
        ("5 g fine salt, sifted", "5 g fine salt (Sifted)"),
        ("30 g moonlight", "30 g Moonlight"),
        ("250 ml whole milk", "0.25 l whole milk"),
        ("6 eggs (300 g)", "6 eggs (0.3 kg)"),
        ("1 lb 2 oz plain flour", "18 oz plain flour"),
        ("170 g/6 oz plain flour", "170 g plain flour"),
        ("1 jar damson jam 340 g", "340 g damson jam"),
    ],
)
def test_one_meaning_is_no_change(one: str, other: str) -> None:
    made = against(CARD.format(one), CARD.format(other))

    assert made.same, made


@pytest.mark.parametrize(
    ("one", "other", "what", "before", "after"),
    [
        ("5 g salt, dry, dry", "5 g salt, dry", "note on salt", "dry, dry", "dry"),
        ("5 g salt, dry", "5 g salt, dry, fine", "note on salt", "dry", "dry, fine"),
        ("6 eggs", "6 medium eggs", "amount of eggs", "6", "6, medium"),
        ("6 eggs (300 g)", "6 eggs = 300 g", "amount of eggs", "6/300 g", "6 = 300 g"),
        ("50 g sugar", "50 g caster sugar", "name of caster sugar", "sugar",
         "caster sugar"),
    ],
)  # fmt: skip
def test_what_comes_to_the_same_grams_may_mean_else(
    one: str, other: str, what: str, before: str, after: str
) -> None:
    made = against(CARD.format(one), CARD.format(other))

    assert made.lines == ()
    assert [(s.where, s.what, s.before, s.after) for s in made.said] == [
        ("B", what, before, after)
    ]


def test_whose_cup_it_is_stands_beside_it() -> None:
    (line,) = against(
        CARD.format("1 cup plain flour"), CARD.format("1 US cup plain flour")
    ).lines

    assert (line.said_before, line.said_after) == ("1 cup", "1 cup (US)")
