"""Ganache, chocolate, cream and eggs, as a hand would ask."""

import re

import pytest

from slabwright.spec.calc.calculator import Answer
from slabwright.spec.calc.chocolate_exchange import CHOCOLATE_EXCHANGE
from slabwright.spec.calc.dairy_exchange import DAIRY_EXCHANGE
from slabwright.spec.calc.egg_exchange import EGG_EXCHANGE
from slabwright.spec.calc.ganache import GANACHE
from slabwright.spec.calc.stuffs import cream, dark_chocolate, plain

from .asking import ask, mistakes, numbers

REST: dict[str, object] = {
    "chocolate_g": 250, "cream_g": 95, "milk_g": 30, "butter_g": 20, "glucose_g": 15,
}  # fmt: skip
HARBOUR: dict[str, object] = {
    "chocolate": "dark chocolate 60%", "cream": "double cream 48%", **REST,
}  # fmt: skip


def grams(answer: Answer, *names: str) -> float:
    found = numbers(answer)
    return sum(found.get(name) or 0.0 for name in names)


def test_the_demonstration_ganache_by_hand() -> None:
    found = numbers(ask(GANACHE, **HARBOUR))

    # 250 × 0.385 + 95 × 0.48 + 30 × 0.036 + 20 × 0.828 g of fat in 410 g
    assert found["fat_percent"] == pytest.approx(
        100 * (96.25 + 45.6 + 1.09 + 16.56) / 410, abs=0.1
    )
    # 250 × 0.009 + 95 × 0.473 + 30 × 0.875 + 20 × 0.154 + 15 × 0.18 g of water
    assert found["water_percent"] == pytest.approx(19.3, abs=0.2)
    assert found["dry_cocoa_percent"] == pytest.approx(100 * 52.8 / 410, abs=0.3)
    assert found["water_to_mend_g"] == 0


def test_double_cream_one_to_one_splits_and_water_mends_it() -> None:
    rich: dict[str, object] = {
        "chocolate": "dark chocolate 60%", "chocolate_g": 200,
        "cream": "double cream 48%", "cream_g": 200,
    }  # fmt: skip
    answer = ask(GANACHE, **rich)
    wet = grams(answer, "water_to_mend_g")

    assert any("prone to split" in note for note in answer.notes)
    assert any(re.search(r"Stir in \d+ g of warm water", note) for note in answer.notes)
    mended = numbers(ask(GANACHE, **rich, water_g=wet))
    assert mended["fat_percent"] == pytest.approx(40, abs=0.01)
    assert mended["water_to_mend_g"] == pytest.approx(0, abs=0.01)


def test_other_cream_in_the_demonstration_ganache() -> None:
    """From the demonstration's letters: 125 g alone, 46.7 to 45.0 g of fat."""
    answer = ask(
        DAIRY_EXCHANGE, from_cream="double cream 48%", to_cream="heavy cream 36%",
        cream_g=95, milk_g=30, in_g=414,
    )  # fmt: skip
    found = numbers(answer)

    assert found["cream_g"] == pytest.approx(125)
    assert found["milk_g"] == 0
    assert found["butter_g"] == 0
    assert found["fat_g"] == pytest.approx(45.0, abs=0.05)
    assert any("-0.4" in note and "no change worth" in note for note in answer.notes)


@pytest.mark.parametrize(("one", "other", "beside"), [
    ("double cream 48%", "heavy cream 36%", "butter_g"),
    ("double cream 48%", "single cream 18%", "butter_g"),
    ("single cream 18%", "double cream 48%", "milk_g"),
    ("whipping cream 38%", "clotted cream", "milk_g"),
])  # fmt: skip
def test_cream_with_milk_or_butter_has_the_fat_and_weight(
    one: str, other: str, beside: str
) -> None:
    """Pearson's square: 200 g of a mix with the fat of the old."""
    answer = ask(DAIRY_EXCHANGE, from_cream=one, to_cream=other, cream_g=200, in_g=200)
    found = numbers(answer)
    total = grams(answer, "cream_g", "milk_g", "butter_g")

    assert total == pytest.approx(200, abs=0.05)
    assert (found[beside] or 0) > 0
    old = 200 * float(plain_fat(one))
    assert found["fat_g"] == pytest.approx(old, abs=1.3)
    new = sum(
        float(plain_fat(name)) * (found[key] or 0)
        for name, key in (
            (other, "cream_g"), ("whole milk", "milk_g"),
            ("unsalted butter", "butter_g"),
        )
    )  # fmt: skip
    assert new == pytest.approx(found["fat_g"] or 0, abs=0.1)


def plain_fat(name: str) -> float:
    ids = {
        "double cream 48%": "double-cream-48", "heavy cream 36%": "heavy-cream-36",
        "single cream 18%": "single-cream-18",
        "whipping cream 38%": "whipping-cream-38",
        "clotted cream": "clotted-cream", "whole milk": "whole-milk",
        "unsalted butter": "butter-unsalted",
    }  # fmt: skip
    return float(plain(ids[name]).holds[0])


@pytest.mark.parametrize(
    "to", [f"dark chocolate {cocoa}%" for cocoa in (64, 70, 72, 85)]
)
def test_a_stronger_chocolate_keeps_fat_water_and_dry_cocoa(to: str) -> None:
    answer = ask(
        CHOCOLATE_EXCHANGE, from_chocolate="dark chocolate 60%", to_chocolate=to, **REST
    )
    old, new = numbers(ask(GANACHE, **HARBOUR)), numbers(answer)

    for name in ("fat_percent", "water_percent", "dry_cocoa_percent"):
        assert new[name] == pytest.approx(old[name] or 0, abs=0.55)
    assert (new["chocolate_g"] or 0) < 250
    assert (new["sugar_g"] or 0) > 0
    weight = grams(answer, "chocolate_g", "cream_g", "milk_g", "butter_g", "sugar_g")
    assert weight == pytest.approx(395, abs=0.1)
    assert any("Kept as they were: 15 g glucose" in note for note in answer.notes)


def test_the_other_makers_hand_would_take_less_of_a_stronger_chocolate() -> None:
    """Dry cocoa alone sets the amount: 250 × 0.211 ÷ 0.283 g."""
    answer = ask(
        CHOCOLATE_EXCHANGE, from_chocolate="dark chocolate 60%",
        to_chocolate="dark chocolate 72%", **REST,
    )  # fmt: skip
    assert numbers(answer)["chocolate_g"] == pytest.approx(250 * 0.211 / 0.283, abs=8)
    assert "÷" in answer.first.figure.sum or "=" in answer.first.figure.sum


def test_a_weaker_chocolate_says_what_is_missed_and_what_brings_it_back() -> None:
    answer = ask(
        CHOCOLATE_EXCHANGE, from_chocolate="dark chocolate 60%",
        to_chocolate="dark chocolate 54%", **REST,
    )  # fmt: skip
    old, new = numbers(ask(GANACHE, **HARBOUR)), numbers(answer)

    assert new["water_percent"] == pytest.approx(old["water_percent"] or 0, abs=0.5)
    assert new["fat_percent"] == pytest.approx(old["fat_percent"] or 0, abs=1.0)
    (note,) = [one for one in answer.notes if "less dry cocoa" in one]
    powder = float(re.findall(r"(\d+) g of cocoa powder", note)[0])
    # so much powder in place of chocolate: 0.752 less 0.181 dry cocoa a gram
    assert powder * (0.752 - 0.181) == pytest.approx(
        ((old["dry_cocoa_percent"] or 0) - (new["dry_cocoa_percent"] or 0)) * 4.1,
        abs=0.6,
    )
    assert any("no firmness" in one or "how firm" in one for one in answer.notes)


def test_the_same_chocolate_stays_as_it_was() -> None:
    answer = ask(
        CHOCOLATE_EXCHANGE, from_chocolate="dark chocolate 60%",
        to_chocolate="dark chocolate 60%", **REST,
    )  # fmt: skip
    old, new = numbers(ask(GANACHE, **HARBOUR)), numbers(answer)
    assert new["chocolate_g"] == pytest.approx(250, abs=6)
    for name in ("fat_percent", "water_percent", "dry_cocoa_percent"):
        assert new[name] == pytest.approx(old[name] or 0, abs=0.55)


def test_without_sugar_the_change_is_shown_and_not_hidden() -> None:
    answer = ask(
        CHOCOLATE_EXCHANGE, from_chocolate="dark chocolate 60%",
        to_chocolate="dark chocolate 72%", sugar="no", **REST,
    )  # fmt: skip
    found = numbers(answer)
    assert found["sugar_g"] == 0
    assert (found["sugars_percent"] or 0) < 24
    sweet = next(one for one in answer.also if one.name == "sugars_percent")
    assert "was 26" in sweet.figure.sum


def test_pure_chocolate_is_matched_by_cocoa_butter_and_sugar() -> None:
    answer = ask(
        CHOCOLATE_EXCHANGE, from_chocolate="dark chocolate 60%",
        to_chocolate="dark chocolate 72%", chocolate_g=200,
    )  # fmt: skip
    found = numbers(answer)
    assert found["dry_cocoa_percent"] == pytest.approx(21.1, abs=0.3)
    assert found["fat_percent"] == pytest.approx(38.5, abs=0.3)
    assert (found["cocoa_butter_g"] or 0) > 0
    assert not any("Fat in water" in note for note in answer.notes)


def test_between_two_of_the_larder_it_says_so() -> None:
    answer = ask(
        CHOCOLATE_EXCHANGE, from_chocolate="dark chocolate 60%", to_cocoa_percent=66,
        **REST,
    )  # fmt: skip
    assert any("on a line between" in note for note in answer.notes)
    at_a_row = dark_chocolate(64)
    assert at_a_row.note == ""
    assert at_a_row.holds == pytest.approx(plain("dark-chocolate-64").holds)
    for percent in (3.0, 20.0, 36.0, 45.0, 60.0):
        assert 100 * float(cream(percent).holds[0]) == pytest.approx(percent, abs=0.01)


def test_what_can_not_be_asked_is_told_of_its_field() -> None:
    assert mistakes(GANACHE, chocolate_g=100) == ["chocolate"]
    assert mistakes(GANACHE, chocolate="caster sugar", chocolate_g=100) == ["chocolate"]
    taken = ask(GANACHE, chocolate="dark chocolate 60%", chocolate_g=100, cream_g=20)
    assert "20 g double cream 48%" in taken.first.figure.sum
    assert mistakes(GANACHE, chocolate="dark chocolate 60%", chocolate_g=0) == [
        "chocolate_g"
    ]
    assert mistakes(
        CHOCOLATE_EXCHANGE, from_chocolate="dark chocolate 60%", chocolate_g=100
    ) == ["to_chocolate"]
    assert mistakes(DAIRY_EXCHANGE, from_cream="double cream", cream_g=100) == [
        "to_cream"
    ]
    assert mistakes(
        DAIRY_EXCHANGE, from_cream="double cream", to_cream="single cream", cream_g=100,
        in_g=50,
    ) == ["in_g"]  # fmt: skip
    assert mistakes(EGG_EXCHANGE) == ["count"]
    assert mistakes(EGG_EXCHANGE, count=2, grams=100) == ["count"]
    assert mistakes(EGG_EXCHANGE, count=2, size="jumbo") == ["size"]
    assert mistakes(EGG_EXCHANGE, count=2, to_country="NZ") == ["to_size"]


def test_six_medium_eggs_here_are_under_six_large_ones_there() -> None:
    answer = ask(EGG_EXCHANGE, count=6, size="medium", to_size="large", to_country="US")
    found = numbers(answer)

    assert found["egg_g"] == pytest.approx(6 * 58 * 0.88)
    low, high = answer.first.figure.low, answer.first.figure.high
    assert low == pytest.approx(6 * 53 * 0.87)
    assert high == pytest.approx(6 * 63 * 0.89)
    # 24 to 27 oz a dozen: 60.2 g in the shell
    assert found["eggs"] == pytest.approx(6 * 58 / 60.25, abs=0.01)
    assert grams(answer, "yolk_g", "white_g") == pytest.approx(found["egg_g"] or 0)


@pytest.mark.parametrize(("part", "share"), [
    ("white", 0.12), ("yolk", 0.45), ("whole", 0.25),
])  # fmt: skip
def test_dried_egg_and_water_weigh_what_the_egg_did(part: str, share: float) -> None:
    answer = ask(EGG_EXCHANGE, grams=200, part=part)
    found = numbers(answer)

    assert found["powder_g"] == pytest.approx(200 * share)
    assert grams(answer, "powder_g", "water_g") == pytest.approx(200)
    # dry matter of the egg itself, from the larder, is near that of the powder's maker
    dry = 200 - (found["egg_water_g"] or 0)
    assert found["powder_g"] == pytest.approx(dry, rel=0.08)


def test_yolk_alone_has_the_fat_of_the_eggs() -> None:
    found = numbers(ask(EGG_EXCHANGE, grams=300))
    fat = (found["yolk_alone_g"] or 0) * float(plain("egg-yolk").holds[0])
    assert fat == pytest.approx(found["fat_g"] or 0)
    assert numbers(ask(EGG_EXCHANGE, grams=90, part="yolk"))[
        "white_left_g"
    ] == pytest.approx(90 * 0.585 / 0.295)


@pytest.mark.parametrize("field", ["country", "to_country"])
@pytest.mark.parametrize("said", ["USA", "nan", "Britain", "12"])
def test_eggs_of_what_is_no_country_are_not_answered_as_of_europe(
    field: str, said: str
) -> None:
    asked: dict[str, object] = {"count": 6, "to_size": "large", field: said}

    assert mistakes(EGG_EXCHANGE, **asked) == [field]
    assert mistakes(EGG_EXCHANGE, **{**asked, field: "us"}) == []
