"""The knife's work on a section: trim, cuts with their millimetres, one piece."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import floor, inf

from slabwright.publish.drawing.drawn import mark_mm
from slabwright.publish.drawing.lettering import width
from slabwright.publish.drawing.section_frame import Frame
from slabwright.publish.drawing.style import FIGURE_SIZE, SMALL_SIZE
from slabwright.publish.drawing.svg import element, line, number, text

_ROOM = 56.0
"""Room above the slab that the knife's marks take [units]."""
_LINE_ROOM = 20.0
"""Room for a line of words above them."""
_LEAST_GAP = 2.4
"""A cut is drawn at least this wide [units]."""
_MOST_PIECES = 200
_END = 4.0
"""No cut is drawn this near to where the slab is broken off."""


@dataclass(frozen=True, slots=True)
class Cut:
    """What the knife takes out, along the base [mm]."""

    low_mm: float
    high_mm: float
    at_mm: float
    """What the ruler shows: the middle of a cut, the inner edge of trim."""
    trims: bool = False
    """Whether it takes off an end, and does not part two pieces."""


def cuts(frame: Frame) -> tuple[Cut, ...]:
    """Every cut that is shown, from the left."""
    return tuple(_cuts(frame))


def knife_room(frame: Frame) -> float:
    """Room that the knife's marks take above the slab [units]."""
    if not cuts(frame):
        return 0.0
    return _ROOM if _between_cuts(frame) else _ROOM + _LINE_ROOM


def knife(frame: Frame) -> str:
    """Trim, cuts and the size of a piece."""
    made = cuts(frame)
    if not made:
        return ""
    return (
        _trim(frame, made)
        + "".join(_gap(frame, cut) for cut in made)
        + _figures(frame, made)
        + _piece(frame)
    )


def _cuts(frame: Frame) -> Iterator[Cut]:
    slab, pieces = frame.slab, _pieces(frame)
    if slab.piece_mm is None or not pieces:
        return
    gap_mm = max(slab.knife_mm, _LEAST_GAP / frame.k)
    trim_mm, step_mm = slab.trim_mm, slab.piece_mm + slab.knife_mm
    if trim_mm:
        yield Cut(max(0.0, trim_mm - gap_mm), trim_mm, trim_mm, trims=True)
    for i in range(1, pieces):
        at_mm = trim_mm + i * step_mm - slab.knife_mm / 2
        if at_mm + gap_mm / 2 > frame.shown_mm - _END / frame.k:
            return
        yield Cut(at_mm - gap_mm / 2, at_mm + gap_mm / 2, at_mm)
    end_mm = trim_mm + pieces * step_mm - slab.knife_mm
    if frame.whole and end_mm < frame.shown_mm - 0.05:
        yield Cut(end_mm, min(end_mm + gap_mm, frame.shown_mm), end_mm, trims=True)


def _pieces(frame: Frame) -> int:
    """Pieces along the tin, or as many as could be drawn if its length is not known."""
    slab = frame.slab
    if slab.piece_mm is None or not frame.layers:
        return 0
    if slab.tin_length_mm is None:
        return _MOST_PIECES
    between_mm = slab.tin_length_mm - 2 * slab.trim_mm + slab.knife_mm
    fitting = floor(between_mm / (slab.piece_mm + slab.knife_mm) + 1e-3)
    return max(0, min(fitting, _MOST_PIECES))


def _trim(frame: Frame, made: tuple[Cut, ...]) -> str:
    """What is trimmed off, faded with the ink of its faces."""
    ends = []
    if made[0].trims and frame.slab.trim_mm:
        ends.append((frame.wall(0, frame.top_mm), made[0].low_mm))
    if made[-1].trims and frame.whole:
        ends.append((frame.other_end(0, frame.top_mm), made[-1].high_mm))
    out = ""
    for face, cut_mm in ends:
        corners = [*face, (cut_mm, face[-1][1]), (cut_mm, face[0][1])]
        path = line([(x * frame.k, frame.y(h)) for x, h in corners]) + "z"
        out += element("path", d=path, class_="faded")
    return out


def _gap(frame: Frame, cut: Cut) -> str:
    top, low, high = frame.y(frame.top_mm), cut.low_mm * frame.k, cut.high_mm * frame.k
    at = number(cut.at_mm * frame.k)
    w = number(high - low)
    box = f"M{number(low)} 0V{number(top - 3)}h{w}V0z"
    sides = line([(low, 0), (low, top)]) + line([(high, 0), (high, top)])
    blade = f"M{at} {number(top - 34)}V{number(top - 3)}"
    point = f"M{number(cut.at_mm * frame.k - 5)} {number(top - 34)}h10l-5 11z"
    return (
        element("path", d=box, class_="gap")
        + element("path", d=sides + blade, class_="edge")
        + element("path", d=point, class_="knife")
    )


def _figures(frame: Frame, made: tuple[Cut, ...]) -> str:
    """Where each cut lies, as far as there is room to say it."""
    free, out = -inf, ""
    for cut in made:
        words = mark_mm(cut.at_mm)
        half = width(words, SMALL_SIZE) / 2
        x = cut.at_mm * frame.k
        if x - half >= free:
            place = (x, frame.y(frame.top_mm) - 42)
            out += text(place, words, "cut", "middle")
            free = x + half + 8
    return out


def _piece(frame: Frame) -> str:
    """The width of the first piece: between its cuts, or above if it is narrow."""
    if frame.slab.piece_mm is None:
        return ""
    top, start = frame.y(frame.top_mm), frame.slab.trim_mm * frame.k
    words = _between_cuts(frame)
    if not words:
        return text((start, top - 60), _sayings(frame)[0], "figure")
    end = start + frame.slab.piece_mm * frame.k
    middle, y = (start + end) / 2, top - 19
    half = width(words, FIGURE_SIZE, "bold") / 2 + 10
    lines = line([(start + 8, y), (middle - half, y)])
    lines += line([(middle + half, y), (end - 8, y)])
    said = text((middle, y + 5.5), words, "figure", "middle")
    return element("path", d=lines, class_="dim") + said


def _sayings(frame: Frame) -> tuple[str, str]:
    size = mark_mm(frame.slab.piece_mm or 0.0)
    return f"one piece, {size} mm", f"{size} mm"


def _between_cuts(frame: Frame) -> str:
    """The longest saying that fits between two cuts; none in a narrow piece."""
    room = (frame.slab.piece_mm or 0.0) * frame.k - 52
    fitting = (w for w in _sayings(frame) if width(w, FIGURE_SIZE, "bold") <= room)
    return next(fitting, "")
