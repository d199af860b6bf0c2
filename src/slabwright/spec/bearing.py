"""What a tray and its pieces take: ingredients, hands, energy, packaging, overheads.

What nobody has told is named and stands in no sum; it is never nothing.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final, Literal

from slabwright.cost.prices import Rates, exact, money
from slabwright.figure import Figure, Ranged, Standing, withheld
from slabwright.formula.batch import Batch, all_batches
from slabwright.formula.step import Step
from slabwright.kitchen import Kitchen, Told
from slabwright.spec.costing import (
    WATER,
    cost_of,
    cost_per_gram_of,
    unweighed_in,
    uses_of,
)
from slabwright.spec.specification import Specification

Key = Literal["ingredients", "left over", "hands", "energy", "packaging", "overheads"]
DIRECT: Final[tuple[Key, ...]] = (
    "ingredients", "left over", "hands", "energy", "packaging",
)  # fmt: skip
"""What a wholesale price must bring back at the least; overheads are not in it."""


@dataclass(frozen=True, slots=True)
class Likely:
    """A sum of money with its likely range, exact."""

    value: Fraction
    low: Fraction
    high: Fraction

    def __add__(self, other: "Likely") -> "Likely":
        return Likely(
            self.value + other.value, self.low + other.low, self.high + other.high
        )

    def times(self, factor: Fraction) -> "Likely":
        """So many times as much; of a factor from 0."""
        return Likely(self.value * factor, self.low * factor, self.high * factor)


NOTHING: Final = Likely(Fraction(0), Fraction(0), Fraction(0))


@dataclass(frozen=True, slots=True)
class Part:
    """One thing that a making takes, by the tray, the piece or what is sold."""

    key: Key
    per: Literal["tray", "piece", "box"]
    money: Likely
    sum: str


@dataclass(frozen=True, slots=True)
class Lacking:
    """What nobody has told, so that it stands in no sum."""

    key: Key
    what: str
    do: str


@dataclass(frozen=True, slots=True)
class Bearing:
    """Everything that a tray and its pieces take, and what is not known of it."""

    parts: tuple[Part, ...]
    lacking: tuple[Lacking, ...]
    layers: tuple[tuple[str, Fraction], ...]
    """Ingredients by layer, bottom first."""
    lines: tuple[tuple[str, Fraction], ...]
    """Ingredients of a tray by name, the dearest first."""
    hands_min: Figure
    """Minutes of hands of a tray."""
    oven_min: Figure
    """Minutes that the oven is taken by a tray."""

    def per(self, per: str, keys: Sequence[Key] | None = None) -> Likely:
        """What is borne by the tray, the piece or the box; of these kinds alone."""
        found = NOTHING
        for part in self.parts:
            if part.per == per and (keys is None or part.key in keys):
                found += part.money
        return found


def bearing_of(
    spec: Specification, rates: Rates, kitchen: Kitchen, trays: int
) -> Bearing:
    """What a tray of a making of so many takes.

    Args:
        spec: the slab, worked out.
        rates: what a gram costs, by larder id.
        kitchen: what an hour and a kWh cost, and what every slab bears.
        trays: made at once: what is told by the batch is theirs together, from 1.
    """
    told = (*kitchen.shop.told, *spec.card.costs)
    layers, whole = _by_layer(spec, rates)
    likely = NOTHING
    for _, one in layers:
        likely += one
    currency = kitchen.currency
    said = " + ".join(f"{_m(one.value)}" for _, one in layers) or "nothing"
    said = f"its layers at pack prices: {said} = {_m(likely.value)} {currency}"
    lacking = list(_lacking_ingredients(spec, rates))
    parts: list[Part] = []
    if whole or not lacking:  # what nothing is known of costs no 0.00
        parts.append(Part("ingredients", "tray", likely, said))
    left = sum((cost for _, cost in whole), Fraction(0)) - likely.value
    if left > 0:
        said = f"mixed and not laid into the slab: {_m(left)} {currency}"
        parts.append(Part("left over", "tray", Likely(left, left, left), said))
    hands = _total([*_of_steps(spec, trays), *_of_told(told, "hands", trays)])
    energy = _total(_of_told(told, "energy", trays))
    for found in (_hands(hands, kitchen), _energy(energy, kitchen)):
        if isinstance(found, Part):
            parts.append(found)
        else:
            lacking.append(found)
    lacking += [*_lacking_trays(spec, trays), *_misplaced(spec)]
    parts += _moneys(told, trays, currency)
    lacking += _lacking_money(told)
    oven = _total(_of_told(told, "oven", trays))
    return Bearing(
        tuple(parts),
        tuple(lacking),
        tuple((name, one.value) for name, one in layers),
        tuple(whole),
        _figure(hands, "no step says its minutes of hands, and no costs line"),
        _figure(oven, "no costs line says the minutes of the oven"),
    )


@dataclass(frozen=True, slots=True)
class _Total:
    """Minutes or kWh of a tray, and how they come together."""

    likely: Likely
    sum: str


def _by_layer(
    spec: Specification, rates: Rates
) -> tuple[list[tuple[str, Likely]], list[tuple[str, Fraction]]]:
    """What lies in each layer, and what is weighed out for all, the dearest first."""
    layers: list[tuple[str, Likely]] = []
    whole: dict[str, Fraction] = {}
    for layer in spec.layers or spec.components:
        batches = 1.0
        out, batch = layer.mass_out_g, layer.batch_out_g
        if spec.layers and out.known and batch.known and batch.number > 0:
            batches = out.number / batch.number
        uses = [u for u in uses_of(layer.batch, batches) if u.larder_id != WATER]
        inside = cost_of(uses, rates)
        layers.append((layer.name, _likely(layer.batch, batches, inside, rates)))
        weighed = uses
        if batches < 1 and not layer.from_component:
            weighed = [u for u in uses_of(layer.batch, 1.0) if u.larder_id != WATER]
        for use in weighed:
            if use.larder_id in rates:
                cost = rates[use.larder_id] * exact(use.grams)
                whole[use.name] = whole.get(use.name, Fraction(0)) + cost
    dearest = sorted(whole.items(), key=lambda one: (-one[1], one[0]))
    return layers, dearest


def _likely(batch: Batch, batches: float, value: Fraction, rates: Rates) -> Likely:
    """With the range of its lines' weights, as if all were low, or all high."""
    under = over = Fraction(0)
    for line in batch.lines:
        if not isinstance(line.grams, Ranged) or line.grams.low == line.grams.high:
            continue
        each = cost_per_gram_of(line, rates)
        if each is not None:
            grams = line.grams
            under += each * exact((grams.value - grams.low) * batches)
            over += each * exact((grams.high - grams.value) * batches)
    return Likely(value, value - under, value + over)


def _lacking_ingredients(spec: Specification, rates: Rates) -> Iterator[Lacking]:
    unpriced: dict[str, None] = {}
    unweighed: dict[str, None] = {}
    for layer in spec.layers or spec.components:
        uses = [u for u in uses_of(layer.batch, 1.0) if u.larder_id != WATER]
        unpriced.update((u.name, None) for u in uses if u.larder_id not in rates)
        unweighed.update((name, None) for name in unweighed_in(layer.batch))
    if unpriced:
        names = ", ".join(unpriced)
        yield Lacking("ingredients", f"no price: {names}", "Give it in prices.yaml.")
    if unweighed:
        names = ", ".join(unweighed)
        yield Lacking("ingredients", f"no weight: {names}", "Weigh it.")
    if spec.card.unread:
        count = len(spec.card.unread)
        what = f"{count} of the card's lines can't be read"
        yield Lacking("ingredients", what, "Mend them first.")
    if not (spec.layers or spec.components):
        yield Lacking("ingredients", "the card has no layer", "Write what is in it.")


def _of_steps(spec: Specification, trays: int) -> Iterator[tuple[Likely, str]]:
    """Minutes of hands that the steps tell, a tray, each step once."""
    seen: set[tuple[str, int]] = set()
    for file, step in _steps(spec):
        if step.hands_minutes is None or (file, step.span.line) in seen:
            continue
        seen.add((file, step.span.line))
        band, more = step.hands_minutes, exact(step.hands_a_tray_minutes or 0.0)
        ends = (exact(band.middle), exact(band.low), exact(band.high))
        a_tray = Likely(*(end / trays + more for end in ends))
        yield a_tray, f"{_n(a_tray)} {step.does or 'a step'}"


def _steps(spec: Specification) -> Iterator[tuple[str, Step]]:
    """Every step of the card, and of the components that it takes from."""
    for layer in spec.layers or spec.components:
        for batch in all_batches(layer.batch):
            block = batch.component
            yield from ((block.file, step) for step in block.steps)
    for head in (*spec.card.head, *([spec.card.finish] if spec.card.finish else [])):
        yield from ((head.file, step) for step in head.steps)


def _lacking_trays(spec: Specification, trays: int) -> Iterator[Lacking]:
    """Steps that don't say what a further tray adds, where several are made."""
    silent = dict.fromkeys(
        step.does
        for _, step in _steps(spec)
        if step.hands_minutes is not None and step.hands_a_tray_minutes is None
    )
    if trays > 1 and silent:
        what = f"what a further tray adds to {', '.join(silent)} is not told"
        do = "Write 22 min hands + 4 a tray behind the step; + 0 if it adds none."
        yield Lacking("hands", what, do)


def _misplaced(spec: Specification) -> Iterator[Lacking]:
    """Lines that look like costs and stand where they are steps."""
    for _, step in _steps(spec):
        if step.misread == "costs":
            what = f"'{step.text}' is taken for a step"
            do = "Write costs above the first layer."
            yield Lacking("overheads", what, do)


def _of_told(
    told: Sequence[Told], kind: str, trays: int
) -> Iterator[tuple[Likely, str]]:
    """Minutes or kWh that are told, a tray."""
    for one in told:
        if one.kind == kind:
            a_tray = _of(one, trays)
            yield a_tray, f"{_n(a_tray)} {one.what}".strip()


def _of(told: Told, trays: int) -> Likely:
    """What is told, a tray, a piece or a box; of a batch the tray's share."""
    low, high = Fraction(told.low), Fraction(told.high)
    whole = Likely((low + high) / 2, low, high)
    return whole.times(Fraction(1, trays)) if told.per == "batch" else whole


def _total(found: Iterable[tuple[Likely, str]]) -> _Total | None:
    every = list(found)
    if not every:
        return None
    likely = NOTHING
    for one, _ in every:
        likely += one
    return _Total(likely, " + ".join(said for _, said in every))


def _figure(total: _Total | None, why_not: str) -> Figure:
    """Minutes of a tray as a figure."""
    if total is None:
        return withheld("min", why_not)
    likely = total.likely
    is_wide = likely.low != likely.high
    return Figure(
        float(likely.value),
        "min",
        f"{total.sum} = {float(likely.value):.4g} min a tray, as told",
        Standing.WORKED_OUT,
        float(likely.low) if is_wide else None,
        float(likely.high) if is_wide else None,
    )


def _hands(total: _Total | None, kitchen: Kitchen) -> Part | Lacking:
    if total is None:
        what = "no step and no costs line tells the minutes of hands"
        return Lacking("hands", what, "Write on the card: costs 35 min hands.")
    rate = kitchen.labour_per_hour
    if rate is None:
        what = "what an hour of hands costs is not told"
        return Lacking("hands", what, "Write labour_per_hour in kitchen.yaml.")
    cost = total.likely.times(Fraction(rate) / 60)
    said = (
        f"({total.sum}) min ÷ 60 × {rate} {kitchen.currency} an hour = "
        f"{_m(cost.value)} {kitchen.currency} a tray"
    )
    return Part("hands", "tray", cost, said)


def _energy(total: _Total | None, kitchen: Kitchen) -> Part | Lacking:
    if total is None:
        what = "no costs line tells the kWh"
        return Lacking("energy", what, "Write on the card: costs 3.6 kWh.")
    rate = kitchen.electricity_per_kWh
    if rate is None and total.likely.high > 0:
        what = "what a kWh costs is not told"
        return Lacking("energy", what, "Write electricity_per_kWh in kitchen.yaml.")
    cost = total.likely.times(Fraction(rate or 0))
    said = (
        f"({total.sum}) kWh × {rate or 0} {kitchen.currency} = {_m(cost.value)} "
        f"{kitchen.currency} a tray"
    )
    return Part("energy", "tray", cost, said)


def _moneys(told: Sequence[Told], trays: int, currency: str) -> Iterator[Part]:
    for one in told:
        if one.kind != "money":
            continue
        cost = _of(one, trays)
        said = f"{one.text}: {_m(cost.value)} {currency}"
        if one.per == "piece":
            yield Part("packaging", "piece", cost, f"{said} a piece, as told")
        elif one.per == "box":
            yield Part("packaging", "box", cost, f"{said} a box, as told")
        else:
            yield Part("overheads", "tray", cost, f"{said} a tray, as told")


def _lacking_money(told: Sequence[Told]) -> Iterator[Lacking]:
    pers = {one.per for one in told if one.kind == "money"}
    if not pers & {"piece", "box"}:
        do = "Write costs 0.11 a piece on the card, or for every slab in kitchen.yaml."
        yield Lacking("packaging", "what a piece is packed in is not told", do)
    if not pers & {"batch", "tray"}:
        do = "Write costs 1.20 a tray, rent; 0 if you want none."
        yield Lacking("overheads", "no share of rent, water or counter is told", do)


def _m(value: Fraction) -> str:
    """Money in a sum, to a hundredth of a penny."""
    return f"{money(value):.4f}"


def _n(value: Likely) -> str:
    """Minutes or kWh in a sum."""
    if value.low == value.high:
        return f"{float(value.value):.4g}"
    return f"{float(value.low):.4g}-{float(value.high):.4g}"
