"""The tin of a section: ruler, wall with its rim, floor, lining paper."""

from math import floor

from slabwright.publish.drawing.section_frame import Frame
from slabwright.publish.drawing.svg import Point, element, line, number, text

THICK = 8.0
"""Thickness of wall and floor; not to scale [units]."""
_BEAD = 6.5
"""Radius of the rolled rim."""
_LINING = 2.5
"""How far the lining paper lies off the tin, so that it is seen."""
_TICKS_MM = ((1, 5, 10), (5, 10, 10), (5, 10, 20), (10, 50, 50), (50, 100, 100))
"""Small and middle ticks, and those with a figure."""
_CLOSEST_TICKS = 6.0
_CLOSEST_FIGURES = 20.0


def ruler_x(frame: Frame) -> float:
    """Where the ruler stands, clear of the tin [units]."""
    return -frame.slope - THICK - 2 * _BEAD - 4


def ruler_end_mm(frame: Frame) -> float:
    """How far up the ruler goes [mm]."""
    return max(frame.top_mm, frame.slab.tin_depth_mm or 0.0, 10.0)


def ruler(frame: Frame) -> str:
    """An upright ruler in millimetres; its zero is the tin's floor."""
    x, k = ruler_x(frame), frame.k
    end_mm = ruler_end_mm(frame)
    small_mm, middle_mm, figure_mm = _ticks_mm(k)
    long, short, figures = "", "", ""
    for i in range(floor(end_mm / small_mm + 1e-9) + 1):
        at_mm = i * small_mm
        y = number(frame.y(at_mm))
        if at_mm % figure_mm == 0:
            long += f"M{number(x)} {y}h-13"
            place = (x - 18, frame.y(at_mm) + 4.5)
            figures += text(place, f"{at_mm:,}", "tick", "end")
        elif at_mm % middle_mm == 0:
            long += f"M{number(x)} {y}h-9"
        else:
            short += f"M{number(x)} {y}h-5"
    stem = line([(x, 0), (x, frame.y(end_mm))])
    return (
        element("path", d=short or "M0 0", class_="thin")
        + element("path", d=stem + long, class_="edge")
        + figures
    )


def tin(frame: Frame) -> str:
    """Wall, rim and floor; a wall of unknown height in broken lines, without a rim."""
    if not frame.layers or frame.slab.tin_depth_mm is None:
        return _open_tin(frame)
    top, slope = frame.y(frame.wall_mm), frame.slope
    outer = [(-THICK, THICK), (-slope - THICK, top)]
    inner = [(-slope, top), (0.0, 0.0)]
    bead = (-slope - THICK + 1, top)
    end = frame.shown_mm * frame.k
    if frame.whole:
        mirrored = [_mirrored(p, end) for p in (*inner[::-1], *outer[::-1])]
        path = line([*outer, *inner, *mirrored]) + "z"
        beads = [bead, _mirrored(bead, end)]
    else:
        path = line([(end, THICK), *outer, *inner, (end, 0.0)])
        beads = [bead]
    rims = (element("circle", cx=x, cy=y, r=_BEAD, class_="tin") for x, y in beads)
    return element("path", d=path, class_="tin") + "".join(rims)


def lining(frame: Frame) -> str:
    """The lining paper, standing out above the rim unless the slab does."""
    top, slope, off = frame.y(frame.wall_mm), frame.slope, _LINING
    end = frame.shown_mm * frame.k
    out = 0.0 if frame.over_mm else 8.0
    wall = [(off - slope, top - out), (off - slope, top), (off, -off)]
    floor_end = [(end - 4, -off)]
    if frame.whole:
        floor_end = [_mirrored(p, end) for p in wall[::-1]]
    return element("path", d=line([*wall, *floor_end]), class_="lining")


def _open_tin(frame: Frame) -> str:
    """A tin whose depth was not given, or with nothing in it."""
    end, top, slope = frame.shown_mm * frame.k, frame.y(frame.wall_mm), frame.slope
    walls = [[(-THICK, 0.0), (-slope - THICK, top)], [(0.0, 0.0), (-slope, top)]]
    right = end
    if frame.whole:
        walls += [[_mirrored(p, end) for p in wall] for wall in walls]
        right = end + THICK
    class_ = "tin" if frame.layers else "unknown"
    base = line([(right, THICK), (-THICK, THICK), (-THICK, 0), (right, 0)])
    sides = "".join(line(wall) for wall in walls)
    return element("path", d=base, class_=class_) + element(
        "path", d=sides, class_="unknown"
    )


def _mirrored(point: Point, end: float) -> Point:
    return end - point[0], point[1]


def _ticks_mm(k: float) -> tuple[int, int, int]:
    """Steps of the ruler, so that neither ticks nor figures crowd [mm]."""
    tenfold = 1
    while True:
        for small, middle, figure in _TICKS_MM:
            if small * tenfold * k >= _CLOSEST_TICKS and (
                figure * tenfold * k >= _CLOSEST_FIGURES
            ):
                return small * tenfold, middle * tenfold, figure * tenfold
        tenfold *= 10
