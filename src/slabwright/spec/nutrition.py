"""The nutrition declaration of a slab that is worked out: per 100 g and per piece."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final

from slabwright.errors import FileError, Mistake, Where
from slabwright.figure import Figure, Ranged, Standing, weakest, withheld
from slabwright.finding import Finding, Severity
from slabwright.formula.batch import Batch, all_batches
from slabwright.label.nutrition.content import Content, Laid, content_of
from slabwright.label.nutrition.front_of_pack import Front, front
from slabwright.label.nutrition.nutrient_profile import Profile
from slabwright.label.nutrition.parts import parts_of, solids_share
from slabwright.label.nutrition.rules import PanelLine, panel_of
from slabwright.larder.lookup import Larder
from slabwright.spec.allergens import is_no_food
from slabwright.spec.nutrition_profile import profile_of
from slabwright.spec.nutrition_rows import Row, row_of
from slabwright.spec.specification import LayerFigures, Specification

FOOT: Final = (
    "Worked out from the ingredients' tables and packs, as Article 31(4)(b) and (c) of "
    "Regulation (EU) No 1169/2011 allow (from memory). It certifies nothing; analysis, "
    "the suppliers' specifications and local law decide. A range holds what weights, "
    "losses and gaps do; how crops and makers differ is in none."
)
_ENERGY: Final = ("energy_kj", "energy_kcal")
_FOR_THE_TIN: Final = re.compile(
    r"(?:extra )?for (?:greas|the (?:tin|pan|work)|lining|rolling|flouring|oiling"
    r"|buttering|brushing the tin|dusting the)|to (?:serve|grease|line)|for serving",
    re.IGNORECASE,
)
"""Asides of lines that stay on the tin or the table."""
_GRAMS: Final = re.compile(r"\d\s?(?:g|kg|ml|l|oz|lb|tsp|tbsp|cups?)\b", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class NotCounted:
    """Something on the card that is in no figure."""

    what: str
    why: str
    is_food: bool
    """Whether it ends in the slab, so that a label must wait for its weight."""


@dataclass(frozen=True, slots=True)
class Nutrition:
    """What a nutrition declaration of a slab says, and how surely."""

    slab: str
    nation: str
    on: date
    mass_g: Figure
    """Of the finished slab."""
    piece_g: Figure
    rows: tuple[Row, ...]
    """In the law's order; energy first, in kJ and in kcal."""
    fronts: tuple[Front, ...]
    """How it would stand on the front of a British pack; none elsewhere."""
    profile: Profile | None
    """Its score in the British nutrient profiling model; None elsewhere or unknown."""
    not_counted: tuple[NotCounted, ...]
    held: tuple[str, ...]
    """Why a label must wait; empty if nothing is open."""
    findings: tuple[Finding, ...]

    @property
    def is_held(self) -> bool:
        """Whether a label must wait for an answer."""
        return bool(self.held)

    def row(self, nutrient: str) -> Row:
        """The row of a nutrient.

        Raises:
            KeyError: if there is none.
        """
        for one in self.rows:
            if one.nutrient == nutrient:
                return one
        raise KeyError(nutrient)


def nutrition_of(
    spec: Specification, larder: Larder, nation: str, on: date
) -> Nutrition:
    """The nutrition declaration of this slab.

    Args:
        spec: the slab, worked out; of a card of a component, that component.
        larder: what the kitchen's own ingredients are like.
        nation: where it is sold, one of those that there is a table for.
        on: the day whose rules hold.

    Raises:
        FileError: if no table holds in that nation on that day.
    """
    lines = panel_of(nation, on)
    if not lines:
        what = f"No table of nutrition holds in {nation} on {on}."
        raise FileError(Mistake(what, "Give a later day.", Where(field="on")))
    places = spec.layers or _own_component(spec)
    why, mass = _whole_mass(places)
    content = None
    if not why:
        content = content_of([_laid(one) for one in places], larder.by_id)
    standing = weakest([*_standings(places), "given"])
    piece = _piece(spec)
    rows = tuple(
        row_of(line, name, content, why, standing, piece)
        for line, name in _asked(lines, content)
    )
    not_counted = tuple(_not_counted(spec, places))
    held = tuple(_held(rows, not_counted))
    return Nutrition(
        spec.name,
        nation,
        on,
        mass,
        piece,
        rows,
        _fronts(rows, piece, nation, on),
        profile_of(spec, rows, larder, nation, on),
        not_counted,
        held,
        tuple(_findings(spec.name, rows, held)),
    )


def _own_component(spec: Specification) -> tuple[LayerFigures, ...]:
    """Of a card of a component that component, without those that stand in it."""
    return spec.components[:1] if spec.card.is_component else ()


def _whole_mass(places: Sequence[LayerFigures]) -> tuple[str, Figure]:
    """Why nothing can be said, or nothing; and what all of it weighs [g]."""
    if not places:
        return (why := "there is no layer"), withheld("g", why)
    for one in places:
        if not one.batch.lines:
            why = f"nothing is in {one.name}: it has no line with a weight"
            return why, withheld("g", why)
        if not one.mass_out_g.known:
            why = f"what {one.name} weighs is not known: {one.mass_out_g.sum}"
            return why, withheld("g", why)
    masses = [one.mass_out_g.number for one in places]
    if not sum(masses) > 0:
        return (why := "no line of it weighs anything"), withheld("g", why)
    lows, highs = zip(*(_ends(one.mass_out_g)[1:] for one in places), strict=True)
    wide = sum(highs) - sum(lows) > 1e-9 * sum(masses)
    said = " + ".join(f"{grams:.5g}" for grams in masses)
    return "", Figure(
        sum(masses), "g", f"{said} = {sum(masses):.5g} g",
        weakest([one.mass_out_g.standing for one in places]),
        sum(lows) if wide else None, sum(highs) if wide else None,
    )  # fmt: skip


def _ends(figure: Figure) -> tuple[float, float, float]:
    value = figure.number
    return (
        value,
        value if figure.low is None else figure.low,
        value if figure.high is None else figure.high,
    )


def _laid(one: LayerFigures) -> Laid:
    """A layer as it lies: all of its batch, or so much of it."""
    mass, batch = _ends(one.mass_out_g), one.batch
    out = batch.mass_out
    factor = mass[0] / out.value if out is not None and out.value > 0 else 0.0
    return Laid(
        one.name,
        tuple(part.times(factor) for part in parts_of(batch)),
        mass,
        solids_share(batch),
        out is not None and _is_same(mass, out),
    )


def _is_same(mass: tuple[float, float, float], out: Ranged) -> bool:
    """Whether a layer is its whole batch, as heavy and as surely so."""
    pairs = zip(mass, (out.value, out.low, out.high), strict=True)
    return all(abs(one - other) <= 1e-6 * max(other, 1.0) for one, other in pairs)


def _standings(places: Sequence[LayerFigures]) -> list[Standing]:
    found = [one.mass_out_g.standing for one in places]
    found += [one.dry_matter_share.standing for one in places]
    return found


def _piece(spec: Specification) -> Figure:
    if spec.cut is None:
        return withheld("g", "the card says no cut")
    return spec.cut.piece_mass_g


def _asked(
    lines: Sequence[PanelLine], content: Content | None
) -> Iterator[tuple[PanelLine, str]]:
    """What is shown: what the law asks, fibre, and polyols where there are any."""
    shown = {"fibre"}
    if content is not None and content.per_100g["polyols"].low > 0:
        shown.add("polyols")
    for line in lines:
        if line.nutrient == "energy":
            yield from ((line, name) for name in _ENERGY)
        elif line.is_mandatory or line.nutrient in shown:
            yield line, line.nutrient


def _fronts(
    rows: Sequence[Row], piece: Figure, nation: str, on: date
) -> tuple[Front, ...]:
    """Levels for the front of a pack, of what is known."""
    found: list[Front] = []
    portion = piece.number if piece.known else None
    for row in rows:
        if not row.per_100g.known:
            continue
        ends = _ends(row.per_100g)
        one = front(row.nutrient, ends, portion, nation, on)
        if one is not None:
            found.append(one)
    return tuple(found)


def _not_counted(
    spec: Specification, places: Sequence[LayerFigures]
) -> Iterator[NotCounted]:
    """Lines without a weight, lines that can't be read, steps that name food."""
    batches: dict[str, Batch] = {
        inner.component.name: inner
        for one in places
        for inner in all_batches(one.batch)
    }
    for batch in batches.values():
        for line in batch.component.lines:
            if not line.aside:
                continue
            tin = _FOR_THE_TIN.match(line.aside) is not None
            why = f"{line.aside}: it has no weight in the slab"
            yield NotCounted(f"{batch.component.name}: {line.name}", why, not tin)
        for step in batch.component.steps:
            if step.text[:1].isdigit():
                why = "it was read as a step, so what it weighs is in no figure"
                yield NotCounted(step.text, why, is_food=True)
    for unread in spec.card.unread:
        if not is_no_food(unread.text):
            yield NotCounted(unread.text, "the line can't be read", is_food=True)
    blocks = (*spec.card.head, *((spec.card.finish,) if spec.card.finish else ()))
    for step in (step for block in blocks for step in block.steps):
        if _GRAMS.search(step.text):
            why = "a step: what it puts on is in no figure"
            yield NotCounted(step.text, why, is_food=True)


def _held(rows: Sequence[Row], not_counted: Sequence[NotCounted]) -> Iterator[str]:
    by: dict[str, list[str]] = {}
    for row in rows:
        if row.line.is_mandatory and not row.per_100g.known:
            name = row.name.removeprefix("of which ")
            by.setdefault(row.gap, []).append(name)
    for why, names in by.items():
        yield f"{', '.join(dict.fromkeys(names))} not known: {why}"
    for one in not_counted:
        if one.is_food:
            yield f"not counted: {one.what} ({one.why})"


def _findings(slab: str, rows: Sequence[Row], held: Sequence[str]) -> Iterator[Finding]:
    """What keeps a declaration waiting, and what may lie beyond its tolerance."""
    where = f"{slab}: nutrition" if slab else "nutrition"
    for why in held:
        yield Finding(
            "nutrition_unknown",
            Severity.LOOK,
            where=where,
            what=f"{why[:1].upper()}{why[1:]}.",
            why="What nobody knows is never declared as nothing.",
            do="Weigh it, or give the larder its pack's declaration.",
            source="Reg (EU) No 1169/2011, Articles 30 and 31 (from memory)",
        )
    by = {row.nutrient: row for row in rows}
    for part, whole in (("saturates", "fat"), ("sugars", "carbohydrate")):
        inner, outer = by[part].per_100g, by[whole].per_100g
        if inner.known and outer.known and inner.number > outer.number * 1.001 + 1e-6:
            yield Finding(
                "nutrition_contradicts",
                Severity.LOOK,
                where=where,
                what=f"More {part} than {whole}: {inner.number:.3g} g of "
                f"{outer.number:.3g} g.",
                why="The one is a part of the other; a row of the larder contradicts "
                "itself.",
                do=f"Look up {by[part].brought[0].name} on its pack.",
                source="Reg (EU) No 1169/2011, Annex I (from memory)",
            )
    for row in rows:
        name = row.name.removeprefix("of which ")
        if row.kept is not None and not row.kept.is_kept and row.per_100g.known:
            yield Finding(
                "nutrition_tolerance",
                Severity.LOOK,
                where=where,
                what=f"{name.capitalize()} may lie beyond the tolerance of what is "
                "declared.",
                why=f"Likely {row.range_words} per 100 g; {row.kept.words}.",
                do="Weigh what is assumed, or have it analysed before you declare it.",
                source=row.kept.row.rule.source.text,
            )
