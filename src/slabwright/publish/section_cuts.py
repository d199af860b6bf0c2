"""The knife's work on a section: trim, cuts with their millimetres, one piece."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import floor, inf

from slabwright.publish.drawn import mark_mm
from slabwright.publish.lettering import width
from slabwright.publish.section_frame import Frame
from slabwright.publish.style import FIGURE_SIZE, SMALL_SIZE
from slabwright.publish.svg import element, line, number, text

ROOM = 56.0
"""Room above the slab that the knife's marks take [units]."""
_LEAST_GAP = 2.4
"""A cut is drawn at least this wide [units]."""
_MOST_CUTS = 200


@dataclass(frozen=True, slots=True)
class Cut:
    """What the knife takes out, along the base [mm]."""

    low_mm: float
    high_mm: float
    at_mm: float
    """What the ruler shows: the middle of a cut, the inner edge of trim."""


def cuts(frame: Frame) -> tuple[Cut, ...]:
    """Every cut that is shown, from the left."""
    return tuple(_cuts(frame))


def knife(frame: Frame) -> str:
    """Trim, cuts and the size of a piece."""
    made = cuts(frame)
    if not made:
        return ""
    return (
        _trim(frame, made)
        + "".join(_gap(frame, cut) for cut in made)
        + _figures(frame, made)
        + _piece(frame, made)
    )


def _cuts(frame: Frame) -> Iterator[Cut]:
    slab, least_mm = frame.slab, _LEAST_GAP / frame.k
    if slab.piece_mm is None or not frame.layers:
        return
    length_mm = slab.tin_length_mm or inf
    if length_mm < 2 * slab.trim_mm + slab.piece_mm - 0.05:
        return
    trim_gap_mm = min(max(slab.knife_mm, least_mm), slab.trim_mm)
    if slab.trim_mm:
        yield Cut(slab.trim_mm - trim_gap_mm, slab.trim_mm, slab.trim_mm)
    step_mm = slab.piece_mm + slab.knife_mm
    between_mm = min(length_mm, frame.shown_mm + 1e6) - 2 * slab.trim_mm
    pieces = floor((between_mm + slab.knife_mm) / step_mm + 1e-6)
    half_mm = max(slab.knife_mm, least_mm) / 2
    for i in range(1, min(pieces, _MOST_CUTS)):
        at_mm = slab.trim_mm + i * step_mm - slab.knife_mm / 2
        if at_mm + half_mm > frame.shown_mm - 4 / frame.k:
            return
        yield Cut(at_mm - half_mm, at_mm + half_mm, at_mm)
    end_mm = slab.trim_mm + pieces * step_mm - slab.knife_mm
    if frame.whole and end_mm < length_mm - 0.05:
        yield Cut(end_mm, min(end_mm + 2 * half_mm, length_mm), end_mm)


def _trim(frame: Frame, made: tuple[Cut, ...]) -> str:
    """What is trimmed off, faded."""
    ends = []
    if frame.slab.trim_mm:
        ends.append((frame.wall(0, frame.top_mm), made[0].low_mm))
    last_mm = made[-1].high_mm
    if frame.whole and frame.shown_mm - last_mm < max(
        frame.slab.piece_mm or 0.0, frame.slab.trim_mm + 0.05
    ):
        ends.append((frame.other_end(0, frame.top_mm), last_mm))
    k, out = frame.k, ""
    for face, cut_mm in ends:
        corners = [*face, (cut_mm, face[-1][1]), (cut_mm, face[0][1])]
        # a little over the faces, whose ink fades with them
        path = line([(x * k, -h * k) for x, h in corners]) + "z"
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


def _piece(frame: Frame, made: tuple[Cut, ...]) -> str:
    """The width of the first piece between its cuts."""
    if frame.slab.piece_mm is None:
        return ""
    k, y = frame.k, frame.y(frame.top_mm) - 19
    start = frame.slab.trim_mm * k
    end = start + frame.slab.piece_mm * k
    middle = (start + end) / 2
    size = mark_mm(frame.slab.piece_mm)
    for words in (f"one piece, {size} mm", f"{size} mm"):
        half = width(words, FIGURE_SIZE, "bold") / 2 + 10
        if end - start >= 2 * half + 32:
            lines = line([(start + 8, y), (middle - half, y)])
            lines += line([(middle + half, y), (end - 8, y)])
            said = text((middle, y + 5.5), words, "figure", "middle")
            return element("path", d=lines, class_="dim") + said
    place = (start, frame.y(frame.top_mm) - 60)
    return text(place, f"one piece, {size} mm", "figure")
