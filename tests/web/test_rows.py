from datetime import date

from slabwright.desk.worked import open_desk
from slabwright.web.desk_view import DeskView
from slabwright.web.rows import Row
from slabwright.web.typed import shown
from tests.web.conftest import DEMO

DESK = open_desk(1, {}, [], date(2026, 11, 26))
TIDES = (DEMO / "slabs/two-tides.card").read_text("utf-8")


def rows(text: str) -> tuple[Row, ...]:
    return DeskView(DESK.worked(text)).notes


def row(text: str, has: str) -> Row:
    return next(
        one for one in rows(text) if has in "".join(part for part, _ in one.runs)
    )


def test_there_is_a_row_for_every_line_that_a_page_shows() -> None:
    for text in (TIDES, "", "\n\n", "slab A", TIDES + "\n\n"):
        found = rows(text)

        assert len(found) == shown(text).count("\n") + 1
        said = ["".join(part for part, _ in one.runs) for one in found]
        assert "\n".join(said) == shown(text)


def test_a_line_says_its_grams_and_its_share_of_the_flour() -> None:
    flour, butter = row(TIDES, "190 g   plain flour"), row(TIDES, "170 g   butter")

    assert (flour.said, flour.share) == ("190 g", "79.2%")
    # 190 + 50 g of flour and semolina are 100 %: 170 ÷ 240 = 70.8 %
    assert (butter.said, butter.share) == ("170 g", "70.8%")
    assert not flour.is_assumed


def test_an_assumed_weight_is_marked() -> None:
    eggs = row("slab A\nlayer B\n  6 eggs\n", "6 eggs")

    assert eggs.is_assumed
    assert eggs.said.startswith("306 g")  # six medium eggs of 51 g each, edible


def test_a_layer_stands_with_depth_mass_and_share() -> None:
    curd = row(TIDES, "layer Baked lemon curd")

    assert curd.opens
    assert [round(figure.number, 1) for figure, _, _ in curd.figures][:2] == [
        14.8,
        969.0,
    ]
    assert {edit["what"] for edit in curd.figures[0][2]} == {
        "measured_depth",
        "wished_depth",
    }


def test_a_mistake_is_marked_where_it_is_and_offers_the_nearest() -> None:
    text = "slab A\ntin 30 x 20 x 5 cm\nlayer B\n  190 gq plain flour\n"

    wrong = row(text, "gq")

    assert wrong.kind == "mistake"
    assert [part for part, mark in wrong.runs if mark == "bad"]
    for choice in wrong.choices:
        after = text[: choice.start] + choice.value + text[choice.end :]
        assert row(after, "plain flour").kind == "ingredient"
    assert wrong.choices


def test_a_doubt_can_be_settled_at_a_press() -> None:
    text = "For the jelly:\n280 g blackcurrant puree\n1 jar blackcurrant jam\n"

    doubt = row(text, "1 jar")

    assert doubt.kind == "ask"
    first = doubt.choices[0]
    after = text[: first.start] + first.value + text[first.end :]
    assert row(after, "1 jar").kind == "ingredient"
    assert row(after, "1 jar").said.startswith("340 g")


def test_lines_know_their_layer() -> None:
    found = rows(TIDES)
    heads = [one for one in found if one.figures]

    assert [one.layer for one in heads] == [0, 1, 2]
    assert row(TIDES, "slab Two Tides").layer is None
    assert row(TIDES, "trim, cut, box").layer is None
