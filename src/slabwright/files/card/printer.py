"""A card written out from its JSON form: what reads back as the very same form."""

from collections.abc import Iterator

from slabwright.files.card.form import BlockForm, CardForm, LayerForm, SoldForm
from slabwright.files.card.form_events import (
    AmountForm,
    DeepForm,
    DensityForm,
    EndsForm,
    EventForm,
    IntoForm,
    LineForm,
    LosesForm,
    NoteForm,
    ReadsForm,
)


def card_text(form: CardForm) -> str:
    """The text of a card."""
    return "\n".join(_lines(form)) + "\n"


def _lines(form: CardForm) -> Iterator[str]:
    if not form.is_component:
        yield f"slab {form.slab}"
    yield from _head(form)
    if form.proved:
        yield f"proved {form.proved.isoformat()}"
    yield from (f"note {note}" for note in form.notes)
    for block in form.head:
        yield from _events(block)
    for part in form.components:
        yield ""
        yield f"component {part.name}"
        yield from _block(part)
    for layer in form.layers:
        yield ""
        yield _layer(layer)
        yield from _block(layer)
    if form.finish:
        yield ""
        yield "finish"
        yield from _block(form.finish)


def _head(form: CardForm) -> Iterator[str]:
    if form.tin:
        yield f"tin {form.tin.text}"
    yield from (f"cut {cut.text}" for cut in form.cuts)
    yield from (f"keep {keep.text}" for keep in form.keeps)
    if form.called:
        yield f"called {form.called}"
    if form.pictured:
        yield f"pictured {', '.join(form.pictured)}"
    if form.dated:
        yield f"dated {form.dated.text}"
    for sold in (*([form.sold] if form.sold else []), *form.also_sold):
        yield f"sold {_sold(sold)}"
    yield from (f"costs {one.text}" for one in form.costs)


def _sold(sold: SoldForm) -> str:
    said = [
        sold.how,
        f"net {_n(sold.net_g)} g" if sold.net_g is not None else "",
        sold.price or "",
        f"from {sold.from_day.isoformat()}" if sold.from_day else "",
    ]
    return ", ".join(part for part in said if part)


def _layer(layer: LayerForm) -> str:
    made_from = f" from {layer.made_from}" if layer.made_from else ""
    take = ""
    if layer.take_g is not None:
        take = f", {_n(layer.take_g)} g"
    elif layer.take_depth_mm is not None:
        take = f", {_n(layer.take_depth_mm)} mm"
    elif layer.take_batches is not None:
        take = f", {_n(layer.take_batches)} batch"
    return f"layer {layer.name}{made_from}{take}"


def _block(block: BlockForm) -> Iterator[str]:
    if block.kind:
        yield f"  kind {block.kind}"
    yield from _events(block)


def _events(block: BlockForm) -> Iterator[str]:
    yield from (f"  {_event(event)}" for event in block.events)


def _event(event: EventForm) -> str:
    if isinstance(event, LineForm):
        return line_text(event)
    if isinstance(event, EndsForm | LosesForm | DensityForm):
        return _measured(event)
    if isinstance(event, ReadsForm):
        return _reading(event)
    if isinstance(event, DeepForm):
        return f"deep {_n(event.depth_mm)} mm"
    if isinstance(event, IntoForm):
        return f"into {event.vessel}"
    if isinstance(event, NoteForm):
        return f"note {event.text}"
    return event.text


def _reading(event: ReadsForm) -> str:
    at = f" at {_n(event.at_C)} C" if event.at_C is not None else ""
    if event.grams is not None:
        return f"reads {_n(event.grams)} g{at}"
    if event.brix is not None:
        return f"reads {_n(event.brix)} Brix{at}"
    return f"reads {_n((event.water_share or 0) * 100)} % water{at}"


def _measured(event: EndsForm | LosesForm | DensityForm) -> str:
    end = ", measured" if event.measured else ""
    if isinstance(event, DensityForm):
        return f"density {_n(event.g_ml)} g/ml{end}"
    if isinstance(event, EndsForm):
        if event.grams is not None:
            return f"ends {_n(event.grams)} g{end}"
        return f"ends {_n((event.water_share or 0) * 100)} % water{end}"
    place = f" in the {event.place}" if event.place else ""
    if event.grams is not None:
        return f"loses {_n(event.grams)} g{place}{end}"
    return f"loses {_n((event.share or 0) * 100)} %{place}{end}"


def line_text(line: LineForm) -> str:
    """An ingredient line: amounts, name, notes, weight."""
    amount = " + ".join(_amount(one) for one in line.amounts)
    if line.second:
        amount += f"/{_amount(line.second)}"
    name = (
        f"{line.part} of {amount} {line.name}"
        if line.part
        else (f"{amount} {line.name}".strip())
    )
    if line.aside and not line.amounts:
        name = f"{line.name} {line.aside}"
    notes = "".join(f", {note}" for note in line.notes)
    if line.size and line.size not in ", ".join(line.notes):
        name = f"{amount} {line.size} {line.name}".strip()  # 3 large eggs
    weight = f" = {_n(line.weighs_g)} g" if line.weighs_g is not None else ""
    weighed = " weighed" if line.measured else ""
    return f"{name}{notes}{weight}{weighed}"


def _amount(amount: AmountForm) -> str:
    number = _n(amount.value)
    if amount.low != amount.high:
        number = f"{_n(amount.low)}-{_n(amount.high)}"
    if amount.each is not None:
        unit = "" if amount.unit == "each" else f" {amount.unit}"
        return f"{number} x {_amount(amount.each)}{unit}"
    spoons = f" {amount.spoons}" if amount.spoons else ""
    heaped = " heaped" if amount.heaped else ""
    unit = "" if amount.unit == "each" else f" {amount.unit}"
    return f"{number}{heaped}{spoons}{unit}"


def _n(value: float) -> str:
    return f"{value:.10g}"
