"""What stands under the heading Watch: every room's findings, weightiest first."""

from collections.abc import Iterator, Sequence

from slabwright.finding import Ask, Finding, Reading, Severity
from slabwright.formula.batch import Batch
from slabwright.formula.book import Book
from slabwright.formula.findings import findings as formula_findings
from slabwright.kitchen import Kitchen
from slabwright.slab.findings import findings as slab_findings
from slabwright.slab.stack import Stacked
from slabwright.spec.card import Card
from slabwright.spec.kit import findings as kit_findings
from slabwright.spec.specification import CostFigures

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
        *_from_formulas(batches, kitchen, book),
        *_prices(card, cost),
    ]
    once = dict.fromkeys(found)
    return tuple(sorted(once, key=lambda finding: _WEIGHT[finding.severity]))


def _from_formulas(
    batches: Sequence[Batch], kitchen: Kitchen, book: Book
) -> Iterator[Finding]:
    for batch in {id(b): b for b in batches}.values():
        yield from formula_findings(batch, book.larder, book.habits.country)
        yield from kit_findings(batch, kitchen)


def _empty(card: Card, lie: Sequence[Stacked]) -> Iterator[Finding]:
    if not card.is_component and not card.tin:
        yield Finding(
            "no_tin", Severity.LOOK, card.name, "The card names no tin.",
            "Without its area no layer has a depth.", "Write tin 30 x 20 x 5 cm.",
        )  # fmt: skip
    for number, layer in enumerate(lie):
        if not layer.batch.lines:
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
    used: dict[int, float] = {}
    sources: dict[int, Batch] = {}
    for layer in lie:
        key = id(layer.batch)
        sources[key] = layer.batch
        used[key] = used.get(key, 0.0) + (layer.mass.value if layer.mass else 0.0)
    for key, grams in used.items():
        if all(layer.mass for layer in lie if id(layer.batch) == key):
            yield from _against(sources[key], grams)
    inner: dict[str, tuple[Batch, float]] = {}
    for layer in lie:
        _tally(layer.batch, 1.0 if layer.batches is None else layer.batches, inner)
    for batch, grams in inner.values():
        yield from _against(batch, grams)
    named = {layer.from_name for layer in card.layers}
    for layer in apart:
        name = layer.batch.component.name
        idle = id(layer.batch) not in used and name not in inner and name not in named
        if idle and not card.is_component and layer.mass:
            yield from _against(layer.batch, 0.0)


def _tally(batch: Batch, times: float, found: dict[str, tuple[Batch, float]]) -> None:
    """Add what so many batches take of the components inside them."""
    for line in batch.lines:
        inner, grams = line.batch, line.mass_g
        if inner is None or grams is None:
            continue
        name = inner.component.name
        before = found.get(name, (inner, 0.0))[1]
        found[name] = (inner, before + grams * times)
        out = inner.mass_out
        if out is not None and out.value > 0:
            _tally(inner, times * grams / out.value, found)


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
        f"That is {used_g / out.value:.3g} batches.",
        "Make more of it, or take less.", span=batch.component.span,
    )  # fmt: skip


def _prices(card: Card, cost: CostFigures | None) -> Iterator[Finding]:
    if cost is not None and cost.missing:
        yield Finding(
            "no_price", Severity.NOTE, card.name,
            f"No price is known for {', '.join(cost.missing)}.",
            "What it costs stands in no sum.", "Add it to prices.yaml.",
        )  # fmt: skip


def asks(batches: Sequence[Batch]) -> tuple[Ask, ...]:
    """Doubts that only the maker can settle; the first reading is used meanwhile."""
    found: list[Ask] = []
    for batch in {id(b): b for b in batches}.values():
        for line in batch.lines:
            if line.disagrees:
                found.append(
                    Ask(
                        f"{batch.component.name}: {line.line.name}",
                        f"The two measures differ: {line.disagrees}.",
                        (
                            Reading(f"{line.mass_g:.4g} g", "the first one counts"),
                            Reading("the other", "write it first, or alone"),
                        ),
                        line.line.span,
                    )
                )
    return tuple(dict.fromkeys(found))
