"""A card with more or less of everything: what is written for another tin or mass.

A scaled slab is a card again, so that all that is worked out of a card is worked out
of it in the same way.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from slabwright.errors import Span
from slabwright.formula.book import slug
from slabwright.formula.component import (
    Component,
    Deep,
    Density,
    Ends,
    Event,
    Loses,
    Reads,
)
from slabwright.formula.line import Line
from slabwright.quantity.amount import Amount
from slabwright.quantity.units import unit_named
from slabwright.spec.card import Card, CardLayer, SaidCut, SaidTin, Take
from slabwright.spec.specification import LayerFigures, Specification


@dataclass(frozen=True, slots=True)
class Factors:
    """What each block of a card is multiplied by."""

    layers: tuple[float, ...]
    """Of each layer's mass, bottom first."""
    depths: tuple[float, ...]
    """Of a depth that a layer wishes for, bottom first."""
    components: Mapping[str, float] = field(default_factory=dict)
    """Of the batch of each of the card's own components, by slug."""


@dataclass(frozen=True, slots=True)
class Weighed:
    """What a line is to weigh, and how many pieces that is where it is counted."""

    grams: float
    was_g: float
    count: float | None = None


def scaled_card(
    spec: Specification, factors: Factors, tin: SaidTin | None, cuts: Sequence[SaidCut]
) -> Card:
    """The card of a slab with every amount multiplied.

    Grams that a step leaves or takes go with the amounts; shares stay. A depth that
    was measured stays in its tin: the density that it taught goes along in its place.

    Args:
        spec: the slab as its card says, worked out.
        factors: what each block is multiplied by.
        tin: what it is made in; None where that is several kinds of tin.
        cuts: how it is cut there.
    """
    card = spec.card
    layers = tuple(
        _layer(layer, figures, number, factors)
        for number, (layer, figures) in enumerate(
            zip(card.layers, spec.layers, strict=True)
        )
    )
    own = factors.components
    components = tuple(
        _component(one, own.get(slug(one.name), 1.0), own) for one in card.components
    )
    return replace(
        card,
        tin=tin,
        cuts=tuple(cuts),
        proved=None,
        layers=layers,
        components=components,
    )


def _layer(
    layer: CardLayer, figures: LayerFigures, number: int, factors: Factors
) -> CardLayer:
    take, factor, own = layer.take, factors.layers[number], factors.components
    batches = factor / own.get(slug(layer.from_name), 1.0)
    said = Take(
        take.span,
        None if take.grams is None else take.grams * factor,
        None if take.depth_mm is None else take.depth_mm * factors.depths[number],
        None if take.batches is None else take.batches * batches,
    )
    is_whole = not (take.grams or take.depth_mm or take.batches)
    if layer.from_name and is_whole and batches != 1:
        said = Take(take.span, batches=batches)
    density = figures.density_g_ml.number if figures.density_g_ml.known else None
    component = _component(layer.component, factor, own, density)
    return replace(layer, component=component, take=said)


def _component(
    component: Component,
    factor: float,
    own: Mapping[str, float],
    density_g_ml: float | None = None,
) -> Component:
    """The component with so much of everything.

    Args:
        component: as the card has it.
        factor: what it is multiplied by.
        own: what the card's own components are multiplied by: a line that takes
            batches of one takes as many of the larger ones.
        density_g_ml: what a measured depth taught, where it did.
    """
    events: list[Event] = []
    for event in component.events:
        if isinstance(event, Line):
            by_batch = any(amount.unit.name == "batch" for amount in event.amounts)
            larger = own.get(slug(event.name), 1.0) if by_batch else 1.0
            events.append(scaled_line(event, factor / larger))
        elif isinstance(event, Deep):
            if density_g_ml is not None:
                events.append(Density(event.span, density_g_ml, is_measured=True))
        else:
            events.append(_scaled(event, factor))
    return replace(component, events=tuple(events))


def _scaled(event: Event, factor: float) -> Event:
    if isinstance(event, Reads) and event.grams is not None:
        return replace(event, grams=event.grams * factor)
    if not isinstance(event, Ends | Loses) or event.grams is None or factor == 1:
        return event
    return replace(event, grams=event.grams * factor, is_measured=False)


def scaled_line(line: Line, factor: float) -> Line:
    """The line with so many times of everything that it says."""
    if factor == 1:
        return line
    amounts = tuple(_times(amount, factor) for amount in line.amounts)
    stated_g = None if line.stated_g is None else line.stated_g * factor
    second = None if line.second is None else _times(line.second, factor)
    scaled = replace(
        line, amounts=amounts, stated_g=stated_g, second=second, is_measured=False
    )
    return replace(scaled, text=_words(scaled))


def _times(amount: Amount, factor: float) -> Amount:
    return replace(
        amount,
        value=amount.value * factor,
        low=amount.low * factor,
        high=amount.high * factor,
    )


def _words(line: Line) -> str:
    """The line as its maker would write it with these amounts."""
    amount = " + ".join(one.in_words() for one in line.amounts)
    notes = "".join(f", {note}" for note in line.notes)
    weight = "" if line.stated_g is None else f" = {line.stated_g:.6g} g"
    named = f"{line.part} of {amount} {line.name}" if line.part else line.name
    text = named if line.part else f"{amount} {named}".strip()
    return f"{text}{notes}{weight}"


def reweighed(card: Card, grams: Mapping[Span, Weighed]) -> Card:
    """The card with other weights on some of its lines.

    Grams that a step leaves or takes go with the mass of their block.

    Args:
        card: a card of which every line weighs something known.
        grams: by the span of a line's name; the other lines stay as they are.
    """

    def block(component: Component) -> Component:
        changed = [
            grams[line.name_span] for line in component.lines if line.name_span in grams
        ]
        was_g = sum(line.was_g for line in changed)
        factor = sum(line.grams for line in changed) / was_g if was_g > 0 else 1.0
        events = (_reweighed(event, grams, factor) for event in component.events)
        return replace(component, events=tuple(events))

    layers = tuple(
        replace(layer, component=block(layer.component)) for layer in card.layers
    )
    return replace(card, layers=layers, components=tuple(map(block, card.components)))


def _reweighed(event: Event, grams: Mapping[Span, Weighed], factor: float) -> Event:
    if isinstance(event, Line):
        weighed = grams.get(event.name_span)
        return event if weighed is None else weighing(event, weighed)
    return _scaled(event, factor)


def weighing(line: Line, weighed: Weighed) -> Line:
    """The line as so many grams, or so many pieces of that weight in all."""
    first = line.amounts[0] if line.amounts else None
    if weighed.count is not None and first is not None:
        count = weighed.count
        amount = replace(first, value=count, low=count, high=count)
        line = replace(line, amounts=(amount,), stated_g=weighed.grams, second=None)
    else:
        gram = unit_named("g")
        span = first.span if first else line.span
        g = weighed.grams
        amounts = (Amount(g, gram, span, g, g),) if gram else ()
        line = replace(line, amounts=amounts, stated_g=None, second=None)
    return replace(line, text=_words(line), is_measured=False)
