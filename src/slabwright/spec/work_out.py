"""A slab worked out: one function, from a card to a specification."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction

from slabwright.cost.prices import PriceList
from slabwright.cut.request import CutRequest
from slabwright.errors import Mistake
from slabwright.figure import Figure, Ranged, leans_of, weakest, withheld
from slabwright.formula.batch import Batch, all_batches, work
from slabwright.formula.book import Book, slug
from slabwright.formula.percent import Base, base_on, usual_base
from slabwright.formula.step import Step
from slabwright.kitchen import Kitchen
from slabwright.slab.stack import Stacked, Wish, stack
from slabwright.slab.tin import Tin
from slabwright.spec.card import Card, CardLayer, SaidCut
from slabwright.spec.costing import (
    cost_figures,
    cost_per_gram,
    ingredients_of,
    old_prices,
)
from slabwright.spec.cut_findings import cut_findings
from slabwright.spec.cutting import cut_figures
from slabwright.spec.kit import shelf_findings, use_findings
from slabwright.spec.layers import layer_figures, sum_of
from slabwright.spec.loads import place_loads
from slabwright.spec.nature.natures import findings_of, natures_of
from slabwright.spec.specification import (
    CutFigures,
    LayerFigures,
    Specification,
)
from slabwright.spec.vessel_use import vessel_uses
from slabwright.spec.watch import asks, findings, weightiest_first


@dataclass(frozen=True, slots=True)
class Order:
    """What is handed to the sum beside the card."""

    kitchen: Kitchen
    book: Book
    prices: PriceList | None = None
    on: date | None = None
    """The day whose prices hold."""
    base: str = ""
    """The line that counts as 100 %; empty for the usual one."""


def work_out(card: Card, order: Order, errors: Iterable[Mistake] = ()) -> Specification:
    """Work out a slab, from grams to findings.

    Args:
        card: what the maker wrote.
        order: kitchen, names, prices.
        errors: mistakes that the reader of the card found.
    """
    own_formulas = [layer.component for layer in card.layers if not layer.from_name]
    book = order.book.with_components(card.components).with_layers(own_formulas)
    tin = card.tin.tin if card.tin else None
    used: dict[str, Batch] = {}
    batches = [_batch(layer, book, used) for layer in card.layers]
    lie = stack(
        [
            (layer.name, batch, _wish(layer))
            for layer, batch in zip(card.layers, batches, strict=True)
        ],
        tin,
    )
    own = tuple(work(c, book) for c in card.components if slug(c.name) not in used)
    apart = stack([(b.component.name, b, Wish()) for b in (*used.values(), *own)], None)
    costs = _costs([*batches, *own], order)
    layers, components = _figures(card, lie, apart, costs, order)
    mass = sum_of([layer.mass_out_g for layer in layers], "g", "no layer has a weight")
    height = sum_of([layer.depth_mm for layer in layers], "mm", "no layer has a depth")
    cut, others, wrong = _cuts(card, tin, height, mass, order)
    cost = None
    if costs:  # nothing priced costs nothing known, and not 0
        worth = lie or apart
        cost = cost_figures(worth, costs, order.kitchen, cut, mass)
        cost = replace(cost, old=old_prices(costs, order.prices, order.on))
    every = [inner for batch in (*batches, *own) for inner in all_batches(batch)]
    kit = vessel_uses(every, order.kitchen)
    places = place_loads(tin, _steps(card, every), order.kitchen)
    natures, touching = natures_of(card, layers, components, order.kitchen)
    mistakes = dict.fromkeys(m for batch in every for m in batch.mistakes)
    return Specification(
        card=card,
        kitchen=order.kitchen,
        tin=tin,
        area_cm2=_area(tin),
        mass_g=mass,
        height_mm=height,
        head_room_mm=_head_room(tin, height),
        water_share=_water(layers, mass),
        layers=layers,
        components=components,
        cut=cut,
        other_cuts=others,
        cost=cost,
        findings=weightiest_first(
            (
                *findings(card, lie, apart, every, order.kitchen, book, cost),
                *shelf_findings(card.name, places),
                *use_findings(kit),
                *findings_of(natures, touching),
                *(
                    found
                    for one in (cut, *others)
                    if one is not None
                    for found in cut_findings(card.name, one, height)
                ),
            )
        ),
        asks=(*card.asks, *asks(every, book, is_pasted=card.is_pasted)),
        errors=_sorted((*errors, *mistakes, *wrong)),
        kit=kit,
        places=places,
        natures=natures,
        touching=touching,
    )


def _steps(card: Card, batches: Sequence[Batch]) -> list[Step]:
    """Everything that is done, to the whole slab too."""
    finish = card.finish.steps if card.finish else ()
    return [s for batch in batches for s in batch.component.steps] + list(finish)


def _batch(layer: CardLayer, book: Book, used: dict[str, Batch]) -> Batch:
    """The batch that a layer takes from: its own formula or a component's."""
    source = book.component(layer.from_name) if layer.from_name else None
    if source is None:
        return work(layer.component, book)
    name = slug(source.name)
    if name not in used:
        used[name] = work(source, book)
    own = layer.component
    if not own.events and not own.kind:
        return used[name]
    merged = type(own)(
        own.name, (*source.events, *own.events), own.span, own.kind or source.kind,
        own.file or source.file, own.is_broken or source.is_broken,
    )  # fmt: skip
    return work(merged, book)


def _wish(layer: CardLayer) -> Wish:
    take = layer.take
    return Wish(take.grams, take.depth_mm, take.batches, not layer.from_name)


def _costs(batches: Sequence[Batch], order: Order) -> dict[str, Fraction]:
    ingredients = [found for batch in batches for found in ingredients_of(batch)]
    return cost_per_gram(ingredients, order.prices, order.on)


def _figures(
    card: Card,
    lie: Sequence[Stacked],
    apart: Sequence[Stacked],
    costs: dict[str, Fraction],
    order: Order,
) -> tuple[tuple[LayerFigures, ...], tuple[LayerFigures, ...]]:
    mass = _whole([layer.mass for layer in lie])
    depth = _whole([layer.depth for layer in lie])

    def made(layer: CardLayer | None, stacked: Stacked) -> LayerFigures:
        alone = layer is None
        return layer_figures(
            layer,
            stacked,
            None if alone else mass,
            None if alone else depth,
            _base(stacked.batch, order.base),
            order.kitchen,
            costs,
        )

    layers = tuple(made(c, s) for c, s in zip(card.layers, lie, strict=True))
    return layers, tuple(made(None, stacked) for stacked in apart)


def _whole(parts: Sequence[Ranged | None]) -> Ranged | None:
    """All of it; None if a part is not known."""
    known = [part for part in parts if part is not None]
    if not known or len(known) < len(parts):
        return None
    value = sum(part.value for part in known)
    low, high = (sum(part.low for part in known), sum(part.high for part in known))
    return Ranged(value, low, high, leans_of([p.leans for p in known]), f"{value:.5g}")


def _base(batch: Batch, name: str) -> Base | None:
    named = base_on(name, batch.lines) if name else None
    return named or usual_base(batch.lines)


def _area(tin: Tin | None) -> Figure:
    if tin is None:
        return withheld("cm²", "the card names no tin")
    area = tin.area_mm2() / 100
    return Figure(area, "cm²", f"{tin.describe()}: {area:.6g} cm² at the base")


def _head_room(tin: Tin | None, height: Figure) -> Figure:
    if tin is None:
        return withheld("mm", "the card names no tin")
    if tin.depth_mm is None:
        return withheld("mm", "the card does not say how deep the tin is")
    if height.value is None:
        return withheld("mm", height.sum)
    room = tin.depth_mm - height.number
    said = f"{tin.depth_mm:g} - {height.number:.1f} = {room:.1f} mm"
    low = None if height.high is None else tin.depth_mm - height.high
    high = None if height.low is None else tin.depth_mm - height.low
    standing = weakest([height.standing, "given"])
    return Figure(room, "mm", said, standing, low, high, height.sources)


def _water(layers: Sequence[LayerFigures], mass: Figure) -> Figure:
    """Share of water in the whole slab."""
    parts = [
        (layer.mass_out_g, layer.water_share)
        for layer in layers
        if layer.mass_out_g.known and layer.water_share.known
    ]
    if mass.value is None or len(parts) < len(layers) or not mass.number > 0:
        return withheld("share", "a layer's water is not known")
    grams = sum(m.number * w.number for m, w in parts)
    said = f"{grams:.4g} g water ÷ {mass.number:.5g} g = {grams / mass.number:.1%}"
    standing = weakest([f.standing for pair in parts for f in pair] + ["given"])
    return Figure(grams / mass.number, "share", said, standing)


def _cuts(
    card: Card, tin: Tin | None, height: Figure, mass: Figure, order: Order
) -> tuple[CutFigures | None, tuple[CutFigures, ...], tuple[Mistake, ...]]:
    """The cut in the slab's own tin, those in other tins, and what is wrong."""
    own: CutFigures | None = None
    others: list[CutFigures] = []
    wrong: list[Mistake] = []
    for said in (*card.cuts, *_as_divided(card)):
        found = _one_cut(said, tin, height, mass, order)
        if isinstance(found, Mistake):
            file = card.layers[0].component.file if card.layers else ""
            wrong.append(_placed(found, file))
        elif found is not None and not said.tin_name and own is None:
            own = found
        elif found is not None:
            others.append(found)
    return own, tuple(others), tuple(wrong)


def _as_divided(card: Card) -> tuple[SaidCut, ...]:
    """A divided tin gives its cells as pieces, where the card says no cut of it."""
    said = card.tin
    if said is None or not said.tin.divided:
        return ()
    if any(not cut.tin_name for cut in card.cuts):
        return ()
    along, across = said.tin.cells
    request = CutRequest(along=along, across=across)
    return (SaidCut("as divided", request, said.span),)


def _one_cut(
    said: SaidCut, tin: Tin | None, height: Figure, mass: Figure, order: Order
) -> CutFigures | Mistake | None:
    if not said.tin_name:
        if tin is None:
            return None
        return cut_figures(said, tin, height, mass, order.kitchen)
    other = said.tin
    if other is None:
        return None
    factor = other.area_mm2() / tin.area_mm2() if tin is not None else 1.0
    whole = mass if tin is not None else withheld("g", "the card names no tin")
    return cut_figures(said, other, height, whole, order.kitchen, area_factor=factor)


def _placed(mistake: Mistake, file: str) -> Mistake:
    where = type(mistake.where)(file, mistake.where.span, mistake.where.field)
    return Mistake(mistake.what, mistake.do, where, mistake.nearest)


def _sorted(mistakes: Iterable[Mistake]) -> tuple[Mistake, ...]:
    """In the order of the card, each once."""

    def place(mistake: Mistake) -> tuple[str, int, int]:
        span = mistake.where.span
        line, column = (span.line, span.column) if span else (0, 0)
        return mistake.where.file, line, column

    return tuple(sorted(dict.fromkeys(mistakes), key=place))
