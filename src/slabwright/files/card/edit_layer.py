"""A depth, a mass or a density, typed beside the drawing: onto its layer's card."""

import re
from typing import Final

from slabwright.errors import Span
from slabwright.files.card.edit import (
    Edit,
    above,
    below,
    block_below,
    inset_of,
    opens_block,
    over,
    read_at,
    refused,
)
from slabwright.files.card.reader import CardRead
from slabwright.files.card.typed import typed_g, typed_g_ml, typed_mm
from slabwright.formula.component import Deep, Density, Ends, Event, Loses
from slabwright.formula.line import Line
from slabwright.spec.card import CardLayer

_WORD: Final = re.compile(r"\S+\s+")
_LOST: Final = re.compile(
    r"(?P<n>\S+?)\s*(?P<u>%|g|kg|oz)(?P<where>\s+(?:in|on)\s.*?)"
    r"(?P<how>\s*,?\s*\b(?:weighed|measured))?$",
    re.IGNORECASE,
)
_IN_BOWL: Final = " in the bowl"


def measured_depth(text: str, read: CardRead, layer: int, mm: str | float) -> Edit:
    """The ruler reads so much: `deep N mm` in the layer's block.

    Args:
        text: the card.
        read: the same, read.
        layer: which, from the bottom, from 0.
        mm: what was typed: `12`, `12 mm`, `1.2 cm`.

    Raises:
        FileError: for a value that makes no sense, or where the card can't say it.
    """
    depth, here = typed_mm(mm), _layer(read, layer)
    wished = here.take.depth_mm
    if wished is not None:
        what = f"{here.name} is made {wished:g} mm deep, as its line wishes."
        raise refused(what, "Change the wish; or take it out, then say what was read.")
    return _said(text, read, here, "deep", depth, _last(here, Deep))


def wished_depth(text: str, read: CardRead, layer: int, mm: str | float) -> Edit:
    """Make it so deep: `layer NAME, N mm`; where it comes from stays.

    Arguments and errors as for `measured_depth`.
    """
    depth, here = typed_mm(mm), _layer(read, layer)
    if here.take.span is not None:
        return over(text, here.take.span, depth)
    number = here.component.span.line
    head = read_at(read, number)
    if head is None or not opens_block(head):  # lines that stand under no layer
        return above(text, number, f"layer {here.name}, {depth}")
    end = head.line.span().end
    return over(text, Span(number, end, end), f", {depth}")


def mass_after(
    text: str,
    read: CardRead,
    layer: int,
    grams: str | float,
    mix_g: float | None = None,
) -> Edit:
    """What it weighed when it was done: `ends N g weighed`.

    It takes the place of the last `ends` or `loses`, unless something went in after
    that: then it is a line of its own, at the end.

    Args:
        text: the card.
        read: the same, read.
        layer: which, from the bottom, from 0.
        grams: what was typed: `451`, `451 g`, `1.2 kg`.
        mix_g: what there was before the layer's last loss, if that loss is mix left
            in the bowl and no water: it then stays so.

    Raises:
        FileError: for a value that makes no sense, or where the card can't say it.
    """
    mass, here = typed_g(grams), _layer(read, layer)
    if here.take.span is not None:
        said = _words_at(read, here.take.span)
        what = f"{here.name} takes {said}: that is no weighing."
        raise refused(what, f"Take '{said}' off its line, then say what it weighed.")
    last = _last(here, Ends, Loses)
    if mix_g is None:
        return _said(text, read, here, "ends", f"{mass} weighed", last)
    lost = mix_g - float(mass.removesuffix(" g"))
    if lost < 0:
        what = f"{mass} is more than the {mix_g:.5g} g that went in."
        raise refused(what, "Weigh it again, or mend the lines.")
    place = _IN_BOWL
    if isinstance(last, Loses) and (line := read_at(read, last.span.line)):
        found = _LOST.search(_WORD.sub("", line.line.text, count=1))
        place = found["where"] if found else place
    value = f"{lost:.3f}".rstrip("0").rstrip(".")
    return _said(text, read, here, "loses", f"{value} g{place}, weighed", last)


def density(text: str, read: CardRead, layer: int, g_ml: str | float) -> Edit:
    """What a millilitre of it weighs: `density N g/ml measured`.

    Arguments and errors as for `measured_depth`; g_ml as `0.75` or `0.75 g/ml`.
    """
    value, here = f"{typed_g_ml(g_ml)} measured", _layer(read, layer)
    if (deep := _last(here, Deep)) is not None:
        what = f"The density of {here.name} is learned from its measured depth."
        do = f"Take line {deep.span.line} out, then say what a millilitre weighs."
        raise refused(what, do)
    return _said(text, read, here, "density", value, _last(here, Density))


def _layer(read: CardRead, layer: int) -> CardLayer:
    if read.is_pasted:
        what = "A pasted recipe has no place for what was measured or wished."
        raise refused(what, "Write it as a card first; then it has.")
    layers = read.card.layers
    if not 0 <= layer < len(layers):
        what = "There is no such layer on this card."
        raise refused(what, "Open the figure of one that is there.", "layer")
    return layers[layer]


def _last(layer: CardLayer, *kinds: type[Event]) -> Event | None:
    """The last of these words in its block, unless an ingredient comes after it."""
    found: Event | None = None
    for event in layer.component.events:
        if isinstance(event, kinds):
            found = event
        elif isinstance(event, Line) and Ends in kinds:
            found = None
    return found


def _said(
    text: str,
    read: CardRead,
    layer: CardLayer,
    word: str,
    value: str,
    there: Event | None,
) -> Edit:
    """Another value for a word that is there, or a line with it at the block's end."""
    first = layer.component.span.line
    if there is None:
        own = block_below(read, first)
        last = own[-1].line.number if own else first
        return below(text, last, f"{inset_of(read, own)}{word} {value}")
    line = read_at(read, there.span.line)
    if line is None:
        raise refused("There is no such line any more.", "Read the card again.")
    begun = _WORD.match(line.line.text)
    if begun and begun.group().strip().casefold() == word:
        return over(text, line.line.span(begun.end()), value)
    return over(text, line.line.span(), f"{word} {value}")


def _words_at(read: CardRead, span: Span) -> str:
    line = read_at(read, span.line)
    raw = line.line.raw if line else ""
    return raw[span.column - 1 : span.end - 1]
