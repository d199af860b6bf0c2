"""Names that law keeps for a composition: chocolate, jam, butter and the like."""

import csv
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from functools import cache
from importlib.resources import files
from typing import Final

from slabwright.composition import FATS, INDEX
from slabwright.finding import Finding, Severity
from slabwright.label.ingredients.bowl import InBowl, Poured
from slabwright.label.ingredients.declaration import Declaration
from slabwright.label.ingredients.declared import Nation
from slabwright.larder.ingredient import Ingredient
from slabwright.larder.words import parse
from slabwright.source import Source, sources

_SLACK: Final = 0.005
"""What tables round away, as a part of the threshold."""
_PARTS: Final = {
    "cocoa butter": ("fat_cocoa",),
    "milk fat": ("fat_milk",),
    "fat": FATS,
    "vegetable fat": ("fat_lauric", "fat_nut", "fat_other"),
    "water": ("water",),
}
_INSOLUBLE: Final = ("fibre", "starch", "protein", *FATS)
_FRUIT: Final = frozenset(["fruit", "dried fruit"])
_UNITED_KINGDOM: Final = "United Kingdom"


@dataclass(frozen=True, slots=True)
class Reserved:
    """One condition that a name must keep."""

    id: str
    name: str
    words: tuple[tuple[str, ...], ...]
    of: str
    """What is measured: an ingredient, a layer, or what the slab is called."""
    measure: str
    least: float | None
    most: float | None
    unit: str
    from_day: date
    until: date | None
    nations: frozenset[str]
    article: str
    source: Source
    found: str
    note: str

    def holds(self, where: Nation) -> bool:
        """Whether it holds there and then."""
        nations = (
            {"England", "Wales", "Scotland", "Northern Ireland"}
            if where.name == _UNITED_KINGDOM
            else {where.name}
        )
        is_on = self.from_day <= where.on and (
            self.until is None or where.on <= self.until
        )
        return is_on and nations <= self.nations

    @property
    def law(self) -> str:
        """Its id, its article, and how it is known."""
        return f"{self.id}, {self.article} ({self.found})"


@cache
def reserved() -> tuple[Reserved, ...]:
    """Every condition, in the order of its table."""
    data = files("slabwright.label").joinpath("data", "reserved.csv")
    return tuple(
        Reserved(
            row["id"],
            row["name"],
            tuple(parse(text).words for text in row["words"].split(";")),
            row["of"],
            row["measure"],
            float(row["least"]) if row["least"] else None,
            float(row["most"]) if row["most"] else None,
            row["unit"],
            date.fromisoformat(row["from"]),
            date.fromisoformat(row["until"]) if row["until"] else None,
            frozenset(row["nation"].split(";")),
            row["article"],
            sources()[row["source"]],
            row["found"],
            row["note"],
        )
        for row in csv.DictReader(data.read_text("utf-8").splitlines())
    )


def reserved_findings(
    found: Declaration, called: str, where: Nation
) -> Iterator[Finding]:
    """Names in the slab whose composition, as far as it is known, doesn't bear them."""
    rows = [row for row in reserved() if row.holds(where)]
    seen: set[str] = set()
    for line in found.lines:
        one = line.ingredient
        if one is not None and one.own and one.id not in seen:
            seen.add(one.id)
            yield from _ingredient(found, line, one, rows)
    for number, layer in enumerate(found.poured):
        yield from _layer(found, number, layer, rows)
    yield from _called(found, called, rows)


# --- ingredients --------------------


def _ingredient(
    found: Declaration, line: InBowl, one: Ingredient, rows: list[Reserved]
) -> Iterator[Finding]:
    name = _longest(one, rows)
    for row in rows:
        is_any_chocolate = row.name == "vegetable fat in chocolate"
        if row.of != "ingredient":
            continue
        if row.name == name or (is_any_chocolate and "chocolate" in name):
            value = _of(one, row.measure)
            if value is not None and _breaks(value, row):
                yield _finding(found, row, one.name, value, line)


def _longest(one: Ingredient, rows: list[Reserved]) -> str:
    """The kept name with most words that the ingredient's own name ends in."""
    texts = (
        [one.name, *(called.text for called in one.names)] if one.own else [one.name]
    )
    best: tuple[int, str] = (0, "")
    for text in texts:
        words = parse(text.partition(",")[0]).words
        for row in rows:
            if row.of != "ingredient" or row.name == "vegetable fat in chocolate":
                continue
            for kept in row.words:
                if words[-len(kept) :] == kept and _is_bare(words, kept):
                    best = max(best, (len(kept), row.name))
    return best[1]


def _is_bare(words: tuple[str, ...], kept: tuple[str, ...]) -> bool:
    """Whether the words before it leave the name what it is: not cocoa butter."""
    before = set(words[: -len(kept)])
    if kept == ("chocolate",):
        return not before & {"white", "milk", "hot", "drinking", "unsweetened", "ruby"}
    return before <= {"unsalted", "salted", "slightly", "our", "best", "house"}


def _of(one: Ingredient, measure: str) -> float | None:
    """What it holds of this [%]; None where nobody knows."""
    if measure == "cocoa solids said by its name":
        said = [
            number.low
            for called in one.names
            for number in parse(called.text).numbers
            if number.kind == "%"
        ]
        return said[0] if said else None
    row, parts = one.composition, _PARTS.get(measure, ())
    said_by = [one.values[name].source.key for name in parts if name in one.values]
    if row is None or not any(key.startswith("own-") for key in said_by):
        return None  # a table's average accuses no pack
    return 100 * float(sum(row[INDEX[name]] for name in parts))


def _breaks(value: float, row: Reserved) -> bool:
    is_low = row.least is not None and value < row.least * (1 - _SLACK)
    return is_low or (row.most is not None and value > row.most * (1 + _SLACK))


# --- layers --------------------


def _layer(
    found: Declaration, number: int, layer: Poured, rows: list[Reserved]
) -> Iterator[Finding]:
    words = parse(layer.name).words
    for row in rows:
        if row.of != "layer" or not any(words[-1:] == kept for kept in row.words):
            continue
        lines = [line for line in found.lines if line.layer == number]
        value = _in_layer(layer, lines, row.measure)
        if value is not None and _breaks(value, row):
            yield _finding(found, row, layer.name, value, lines[0] if lines else None)


def _in_layer(layer: Poured, lines: list[InBowl], measure: str) -> float | None:
    if measure == "fruit in 1 kg":
        fruit = [
            line.weight
            for line in lines
            if line.ingredient is not None and line.ingredient.group in _FRUIT
        ]
        known = [weight.g for weight in fruit if weight is not None]
        if layer.out is None or not layer.out[0] > 0 or len(known) < len(fruit):
            return None
        return sum(known) / layer.out[0] * 1000
    after = layer.batch.after[0]
    if layer.batch.composition_withheld or layer.batch.withheld:
        return None
    whole = float(after[: INDEX["saturates"]].sum())
    if not whole > 0:
        return None
    left_out = float(sum(after[INDEX[name]] for name in ("water", *_INSOLUBLE)))
    return 100 * (whole - left_out) / whole


# --- what it is called --------------------


def _called(found: Declaration, called: str, rows: list[Reserved]) -> Iterator[Finding]:
    said = parse(called).words
    groups = {
        line.ingredient.group: line
        for line in found.lines
        if line.ingredient is not None and line.weight is not None
    }
    for row in rows:
        kept = next((kept for kept in row.words if _holds(said, kept)), None)
        if row.of != "called" or kept is None:
            continue
        if row.measure == "any chocolate" and not _has_chocolate(found):
            yield _plain(found, row, " ".join(kept), "no line of it is chocolate")
        elif row.measure == "butter the only added fat" and "fat" in groups:
            other = groups["fat"].name
            yield _plain(
                found, row, " ".join(kept), f"{other} is a fat beside the butter"
            )


def _holds(words: tuple[str, ...], kept: tuple[str, ...]) -> bool:
    """Whether these words stand there, butter not as a part of another name."""
    for at in range(len(words) - len(kept) + 1):
        if words[at : at + len(kept)] == kept:
            before = words[at - 1] if at else ""
            return before not in {"cocoa", "peanut", "almond", "cashew", "nut", "seed"}
    return False


def _has_chocolate(found: Declaration) -> bool:
    return any("chocolate" in one.named.plain.casefold() for one in found.bought)


def _finding(
    found: Declaration, row: Reserved, about: str, value: float, line: InBowl | None
) -> Finding:
    bounds = []
    if row.least is not None:
        bounds.append(f"at least {row.least:g} {row.unit}")
    if row.most is not None:
        bounds.append(f"at most {row.most:g} {row.unit}")
    note = f" {row.note[:1].upper()}{row.note[1:]}." if row.note else ""
    return Finding(
        "reserved_name", Severity.LOOK, f"{found.slab}: {about}",
        f"{about} has {value:.3g} {row.unit} of {row.measure}; the name {row.name} is "
        f"kept for {' and '.join(bounds)}.",
        f"Worked out from the larder or the card.{note}",
        "Check its specification, or call it something else.",
        source=row.law, span=line.span if line else None,
    )  # fmt: skip


def _plain(found: Declaration, row: Reserved, said: str, what: str) -> Finding:
    note = f"{row.note[:1].upper()}{row.note[1:]}." if row.note else ""
    return Finding(
        "reserved_name", Severity.LOOK, found.slab,
        f"Its name or its pack says {said}, and {what}.", note,
        "Check it, or call it something else.", source=row.law,
    )  # fmt: skip
