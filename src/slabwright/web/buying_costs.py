"""What the slabs cost, and what a change of prices does to all of them."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from typing import Annotated

from fastapi import APIRouter, Query, Request, Response
from markupsafe import Markup

from slabwright.cost.prices import money
from slabwright.counter.costs import Costs
from slabwright.counter.needs import Trays
from slabwright.counter.price_change import Effect
from slabwright.desk.counter import costs_of
from slabwright.errors import FileError, Mistake
from slabwright.figure import Figure
from slabwright.publish import words
from slabwright.publish.draw import drawn
from slabwright.publish.drawing.palette import colour_key
from slabwright.publish.drawing.share_bar import BarPart, share_bar_svg, swatch_svg
from slabwright.publish.money_rows import pennies
from slabwright.spec.specification import Specification
from slabwright.web.counter_view import counter_of, spec_on
from slabwright.web.desk_pages import slab_at
from slabwright.web.fields import CardId
from slabwright.web.house import looking, render
from slabwright.web.shown import drawing

router = APIRouter(include_in_schema=False)

Day = Annotated[str, Query(max_length=20)]
Changes = Annotated[str, Query(max_length=1000)]
Count = Annotated[int, Query(ge=1, le=10_000)]


@dataclass(frozen=True, slots=True)
class Costed:
    """A slab with what it costs."""

    id: int
    name: str
    spec: Specification

    def bar(self, most: float) -> Markup:
        """The cost of its layers, all slabs at one scale.

        Args:
            most: cost of the dearest slab.
        """
        cost = self.spec.cost
        if cost is None or not cost.ingredients.known or not cost.ingredients.number:
            return Markup("")
        whole = cost.ingredients.number
        parts = [
            BarPart(name, figure.number / whole, fill)
            for name, figure, fill in layer_costs(self.spec)
        ]
        title = f"What the layers of {self.name} cost"
        scale = whole / most if most else 1.0
        return drawing(
            share_bar_svg(parts, prefix=f"cost-{self.id}", title=title, scale=scale)
        )

    @property
    def key(self) -> Iterator[tuple[Markup, str, Figure]]:
        """The key of the bar: a swatch, a layer, what it costs."""
        for name, figure, fill in layer_costs(self.spec):
            yield drawing(swatch_svg(fill)), name, figure


def layer_costs(spec: Specification) -> Iterator[tuple[str, Figure, str]]:
    """Each layer from the bottom: its name, its cost, the colour of its food."""
    if spec.cost is None:
        return
    layers = spec.layers or spec.components
    fills = [colour_key(one.texture, one.fill) for one in drawn(spec).layers]
    for i, (layer, figure) in enumerate(zip(layers, spec.cost.by_layer, strict=True)):
        yield layer.name, figure, fills[i] if i < len(fills) else "plain"


def day_of(typed: str, usual: date) -> date:
    """A day as a field has it; the usual one where it is blank.

    Raises:
        FileError: if it is no day.
    """
    if not typed.strip():
        return usual
    try:
        return date.fromisoformat(typed.strip())
    except ValueError:
        what = f"'{typed:.40}' is no day."
        raise FileError(Mistake(what, "Write it so: 2026-03-01.")) from None


def said_changes(typed: str) -> list[str]:
    """Changes of prices, a line or a semicolon between them."""
    parts = typed.replace(";", "\n").splitlines()
    return [part.strip() for part in parts if part.strip()]


@router.get("/buying/costs")
def costs_page(
    request: Request, what_if: Changes = "", on: Day = "", since: Day = ""
) -> Response:
    """Every slab on the counter: what it costs, and what changes would do."""
    with looking(request) as visit:
        desk = visit.desk
        mistakes: tuple[Mistake, ...] = ()
        day, costs = desk.day, None
        earlier: date | None = None
        try:
            day = day_of(on, desk.day)
            earlier = day_of(since, day) if since.strip() else None
        except FileError as error:
            mistakes = error.mistakes
        counter = counter_of(visit, day)
        orders = [Trays(slab.spec) for slab in counter.slabs]
        try:
            costs = costs_of(orders, desk.folder, day, earlier, said_changes(what_if))
        except FileError as error:
            mistakes = (*mistakes, *error.mistakes)
            costs = costs_of(orders, desk.folder, day, earlier)
        slabs = [Costed(one.card.id, one.card.name, one.spec) for one in counter.slabs]
        known = [one.spec.cost.ingredients for one in slabs if one.spec.cost]
        most = max((f.number for f in known if f.known), default=0.0)
        return render(
            request, "buying_costs.html", visit=visit, status=422 if mistakes else 200,
            title="Costs", here="Buying", stop="Costs", slabs=slabs, most=most,
            costs=costs, what_if=what_if, on=on, since=since, day=day,
            mistakes=mistakes, effects=[Changed(one) for one in costs.effects],
            addresses={one.name: one.id for one in slabs}, per_kg=per_kg,
            counter=counter, currency=costs.currency,
        )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Changed:
    """A slab before and after a change of prices."""

    effect: Effect

    @property
    def slab_rise(self) -> str:
        """By how much the slab grows dearer, with its sign."""
        before, after = self.effect.before, self.effect.after
        return signed(pennies(after.value) - pennies(before.value))

    @property
    def share(self) -> str:
        """The same as a share."""
        share = self.effect.rise_share
        return "" if share is None else f"{share:+.1%}"


def signed(value: object) -> str:
    """Money with its sign, to the penny."""
    return f"{value:+,.2f}"


def per_kg(price: object, currency: str) -> str:
    """What a kilogram costs at a price; in words where there is none."""
    each = getattr(price, "per_gram", None)
    return "no price" if each is None else words.money(money(each * 1000), currency)


@router.get("/buying/costs/{card_id}")
def slab_costs(
    request: Request, card_id: CardId, trays: Count = 1, on: Day = ""
) -> Response:
    """One slab in full: lines, layers, trim, waste, opened packs, left-overs."""
    with looking(request) as visit:
        card = slab_at(visit, card_id)
        desk = visit.desk
        mistakes: tuple[Mistake, ...] = ()
        day = desk.day
        try:
            day = day_of(on, desk.day)
        except FileError as error:
            mistakes = error.mistakes
        spec = spec_on(visit, card, day)
        costs: Costs = costs_of([Trays(spec, trays)], desk.folder, day)
        one = costs.slabs[0]
        slab = Costed(card.id, card.name, spec)
        whole = spec.cost.ingredients if spec.cost else None
        return render(
            request, "buying_slab.html", visit=visit, status=422 if mistakes else 200,
            title=f"Cost of {card.name}", here="Buying", stop="Costs", card=card,
            spec=spec, cost=spec.cost, costs=costs, one=one, slab=slab, day=day, on=on,
            trays=trays, mistakes=mistakes, currency=costs.currency,
            bar=slab.bar(whole.number if whole and whole.known else 0.0),
            layers=list(zip(spec.layers or spec.components,
                            spec.cost.by_layer if spec.cost else (), strict=False)),
        )  # fmt: skip
