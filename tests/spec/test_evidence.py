"""Published rows beside ours: none lost, none altered, errors counted as they are."""

import csv
from dataclasses import replace
from pathlib import Path

import pytest

from slabwright.spec.evidence.answers import predicted
from slabwright.spec.evidence.compared import (
    Compared,
    Group,
    GroupKind,
    counted,
    evidence,
)
from slabwright.spec.evidence.predicted import Predicted
from slabwright.spec.evidence.rows import TOPICS, every_row

REFERENCE = Path(__file__).parents[1] / "reference" / "physics"
ROWS = {row.id: row for row in every_row()}
GROUPS = [group for one in evidence() for group in one.groups]


def of(id: str) -> Compared:
    return next(one for group in GROUPS for one in group.rows if one.row.id == id)


def group(begins: str, quantity: str) -> Group:
    return next(
        one
        for one in GROUPS
        if one.source.startswith(begins) and one.quantity == quantity
    )


def test_every_row_is_compared_or_told_why_not() -> None:
    seen = [one.row.id for g in GROUPS for one in g.rows]
    apart = [one for each in evidence() for one in each.apart]

    assert sorted([*seen, *(one.row.id for one in apart)]) == sorted(ROWS)
    assert len(ROWS) == len(every_row())
    assert all(one.why_not for one in apart)
    assert counted(evidence())[:2] == (len(ROWS), len(seen))
    assert {one.topic for one in evidence()} == set(TOPICS)


def test_points_and_computed_rows_of_this_physics_are_all_answered() -> None:
    """What stays open is on a short list, so that no relation is dropped unseen."""
    open_quantities = {
        one.row.quantity
        for each in evidence()
        for one in each.apart
        if one.row.kind == "computed" and one.row.topic != "kinetics_setting"
    }
    assert open_quantities == {"equilibrium_moisture"}  # isotherms at 20 and 40 °C


@pytest.mark.parametrize("path", sorted(REFERENCE.glob("*.csv")), ids=lambda p: p.name)
def test_rows_are_the_same_as_those_that_other_tests_use(path: Path) -> None:
    with path.open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            ours = ROWS.get(row.get("id", ""))
            if ours is not None:
                assert float(row["value"]) == ours.value
                assert row["unit"].replace("degC", "°C") == ours.unit


def test_a_difference_is_ours_less_the_published() -> None:
    one = of("BP0044")  # the old table of 1912 runs high, by its own note
    assert one.ours is not None
    assert one.off == pytest.approx(one.ours.value - 123.1)
    assert (one.off or 0) < -4
    assert one.is_within

    tight = replace(one, row=replace(one.row, tolerance=1.0))
    assert tight.is_within is False
    none = replace(one, row=replace(one.row, tolerance=None))
    assert none.is_within is None


@pytest.mark.parametrize(
    ("value", "low", "high", "off", "within"),
    [
        (12.0, None, None, 0.0, True),
        (9.0, None, None, -1.0, True),
        (8.0, None, None, -2.0, False),
        (17.5, None, None, 2.5, False),
        (8.0, 6.0, 10.5, 0.0, True),
        (20.0, 17.0, 25.0, 2.0, False),
    ],
)
def test_a_range_is_met_where_ours_lies_in_it(
    value: float, low: float | None, high: float | None, off: float, *, within: bool
) -> None:
    row = replace(of("BP0044").row, value=10.0, value_hi=15.0, tolerance=1.0)
    one = Compared(row, Predicted(value, low, high))

    assert one.off == off
    assert one.is_within is within


def test_our_range_does_not_excuse_a_point() -> None:
    row = replace(of("BP0044").row, value=10.0, tolerance=1.0)
    one = Compared(row, Predicted(13.0, 9.0, 17.0))

    assert (one.off, one.is_within, one.is_likely) == (3.0, False, True)


def test_errors_of_a_source_are_counted_as_they_are() -> None:
    one = group("Confectioners table", "boiling_point")
    offs = [each.off or 0.0 for each in one.rows]
    found = one.statistics

    assert found.count == len(offs) == 6
    assert found.mean == pytest.approx(sum(offs) / 6)
    assert found.rms**2 == pytest.approx(sum(off**2 for off in offs) / 6)
    assert abs(found.worst.off or 0) == max(map(abs, offs))
    assert found.within == sum(abs(o) <= (r.row.tolerance or 0) for o, r in
                               zip(offs, one.rows, strict=True))  # fmt: skip


def test_what_ours_is_read_off_is_no_evidence() -> None:
    assert group("Hudson", "solubility").standing is GroupKind.OURS
    assert group("Shukla", "solid_fat_content").standing is GroupKind.OURS
    assert group("Browne (1912)", "boiling_point").standing is GroupKind.PUBLISHED
    assert group("Vavrinecz", "solubility").standing is GroupKind.CHECK


def test_constants_and_rules_have_nothing_beside_them() -> None:
    for row in every_row():
        if row.kind in {"coefficient", "rule"}:
            assert isinstance(predicted(row), str)


def test_boiling_sugar_lies_as_near_the_best_sources_as_it_must() -> None:
    for begins in ("Confectioners table", "Sugar-technology table"):
        for one in group(begins, "boiling_point").rows:
            percent = one.row.percent or 0
            limit = 0.3 if percent <= 65 else 1.0 if percent <= 80 else 2.0
            assert abs(one.off or 0) <= limit + 0.05, one.row.id  # printed to 0.1 K
