"""What to look out for in a formula: guesses, doubts, things that can't be weighed."""

import re
from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache
from typing import Final

from slabwright.figure import Ranged
from slabwright.finding import Finding, Severity
from slabwright.formula.batch import Batch
from slabwright.formula.heating import without_unit
from slabwright.formula.step import Step
from slabwright.formula.weigh import Unweighable
from slabwright.formula.weighed import WeighedLine
from slabwright.larder.lookup import Larder
from slabwright.physics.gel import BLOOMS, is_bloom
from slabwright.quantity.units import PACK_WORDS

_WHOLE: Final = PACK_WORDS | {"leaf"}
_HEAD_WORDS: Final = frozenset(
    "slab tin cut keep sold called pictured dated costs proved".split()
)
_NOT_NAMED: Final = frozenset({"water", "ice"})
"""Named in many a step for other ends: a bath, a wet knife."""
_PRACTICE: Final = "common practice, no source"


def findings(
    batch: Batch, larder: Larder, country: str, others: Iterable[str] = ()
) -> Iterator[Finding]:
    """Everything about this formula that its maker should know.

    Args:
        batch: the formula, worked out.
        larder: what its steps may name.
        country: whose names they are.
        others: names of other layers and components, which are no ingredients.
    """
    for line in batch.lines:
        yield from _about_line(batch, line, larder, country)
    for step in batch.component.steps:
        if step.misread:
            yield _read_as_step(batch, step)
        if number := without_unit(step):
            yield Finding(
                "heat_without_unit", Severity.LOOK, batch.component.name,
                f"'{step.text}' says {number}, and not of what.",
                "Without a unit it is no temperature, and nothing follows from it.",
                f"Write {number} C, or {number} F.", span=step.span,
            )  # fmt: skip
        yield from _named_not_weighed(batch, step, larder, country, others)
    yield from _loss(batch)


def unweighed_in_finish(
    step: Step,
    batches: Iterable[Batch],
    larder: Larder,
    country: str,
    others: Iterable[str] = (),
) -> Iterator[Finding]:
    """Larder names in a step on the whole slab that stand on no line of any layer."""
    weighed = [line for batch in batches for line in _all_lines(batch)]
    elsewhere = _words([*others, *_other_layers(step)])
    for name in _unweighed(step, weighed, elsewhere, larder, country):
        yield Finding(
            "named_not_weighed", Severity.LOOK, "finish",
            f"The step '{step.text}' names {name}, which stands on no line.",
            "What is not weighed is in no figure: no weight, cost or allergen of it.",
            f"Add a line to the top layer, or a layer: so many g {name}.",
            span=step.span,
        )  # fmt: skip


def _about_line(
    batch: Batch, weighed: WeighedLine, larder: Larder, country: str
) -> Iterator[Finding]:
    line, name = weighed.line, batch.component.name
    where = f"{name}: {line.name}"
    if weighed.is_unknown and not (line.aside or _is_circular(weighed)):
        near = larder.nearest(line.name, country)
        hint = f"If it is {' or '.join(near)}, write that" if near else "Mend its name"
        yield Finding(
            "unknown_ingredient",
            Severity.LOOK,
            where,
            f"The larder has no '{line.name}'.",
            "What it is made of is not known, so what leans on it is withheld.",
            f"{hint}; else add it to larder.yaml.",
            span=line.name_span,
        )
    if isinstance(weighed.grams, Unweighable) and not line.aside:
        yield Finding(
            "not_weighed", Severity.STOP, where, weighed.grams.what,
            "Without its grams neither weight nor depth of the layer is known.",
            weighed.grams.do, span=line.span,
        )  # fmt: skip
    if isinstance(weighed.grams, Ranged) and weighed.grams.assumed:
        yield Finding(
            "measure_assumed", Severity.NOTE, where,
            f"{line.text} was taken as {weighed.grams.value:.4g} g: "
            f"{weighed.grams.assumed}.",
            f"Likely {weighed.grams.low:.4g} to {weighed.grams.high:.4g} g.",
            "Weigh it once and write = N g weighed behind it.",
            _sources(weighed.grams), span=line.span,
        )  # fmt: skip
    if weighed.match and weighed.match.taken:
        yield Finding(
            "name_taken", Severity.NOTE, where,
            f"'{line.name}' was {weighed.match.taken}.",
            "The name can mean more than one thing, or was spelt another way.",
            "Write the full name if another was meant.", span=line.name_span,
        )  # fmt: skip
    yield from _not_whole(weighed, where)
    yield from _strength(weighed, where)
    either = next((n for n in line.notes if n.casefold().startswith("or ")), "")
    if either and weighed.match:
        yield Finding(
            "either_or", Severity.LOOK, where,
            f"'{line.name} {either}' was taken as {weighed.match.ingredient.name}.",
            "The line leaves a choice, and every figure leans on the first.",
            "Write the one that goes in.", span=line.span,
        )  # fmt: skip


def _strength(weighed: WeighedLine, where: str) -> Iterator[Finding]:
    """A strength that no gelatine has: the usual one of its kind counts."""
    said = weighed.line.bloom
    if said is None or is_bloom(*said):
        return
    low, high = said
    told = f"{low:g}" if low == high else f"{low:g} to {high:g}"
    least, most = BLOOMS
    yield Finding(
        "bloom_beyond", Severity.LOOK, where,
        f"The line says {told} bloom, and no gelatine is sold so.",
        f"It is sold with {least:g} to {most:g} bloom; its usual strength counts.",
        "Write what the packet says: 8 g leaf gelatine, 180 bloom.", _PRACTICE,
        span=weighed.line.span,
    )  # fmt: skip


def _is_circular(weighed: WeighedLine) -> bool:
    """Whether the line names a component that it stands in: a mistake says so."""
    grams = weighed.grams
    return isinstance(grams, Unweighable) and "itself" in grams.what


def _not_whole(weighed: WeighedLine, where: str) -> Iterator[Finding]:
    ingredient = weighed.ingredient
    is_egg = ingredient is not None and "egg" in ingredient.id.split("-")
    for amount in weighed.line.amounts:
        counts = amount.unit.name in _WHOLE or (amount.unit.name == "each" and is_egg)
        if counts and abs(amount.value - round(amount.value)) > 1e-9:
            yield Finding(
                "not_whole", Severity.LOOK, where,
                f"{amount.in_words()} {weighed.line.name} is no whole number.",
                "A part of an egg, leaf or pack has to be weighed, and the rest kept.",
                "Take whole ones, or write grams.", _PRACTICE, span=amount.span,
            )  # fmt: skip


def _read_as_step(batch: Batch, step: Step) -> Finding:
    if step.misread == "amount":
        return Finding(
            "read_as_step", Severity.LOOK, batch.component.name,
            f"'{step.text}' was read as a step.",
            "It has an amount, but no name that is known behind a unit that is.",
            "If it is an ingredient, write its grams and its name: 170 g plain flour.",
            span=step.span,
        )  # fmt: skip
    head = step.misread in _HEAD_WORDS
    do = (
        f"'{step.misread}' stands above the first layer: move the line up there."
        if head
        else f"If it was meant as the card word, write '{step.misread}' and its value."
    )
    return Finding(
        "read_as_step", Severity.LOOK, batch.component.name,
        f"'{step.text}' was read as a step.",
        f"It looks like the card word '{step.misread}', but does not read as one.",
        do, span=step.span,
    )  # fmt: skip


def _loss(batch: Batch) -> Iterator[Finding]:
    loss = batch.assumed_loss
    if loss is None or loss.lost_g <= 0:
        return
    yield Finding(
        "loss_assumed", Severity.NOTE, batch.component.name,
        f"{loss.lost_g:.3g} g were taken off: {loss.what}.",
        "The card does not say what is lost.",
        "Weigh it before and after, and write: ends N g weighed.",
        loss.source.text if loss.source else "", span=loss.span,
    )  # fmt: skip


def _named_not_weighed(
    batch: Batch, step: Step, larder: Larder, country: str, others: Iterable[str]
) -> Iterator[Finding]:
    """Larder names in a step that stand on no line of the layer."""
    elsewhere = _words([batch.component.name, *others, *_other_layers(step)])
    weighed = list(_all_lines(batch))
    for name in _unweighed(step, weighed, elsewhere, larder, country):
        yield Finding(
            "named_not_weighed", Severity.LOOK, batch.component.name,
            f"The step '{step.text}' names {name}, which stands on no line here.",
            "What is not weighed is in no figure.",
            f"Add a line: so many g {name}.", span=step.span,
        )  # fmt: skip


def _unweighed(
    step: Step,
    weighed: Sequence[WeighedLine],
    elsewhere: set[str],
    larder: Larder,
    country: str,
) -> Iterator[str]:
    """What a step names that is on none of these lines and no name of a layer."""
    lines = [_words_of(name) for line in weighed for name in _names(line)]
    ids = {line.ingredient.id for line in weighed if line.ingredient}
    for start, end, ingredient in larder.mentions(step.text, country):
        name = step.text[start:end]
        words = _words([name])
        if ingredient.id in _NOT_NAMED | ids or words <= elsewhere:
            continue
        if not any(words <= line for line in lines):
            yield name


def _all_lines(batch: Batch) -> Iterator[WeighedLine]:
    for line in batch.lines:
        yield line
        if line.batch is not None:
            yield from _all_lines(line.batch)


def _names(weighed: WeighedLine) -> Iterator[str]:
    yield weighed.line.text
    if weighed.ingredient is not None:
        yield weighed.ingredient.name


def _other_layers(step: Step) -> Iterable[str]:
    if step.within:
        yield step.within.layer
    if step.when:
        yield step.when.layer


def _words(names: Iterable[str]) -> set[str]:
    return {word for name in names for word in _words_of(name)}


@lru_cache(maxsize=4096)
def _words_of(name: str) -> frozenset[str]:
    found = re.findall(r"[^\W\d_]+", name.casefold())
    return frozenset(word.removesuffix("s") for word in found)


def _sources(grams: Ranged) -> str:
    return "; ".join(source.text for source in grams.sources)
