"""What the ingredients of a slab cost: by line, layer and piece; trim and waste."""

from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from decimal import Decimal
from fractions import Fraction
from typing import Final

from slabwright.cost.prices import SINCE_EVER, PriceList, Rates, Use, exact, money
from slabwright.figure import Figure, Ranged, Standing, weakest, withheld
from slabwright.formula.batch import Batch
from slabwright.formula.weigh import Unweighable
from slabwright.formula.weighed import WeighedLine
from slabwright.kitchen import Kitchen
from slabwright.larder.ingredient import Ingredient
from slabwright.slab.stack import Stacked
from slabwright.spec.specification import CostFigures, CutFigures, Specification

WATER = "water"
"""Is never bought, and costs nothing here."""
_OLD_DAYS: Final = 366
"""A price that holds longer than this is doubted. Common practice, no source."""


def cost_per_gram(
    ingredients: list[Ingredient], prices: PriceList | None, on: date | None
) -> dict[str, Fraction]:
    """What a gram costs, by larder id, of all that has a price on this day."""
    if prices is None or on is None:
        return {}
    return prices.rates((found.id for found in ingredients), on)


def old_prices(
    costs: Rates, prices: PriceList | None, on: date | None
) -> tuple[str, ...]:
    """Names of what counts at a price that is over a year old on this day."""
    if prices is None or on is None:
        return ()
    counted = (prices.price_of(id, on) for id in costs)
    return tuple(
        price.ingredient
        for price in counted
        if price is not None
        and price.from_day != SINCE_EVER  # says nothing of its age
        and (on - price.from_day).days > _OLD_DAYS
    )


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
            found, pieces = line.ingredient, _pieces(line)
            pieces = None if pieces is None else pieces * batches
            yield Use(found.id, found.name, grams * batches, pieces)
        else:
            yield Use("", line.line.name, grams * batches)


def _pieces(line: WeighedLine) -> float | None:
    """How many the line counts; None where it weighs or measures."""
    amounts = line.line.amounts
    if not amounts or any(amount.unit.name != "each" for amount in amounts):
        return None
    return sum(amount.value for amount in amounts)


def uses_of_slab(
    spec: Specification, *, whole_batches: bool = False
) -> tuple[Use, ...]:
    """What a slab takes, components opened, in the order of its card; no water.

    Args:
        spec: the slab worked out; a card of components gives a batch of each.
        whole_batches: what is weighed out: the whole batch of a layer's own formula,
            also where some of it is left over. Else what lies in the slab.
    """
    layers = spec.layers or spec.components
    uses = []
    for layer in layers:
        batches = 1.0
        out, batch = layer.mass_out_g, layer.batch_out_g
        if spec.layers and out.known and batch.known and batch.number > 0:
            batches = out.number / batch.number
        if whole_batches and not layer.from_component:
            batches = max(1.0, batches)
        uses += [u for u in uses_of(layer.batch, batches) if u.larder_id != WATER]
    return tuple(uses)


def unweighed_in(batch: Batch) -> Iterator[str]:
    """Names of lines whose grams are not known, so that they stand in no sum."""
    for line in batch.lines:
        inner = line.batch
        if isinstance(line.grams, Unweighable):
            yield line.line.name
        elif inner is not None and line.grams is not None:
            if inner.mass_out is None or not inner.mass_out.value > 0:
                yield line.line.name
            yield from unweighed_in(inner)


def cost_per_gram_of(line: WeighedLine, costs: Rates) -> Fraction | None:
    """What a gram of a line's ingredient or component costs; None without a price."""
    if line.batch is None:
        return costs.get(line.ingredient.id) if line.ingredient else None
    out = line.batch.mass_out
    uses = [use for use in uses_of(line.batch, 1.0) if use.larder_id != WATER]
    if out is None or not out.value > 0 or any(u.larder_id not in costs for u in uses):
        return None
    return cost_of(uses, costs) / exact(out.value)


def cost_of(uses: Iterable[Use], costs: Rates) -> Fraction:
    """What they cost together, exactly; what has no price is in no sum."""
    priced = (use for use in uses if use.larder_id in costs)
    return sum((costs[u.larder_id] * exact(u.grams) for u in priced), Fraction(0))


def cost_of_line(
    line: WeighedLine, grams: float | None, currency: str, costs: Rates
) -> Figure | None:
    """What so many grams of a line cost; None without a price or a weight."""
    each = cost_per_gram_of(line, costs)
    if each is None or grams is None:
        return None
    value = money(each * exact(grams))
    said = (
        f"{grams:.5g} g × {money(each * 1000):.4f} {currency}/kg = "
        f"{value:.4f} {currency}"
    )
    leans = line.grams.leans if isinstance(line.grams, Ranged) else "assumed"
    return Figure(value, currency, said, weakest([leans]))


def cost_figures(
    layers: Sequence[Stacked],
    costs: Rates,
    kitchen: Kitchen,
    cut: CutFigures | None,
    mass_g: Figure,
) -> CostFigures:
    """Cost of the ingredients; what has no price is named and stands in no sum.

    Args:
        layers: bottom first.
        costs: what a gram costs, by larder id.
        kitchen: currency and waste allowance.
        cut: how it is cut; the pieces pay for the trim.
        mass_g: of the finished slab [g].
    """
    currency = kitchen.currency
    missing: dict[str, None] = {}
    unweighed: dict[str, None] = {}
    by_layer: list[Figure] = []
    whole = Fraction(0)
    for layer in layers:
        batches = 1.0 if layer.batches is None else layer.batches
        uses = [u for u in uses_of(layer.batch, batches) if u.larder_id != WATER]
        missing.update((u.name, None) for u in uses if u.larder_id not in costs)
        unweighed.update((name, None) for name in unweighed_in(layer.batch))
        cost = cost_of(uses, costs)
        value = money(cost)
        said = f"{layer.name}: its lines at pack prices = {value:.4f} {currency}"
        by_layer.append(Figure(value, currency, said, Standing.WORKED_OUT))
        whole += cost
    parts = " + ".join(f"{figure.number:.4f}" for figure in by_layer) or "nothing"
    said = f"{parts} = {money(whole):.4f} {currency}{_without(missing, unweighed)}"
    total = Figure(money(whole), currency, said)
    waste = exact(kitchen.waste_share)
    bought = _with_waste(total, whole, waste)
    return CostFigures(
        currency=currency,
        ingredients=total,
        ingredients_per_piece=_per_piece(total, whole, cut),
        by_layer=tuple(by_layer),
        missing=tuple(missing),
        unweighed=tuple(unweighed),
        trim=_trim(total, whole, cut, mass_g),
        waste_allowance=_waste(total, whole, waste),
        with_waste=bought,
        with_waste_per_piece=_per_piece(bought, whole / (1 - waste), cut),
    )


def _without(missing: Iterable[str], unweighed: Iterable[str]) -> str:
    """What stands in no sum, in words."""
    names, lost = ", ".join(missing), ", ".join(unweighed)
    said = f"; without {names}, which have no price" if names else ""
    return f"{said}; without {lost}, whose weight is not known" if lost else said


def _per_piece(
    total: Figure, exact_total: Fraction, cut: CutFigures | None
) -> Figure | None:
    if cut is None:
        return None
    if total.value is None:
        return withheld(total.unit, total.sum)
    pieces = cut.cutting.pieces
    value = money(exact_total / pieces)
    said = f"{total.number:.4f} ÷ {pieces} pieces = {value:.4f}; they pay for the trim"
    return Figure(value, total.unit, said)


def _trim(
    total: Figure, whole: Fraction, cut: CutFigures | None, mass_g: Figure
) -> Figure | None:
    """What the trim costs: its share of the finished mass, at the slab's mean."""
    if cut is None or cut.trim_g.value is None or not mass_g.known:
        return None
    if not mass_g.number > 0:
        return None
    share = exact(cut.trim_g.number) / exact(mass_g.number)
    value = money(whole * share)
    said = (
        f"{cut.trim_g.number:.4g} g of {mass_g.number:.5g} g × {total.number:.4f} "
        f"= {value:.4f} {total.unit}; the pieces pay for it"
    )
    return Figure(value, total.unit, said, weakest([cut.trim_g.standing, "given"]))


def _waste(total: Figure, whole: Fraction, waste: Fraction) -> Figure:
    """What is bought beyond what goes in: the kitchen's allowance."""
    value = money(whole * waste / (1 - waste))
    share = Decimal(waste.numerator) / waste.denominator
    said = (
        f"{total.number:.4f} ÷ (1 - {share:f}) - {total.number:.4f} = "
        f"{value:.4f} {total.unit}; the kitchen allows {share:.2%} of what it buys"
    )
    return Figure(value, total.unit, said)


def _with_waste(total: Figure, whole: Fraction, waste: Fraction) -> Figure:
    value = money(whole / (1 - waste))
    share = Decimal(waste.numerator) / waste.denominator
    said = f"{total.number:.4f} ÷ (1 - {share:f}) = {value:.4f} {total.unit}"
    return Figure(value, total.unit, said)
