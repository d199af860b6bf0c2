"""More labelled lines: what British, Irish, American and Australian makers write.

`labelled_more.csv` was labelled from the description of the card and from how bakers
write, before the reader was run on a line. Every line stands alone in a layer of a
British kitchen. `grams`, or `low_g` to `high_g`, is what goes into the slab; where
`larder_id` names several, each will do. A note that begins with `open` marks what the
description leaves open: there any reading will do whose doubt is shown.
"""

import csv
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

from slabwright.errors import Span
from slabwright.files.card.reader import LineRead
from slabwright.files.raw import Text
from slabwright.spec.specification import LineFigures, Specification
from slabwright.spec.work_out import Order, work_out
from tests.files.kitchens import kitchen

TABLE = Path(__file__).with_name("labelled_more.csv")
CARD = "slab X\n\ncomponent Malt caramel\n  100 g caster sugar\n\nlayer A\n{line}\n"
TELLS_A_DOUBT = frozenset(
    {"read_as_step", "named_not_weighed", "unknown_ingredient", "not_weighed"}
)
ROUNDING = 2e-3

Row = dict[str, str]


def rows() -> Iterator[Row]:
    with TABLE.open(encoding="utf-8", newline="") as file:
        yield from csv.DictReader(file)


@dataclass(frozen=True, slots=True)
class Outcome:
    """What became of a line: how it was read, its weights, and every doubt."""

    read: LineRead
    lines: tuple[LineFigures, ...]
    doubts: tuple[str, ...]

    @property
    def grams(self) -> float | None:
        """What goes into the slab [g]; None if something of it is not weighed."""
        masses = [line.weighed.mass_g for line in self.lines]
        known = [mass for mass in masses if mass is not None]
        return sum(known) if len(known) == len(masses) else None


def outcome(line: str) -> Outcome:
    home = kitchen()
    read = home.read(Text(CARD.format(line=line), "x.card"))
    spec = work_out(read.card, Order(home.kitchen, home.book), read.mistakes)
    (one,) = [one for one in read.lines if one.line.raw == line]
    lines = spec.layers[-1].lines if spec.layers else ()
    return Outcome(one, lines, doubts(spec, one.line.number))


def doubts(spec: Specification, number: int) -> tuple[str, ...]:
    def here(span: Span | None) -> bool:
        return span is not None and span.line == number

    return (
        *(m.what for m in spec.errors if here(m.where.span)),
        *(ask.question for ask in spec.asks if here(ask.span)),
        *(
            finding.what
            for finding in spec.findings
            if finding.code in TELLS_A_DOUBT and here(finding.span)
        ),
    )


def in_the_slab(row: Row, found: Outcome) -> list[str]:
    """What is wrong with the weight, if the label gives one."""
    low, high = row["low_g"] or row["grams"], row["high_g"] or row["grams"]
    if not low:
        return []
    beside = float(low) == 0.0 and found.grams is None
    if beside and all(line.weighed.grams is None for line in found.lines):
        return []
    if found.grams is None:
        return ["not weighed"]
    slack = ROUNDING * float(high)
    inside = float(low) - slack <= found.grams <= float(high) + slack
    return [] if inside else [f"{found.grams:.4g} g, not {low} to {high} g"]


def differences(row: Row, found: Outcome) -> list[str]:
    if found.read.reads_as != row["reads_as"]:
        return [f"reads as {found.read.reads_as}, not {row['reads_as']}"]
    if row["reads_as"] != "ingredient":
        return []
    wrong = in_the_slab(row, found)
    wanted = row["larder_id"].split("|")
    names = {line.larder_id for line in found.lines}
    if row["larder_id"] and not names & set(wanted):
        wrong.append(f"taken as {names}, not {wanted}")
    return wrong


@pytest.mark.parametrize("row", tuple(rows()), ids=lambda row: row["id"])
def test_a_line_of_the_trade_reads_as_a_baker_means_it(row: Row) -> None:
    found = outcome(row["line"])

    wrong = differences(row, found)
    if row["note"].startswith("open") and wrong:
        assert found.doubts, f"{row['line']}: {wrong}, and nobody is told"
    else:
        assert wrong == [], row["line"]


@pytest.mark.parametrize("row", tuple(rows()), ids=lambda row: row["id"])
def test_a_line_that_is_no_known_food_is_never_in_silence(row: Row) -> None:
    """Whatever weighs in the slab is known, a component, or said to be unknown."""
    found = outcome(row["line"])

    unknown = [line for line in found.lines if line.larder_id is None]
    of_the_card = [line for line in unknown if line.name == "Malt caramel"]
    assert len(unknown) == len(of_the_card) or found.doubts
