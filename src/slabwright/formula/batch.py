"""A batch of a component: what goes in, what happens to it, what comes out."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import TypeVar

from slabwright.composition import Masses
from slabwright.errors import Mistake, Span, Where
from slabwright.figure import Leans, Ranged
from slabwright.formula.boil import Boil
from slabwright.formula.book import Book, slug
from slabwright.formula.component import Component, Deep, Density
from slabwright.formula.heating import is_oven
from slabwright.formula.kinds import Kind, guess, kinds
from slabwright.formula.line import Line
from slabwright.formula.pot import Happening, Pot
from slabwright.formula.stove import Stove
from slabwright.formula.weigh import (
    Scale,
    Unweighable,
    disagreement,
    find,
    weigh,
)
from slabwright.formula.weighed import WeighedLine

T = TypeVar("T")

_DOUGH_SHARE = 0.10
"""Less flour than this thickens a filling and makes no dough. Common practice."""


@dataclass(frozen=True, slots=True)
class Batch:
    """One batch, from the lines to what is there in the end.

    Masses of constituents have the shape (3, len(ROW)): as worked out, at the low end
    and at the high end of what is not well known.
    """

    component: Component
    kind: Kind
    kind_told: str
    """How the kind is known: `said`, or what it was guessed from."""
    lines: tuple[WeighedLine, ...]
    mass_in: Ranged
    before: Masses = field(compare=False)
    after: Masses = field(compare=False)
    mass_out: Ranged | None = None
    withheld: str = ""
    """Why the mass that comes out is not known."""
    in_withheld: str = ""
    """Why the mass that goes in is not wholly known."""
    composition_withheld: str = ""
    """Why the composition of what comes out is not known."""
    happenings: tuple[Happening, ...] = ()
    assumed_loss: Happening | None = None
    composition_leans: tuple[Leans, ...] = ()
    density: Density | None = None
    deep: Deep | None = None
    mistakes: tuple[Mistake, ...] = ()
    boils: tuple[Boil, ...] = ()
    """Boils to a temperature, in their order, and what each leaves."""


def work(component: Component, book: Book, inside: tuple[str, ...] = ()) -> Batch:
    """Weigh a component's lines and follow what happens to them.

    Args:
        component: the formula.
        book: what its names mean.
        inside: components that this one is being worked out for, outermost first.
    """
    path = (*inside, slug(component.name))
    mistakes: list[Mistake] = []
    weighed = {
        id(line): _weighed(line, book, path, mistakes, component)
        for line in component.lines
    }
    lines = tuple(weighed[id(line)] for line in component.lines)
    kind, told = _kind(component, lines)
    pot = Pot(component.name, component.file)
    stove = Stove(component, weighed, book.pressure_kPa)
    if component.is_broken:
        pot.lose_track(f"a line of {component.name} could not be read")
    for at, event in enumerate(component.events):
        if isinstance(event, Line):
            _add(pot, weighed[id(event)])
        else:
            pot.follow(event)
        boiled = stove.follow(at, pot.now, pot.lost_track or pot.composition_unknown)
        if boiled is not None and boiled.counts:
            pot.boil(boiled)
    mistakes.extend(_unlearned(component, stove))
    loss = None
    if _loses_as_usual(pot, kind, component, lines):
        loss = pot.lose_as_usual(kind, _last_span(component))
    mistakes.extend(pot.mistakes)
    return Batch(
        component,
        kind,
        told,
        lines,
        pot.mass_in(),
        pot.before,
        pot.now,
        pot.mass_out(),
        pot.lost_track,
        pot.in_incomplete,
        pot.composition_unknown,
        tuple(pot.happenings),
        loss,
        tuple(pot.composition_leans),
        _last(component, Density),
        _last(component, Deep),
        tuple(mistakes),
        tuple(stove.boils),
    )


def _loses_as_usual(
    pot: Pot, kind: Kind, component: Component, lines: Sequence[WeighedLine]
) -> bool:
    """Whether the kind's usual loss is assumed: nothing on the card says any."""
    if pot.says_loss or all(line.batch is not None for line in lines):
        return False
    if pot.boiled is None or kind.loses == "mix":
        return True
    boiled = pot.boiled.line
    return any(is_oven(step) for step in component.steps if step.span.line > boiled)


def _unlearned(component: Component, stove: Stove) -> Iterator[Mistake]:
    """Readings that can't be right."""
    for reads, why in stove.doubts:
        where = Where(component.file, reads.span, "reads")
        do = "Weigh the pan again, without its own weight, or mend the lines."
        yield Mistake(f"Nothing follows from this reading: {why}.", do, where)


def _weighed(
    line: Line,
    book: Book,
    path: tuple[str, ...],
    mistakes: list[Mistake],
    component: Component,
) -> WeighedLine:
    inner = None if line.part else book.component(line.name)
    match = find(line, book.larder, book.habits) if inner is None else None
    if inner is None and match is None:
        inner = book.layers.get(slug(line.name))
    if inner is not None:
        where = Where(component.file, line.name_span)
        if slug(inner.name) in path:
            names = " > ".join(
                (*path[path.index(slug(inner.name)) :], slug(inner.name))
            )
            what = f"'{line.name}' would contain itself: {names}."
            mistakes.append(Mistake(what, "Take it out of one of them.", where))
            return WeighedLine(line, Unweighable(what, "Take it out."))
        batch = work(inner, book, path)
        mistakes.extend(batch.mistakes)
        return WeighedLine(line, _of_batch(line, batch, book), batch=batch)
    scale = Scale(match.ingredient if match else None)
    grams = weigh(line, scale, book.habits)
    disagrees = ""
    if isinstance(grams, Ranged):
        disagrees = disagreement(line, grams.value, scale, book.habits)
    return WeighedLine(line, grams, match, None, disagrees)


def _of_batch(line: Line, batch: Batch, book: Book) -> Ranged | Unweighable | None:
    """Finished grams of a component, or batches of it."""
    amount = line.amounts[0] if line.amounts else None
    if amount is None or amount.unit.name != "batch" or line.stated_g is not None:
        density = batch.density.g_ml if batch.density else batch.kind.density_g_ml.value
        return weigh(line, Scale(None, density), book.habits)
    out = batch.mass_out
    if out is None:
        return Unweighable(f"What a batch gives is not known: {batch.withheld}.", "")
    said = f"{amount.value:g} × {out.value:.5g} g = {amount.value * out.value:.5g} g"
    return Ranged(
        amount.value * out.value, amount.low * out.low, amount.high * out.high,
        out.leans, said,
    )  # fmt: skip


def _add(pot: Pot, weighed: WeighedLine) -> None:
    """Put a line into the pot, by what is known of it."""
    grams = weighed.grams
    if grams is None:
        return
    if isinstance(grams, Unweighable):
        pot.lose_track(f"the weight of '{weighed.line.name}' is not known")
        return
    batch = weighed.batch
    if batch is not None:
        pot.add_mix(weighed.line.name, grams, batch.after, batch.composition_withheld)
        pot.composition_leans.extend(batch.composition_leans)
        return
    ingredient = weighed.ingredient
    row = None if ingredient is None else ingredient.composition
    pot.add(weighed.line.name, grams, row)


def _kind(component: Component, lines: tuple[WeighedLine, ...]) -> tuple[Kind, str]:
    if component.kind:
        return kinds()[component.kind], "as written"
    only = lines[0].batch if len(lines) == 1 else None
    if only is not None:
        return only.kind, only.kind_told
    whole = sum(line.mass_g or 0.0 for line in lines)
    flour = sum(
        line.mass_g or 0.0
        for line in lines
        if line.ingredient and "flour" in line.ingredient.id
    )
    is_dough = flour > _DOUGH_SHARE * whole
    ids = [
        line.ingredient.id
        for line in lines
        if line.ingredient and (is_dough or "flour" not in line.ingredient.id)
    ]
    return guess(component.name, ids)


def _last_span(component: Component) -> Span:
    return component.events[-1].span if component.events else component.span


def _last(component: Component, wanted: type[T]) -> T | None:
    found = [event for event in component.events if isinstance(event, wanted)]
    return found[-1] if found else None


def all_batches(batch: Batch) -> Iterator[Batch]:
    """This batch and every batch inside it, innermost first."""
    for line in batch.lines:
        if line.batch is not None:
            yield from all_batches(line.batch)
    yield batch
