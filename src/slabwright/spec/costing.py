"""What the ingredients of a slab cost, layer by layer and by the piece."""

from collections.abc import Iterator
from datetime import date
from decimal import Decimal

from slabwright.cost.prices import PriceList, Use, cost_uses
from slabwright.figure import Figure, Standing, withheld
from slabwright.formula.batch import Batch, WeighedLine
from slabwright.larder.ingredient import Ingredient
from slabwright.slab.stack import Stacked
from slabwright.spec.specification import CostFigures, CutFigures


def cost_per_gram(
    ingredients: list[Ingredient], prices: PriceList | None, on: date | None
) -> dict[str, Decimal]:
    """What a gram costs, by larder id, of all that has a price on this day."""
    if prices is None or on is None:
        return {}
    uses = [Use(found.id, found.name, 1.0) for found in ingredients]
    costed = cost_uses(uses, prices, on)
    return {one.use.larder_id: one.cost for one in costed if one.cost is not None}


def ingredients_of(batch: Batch) -> Iterator[Ingredient]:
    """Every ingredient of a batch, those of components inside it too."""
    for line in batch.lines:
        if line.batch is not None:
            yield from ingredients_of(line.batch)
        elif line.ingredient is not None:
            yield line.ingredient


def uses_of(batch: Batch, batches: float) -> Iterator[Use]:
    """What so many batches take, components opened to their ingredients."""
    for line in batch.lines:
        grams = line.mass_g
        if grams is None:
            continue
        if line.batch is not None:
            out = line.batch.mass_out
            if out is not None and out.value > 0:
                yield from uses_of(line.batch, batches * grams / out.value)
        elif line.ingredient is not None:
            yield Use(line.ingredient.id, line.ingredient.name, grams * batches)
        else:
            yield Use("", line.line.name, grams * batches)


def cost_per_gram_of(line: WeighedLine, costs: dict[str, Decimal]) -> Decimal | None:
    """What a gram of a line's ingredient or component costs; None without a price."""
    if line.batch is None:
        return costs.get(line.ingredient.id) if line.ingredient else None
    out = line.batch.mass_out
    uses = [use for use in uses_of(line.batch, 1.0) if use.larder_id != "water"]
    if out is None or not out.value > 0 or any(u.larder_id not in costs for u in uses):
        return None
    whole = sum((costs[u.larder_id] * Decimal(str(u.grams)) for u in uses), Decimal(0))
    return whole / Decimal(str(out.value))


def cost_figures(
    layers: tuple[Stacked, ...],
    costs: dict[str, Decimal],
    currency: str,
    cut: CutFigures | None,
) -> CostFigures:
    """Cost of the ingredients; what has no price is named and stands in no sum."""
    missing: dict[str, None] = {}
    by_layer: list[Figure] = []
    whole = Decimal(0)
    for layer in layers:
        batches = 1.0 if layer.batches is None else layer.batches
        cost = Decimal(0)
        for use in uses_of(layer.batch, batches):
            if use.larder_id == "water":
                continue
            if use.larder_id in costs:
                cost += costs[use.larder_id] * Decimal(str(use.grams))
            else:
                missing.setdefault(use.name)
        said = f"{layer.name}: its lines at pack prices = {cost:.4f} {currency}"
        by_layer.append(Figure(cost, currency, said, Standing.WORKED_OUT))
        whole += cost
    parts = " + ".join(f"{figure.number:.4f}" for figure in by_layer) or "nothing"
    more = f"; without {', '.join(missing)}, which have no price" if missing else ""
    total = Figure(whole, currency, f"{parts} = {whole:.4f} {currency}{more}")
    return CostFigures(
        currency, total, _per_piece(total, cut), tuple(by_layer), tuple(missing)
    )


def _per_piece(total: Figure, cut: CutFigures | None) -> Figure | None:
    if cut is None:
        return None
    if total.value is None:
        return withheld(total.unit, total.sum)
    pieces = cut.cutting.pieces
    value = Decimal(str(total.value)) / pieces
    said = f"{total.number:.4f} ÷ {pieces} pieces = {value:.4f}; they pay for the trim"
    return Figure(value, total.unit, said)
