"""What stands under the heading Watch: every room's findings, weightiest first."""

from collections.abc import Iterable, Iterator, Sequence
from difflib import get_close_matches

from slabwright.finding import Ask, Finding, Reading, Severity
from slabwright.formula.batch import Batch
from slabwright.formula.book import Book, slug
from slabwright.formula.findings import findings as formula_findings
from slabwright.formula.findings import unweighed_in_finish
from slabwright.formula.weigh import Unweighable
from slabwright.formula.weighed import WeighedLine
from slabwright.kitchen import Kitchen
from slabwright.quantity.units import PACK_WORDS
from slabwright.slab.findings import findings as slab_findings
from slabwright.slab.stack import Stacked
from slabwright.spec.card import Card
from slabwright.spec.kit import findings as kit_findings
from slabwright.spec.specification import CostFigures
from slabwright.spec.usage import taken

_WEIGHT = {Severity.STOP: 0, Severity.LOOK: 1, Severity.NOTE: 2}
_LEFT_G = 0.5
_LEFT_SHARE = 0.001


def findings(
    card: Card,
    lie: Sequence[Stacked],
    apart: Sequence[Stacked],
    batches: Sequence[Batch],
    kitchen: Kitchen,
    book: Book,
    cost: CostFigures | None,
) -> tuple[Finding, ...]:
    """Everything that the maker should know, what stops first."""
    tin = card.tin.tin if card.tin else None
    found = [
        *slab_findings(card.name, lie, tin),
        *_left_over(card, lie, apart),
        *_empty(card, lie),
        *_unknown_layers(card),
        *_from_formulas(card, batches, kitchen, book),
        *_prices(card, cost),
    ]
    return weightiest_first(dict.fromkeys(found))


def weightiest_first(found: Iterable[Finding]) -> tuple[Finding, ...]:
    """What stops first, then what to look at; else as they come."""
    return tuple(sorted(found, key=lambda finding: _WEIGHT[finding.severity]))


def _from_formulas(
    card: Card, batches: Sequence[Batch], kitchen: Kitchen, book: Book
) -> Iterator[Finding]:
    others = [layer.name for layer in card.layers] + [c.name for c in card.components]
    if card.is_pasted:  # its method was not written layer by layer
        lines = [line for layer in card.layers for line in layer.component.lines]
        others += [f"{line.name} {line.part}" for line in lines]
    for batch in {id(b): b for b in batches}.values():
        yield from formula_findings(batch, book.larder, book.habits.country, others)
        yield from kit_findings(batch, kitchen)
    for step in card.finish.steps if card.finish else ():
        yield from unweighed_in_finish(
            step, batches, book.larder, book.habits.country, others
        )


def _empty(card: Card, lie: Sequence[Stacked]) -> Iterator[Finding]:
    if not card.is_component and not card.tin:
        yield Finding(
            "no_tin", Severity.LOOK, card.name, "The card names no tin.",
            "Without its area no layer has a depth.", "Write tin 30 x 20 x 5 cm.",
        )  # fmt: skip
    for number, layer in enumerate(lie):
        if not layer.batch.lines and not layer.batch.component.is_broken:
            yield Finding(
                "no_lines", Severity.STOP, layer.name, "The layer has no lines.",
                "There is nothing to weigh.", "Write what goes in: 170 g plain flour.",
                span=layer.batch.component.span, layer=number,
            )  # fmt: skip
    names = [layer.name.casefold() for layer in card.layers]
    for said in card.layers:
        if names.count(said.name.casefold()) > 1:
            yield Finding(
                "same_name", Severity.LOOK, said.name, "Two layers have this name.",
                "A step that waits for one of them can't say which.",
                "Give each a name of its own.", span=said.component.span,
            )  # fmt: skip
    for keep in card.keeps:
        if keep.days is None:
            yield Finding(
                "keep_without_days", Severity.NOTE, card.name,
                f"'keep {keep.text}' names no length of time.",
                "Without it no date can be put on the slab.",
                "Write it last: keep chilled, 3 days.", span=keep.span,
            )  # fmt: skip
    if not card.layers and not card.is_component:
        yield Finding(
            "no_layers", Severity.STOP, card.name, "The slab has no layers.",
            "There is nothing to work out.", "Write layer NAME, and its lines below.",
        )  # fmt: skip


def _left_over(
    card: Card,
    lie: Sequence[Stacked],
    apart: Sequence[Stacked],
) -> Iterator[Finding]:
    """What a batch gives against what layers and lines take of it."""
    used: dict[str, tuple[Batch, float]] = {}
    unknown = {layer.batch.component.name for layer in lie if layer.mass is None}
    for layer in lie:
        name = layer.batch.component.name
        before = used.get(name, (layer.batch, 0.0))[1]
        grams = layer.mass.value if layer.mass else 0.0
        used[name] = (layer.batch, before + grams)
    made = [(one.batch, 1.0 if one.batches is None else one.batches) for one in lie]
    for name, (batch, grams) in taken(made).items():
        before = used.get(name, (batch, 0.0))[1]
        used[name] = (batch, before + grams)
    if not card.is_component:
        for stacked in apart:
            used.setdefault(stacked.batch.component.name, (stacked.batch, 0.0))
    for name, (batch, grams) in used.items():
        if name not in unknown:
            yield from _against(batch, grams)


def _unknown_layers(card: Card) -> Iterator[Finding]:
    """Steps that wait for a layer which stands nowhere on the card."""
    blocks = [layer.component for layer in card.layers] + list(card.components)
    blocks += [card.finish] if card.finish else []
    names = {slug(block.name) for block in blocks} | {"slab", "it", "the-slab"}
    for block in blocks:
        for step in block.steps:
            waits = [step.within.layer if step.within else ""]
            waits.append(step.when.layer if step.when else "")
            for name in waits:
                if name and slug(name) not in names:
                    near = get_close_matches(name, [b.name for b in blocks], n=2)
                    yield Finding(
                        "unknown_layer", Severity.LOOK, block.name,
                        f"The step '{step.text}' waits for '{name}'.",
                        "No layer or component here is called so.",
                        f"Write {' or '.join(near)}." if near else "Mend the name.",
                        span=step.span,
                    )  # fmt: skip


def _against(batch: Batch, used_g: float) -> Iterator[Finding]:
    out = batch.mass_out
    if out is None:
        return
    left = out.value - used_g
    name = batch.component.name
    if abs(left) <= max(_LEFT_G, _LEFT_SHARE * out.value):
        return
    if left > 0:
        yield Finding(
            "left_over", Severity.NOTE, name,
            f"{left:.4g} g of {name} is left over.",
            f"A batch gives {out.value:.4g} g, the slab takes {used_g:.4g} g.",
            "Make less of it, take more, or keep it for the next slab.",
            span=batch.component.span,
        )  # fmt: skip
        return
    yield Finding(
        "more_than_batch", Severity.LOOK, name,
        f"The slab takes {used_g:.4g} g of {name}; a batch gives {out.value:.4g} g.",
        f"That is {used_g / out.value:.3g} batches."
        if out.value > 0
        else "No line of it has a weight.",
        "Make more of it, or take less.", span=batch.component.span,
    )  # fmt: skip


def _prices(card: Card, cost: CostFigures | None) -> Iterator[Finding]:
    if cost is not None and cost.missing:
        yield Finding(
            "no_price", Severity.NOTE, card.name,
            f"No price is known for {', '.join(cost.missing)}.",
            "What it costs stands in no sum.", "Add it to prices.yaml.",
        )  # fmt: skip
    if cost is not None and cost.old:
        yield Finding(
            "price_old", Severity.NOTE, card.name,
            f"The price of {', '.join(cost.old)} is over a year old.",
            "It is the latest in the list.", "Look it up, and add it with its day.",
        )  # fmt: skip


def asks(batches: Sequence[Batch], book: Book, *, is_pasted: bool) -> tuple[Ask, ...]:
    """Doubts that only the maker can settle; the first reading is used meanwhile."""
    found: list[Ask] = []
    for batch in {id(b): b for b in batches}.values():
        for line in batch.lines:
            where = f"{batch.component.name}: {line.line.name}"
            if line.disagrees:
                found.append(_which_measure(where, line))
            found.extend(_which_pack(where, line))
            if is_pasted:
                found.extend(_what_is_it(where, line, book))
    return tuple(dict.fromkeys(found))


def _what_is_it(where: str, line: WeighedLine, book: Book) -> Iterator[Ask]:
    """A name that nobody knows, or an amount that comes to no grams."""
    name, span = line.line.name, line.line.span
    if line.is_unknown and not line.line.aside:
        near = book.larder.nearest(name, book.habits.country)
        readings = [
            Reading("unknown", "its weight counts, what it is made of is withheld")
        ]
        readings += [Reading(other, f"write {other}") for other in near]
        yield Ask(where, f"What is '{name}'?", tuple(readings), span)
    elif isinstance(line.grams, Unweighable) and line.line.amounts:
        unknown = Reading("not known", "the layer's weight is withheld")
        grams = Reading("its grams", f"write them before its name: 50 g {name}")
        yield Ask(where, line.grams.what, (unknown, grams), span)


def _which_measure(where: str, line: WeighedLine) -> Ask:
    second = line.line.second
    other = f"the other, {second.in_words()}" if second else "the other"
    readings = (
        Reading(f"{line.mass_g:.4g} g", "the first one counts"),
        Reading(other, "write it first, or alone"),
    )
    question = f"The two measures differ: {line.disagrees}."
    return Ask(where, question, readings, line.line.span)


def _which_pack(where: str, line: WeighedLine) -> Iterator[Ask]:
    """A tin, jar or pack without a weight: the larder's usual ones."""
    if line.ingredient is None or line.line.stated_g is not None or not line.mass_g:
        return
    for amount in line.line.amounts:
        unit = amount.unit.name
        if unit not in PACK_WORDS or amount.size is not None:
            continue
        used = line.mass_g / amount.value
        others = sorted({p.grams for p in line.ingredient.packs} - {used})
        readings = [Reading(f"{used:.4g} g", f"used: {line.mass_g:.4g} g in all")]
        readings += [
            Reading(f"{g:.4g} g", f"would be {g * amount.value:.4g} g in all")
            for g in others[:3]
        ]
        question = f"What does the {unit} of {line.ingredient.name} weigh?"
        yield Ask(where, question, tuple(readings), line.line.span)
