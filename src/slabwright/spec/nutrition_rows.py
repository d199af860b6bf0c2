"""One row of a nutrition declaration: its figures, its words, its tolerance."""

from dataclasses import dataclass
from typing import Final

from slabwright.figure import Figure, Standing, weakest, withheld
from slabwright.label.nutrition.content import Brought, Content, Held
from slabwright.label.nutrition.declared import Declared, Kept, declared, kept
from slabwright.label.nutrition.rules import Intake, PanelLine, factors, intake_of
from slabwright.source import Seen, Source

_UNITS: Final = {"energy_kj": "kJ", "energy_kcal": "kcal"}
_NAMES: Final = {"energy_kj": "energy", "energy_kcal": "energy"}
_LEANS: Final = ("fat", "carbohydrate", "fibre", "protein")
"""What must be known for energy to be."""
_MOST_SHOWN: Final = 4
"""Ingredients that a sum names; the others stand together."""


@dataclass(frozen=True, slots=True)
class Row:
    """One nutrient, per 100 g and per piece."""

    nutrient: str
    name: str
    """As it is written on the label: `of which saturates`."""
    unit: str
    line: PanelLine
    per_100g: Figure
    low: float | None
    """Likely ends per 100 g, told even where the value is withheld."""
    high: float | None
    gap: str
    """Why the value is withheld; empty if it isn't."""
    per_piece: Figure
    declared: Declared | None
    declared_piece: Declared | None
    kept: Kept | None
    """None where there is no tolerance or nothing to declare."""
    intake: Intake | None
    intake_100g: Figure
    intake_piece: Figure
    brought: tuple[Brought, ...]
    memory_share: float | None
    """Share of it that is known from memory only; None if nothing is known."""

    @property
    def range_words(self) -> str:
        """Its likely range; empty if it has none."""
        if self.low is None or self.high is None:
            return ""
        low, high = amount_words(self.low), amount_words(self.high)
        return "" if low == high else f"{low} to {high} {self.unit}"


def amount_words(value: float) -> str:
    """An amount to three figures, and whole where it has more.

    >>> amount_words(2071.4), amount_words(29.381), amount_words(0.0123)
    ('2071', '29.4', '0.0123')
    """
    return f"{value:.0f}" if value >= 100 else f"{value:.3g}"


def row_of(
    line: PanelLine,
    nutrient: str,
    content: Content | None,
    why: str,
    standing: Standing,
    piece: Figure,
) -> Row:
    """A row of the declaration.

    Args:
        line: of the law's order.
        nutrient: what it tells: `energy_kj`, `fat`.
        content: what 100 g hold; None if nothing can be said.
        why: the reason for that.
        standing: how the slab's weights and losses are known.
        piece: what a piece weighs [g].
    """
    unit = _UNITS.get(nutrient, "g")
    held = None if content is None else content.per_100g[nutrient]
    gap = why if content is None else _gap(nutrient, content)
    figure = _figure(nutrient, unit, content, gap, standing)
    each = _per_piece(figure, piece, unit)
    intake = intake_of(line.nutrient, unit)
    said, tolerance = None, None
    if held is not None and figure.known:
        said = declared(nutrient, held.value, unit, is_nothing=_is_nothing(held))
        tolerance = kept(nutrient, said.number, held.low, held.high)
    wide = held is not None and _is_wide(held)
    return Row(
        nutrient,
        _NAMES.get(nutrient, line.line),
        unit,
        line,
        figure,
        held.low if held is not None and wide else None,
        held.high if held is not None and wide else None,
        gap,
        each,
        said,
        _declared_piece(nutrient, each, unit, held),
        tolerance,
        intake,
        _of_intake(figure, intake),
        _of_intake(each, intake),
        () if held is None else held.brought,
        None if held is None else _memory_share(held),
    )


def _is_nothing(held: Held) -> bool:
    """Whether there is none of it, as surely as the tables say so."""
    return held.high <= 0 and not held.missing


def _is_wide(held: Held) -> bool:
    return held.high - held.low > 1e-6 * max(held.value, 1e-3)


def _declared_piece(
    nutrient: str, each: Figure, unit: str, held: Held | None
) -> Declared | None:
    if held is None or not each.known:
        return None
    return declared(nutrient, each.number, unit, is_nothing=_is_nothing(held))


def _figure(
    nutrient: str, unit: str, content: Content | None, why: str, standing: Standing
) -> Figure:
    """The value per 100 g, or why it is withheld."""
    if content is None:
        return withheld(unit, why)
    held = content.per_100g[nutrient]
    if why:
        ends = f"{amount_words(held.low)} to {amount_words(held.high)} {unit}"
        return withheld(unit, f"{why}: anything from {ends} per 100 g")
    wide = _is_wide(held)
    leans = [standing]
    if held.missing or (_memory_share(held) or 0.0) > 0.5:
        leans.append(Standing.ASSUMED)
    said = _energy_sum(held, content) if nutrient in _UNITS else _sum(held, content)
    return Figure(
        held.value, unit, said, weakest(leans), held.low if wide else None,
        held.high if wide else None, _sources(held),
        "per 100 g of the finished slab",
    )  # fmt: skip


def _gap(nutrient: str, content: Content) -> str:
    """Why a value can't be declared; empty if what is missing is within tolerance."""
    held = content.per_100g[nutrient]
    if not held.missing:
        return ""
    if nutrient in _UNITS:
        gaps = (_gap(name, content) for name in _LEANS)
        return next((why for why in gaps if why), "")
    said = declared(nutrient, held.value, "g")
    tolerance = kept(nutrient, said.number, held.low, held.high)
    if tolerance is not None and tolerance.is_kept:
        return ""
    more = f" and {len(held.missing) - 1} more" if len(held.missing) > 1 else ""
    return f"{held.missing[0]}{more}"


def _sum(held: Held, content: Content) -> str:
    """What brings it, in one line."""
    if not held.brought:
        return "the table of no ingredient gives any: 0 g per 100 g"
    by: dict[str, float] = {}
    for one in held.brought:
        by[one.name] = by.get(one.name, 0.0) + one.amount
    most = sorted(by.items(), key=lambda one: -one[1])
    shown = [f"{name} {amount:.3g}" for name, amount in most[:_MOST_SHOWN]]
    others = [amount for _, amount in most[_MOST_SHOWN:]]
    if others:
        shown.append(f"{len(others)} more {sum(others):.3g}")
    half = f"; half way, since {held.missing[0]}" if held.missing else ""
    return (
        f"{' + '.join(shown)} = {held.total:.4g} g ÷ {content.mass_g:.5g} g × 100 = "
        f"{held.value:.4g} g per 100 g{half}"
    )


def _energy_sum(held: Held, content: Content) -> str:
    """The law's factors, and what each is multiplied by."""
    unit = _UNITS[held.name]
    value = f"{held.value:.4g} {unit} per 100 g"
    if held.missing:
        ends = f"{amount_words(held.low)} and {amount_words(held.high)} {unit}"
        return f"half way between {ends} = {value}, since {held.missing[0]}"
    by = {one.component: one for one in factors()}
    grams = {name: content.per_100g[name].value for name in content.per_100g}
    grams["carbohydrate"] -= grams["polyols"]
    grams["polyols"] -= grams["erythritol"]
    parts: list[str] = []
    for name, one in by.items():
        factor = one.kJ_per_g if unit == "kJ" else one.kcal_per_g
        there = grams.get(name, 0.0)
        if there > 5e-4:
            word = name.replace("_", " ")
            parts.append(f"{word} {there:.4g} g × {factor:g}")
    alcohol = content.per_100g["alcohol"]
    gone = "; the low end without the alcohol, which heat may have driven off"
    more = gone if alcohol.low < alcohol.value - 1e-9 else ""
    return f"{' + '.join(parts) or 'nothing that bears any'} = {value}{more}"


def _per_piece(figure: Figure, piece: Figure, unit: str) -> Figure:
    """A piece holds its share of 100 g."""
    if not figure.known:
        return withheld(unit, figure.sum)
    if not piece.known:
        return withheld(unit, piece.sum)
    value = figure.number * piece.number / 100
    said = (
        f"{figure.number:.4g} {unit} × {piece.number:.4g} g ÷ 100 = {value:.4g} {unit}"
    )
    low, high = (
        (figure.number if end is None else end)
        * (piece.number if mass is None else mass)
        / 100
        for end, mass in ((figure.low, piece.low), (figure.high, piece.high))
    )
    wide = high - low > 1e-9 * max(value, 1e-9)
    return Figure(
        value, unit, said, weakest([figure.standing, piece.standing, "given"]),
        low if wide else None, high if wide else None, figure.sources,
        "per piece as the card cuts it",
    )  # fmt: skip


def _of_intake(figure: Figure, intake: Intake | None) -> Figure:
    """The share of an adult's reference intake."""
    if intake is None:
        return withheld("share", "the law gives no reference intake of it")
    if not figure.known:
        return withheld("share", figure.sum)
    value = figure.number / intake.amount
    said = (
        f"{figure.number:.4g} {intake.unit} ÷ {intake.amount:g} {intake.unit} = "
        f"{value:.0%}"
    )
    low, high = (
        None if end is None else end / intake.amount
        for end in (figure.low, figure.high)
    )
    return Figure(
        value, "share", said, figure.standing, low, high, (intake.rule.source,)
    )


def _memory_share(held: Held) -> float | None:
    """Share of a nutrient that is from memory; what is unknown isn't in it."""
    whole = sum(one.amount for one in held.brought)
    if not whole > 0:
        return None
    weak = sum(
        one.amount
        for one in held.brought
        if one.source is not None and one.source.seen is Seen.MEMORY
    )
    return weak / whole


def _sources(held: Held) -> tuple[Source, ...]:
    """Where what brings most of it is known from, most first."""
    return tuple(
        dict.fromkeys(one.source for one in held.brought[:12] if one.source is not None)
    )
