"""A cut in full, as text for a terminal: order of work, distances, what to promise."""

import textwrap
from collections.abc import Iterator
from math import floor

from slabwright.cut.cutting import Cutting
from slabwright.cut.roller import Setting
from slabwright.cut.stroke import Stroke
from slabwright.figure import Figure
from slabwright.publish import words
from slabwright.publish.terminal import Manner
from slabwright.spec.cut_sheet import CutSheet
from slabwright.spec.specification import CutFigures

_MARGIN = 10


def cut_text(sheet: CutSheet, manner: Manner) -> str:
    """Everything about one cut."""
    parts = [
        *_head(sheet, manner),
        *_weights(sheet, manner),
        *_knife(sheet.cut.cutting, manner),
        *_rollers(sheet.cut, manner),
        *_options(sheet, manner),
    ]
    return "\n".join(line.rstrip() for line in parts) + "\n"


def _head(sheet: CutSheet, manner: Manner) -> Iterator[str]:
    cut = sheet.cut
    tin = cut.tin_name or cut.tin.describe()
    title = f"{sheet.spec.name}, cut {_without_tin(cut)}"
    gap = manner.columns - len(title) - len(tin)
    if gap >= 2:
        yield manner.bold(title) + " " * gap + tin
    else:
        yield from (manner.bold(one) for one in textwrap.wrap(title, manner.columns))
        yield tin
    yield ""
    yield from _row("Pieces", cut.cutting.summary, manner)
    if note := cut.cutting.more:
        yield from _row("", note, manner)
    edge = cut.cutting.edge_pieces
    if edge and cut.cutting.pieces > 1:
        yield from _row("", f"{edge} have a side on the slab's edge", manner)


def _without_tin(cut: CutFigures) -> str:
    said = cut.said.text
    return said.replace(f", in {cut.tin_name}", "") if cut.tin_name else said


def _weights(sheet: CutSheet, manner: Manner) -> Iterator[str]:
    cut = sheet.cut
    each, promised = cut.piece_mass_g, cut.promised_g
    if each.known:
        said = words.short(each, f"{_grams(each)} each on average")
        yield from _row("Weigh", said, manner)
    if promised.known:
        mark = words.mark(promised.standing)
        least = at_least(promised.number)
        text = f"99 of 100 weigh at least {least} g {mark}: {promised.sum}"
        yield from _row("Promise", text, manner)
    else:
        yield from _row("Promise", f"withheld: {promised.sum}", manner)
    if sheet.tried is not None and each.known and sheet.slab_g:
        reached = sheet.tried.reached_by() * sheet.slab_g
        slabs = f"{sheet.tried.slabs:,} slabs"
        text = f"{slabs} cut on paper: 99 of 100 reach {reached:.1f} g"
        yield from _row("Tried", text, manner)
    if cut.trim_g.known and cut.trim_g.number > 0:
        yield from _row("Trim", _trim(sheet), manner)


def _trim(sheet: CutSheet) -> str:
    """What is in no piece, and where it went."""
    made, slab_g = sheet.cut.cutting, (sheet.slab_g or 0.0) * sheet.cut.cutting.tins
    parts = {
        "trimmed edges": made.trim_share - made.left_over_share,
        "left-over strips and off-cuts": made.left_over_share,
        "crumbs under the knife": made.knife_share,
    }
    said = [
        f"{words.grams(share * slab_g)} g {name}"
        for name, share in parts.items()
        if share > 1e-9
    ]
    whole = f"{_grams(sheet.cut.trim_g)}: " if len(said) > 1 else ""
    return whole + ", ".join(said)


def _grams(figure: Figure) -> str:
    return f"{words.grams(figure.number)} g"


def at_least(grams: float) -> str:
    """A mass that is promised: never rounded up.

    >>> at_least(77.81), at_least(8.49)
    ('77', '8.4')
    """
    if grams < 10:
        return words.grams(floor(grams * 10) / 10)
    return words.grams(floor(grams))


def _row(head: str, text: str, manner: Manner) -> Iterator[str]:
    lines = textwrap.wrap(text, max(30, manner.columns - _MARGIN))
    for number, line in enumerate(lines):
        title = head if number == 0 else ""
        shown = manner.bold(title) if title else ""
        yield f"{shown}{'':<{_MARGIN - len(title)}}{line}"


# --- the knife --------------------


def _knife(made: Cutting, manner: Manner) -> Iterator[str]:
    if not made.strokes:
        return
    yield ""
    how = "score every line before the first cut; mm from the untrimmed edge"
    if made.shape == "wedges":
        how = "mark the rim first: mm along it, from the nearest point to the right"
    elif any(not stroke.edge for stroke in made.strokes):
        how += "; slanting ones meet near and far edge so far from the left, left and "
        how += "right edge so far from the near end"
    yield from _row("Knife", f"{how}. The order is common practice.", manner)
    for stroke in made.strokes:
        yield f"{stroke.number:>8}  {_stroke(stroke, made)}"
    for head, places in (
        ("along", made.cuts_along_mm), ("across", made.cuts_across_mm),
    ):  # fmt: skip
        if places:
            listed = "  ".join(words.length(at) for at in places)
            yield from _row("Ruler", f"{head:<8}{listed}", manner)


def _stroke(stroke: Stroke, made: Cutting) -> str:
    what = {"trim": "trim", "strip": "strip off", "cut": "cut"}[stroke.what]
    if stroke.edge == "rim":
        first, *others = [words.length(there.at_mm) for there in stroke.meets]
        way = f"right across, from {first} to {others[0]}" if others else (
            f"from {first} to the middle"
        )  # fmt: skip
        return f"{what:<10}{way}"
    if not stroke.edge:
        ends = [f"{m.edge} edge {words.length(m.at_mm)}" for m in stroke.meets]
        return f"{what:<10}slanting, {' to '.join(ends)}"
    at = words.length(stroke.at_mm or 0.0)
    way = "along the length" if stroke.edge == "near" else "across the length"
    if made.shape == "strips":
        way = "from edge to edge"
    return f"{what:<10}{at:>6} from the {stroke.edge} edge, {way}"


def _rollers(cut: CutFigures, manner: Manner) -> Iterator[str]:
    if not cut.rollers:
        return
    yield ""
    for setting in cut.rollers:
        yield from _row("Roller", roller_words(setting), manner)


def roller_words(setting: Setting) -> str:
    """How a roller is set and where it is laid, or why it can't be."""
    run, name = setting.run, setting.cutter.name
    if setting.apart_mm is None:
        return f"{name}, {run.way}: no. {setting.why[:1].upper()}{setting.why[1:]}."
    first = ", then ".join(words.length(at) for at in setting.first_mm)
    lay = f"lay its first wheel {first} mm from the {run.start}"
    if run.start.startswith("stroke"):
        lay = f"lay its first wheel on {run.start}"
        if setting.passes > 1:
            lay += f", then {first.partition(', then ')[2]} mm from it"
    return f"{name}, {run.way}: {setting.why}; {lay}."


def _options(sheet: CutSheet, manner: Manner) -> Iterator[str]:
    if not sheet.options or sheet.slab_g is None:
        return
    yield ""
    yield manner.bold("Choices") + "   most pieces in the range first"
    yield (
        f"{'cut':>12}{'pieces':>9}{'size':>22}{'g each':>9}{'in range':>11}"
        f"{'99 reach':>11}"
    )
    for one in sheet.options:
        each, reached = (share * sheet.slab_g for share in (one.share, one.reached))
        yield (
            f"{one.said:>12}{one.pieces:>9}{one.words:>22}{each:>9.1f}"
            f"{one.in_range:>11.0%}{reached:>11.1f}"
        )
