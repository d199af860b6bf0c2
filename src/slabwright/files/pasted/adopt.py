"""A pasted recipe written as a card: the user's own words kept, asks as comments."""

from collections.abc import Iterator

from slabwright.files.card.form_events import LineForm, form_of_line
from slabwright.files.card.head import Tins
from slabwright.files.card.names import Names
from slabwright.files.card.printer import line_text
from slabwright.files.card.reader import CardRead, read_card
from slabwright.finding import Ask
from slabwright.formula.component import Component, Event
from slabwright.formula.line import Line
from slabwright.formula.step import Step
from slabwright.spec.card import Card


def adopted(read: CardRead, names: Names, tins: Tins) -> str:
    """The text of a card that reads as this pasted recipe was read.

    Every line of the recipe is on it: what is no part of the card stands as a comment.
    """
    writer = _Writer(names, tins)
    return "\n".join(_lines(read, writer)) + "\n"


def _lines(read: CardRead, writer: "_Writer") -> Iterator[str]:
    card = read.card
    yield f"slab {_plain(card.name)}"
    if card.tin:
        yield f"tin {card.tin.text}"
    yield from (f"cut {cut.text}" for cut in card.cuts)
    yield from (f"keep {keep.text}" for keep in card.keeps)
    notes = dict.fromkeys(_plain(note) for note in card.notes)
    yield from (f"note {note}" for note in notes if note not in {"", card.name})
    for ask in card.asks:
        if ask.span is None or ask.where == "tin":
            yield from _asked(ask)
    for layer in card.layers:
        yield ""
        yield f"layer {_plain(layer.name)}"
        yield from writer.block(layer.component, card)
    rest = dict.fromkeys(
        one.line.text
        for one in read.lines
        if one.reads_as in {"scrap", "yield", "tin"} and one.line.text
    )
    if rest:
        yield ""
        yield "# The rest of what was pasted:"
        yield from (f"# {line}" for line in rest)


def _asked(ask: Ask) -> Iterator[str]:
    """A question, and below it each way to take the line."""
    yield f"# ask: {_plain(ask.question)}"
    yield from (f"#   {_plain(r.text)}: {_plain(r.does)}" for r in ask.readings)


class _Writer:
    """Writes events so that the strict reader gives them back."""

    def __init__(self, names: Names, tins: Tins) -> None:
        self._names = names
        self._tins = tins

    def block(self, block: Component, card: Card) -> Iterator[str]:
        """The lines of a layer, each with what has to be asked about it."""
        asked = {ask.span.line: ask for ask in card.asks if ask.span is not None}
        pairs: set[tuple[str, int]] = set()
        for event in block.events:
            text = self._event(event)
            if (text, event.span.line) in pairs and isinstance(event, Line):
                continue  # juice and zest of one line
            pairs.add((text, event.span.line))
            ask = asked.get(event.span.line)
            if ask is not None and isinstance(event, Line):
                yield from (f"  {line}" for line in _asked(ask))
                if event.aside == "no amount is given":
                    yield f"  # {_plain(event.text)}"
                    continue
            yield f"  {text}"

    def _event(self, event: Event) -> str:
        if isinstance(event, Line):
            return self._line(event)
        if isinstance(event, Step):
            text = _plain(event.text)
            return text if self._is_plain_step(text) else f"note {text}"
        return ""

    def _line(self, line: Line) -> str:
        """The user's own words, if a card reads them alike; else the plain form."""
        own = _plain(line.text)
        if self._same(own, line):
            return own
        return line_text(form_of_line(line))

    def _same(self, text: str, line: Line) -> bool:
        found = self._read(text)
        forms = [_bare(form_of_line(one)) for one in found]
        return _bare(form_of_line(line)) in forms

    def _read(self, text: str) -> list[Line]:
        card = read_card(f"slab A\nlayer B\n{text}\n", self._names, self._tins)
        last = card.lines[2]
        return [value for value in last.values if isinstance(value, Line)]

    def _is_plain_step(self, text: str) -> bool:
        """Whether a card takes it for a step, and for no card word (`cut`) astray."""
        card = read_card(f"slab A\nlayer B\n{text}\n", self._names, self._tins)
        steps = [value for value in card.lines[2].values if isinstance(value, Step)]
        return bool(steps) and steps[0].misread in {"", "amount"}


def _bare(form: LineForm) -> tuple[object, ...]:
    """What of a line decides what it weighs."""
    amounts = tuple((a.value, a.unit, a.each and a.each.value) for a in form.amounts)
    return (
        form.name.casefold(),
        amounts,
        form.weighs_g,
        form.size,
        form.part,
        form.aside,
    )


def _plain(text: str) -> str:
    return " ".join(text.replace("#", " ").split())
