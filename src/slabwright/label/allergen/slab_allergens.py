"""The allergens of a slab: every line of every layer followed to the last part."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from slabwright.errors import Span
from slabwright.figure import Figure
from slabwright.formula.batch import Batch
from slabwright.formula.step import Step
from slabwright.formula.weighed import WeighedLine
from slabwright.label.allergen.allergens import (
    IN_IT,
    Doubt,
    SlabAllergens,
    Trace,
    Way,
)
from slabwright.label.allergen.annex import SULPHITES, plain_name
from slabwright.label.allergen.contents import Contents
from slabwright.label.allergen.part_words import told
from slabwright.label.allergen.questions import Asked, Sold, questions
from slabwright.label.allergen.sulphites import (
    Sulphited,
    not_summed,
    so2_of,
    sulphite_traces,
)
from slabwright.larder.ingredient import ALLERGENS, Ingredient

_MEND = "Mend it, so that all that goes in can be read."


@dataclass(frozen=True, slots=True)
class Laid:
    """A layer as it lies in the slab."""

    name: str
    from_component: str
    batch: Batch
    mass_g: float | None
    """Finished grams of it; None if that is not known."""


@dataclass(frozen=True, slots=True)
class Around:
    """What is asked beside the layers."""

    mass: Figure
    """The finished slab [g]."""
    steps: tuple[Step, ...] = ()
    """What is done to the whole slab."""
    sold: Mapping[str, tuple[Sold, ...]] | None = None
    """Packs by larder id."""
    unread: tuple[str, ...] = ()
    """Files that may say more of allergens and can't be read."""
    unread_lines: tuple[tuple[str, Span], ...] = ()
    """Lines of the card that can't be read, and may bring anything."""


@dataclass(frozen=True, slots=True)
class _Line:
    """A line with its way and how much of what it says lies in the slab."""

    weighed: WeighedLine
    way: Way
    share: float | None

    @property
    def grams(self) -> float | None:
        mass_g = self.weighed.mass_g
        return None if mass_g is None or self.share is None else mass_g * self.share


def slab_allergens(
    name: str, laid: Sequence[Laid], contents: Contents, around: Around
) -> SlabAllergens:
    """What is known of its allergens, and what must still be asked.

    Args:
        name: the slab.
        laid: its layers, bottom first.
        contents: what the ingredients bring.
        around: its mass, its last steps, the packs on sale.
    """
    lines = [line for one in laid for line in _lines(one)]
    traces: list[Trace] = []
    asked: list[Asked] = list(_unread(name, laid, around))
    sulphited: list[Sulphited] = []
    for line in lines:
        found, doubts = _of_line(line, contents)
        traces += found
        asked += doubts
        ingredient = line.weighed.ingredient
        if ingredient is not None and ingredient.so2_mg_kg is not None:
            span = line.weighed.line.span
            so2 = ingredient.so2_mg_kg
            sulphited.append(Sulphited(ingredient, so2, line.grams, line.way, span))
    figure = so2_of(sulphited, around.mass)
    if figure is not None:
        traces += sulphite_traces(sulphited, figure)
    else:
        asked += [
            Asked(
                one.ingredient.name,
                not_summed(one),
                one.ingredient,
                by_card=_MEND,
                span=one.span,
            )
            for one in sulphited
            if one.so2_mg_kg > 0
        ]
    in_it = {one.allergen for one in traces if one.state in IN_IT}
    asked += _said_elsewhere(laid, lines, contents, around, in_it)
    every = questions(asked, around.sold or {})
    return SlabAllergens(name, tuple(dict.fromkeys(traces)), every, figure)


# --- down the layers --------------------


def _lines(laid: Laid) -> Iterator[_Line]:
    out = laid.batch.mass_out
    share = None
    if laid.mass_g is not None and out is not None and out.value > 0:
        share = laid.mass_g / out.value
    way = (laid.name, laid.from_component) if laid.from_component else (laid.name,)
    yield from _in_batch(laid.batch, way, share)


def _in_batch(batch: Batch, way: Way, share: float | None) -> Iterator[_Line]:
    for weighed in batch.lines:
        here = (*way, weighed.line.name)
        inner = weighed.batch
        if inner is None:
            yield _Line(weighed, here, share)
            continue
        part, out, taken = None, inner.mass_out, weighed.mass_g
        if share is not None and taken is not None and out and out.value > 0:
            part = share * taken / out.value
        yield from _in_batch(inner, here, part)


# --- what a line brings --------------------


def _of_line(line: _Line, contents: Contents) -> tuple[list[Trace], list[Asked]]:
    ingredient, name = line.weighed.ingredient, line.weighed.line.name
    span = line.weighed.line.span
    if ingredient is None:
        return [], [Asked(name, Doubt(ALLERGENS, _unknown(line), line.way), span=span)]
    load = contents.of(ingredient)
    by_figure = ingredient.so2_mg_kg is not None
    there = tuple(name for name in ALLERGENS if name in load.in_it)
    traces = [
        Trace(
            one.allergen,
            one.state,
            (*line.way, *one.way),
            one.why,
            ingredient.name,
            ingredient.id,
            ingredient.allergen_answer or one.source,
            span,
        )
        for one in load.brought
        if not (by_figure and one.allergen == SULPHITES)
    ]
    asked = []
    for doubt in (*load.doubts, *_taken_for(line, ingredient, contents)):
        open = tuple(a for a in doubt.allergens if not (by_figure and a == SULPHITES))
        if open:
            placed = replace(doubt, allergens=open, way=(*line.way, *doubt.way))
            asked.append(Asked(name, placed, ingredient, there, span=span))
    return traces, asked


def _unknown(line: _Line) -> str:
    """Why nothing is known of a line, and what its own name says."""
    said = told(line.weighed.line.name).words
    names = dict.fromkeys(plain_name(a) for word in said for a in word.allergens)
    why = "the larder does not know it"
    return f"{why}; its name says {', '.join(names)}" if names else why


def _taken_for(line: _Line, taken: Ingredient, contents: Contents) -> Iterator[Doubt]:
    """What else a broad word could have meant: `chocolate` may be milk chocolate."""
    match = line.weighed.match
    if match is None or not match.alternatives:
        return
    there = contents.of(taken).in_it
    asked: set[str] = set()
    for other in match.alternatives:
        more = contents.of(other).in_it - there - asked
        if more:
            asked |= more
            why = f"taken as {taken.name}; {other.name} would hold it"
            yield Doubt(tuple(a for a in ALLERGENS if a in more), why, ())


# --- what the card says beside its lines --------------------


def _unread(name: str, laid: Sequence[Laid], around: Around) -> Iterator[Asked]:
    """What could hide behind words or files that could not be read."""
    for file in around.unread:
        why = f"{file} can't be read, and may say more of what is in it"
        yield Asked(file, Doubt(ALLERGENS, why, (name,)), by_card=_MEND)
    for text, span in around.unread_lines:
        doubt = Doubt(ALLERGENS, f"the line “{text}” can't be read", (name,))
        yield Asked(text, doubt, by_card=_MEND, span=span)
    if not laid:
        why = "the card has no layer"
        yield Asked(name, Doubt(ALLERGENS, why, (name,)), by_card=_MEND)
    for one in laid:
        for batch, way in _batches(one.batch, (one.name,)):
            why = ""
            component = batch.component
            if component.is_broken and not around.unread_lines:
                why = f"a line of {component.name} can't be read"
            elif not batch.lines:
                why = f"no line says what {component.name} is made of"
            if why:
                span = component.span
                doubt = Doubt(ALLERGENS, why, way)
                yield Asked(way[-1], doubt, by_card=_MEND, span=span)


def _batches(batch: Batch, way: Way) -> Iterator[tuple[Batch, Way]]:
    yield batch, way
    for line in batch.lines:
        if line.batch is not None:
            yield from _batches(line.batch, (*way, line.line.name))


def _said_elsewhere(
    laid: Sequence[Laid],
    lines: Sequence[_Line],
    contents: Contents,
    around: Around,
    in_it: set[str],
) -> Iterator[Asked]:
    """Allergens that a step or a note names, and no line of the slab brings."""
    texts = [(line.way, " ".join(line.weighed.line.notes)) for line in lines]
    for one in laid:
        for batch, way in _batches(one.batch, (one.name,)):
            texts += [(way, step.text) for step in batch.component.steps]
    texts += [(("the whole slab",), step.text) for step in around.steps]
    for way, text in dict.fromkeys(texts):
        for ingredient in contents.named_in(text):
            more = contents.of(ingredient).in_it - in_it
            if more:
                named = tuple(a for a in ALLERGENS if a in more)
                why = f"“{text}” names {ingredient.name}, and no line brings it"
                do = (
                    f"Write a line of {ingredient.name}, if any stays on the slab, or "
                    "other words."
                )
                doubt = Doubt(named, why, way)
                yield Asked(ingredient.name, doubt, ingredient, by_card=do)
