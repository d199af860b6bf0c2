"""Lines labelled from the description alone, against what the reader makes of them.

`labelled_lines.csv` was written apart from the reader and before it was run; see
`labelled_lines.md`.
"""

import csv
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from slabwright.cut.request import CutRequest
from slabwright.errors import Mistake
from slabwright.files.card.draft import Block
from slabwright.files.card.reader import CardRead, LineRead
from slabwright.formula.component import Deep, Density, Ends, Into, Loses, Note
from slabwright.formula.line import Line
from slabwright.formula.step import Step
from slabwright.quantity.amount import Amount
from slabwright.spec.card import Keep, SaidCut, SaidTin, Sold
from slabwright.spec.work_out import Order, work_out
from tests.files.kitchens import kitchen, read_in

TABLE = Path(__file__).with_name("labelled_lines.csv")

Facts = dict[str, object]


def rows() -> Iterator[dict[str, str]]:
    with TABLE.open(encoding="utf-8", newline="") as file:
        yield from csv.DictReader(file)


def expected(row: dict[str, str]) -> dict[str, str]:
    pairs = (part.partition("=") for part in row["expect"].split(";") if part.strip())
    return {key.strip(): value.strip() for key, _, value in pairs}


def amount_words(amount: Amount) -> tuple[float, str]:
    if amount.unit.is_exact and amount.size is None:
        size = amount.unit.sizes["metric"].value
        unit = "g" if amount.unit.kind == "mass" else "ml"
        return amount.value * size, unit
    return amount.value, amount.unit.name


def ingredient_facts(line: Line) -> Facts:
    facts: Facts = {
        "name": line.name,
        "notes": ", ".join(line.notes),
        "stated_g": line.stated_g,
        "measured": "yes" if line.is_measured else "no",
        "aside": "yes" if line.aside else "no",
    }
    if line.amounts:
        parts = [amount_words(amount) for amount in line.amounts]
        facts["amount"] = (sum(value for value, _ in parts), parts[0][1])
        first = line.amounts[0]
        factor = parts[0][0] / first.value
        facts["low"], facts["high"] = first.low * factor, first.high * factor
        if first.size:
            facts["size_g"] = first.size.grams
    if line.second:
        facts["second"] = amount_words(line.second)
    return facts


def step_facts(step: Step) -> Facts:
    facts: Facts = {
        "does": step.does,
        "fan": "yes" if step.fan else "no",
        "over_C": step.over_C,
        "under_C": step.under_C,
        "until": step.until,
        "then": step.then,
        "place": ", ".join(step.places),
        "finding": "read_as_step" if step.misread else "",
        "hands_a_tray_minutes": step.hands_a_tray_minutes,
    }
    for name, band in (
        ("temperature", step.at_C or step.to_C),
        ("minutes", step.minutes),
        ("hands", step.hands_minutes),
    ):
        unit = "_C" if name == "temperature" else ""
        if band is not None:
            key = "hands_minutes" if name == "hands" else name
            facts[f"{key}{unit}"] = band.middle
            facts[f"{key}_low{unit}"] = band.low
            facts[f"{key}_high{unit}"] = band.high
    if step.to_C:
        facts["to_C"] = step.to_C.middle
    if step.within:
        facts["within_minutes"] = step.within.minutes
        facts["within_step"] = step.within.step
        facts["within_layer"] = step.within.layer
    if step.when:
        facts["when_layer"] = step.when.layer
        facts[f"when_{step.when.side}_C"] = step.when.temperature_C
    return facts


def cut_facts(said: SaidCut) -> Facts:
    cut: CutRequest = said.request
    return {
        "along": cut.along,
        "across": cut.across,
        "pieces": cut.pieces,
        "length_mm": cut.piece_length_mm,
        "width_mm": cut.piece_width_mm,
        "piece_g": cut.piece_g,
        "piece_to_g": cut.piece_to_g,
        "least_mm": cut.least_mm,
        "wedges": cut.wedges,
        "strips": cut.strips,
        "strip_mm": cut.strip_mm,
        "diamond_mm": cut.diamond_mm,
        "angle_deg": cut.angle_deg,
        "triangles": cut.triangles,
        "fingers": str(cut.fingers),
        "trim_mm": cut.trim_mm,
        "knife_mm": cut.knife_mm,
        "trim_to_length_mm": cut.trim_to_mm[0] if cut.trim_to_mm else None,
        "trim_to_width_mm": cut.trim_to_mm[1] if cut.trim_to_mm else None,
        "in_tin": said.tin_name,
    }


def tin_facts(said: SaidTin) -> Facts:
    tin = said.tin
    shape = {"round": "round", "rectangular": "rect"}[tin.shape]
    return {
        "name": said.text,
        "shape": "tapered" if tin.sloping else shape,
        "length_mm": tin.length_mm,
        "width_mm": tin.width_mm,
        "diameter_mm": tin.length_mm,
        "depth_mm": tin.depth_mm,
        "rim_length_mm": tin.rim.length_mm,
        "rim_width_mm": tin.rim.width_mm,
    }


def take_facts(block: Block) -> Facts:
    take = block.take
    facts: Facts = {"name": block.name, "from": block.from_name}
    return facts | {
        "grams": take.grams,
        "depth_mm": take.depth_mm,
        "batch": take.batches,
    }


FACTS: dict[type, Callable[[Any], Facts]] = {
    SaidTin: tin_facts,
    SaidCut: cut_facts,
    Keep: lambda keep: {"place": keep.place, "days": keep.days},
    Sold: lambda sold: {"how": sold.how, "price": float(sold.price or 0)},
    Ends: lambda ends: {"grams": ends.grams, "water_share": ends.water_share},
    Loses: lambda loss: {"grams": loss.grams, "share": loss.share, "of": loss.of},
    Deep: lambda deep: {"mm": deep.depth_mm},
    Density: lambda density: {"g_ml": density.g_ml},
    Into: lambda into: {"vessel": into.vessel},
    Note: lambda note: {"text": note.text},
    Block: take_facts,
}


def word_facts(one: LineRead) -> Facts:
    (value,) = one.values or ("",)
    plain: Facts = dict.fromkeys(("name", "text", "kind", "date"), str(value))
    facts = FACTS[type(value)](value) if type(value) in FACTS else plain
    if isinstance(value, Ends | Loses | Density):
        facts["measured"] = "yes" if value.is_measured else "no"
    return {"word": one.word, **facts}


def found(one: LineRead) -> Facts:
    if one.reads_as == "ingredient":
        (line,) = one.values
        assert isinstance(line, Line)
        return ingredient_facts(line)
    if one.reads_as == "step":
        (step,) = one.values
        assert isinstance(step, Step)
        return step_facts(step)
    if one.reads_as == "word":
        return word_facts(one)
    return {"about": str(one.values[0]) if one.values else ""}


WHOLE_TEXT = frozenset({"word", "of", "measured", "fan", "aside", "shape", "finding"})


def agrees(key: str, wanted: str, shown: object) -> bool:
    if isinstance(shown, tuple):
        value, unit = shown
        number, _, name = wanted.partition(" ")
        return bool(unit == name and value == pytest.approx(float(number), rel=2e-3))
    if isinstance(shown, float | int):
        return bool(shown == pytest.approx(float(wanted), rel=2e-3))
    if shown is None:
        return False
    plain = str(shown).casefold()
    if key in WHOLE_TEXT:
        return plain == wanted.casefold()
    if key == "does":
        return plain.startswith(wanted.casefold())
    if key == "about":
        return True  # that it is a mistake is what counts; its words are read by people
    return wanted.casefold() in plain


def differences(row: dict[str, str], one: LineRead) -> list[str]:
    if one.reads_as != row["reads_as"]:
        return [f"reads as {one.reads_as}, not {row['reads_as']}"]
    facts = found(one)
    return [
        f"{key}: {facts.get(key)!r}, not {wanted!r}"
        for key, wanted in expected(row).items()
        if key not in facts or not agrees(key, wanted, facts[key])
    ]


@pytest.mark.parametrize("row", tuple(rows()), ids=lambda row: row["id"])
def test_a_labelled_line_reads_as_its_label_says(row: dict[str, str]) -> None:
    _, one = read_in(row["place"], row["line"])

    wrong = differences(row, one)
    is_open = row["note"].startswith("open")
    assert wrong == [] or (is_open and one.reads_as == "mistake"), row["line"]
    if one.reads_as == "mistake":
        (mistake,) = one.values
        assert isinstance(mistake, Mistake)
        assert mistake.do
        assert mistake.where.span is not None
        assert mistake.where.span.line == one.line.number


def spec_of(read: CardRead) -> list[str]:
    home = kitchen()
    spec = work_out(read.card, Order(home.kitchen, home.book), read.mistakes)
    return [finding.code for finding in spec.findings] + ["ask"] * len(spec.asks)


def test_two_measures_far_apart_are_asked_about() -> None:
    read, _ = read_in("layer", "100 g/8 oz caster sugar")

    assert "ask" in spec_of(read)


def test_two_measures_that_agree_are_not() -> None:
    read, _ = read_in("layer", "170 g/6 oz caster sugar")

    assert "ask" not in spec_of(read)
