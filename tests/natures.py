"""Sides of a layer, made up for tests of the doors, which must show any side."""

from dataclasses import replace
from math import nan

import pytest

from slabwright.composition import ROW
from slabwright.figure import Figure, Standing, withheld
from slabwright.finding import Finding, Severity
from slabwright.source import sources
from slabwright.spec.nature import natures
from slabwright.spec.nature.aspect import (
    Aspect,
    Chart,
    Classed,
    Curve,
    Mark,
    Named,
    Touching,
)
from slabwright.spec.nature.subject import Subject

BITES = ("brittle", "chewy", "sticky", "flows")
ODD = '<b>Ω & "quoted" \'</b>'
"""What must never become markup."""


def water_side(subject: Subject) -> Aspect:
    """A side with figures, classes, a chart and a finding; withheld where unknown."""
    if subject.unknown:
        none = withheld("", f"its lines: {subject.unknown}")
        return Aspect("water", "Water", (Named("water_activity", "water activity",
                      none),))  # fmt: skip
    grams = subject.finished[0]
    share = float(grams[ROW.index("water")] / max(grams.sum(), 1e-9))
    figure = Figure(
        0.4 + share / 2, "", f"0.4 + {share:.3f} ÷ 2 = {0.4 + share / 2:.3f}",
        Standing.WORKED_OUT, 0.38 + share / 2, 0.42 + share / 2,
        (sources()["memory"],), "0.2 to 0.95",
    )  # fmt: skip
    chart = Chart(
        "boil", f"Water left in {subject.name}", "pan, °C", "water, share",
        (Curve("as it boils", (100.0, 110.0, 120.0), (0.5, 0.2, nan),
               (0.4, 0.1, 0.0), (0.6, 0.3, 0.1)),),
        (Mark("you are here", 112.0, 0.18),), "Water goes as the pan gets hotter.",
    )  # fmt: skip
    finding = Finding(
        "test_wet", Severity.LOOK, subject.name, "It is wet.", "It holds water.",
        "Add 3 g of sugar.", "Our own test", subject.span, subject.number,
    )  # fmt: skip
    return Aspect(
        "water", "Water and <its> activity",
        (
            Named("water_activity", "water activity", figure),
            Named("tiny_g", f"a pinch of {ODD}", replace(figure, value=0.00213,
                  low=None, high=None, unit="g", standing=Standing.ASSUMED)),
            Named("gone_C", "what nobody knows", withheld("°C", "no one measured it")),
        ),
        (
            Classed("bite", "bite", "chewy", "between 20 and 60 K above its glass",
                    BITES, Standing.ASSUMED, (sources()["memory"],)),
            Classed("spoils", "spoiling", "assess", "its pH is not known"),
        ),
        (f"A note with {ODD}.",), (chart,), (finding,),
    )  # fmt: skip


def fat_side(subject: Subject) -> Aspect | None:
    """A side that only layers in a slab have, with a chart that all of them share."""
    if subject.number is None:
        return None
    falls = tuple(max(0.0, 0.8 - 0.02 * t * (1 + subject.number)) for t in range(41))
    chart = Chart(
        "solid_fat", "Solid fat", "temperature, °C", "solid fat, share of the fat",
        (Curve("", tuple(float(t) for t in range(41)), falls),),
    )  # fmt: skip
    return Aspect("fat", "Fat", charts=(chart,))


def flow_side(lower: Subject, upper: Subject) -> Touching:
    """What happens between two."""
    step = Figure(0.12, "", "0.62 - 0.50 = 0.12")
    return Touching(
        lower.name, upper.name, (Named("step", "step of water activity", step),),
        (Classed("moves", "water moves", "down", f"{upper.name} is the wetter one",
                 ("up", "hardly", "down")),),
    )  # fmt: skip


@pytest.fixture
def sides(monkeypatch: pytest.MonkeyPatch) -> None:
    """Every layer has these sides and no others."""
    monkeypatch.setattr(natures, "SIDES", (water_side, fat_side))
    monkeypatch.setattr(natures, "BETWEEN", (flow_side,))


@pytest.fixture
def no_sides(monkeypatch: pytest.MonkeyPatch) -> None:
    """Nobody works anything out."""
    monkeypatch.setattr(natures, "SIDES", ())
    monkeypatch.setattr(natures, "BETWEEN", ())
