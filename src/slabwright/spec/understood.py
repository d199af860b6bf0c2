"""What was understood of each line of a card, in words, by line number."""

from collections.abc import Iterator

from slabwright.figure import Ranged
from slabwright.formula.batch import Batch, all_batches
from slabwright.formula.component import (
    Deep,
    Density,
    Ends,
    Into,
    Loses,
    Note,
    Reads,
)
from slabwright.formula.line import Line
from slabwright.formula.step import Band, Step
from slabwright.formula.weigh import Unweighable
from slabwright.formula.weighed import WeighedLine
from slabwright.kitchen import Told
from slabwright.spec.card import Card, Dated, Sold
from slabwright.spec.specification import CutFigures, LayerFigures, Specification


def understood(spec: Specification) -> dict[int, str]:
    """Line number to what was understood there; what is on no line is left out."""
    found: dict[int, list[str]] = {}
    pairs = [*_head(spec)]
    for layer in (*spec.layers, *spec.components):
        if layer.batch.component.file == _file(spec.card):
            pairs.extend(_layer(layer))
    if spec.card.finish:
        pairs.extend((s.span.line, step_words(s)) for s in spec.card.finish.steps)
    for block in spec.card.head:
        pairs.extend((s.span.line, step_words(s)) for s in block.steps)
    for line, words in pairs:
        if words and words not in found.setdefault(line, []):
            found[line].append(words)
    return {line: "; ".join(words) for line, words in found.items()}


def _file(card: Card) -> str:
    blocks = [layer.component for layer in card.layers] or list(card.components)
    return blocks[0].file if blocks else ""


def _head(spec: Specification) -> Iterator[tuple[int, str]]:
    card = spec.card
    if card.tin:
        tin = card.tin.tin
        yield card.tin.span.line, f"{tin.describe()}, {tin.area_mm2() / 100:.6g} cm²"
    for cut in (spec.cut, *spec.other_cuts):
        if cut is not None:
            yield cut.said.span.line, _cut(cut)
    for keep in card.keeps:
        days = "no number of days" if keep.days is None else f"{keep.days:g} days"
        yield keep.span.line, f"{keep.place}, {days}"
    for sold in card.sales:
        yield sold.span.line, _sold(sold)
    for told in card.costs:
        yield told.span.line if told.span else 0, told_words(told)
    if card.pictured_words:
        yield card.pictured_words.span.line, ", ".join(card.pictured)
    if card.dated:
        yield card.dated.span.line, _dated(card.dated)


def _sold(sold: Sold) -> str:
    way = f"taken as {sold.way}"
    if sold.way is not None and sold.how.casefold().startswith(sold.way):
        way = ""
    elif sold.way is None:
        way = "your own words, none of the five ways"
    net = "" if sold.net_g is None else f"net {sold.net_g:g} g"
    price = "no price" if sold.price is None else f"at {sold.price}"
    since = "" if sold.from_day is None else f"from {sold.from_day}"
    return ", ".join(part for part in (sold.how, way, net, price, since) if part)


def told_words(told: Told) -> str:
    """What a making bears: `24 min of hands a batch, washing down`."""
    many = f"{told.low:f}"
    if told.high != told.low:
        many += f"-{told.high:f}"
    unit = {"hands": " min of hands", "oven": " min of the oven", "energy": " kWh"}
    said = f"{many}{unit.get(told.kind, '')} a {told.per}"
    return f"{said}, {told.what}" if told.what else said


def _dated(dated: Dated) -> str:
    if dated.kind == "none":
        return "no date"
    many = dated.months or dated.days
    unit = "month" if dated.months else "day"
    counted = {
        True: "the bake day is the first", False: "after the bake day",
        None: "asked: is the bake day one of them?",
    }  # fmt: skip
    said = f"{dated.kind}, {many} {unit}{'' if many == 1 else 's'}"
    return f"{said}, {counted[dated.counts_bake_day]}"


def _cut(cut: CutFigures) -> str:
    made = cut.cutting
    if made.piece_length_mm is not None and made.piece_width_mm is not None:
        size = f"{made.piece_length_mm:.4g} × {made.piece_width_mm:.4g} mm"
        said = f"{made.pieces} of {size}"
    else:
        said = made.summary
    weight = f", {cut.piece_mass_g.number:.0f} g each" if cut.piece_mass_g.known else ""
    return f"{said}{weight}"


def _layer(layer: LayerFigures) -> Iterator[tuple[int, str]]:
    facts = [f"{layer.kind} ({layer.kind_told})"]
    if layer.depth_mm.known:
        facts.append(f"{layer.depth_mm.number:.1f} mm")
    if layer.mass_out_g.known:
        facts.append(f"{layer.mass_out_g.number:.4g} g")
    yield layer.span.line, ", ".join(facts)
    for batch in all_batches(layer.batch):
        if batch.component.file == layer.batch.component.file:
            yield from _batch(batch)


def _batch(batch: Batch) -> Iterator[tuple[int, str]]:
    weighed = iter(batch.lines)
    for event in batch.component.events:
        if isinstance(event, Line):
            yield event.span.line, line_words(next(weighed))
        elif isinstance(event, Step):
            yield event.span.line, step_words(event)
        else:
            yield event.span.line, _word(batch, event)


def line_words(weighed: WeighedLine) -> str:
    """An ingredient line: what it is and what it weighs."""
    if weighed.batch is not None:
        name = f"component {weighed.batch.component.name}"
    elif weighed.ingredient is not None:
        name = weighed.ingredient.name
    else:
        name = f"'{weighed.line.name}' (nobody here knows it)"
    parts = [name]
    if isinstance(weighed.grams, Ranged):
        parts.insert(0, f"{weighed.grams.value:.4g} g")
        parts.append(weighed.grams.assumed)
    elif isinstance(weighed.grams, Unweighable):
        parts.append(weighed.grams.what.rstrip("."))
    else:
        parts.append(f"not in the slab: {weighed.line.aside}")
    if weighed.match and weighed.match.taken:
        parts.append(weighed.match.taken)
    parts.extend(f"note: {note}" for note in weighed.line.notes)
    return ", ".join(part for part in parts if part)


def _word(
    batch: Batch, event: Ends | Loses | Reads | Deep | Density | Into | Note
) -> str:
    if isinstance(event, Note):
        return "note"
    if isinstance(event, Into):
        return f"into {event.vessel}"
    if isinstance(event, Deep):
        return f"{event.depth_mm:g} mm, measured: the density follows"
    if isinstance(event, Density):
        return f"{event.g_ml:g} g/ml, {_how(event.is_measured)}"
    if isinstance(event, Reads):
        return "read at the end of a boil: its boiling point is learned from it"
    for happening in batch.happenings:
        if happening.span == event.span:
            of = "water" if happening.of == "water" else "mix"
            return (
                f"{happening.before_g:.4g} to {happening.after_g:.4g} g: "
                f"{happening.lost_g:.3g} g of {of} goes, {_how(event.is_measured)}"
            )
    return ""


def _how(is_measured: bool) -> str:
    return "measured" if is_measured else "assumed"


def step_words(step: Step) -> str:
    """A step: what was understood of its clauses."""
    return "; ".join((f"step: {step.does}", *_heat(step), *_time(step), *_rest(step)))


def _heat(step: Step) -> Iterator[str]:
    if step.at_C:
        yield f"at {_band(step.at_C)} °C{' fan' if step.fan else ''}"
    if step.fan_C:
        yield f"or {_band(step.fan_C)} °C fan"
    if step.to_C:
        yield f"to {_band(step.to_C)} °C"
    if step.over_C is not None:
        yield f"over {step.over_C:g} °C"
    if step.under_C is not None:
        yield f"under {step.under_C:g} °C"


def _time(step: Step) -> Iterator[str]:
    if step.minutes:
        yield f"{_band(step.minutes)} min"
    if step.hands_minutes:
        tray = step.hands_a_tray_minutes
        more = f" and {tray:g} a tray" if tray is not None else ""
        yield f"{_band(step.hands_minutes)} min of hands{more}"
    if step.until:
        yield f"until {step.until}"
    if step.within:
        name, layer = step.within.step, step.within.layer
        after = f"the end of {name}" if name else "the step before"
        of = f" of {layer}" if layer else ""
        yield f"within {step.within.minutes:g} min of {after}{of}"
    if step.when:
        layer = step.when.layer or "it"
        yield f"when {layer} is {step.when.side} {step.when.temperature_C:g} °C"


def _rest(step: Step) -> Iterator[str]:
    if step.then:
        yield f"then {step.then}"
    if step.places:
        yield f"uses {', '.join(step.places)}"
    if step.rest:
        yield f"in your words: {', '.join(step.rest)}"


def _band(band: Band) -> str:
    return f"{band.low:g}" if band.low == band.high else f"{band.low:g}-{band.high:g}"
