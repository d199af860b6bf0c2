"""A slab in block characters: the section as a terminal shows it, without colour.

Every texture has its own block, and its letter where blocks are not wanted. A tick
beside a row, at the ruler as at the layers, is at the row's lower edge.
"""

import textwrap
from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil
from unicodedata import category, east_asian_width

from slabwright.finding import Severity
from slabwright.publish.drawing.block_rows import Plan, cut_columns, label_rows, planned
from slabwright.publish.drawing.drawn import (
    DrawnSlab,
    Mark,
    Standing,
    mark_mm,
    mm,
)
from slabwright.publish.drawing.lettering import cleaned
from slabwright.publish.drawing.textures import texture_name

NARROWEST, WIDEST = 40, 200

_BLOCKS = {
    "crumb": ("░", "c"),
    "oats": ("═", "o"),
    "brittle": ("╳", "b"),
    "caramel": ("▒", "m"),
    "ganache": ("▓", "g"),
    "curd": ("≈", "u"),
    "jelly": ("╱", "j"),
    "crisp": ("▛", "p"),
    "nut": ("▚", "n"),
    "cream": ("~", "w"),
    "sponge": ("o", "s"),
    "glaze": ("█", "z"),
    "seed": ("▘", "e"),
    "fudge": ("·", "f"),
    "foam": ("○", "a"),
    "plain": ("┄", "x"),
}
"""Block and letter of each texture."""
_UNKNOWN = "?"
_BESIDE = 8
"""Columns of ruler, wall, the body's end and a space."""
_ROOMY = 26
"""From so many columns on, labels are set with air."""
_SIGNS = {Severity.STOP: "■", Severity.LOOK: "◆", Severity.NOTE: "○"}


@dataclass(frozen=True, slots=True)
class _Manner:
    """The characters that it is drawn with."""

    plain: bool
    wall: str
    open_wall: str
    broken: str
    tick: str
    ruler: str
    ruler_tick: str
    base: tuple[str, str, str, str]
    """Corner, floor, other corner, broken end."""
    cut_off: str


_FINE = _Manner(False, "┃", "╏", "╎", "├", "│", "┤", ("┗", "━", "┛", "╸"), "…")
_PLAIN = _Manner(True, "|", ":", ":", "+", "|", "+", ("+", "-", "+", "-"), "...")


def blocks(slab: DrawnSlab, *, columns: int = 80, plain: bool = False) -> str:
    """The section of a slab as lines of text, each ended by a line feed.

    Args:
        slab: what to draw.
        columns: no line is wider; taken as 40 if less and 200 if more.
        plain: letters in place of blocks, nothing beyond ASCII but in names.
    """
    columns = min(max(columns, NARROWEST), WIDEST)
    manner = _PLAIN if plain else _FINE
    if not slab.layers:
        return "      Nothing lies in the tin yet.\n"
    plan = planned(slab, columns, halves=not plain)
    room = columns - plan.wide - _BESIDE
    labels = _labels(plan, manner, room)
    places = label_rows(plan)
    top = max(plan.rows, places[-1] + 1, ceil(plan.ruler_mm / plan.row_mm) + 1)
    if (slab.tin_depth_mm or 0.0) > (top + 0.5) * plan.row_mm:
        top += 1
    label_at = dict(zip(places, labels, strict=True))
    figures_end = plan.wide + _BESIDE + (8 if room >= _ROOMY else 7)
    lines = [f"{'mm':>3}{'mm':>{figures_end - 3}}"]
    lines += (
        _row(plan, manner, row) + f" {label_at.get(row, '')}"
        for row in range(top - 1, -1, -1)
    )
    lines += [_base(plan, manner), *_foot(plan, columns)]
    return "".join(f"{line.rstrip()}\n" for line in lines)


def text_columns(text: str) -> int:
    """Columns that a text takes in a terminal.

    >>> text_columns("curd"), text_columns("抹茶")
    (4, 4)
    """
    return sum(map(_character_columns, text))


def _character_columns(character: str) -> int:
    if category(character) in {"Mn", "Me", "Cf"}:
        return 0
    return 2 if east_asian_width(character) in "WF" else 1


def _cut(text: str, room: int, end: str) -> str:
    """The text, cut to so many columns."""
    if text_columns(text) <= room:
        return text
    left, out = room - len(end), ""
    if left < 0:
        return ""
    for character in text:
        left -= _character_columns(character)
        if left < 0:
            break
        out += character
    return out.rstrip(" ,;:") + end


def _row(plan: Plan, manner: _Manner, row: int) -> str:
    """Ruler, wall, body and the end of one row."""
    depth_mm, low_mm = plan.slab.tin_depth_mm, row * plan.row_mm
    if low_mm % plan.ruler_mm == 0:
        ruler = f"{low_mm:>3g} {manner.ruler_tick}"
    else:
        ruler = f"    {manner.ruler}"
    wall = manner.open_wall
    if depth_mm is not None:
        wall = manner.wall if low_mm + plan.row_mm / 2 <= depth_mm else " "
    if row >= plan.rows:
        end = wall if plan.whole else ""
        return f"{ruler}{wall}{' ' * (plan.wide + 1 - len(end))}{end}"
    layer = plan.layer_at(row)
    fill = _block(plan.layers[layer], manner)
    if plan.half and row == plan.rows - 1 and plan.layers[layer].known:
        fill = "▄"
    body = [fill] * plan.wide
    for at in cut_columns(plan):
        body[at] = " "
    end = wall if plan.whole else manner.broken
    if layer and row == plan.rows_of(layer).start:
        end = manner.tick
    return f"{ruler}{wall}{''.join(body)}{end}"


def _base(plan: Plan, manner: _Manner) -> str:
    corner, floor_, other, broken = manner.base
    return f"     {corner}{floor_ * plan.wide}{other if plan.whole else broken}"


def _block(it: Standing, manner: _Manner) -> str:
    if not it.known:
        return _UNKNOWN
    return _BLOCKS[texture_name(it.layer.texture)][manner.plain]


def _labels(plan: Plan, manner: _Manner, room: int) -> list[str]:
    """Block, depth, name and findings of each layer."""
    roomy = room >= _ROOMY
    asked = any(it.layer.assumed for it in plan.layers)
    labels = []
    for i, it in enumerate(plan.layers):
        block = _block(it, manner) * (2 if roomy else 1)
        depth_mm = it.layer.depth_mm
        figure = "?" if depth_mm is None else mm(depth_mm)
        head = f"{block} {figure:>5}"
        if asked:
            head += " [?]" if it.layer.assumed else "    "
        marks = [mark for mark in plan.slab.marks if mark.layer == i]
        labels.append(_label(head, it, _said(marks, manner), room, manner))
    return labels


def _label(head: str, it: Standing, marks: str, room: int, manner: _Manner) -> str:
    """The name cut to what is left, then the likely range if that fits too."""
    gap = "  " if room >= _ROOMY else " "
    left = room - text_columns(head + gap + marks)
    if left < 6:
        left, marks = left + text_columns(marks), ""
    name = cleaned(it.layer.name)
    if not it.known:
        name = f"not known: {name}"
    likely = it.layer.range_mm
    if likely:
        ranged = f"{name}, likely {mm(likely[0])} to {mm(likely[1])}"
        if text_columns(ranged) <= left:
            name = ranged
    return f"{head}{gap}{_cut(name, left, manner.cut_off)}{marks}"


def _said(marks: list[Mark], manner: _Manner) -> str:
    """The findings' numbers with the shapes of their severity."""
    signs = (
        f"{mark.severity} {mark.number}"
        if manner.plain
        else f"{_SIGNS[mark.severity]}{mark.number}"
        for mark in marks
    )
    said = " ".join(signs)
    return f"  {said}" if said else ""


def _foot(plan: Plan, columns: int) -> Iterator[str]:
    """What the drawing cannot show, in words."""
    margin = " " * 6
    text = " ".join(_sentences(plan)).replace(" mm", "\xa0mm").replace("] ", "]\xa0")
    for line in textwrap.wrap(
        text, columns, initial_indent=margin, subsequent_indent=margin
    ):
        yield line.replace("\xa0", " ")


def _sentences(plan: Plan) -> Iterator[str]:
    slab = plan.slab
    if slab.piece_mm is not None:
        trim = f"{mark_mm(slab.trim_mm)} mm trim, then " if slab.trim_mm else ""
        yield f"{trim}{mark_mm(slab.piece_mm)} mm a piece."
    yield f"One row is {plan.row_mm:g} mm, one column {plan.column_mm:g} mm."
    if slab.tin_depth_mm is None:
        yield "The tin's depth was not given."
    elif plan.layers[-1].top_mm > slab.tin_depth_mm:
        over_mm = plan.layers[-1].top_mm - slab.tin_depth_mm
        yield f"{mm(over_mm)} mm over the rim."
    unseen = sum(not plan.rows_of(i) for i in range(len(plan.layers)))
    if unseen:
        them = "1 layer is" if unseen == 1 else f"{unseen} layers are"
        yield f"{them} too thin for a row."
    if any(not it.known for it in plan.layers):
        yield "What lies on a layer not known stands too high or too low."
    elif any(it.layer.assumed for it in plan.layers):
        yield "[?] assumed."
