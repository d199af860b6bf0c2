"""A slab priced: by hand, to the penny, and with everything missing that can be."""

from datetime import date
from decimal import Decimal
from fractions import Fraction

import pytest

from slabwright.cost.pennies import shared_out, to_penny
from slabwright.cost.price import keeps
from slabwright.cost.tax import Taxed, without_tax
from slabwright.figure import Figure
from slabwright.spec.offer import Offer
from tests.spec.shop import KITCHEN, PRICES, SOLD, TOLD, card, counter, home, offer

WHOLE = card(SOLD, *TOLD)


def shown(figure: Figure) -> Decimal:
    assert figure.value is not None, figure.sum
    return to_penny(Fraction(figure.value))


def parts(one: Offer) -> dict[str, float]:
    return {name: round(figure.number, 4) for name, figure in one.costed.parts}


def test_a_piece_by_hand() -> None:
    # A tray of 20: ingredients 1.00 + 4.00, an hour of hands at 15.20, 2 kWh at 0.26,
    # overheads 4.00; a piece 0.11 of wrap; 6 % is never sold.
    # (5 + 15.20 + 0.52 + 4) / 20 + 0.11 = 1.346; / 0.94 = 1.4319.
    one = offer(WHOLE)
    assert parts(one) == {
        "ingredients": 0.25, "hands": 0.76, "energy": 0.026, "packaging": 0.11,
        "overheads": 0.2, "made and never sold": 0.0859,
    }  # fmt: skip
    assert not one.costed.lacking
    assert one.costed.cost.number == pytest.approx(1.346 / 0.94)
    # The floor leaves the overheads out: (0.25 + 0.76 + 0.026 + 0.11) / 0.94.
    assert one.costed.floor.number == pytest.approx(1.146 / 0.94)
    left = 3.20 - 1.346 / 0.94
    assert one.kept.left.number == pytest.approx(left)
    assert one.kept.margin.number == pytest.approx(left / 3.20)
    assert one.kept.mark_up.number == pytest.approx(left / (1.346 / 0.94))
    # 18.8 of the 20 are sold, and they took an hour of hands.
    assert one.kept.left_a_tray.number == pytest.approx(left * 18.8)
    assert one.kept.left_an_hour.number == pytest.approx(left * 18.8)
    assert not one.kept.left_an_oven_hour.known
    assert "oven" in one.kept.left_an_oven_hour.sum


def test_what_nothing_is_told_of_costs_no_nought() -> None:
    bare = home(kitchen="name: Bare\n", prices="[]\n")
    one = offer(card(SOLD), bare)
    assert not one.costed.cost.known
    assert not one.costed.floor.known
    assert "nothing that it costs is told" in one.costed.cost.sum
    assert one.costed.parts == ()
    assert not one.kept.left.known
    assert any(lacking.key == "ingredients" for lacking in one.costed.lacking)
    # once anything is told, that alone is summed
    one = offer(card(SOLD, "costs 0.11 a piece"), bare)
    assert one.costed.cost.number == pytest.approx(0.11)
    assert [name for name, _ in one.costed.parts] == ["packaging"]


def test_parts_to_the_penny_come_to_the_cost_to_the_penny() -> None:
    for extra in ("0.113", "0.117", "0.1"):
        text = WHOLE.replace("0.11 a piece", f"{extra} a piece")
        one = offer(text)
        exact = [Fraction(figure.value or 0) for _, figure in one.costed.parts]
        assert sum(shared_out(exact)) == shown(one.costed.cost)


def test_tax_is_taken_out_of_the_price_before_anything_is_left() -> None:
    one = offer(card(SOLD.replace("3.20", "3.60"), *TOLD, name="Dear"))
    assert isinstance(one.charged.tax, Taxed)
    assert one.charged.net.value == Decimal(3)
    assert shown(one.charged.tax_in_it) == Decimal("0.60")
    assert one.kept.left.number == pytest.approx(3 - 1.346 / 0.94)
    assert one.charged.floor_price.number == pytest.approx(1.146 / 0.94 * 1.2)
    assert one.against is not None
    assert one.against.price.number == pytest.approx(1.346 / 0.94 / 0.4 * 1.2)
    assert one.against.point.value == Decimal("4.50")


def test_a_pack_and_a_whole_tray_are_sold_at_once() -> None:
    text = card("sold packed here, box of 4, 12.95",
                "sold catering tray, whole tray, 48.00", *TOLD,
                "costs 0.30 a box")  # fmt: skip
    offers = counter(text).rows[0].before.offers
    pack, tray = offers
    assert pack.costed.unit == "a pack of 4"
    assert pack.costed.cost.number == pytest.approx((4 * 1.346 + 0.30) / 0.94)
    assert tray.costed.unit == "a tray"
    assert tray.costed.cost.number == pytest.approx((20 * 1.346 + 0.30) / 0.94)
    assert pack.kept.left_a_tray.number == pytest.approx(
        pack.kept.left.number * 5 * 0.94
    )


def test_a_box_is_not_charged_to_a_loose_piece() -> None:
    told = [*TOLD[:2], TOLD[3], "costs 0.30 a box"]
    one = offer(card(SOLD, *told))
    assert "packaging" not in parts(one)
    assert [lack.key for lack in one.costed.lacking] == ["packaging"]


def test_more_trays_share_what_is_told_by_the_batch() -> None:
    one = counter(WHOLE, trays=4).rows[0].offer
    # Hands and energy a quarter each; overheads are told by the tray.
    assert parts(one)["hands"] == 0.19
    assert parts(one)["overheads"] == 0.2


def test_what_is_mixed_and_not_laid_in_is_paid_for_and_named() -> None:
    # Half of a batch of 1,500 g lies in the slab: 2.50 of 5.00, and 2.50 is left over.
    whole = card(SOLD, *TOLD) + "  ends 1500 g\n"
    text = whole.replace("layer Base", "layer Base, 750 g")
    found = parts(offer(text))
    assert found["ingredients"] == 0.125
    assert found["mixed and left over"] == 0.125
    # What a layer takes from a component stands for other slabs too.
    shared = whole.replace("layer Base", "component Dough")
    one = offer(f"{shared}layer Base from Dough, 750 g\n")
    assert parts(one)["ingredients"] == 0.125
    assert "mixed and left over" not in parts(one)


def test_what_a_further_tray_adds_is_asked_where_it_is_not_told() -> None:
    def found(step: str, trays: int) -> list[str]:
        body = f"  1000 g plain flour\n  rub in   {step}\n"
        row = counter(card(SOLD, *TOLD[1:], body=body), trays=trays).rows[0]
        return [lack.what for lack in row.offer.costed.lacking]

    assert found("20 min hands", 1) == []
    assert found("20 min hands + 0 a tray", 4) == []
    (what,) = found("20 min hands", 4)
    assert "further tray adds to rub in" in what


def test_costs_that_stand_in_a_layer_are_not_lost() -> None:
    body = "  1000 g plain flour\n  costs 0.40 a box\n  costs 24 min hands\n"
    one = offer(card(SOLD, *TOLD, body=body))
    (lack,) = one.costed.lacking
    assert lack.what == "'costs 0.40 a box' is taken for a step"
    # The minutes are understood where they stand: 60 + 24 of them.
    assert parts(one)["hands"] == pytest.approx(84 / 60 * 15.20 / 20)


def test_hands_come_from_steps_and_lines_together() -> None:
    body = "  1000 g plain flour\n  rub in   18-22 min hands + 4 a tray\n"
    one = counter(card(SOLD, "costs 6 min hands, wash", body=body)).rows[0]
    hands = one.before.bearing.hands_min
    assert (hands.number, hands.low, hands.high) == (30, 28, 32)
    # 30 min at 15.20 an hour, a twentieth: 0.38, and 0.3547 to 0.4053.
    part = dict(one.offer.costed.parts)["hands"]
    assert part.number == pytest.approx(0.38)
    assert part.low == pytest.approx(0.3547, abs=1e-4)
    assert part.high == pytest.approx(0.4053, abs=1e-4)
    assert one.offer.kept.left.low is not None


def test_a_step_that_waits_is_no_hands() -> None:
    body = "  1000 g plain flour\n  boil to 118 C   16-22 min\n"
    one = offer(card(SOLD, body=body))
    assert "hands" not in parts(one)
    assert "hands" in {lack.key for lack in one.costed.lacking}


@pytest.mark.parametrize(
    ("gone", "key"),
    [(TOLD[0], "hands"), (TOLD[1], "energy"), (TOLD[2], "packaging"),
     (TOLD[3], "overheads")],
)  # fmt: skip
def test_what_is_not_told_is_named_and_never_nothing(gone: str, key: str) -> None:
    one = offer(card(SOLD, *(line for line in TOLD if line != gone)))
    (lack,) = one.costed.lacking
    assert lack.key == key
    assert key not in parts(one)
    assert "at least" in one.costed.cost.sum
    assert "at most" in one.kept.margin.sum
    told = {"hands": "costs 0 min hands", "energy": "costs 0 kWh",
            "packaging": "costs 0 a piece", "overheads": "costs 0 a tray"}  # fmt: skip
    rest = [line for line in TOLD if line != gone]
    assert not offer(card(SOLD, *rest, told[key])).costed.lacking


def test_rates_that_are_missing_are_asked_for() -> None:
    bare = KITCHEN.replace("labour_per_hour: 15.20\n", "").replace(
        "electricity_per_kWh: 0.26\n", ""
    )
    found = {one.key: one.do for one in offer(WHOLE, home(bare)).costed.lacking}
    assert "labour_per_hour" in found["hands"]
    assert "electricity_per_kWh" in found["energy"]
    free = KITCHEN.replace("labour_per_hour: 15.20", "labour_per_hour: 0")
    assert parts(offer(WHOLE, home(free)))["hands"] == 0


def test_an_ingredient_without_a_price_makes_it_at_least() -> None:
    few = "\n".join(PRICES.strip().splitlines()[1:])
    one = offer(WHOLE, home(prices=few))
    (lack,) = one.costed.lacking
    assert "plain flour" in lack.what
    assert parts(one)["ingredients"] == 0.2


def test_lines_that_cannot_be_read_make_it_at_least() -> None:
    one = offer(card(SOLD, *TOLD, body="  1000 g plain flour\n  4 g nonsense g g\n")
                + "  ends 9 of\n")  # fmt: skip
    assert any("can't be read" in lack.what for lack in one.costed.lacking)


def test_without_a_price_the_line_still_has_one() -> None:
    one = offer(card(*TOLD))
    assert not one.charged.price.known
    assert not one.kept.left.known
    assert one.against is not None
    assert one.against.is_under is None
    # 1.4319 / 0.4 = 3.5798: the next point is 3.95.
    assert one.against.point.value == Decimal("3.95")


def test_a_range_of_hands_may_cross_the_line_from_both_sides() -> None:
    # 3.20 × 0.4 × 0.94 = 1.2032 may be spent on a piece. A tray:
    # (1.2032 - 0.11) × 20 - 9.52 = 12.344 of hands; ÷ 15.20 × 60 = 48.7 min.
    def against(minutes: str) -> tuple[bool | None, bool, bool]:
        one = offer(card(SOLD, f"costs {minutes} min hands", *TOLD[1:])).against
        assert one is not None
        return one.is_under, one.may_be_under, one.may_keep

    assert against("48") == (False, False, False)
    assert against("44-50") == (False, True, False)
    assert against("47-55") == (True, True, True)
    assert against("49-55") == (True, True, False)


def test_a_price_of_nothing_leaves_no_share() -> None:
    one = offer(card("sold loose on the counter, 0.00", *TOLD))
    assert not one.kept.margin.known
    assert one.kept.left.number == pytest.approx(-1.346 / 0.94)


def test_without_a_decision_nothing_is_guessed_about_tax() -> None:
    bare = home(KITCHEN.split("  tax:")[0])
    one = offer(WHOLE, bare)
    assert not isinstance(one.charged.tax, Taxed)
    for figure in (one.charged.net, one.kept.left, one.kept.margin,
                   one.charged.floor_price):  # fmt: skip
        assert not figure.known
        assert "not decided" in figure.sum
    assert one.costed.cost.known


def test_a_decision_that_cannot_be_read_is_not_passed_over() -> None:
    wrong = KITCHEN.replace("rate: 20 %", "rate: 220 %")
    one = offer(card(SOLD, *TOLD, name="Dear"), home(wrong))
    assert not isinstance(one.charged.tax, Taxed)
    assert "can't be read" in one.charged.tax.why


def test_a_card_without_a_cut_sells_its_tray_and_no_piece() -> None:
    tray = offer(card(*TOLD, cut=""))
    assert tray.costed.unit == "a tray"
    # How many pieces are wrapped is not known: 24.72 / 0.94, and the wrap is named.
    assert tray.costed.cost.number == pytest.approx(24.72 / 0.94)
    assert [lack.what for lack in tray.costed.lacking] == [
        "how many pieces are wrapped is not known"
    ]
    piece = offer(card(SOLD, *TOLD, cut=""))
    assert not piece.costed.cost.known
    assert "no cut" in piece.kept.left.sum


def test_a_card_without_anything_in_it_says_so() -> None:
    one = offer("slab Empty\n")
    assert any("no layer" in lack.what for lack in one.costed.lacking)


@pytest.mark.parametrize(("day", "price"), [
    ("2026-03-01", "3.00"), ("2026-10-01", "3.20"), ("2027-01-01", "3.50"),
])  # fmt: skip
def test_the_price_of_the_day_counts_and_the_others_stay(day: str, price: str) -> None:
    text = card("sold loose on the counter, 3.00", f"{SOLD}, from 2026-10-01",
                "sold loose on the counter, 3.50, from 2027-01-01", *TOLD)  # fmt: skip
    found = counter(text, on=date.fromisoformat(day)).rows[0].before
    assert found.offers[0].charged.price.value == Decimal(price)
    assert len(found.other_prices) == 2


def test_mends_are_enough_and_the_smallest() -> None:
    one = offer(WHOLE)
    assert one.against is not None
    assert one.against.is_under
    price, pieces, ingredient = one.against.mends
    bears, line = one.costed.bears, counter(WHOLE).rows[0].before.line
    assert line is not None

    def kept(count: int = 20, gross: str = "3.20", less: str = "0") -> bool:
        tray = bears.a_tray - 4 * Fraction(less)
        each = (tray / count + bears.a_piece) / (1 - bears.waste)
        return keeps(line, without_tax(Fraction(gross), Fraction(0)), each)

    # Every point from 3.20 on: 3.20 and 3.50 are not enough, 3.95 is.
    assert [kept(gross=p) for p in ("3.20", "3.50", "3.95")] == [False, False, True]
    assert price.figure.value == Decimal("3.95")
    grids = {a * b for a in range(5, 11) for b in range(4, 9)}
    assert pieces.figure.value == min(n for n in grids if n > 20 and kept(n))
    assert ingredient.figure.number == 0.714
    assert "butter" in ingredient.says
    assert kept(less="0.714")
    assert not kept(less="0.713")


def test_ten_thousand_pieces_and_a_waste_of_nearly_all() -> None:
    many = card(SOLD, *TOLD, cut="cut 100 x 100").replace("30 x 20", "300 x 200")
    one = offer(many)
    assert one.costed.bears.pieces == 10_000
    assert one.costed.cost.known
    lost = home(KITCHEN.replace("waste_share: 0.06", "waste_share: 0.99"))
    assert offer(WHOLE, lost).costed.cost.number == pytest.approx(134.6)


def test_all_that_is_made_cannot_be_waste() -> None:
    folder = home(KITCHEN.replace("waste_share: 0.06", "waste_share: 1"))
    assert any("waste_share" in str(one) for one in folder.mistakes)
    assert offer(WHOLE, folder).costed.cost.number == pytest.approx(1.346)


def test_an_egg_that_weighs_more_or_less_gives_a_range() -> None:
    eggs = '- {ingredient: eggs, pack: "12", price: 3.60, from: 2026-01-01}'
    one = offer(card(SOLD, *TOLD, body="  6 eggs\n  500 g plain flour\n"),
                home(prices=f"{PRICES}{eggs}"))  # fmt: skip
    part = dict(one.costed.parts)["ingredients"]
    assert part.low is not None
    assert part.high is not None
    assert part.low < part.number < part.high
    assert one.kept.margin.low is not None
    assert one.charged.per_100g.low is not None
