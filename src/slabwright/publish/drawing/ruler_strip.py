"""Strips of paper to lay along a slab's edge, at true size, with the knife's marks."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from hashlib import blake2s
from math import ceil, pi
from typing import Final

from slabwright.publish.drawing.drawn import mark_mm
from slabwright.publish.drawing.lettering import cleaned, shortened
from slabwright.publish.drawing.plan import DrawnPlan
from slabwright.publish.drawing.svg import element, escaped, line, number, text

PAGE_MM: Final = (210.0, 297.0)
"""A4."""
REACH_MM: Final = 260.0
"""So far one strip reaches; the next goes on from there."""
_TOP: Final = 26.0
_LEFT: Final = 14.0
_PITCH: Final = 31.5
_WIDE: Final = 29.0
_OVER: Final = 4.0
"""So much paper stands over at both ends."""
_A_PAGE: Final = 6
_TICKS: Final = {10: 9.0, 5: 6.5}
_TICK: Final = 4.5
_HIGH: Final = 3.6
"""Of a figure; marks that are nearer share one [mm]."""
_SAME_MM: Final = 0.05
_FACE: Final = "'Atkinson Hyperlegible Next','DejaVu Sans',sans-serif"


@dataclass(frozen=True, slots=True)
class _Mark:
    at_mm: float
    slants: bool = False


@dataclass(frozen=True, slots=True)
class _Edge:
    """An edge of the slab that strips are laid along, with all its marks."""

    words: str
    size_mm: float
    marks: tuple[_Mark, ...]


@dataclass(frozen=True, slots=True)
class _Strip:
    """One strip: which edge it is laid along, from where, and its marks."""

    words: str
    start_mm: float
    reach_mm: float
    marks: tuple[_Mark, ...]


def ruler_pages(plan: DrawnPlan) -> tuple[str, ...]:
    """A4 pages as SVG documents, their unit a millimetre: print them at 100 %.

    A strip is cut out along its line and its ticks laid on the slab's edge, before
    anything is trimmed; arrows say where the knife goes, open ones where a slanted
    stroke begins or ends. Around a round slab that is cut in wedges it is laid on end.
    Nothing to mark gives no page.

    Args:
        plan: the slab from above.
    """
    strips = [strip for edge in _edges(plan) for strip in _parts(edge)]
    pages = [strips[i : i + _A_PAGE] for i in range(0, len(strips), _A_PAGE)]
    return tuple(
        _page(plan, page, number_, len(pages)) for number_, page in enumerate(pages, 1)
    )


def _edges(plan: DrawnPlan) -> Iterator[_Edge]:
    """Every edge that has marks; alike ones share a strip."""
    met: dict[str, list[_Mark]] = {}
    for one in plan.strokes:
        for edge, at_mm in one.meets:
            if one.edge in {"", "rim"}:
                met.setdefault(edge, []).append(_Mark(at_mm, slants=not one.edge))
    if "rim" in met:
        around = "around the rim, from the nearest point to the right"
        yield _Edge(around, pi * plan.length_mm, _sorted(met["rim"]))
    for edge, size_mm, ends in (
        ("left", plan.length_mm, ("near", "far")),
        ("near", plan.width_mm, ("left", "right")),
    ):
        straight = [
            _Mark(one.at_mm)
            for one in plan.strokes
            if one.edge == edge and one.at_mm is not None
        ]
        first, last = (_sorted([*straight, *met.get(end, [])]) for end in ends)
        if first == last:
            side = "along" if edge == "left" else "across"
            both = [_Edge(f"{side}, from the {edge} edge", size_mm, first)]
        else:
            words = [f"{end} edge, from its {edge} end" for end in ends]
            both = [_Edge(words[0], size_mm, first), _Edge(words[1], size_mm, last)]
        yield from (one for one in both if one.marks)


def _sorted(marks: Sequence[_Mark]) -> tuple[_Mark, ...]:
    """In order; where two meet in one place, the straight one stands for both."""
    found: list[_Mark] = []
    for mark in sorted(marks, key=lambda one: (round(one.at_mm, 2), one.slants)):
        if not found or mark.at_mm - found[-1].at_mm > _SAME_MM:
            found.append(mark)
    return tuple(found)


def _parts(edge: _Edge) -> Iterator[_Strip]:
    """An edge in strips as long as paper allows."""
    parts = max(1, ceil(edge.size_mm / REACH_MM - 1e-9))
    for part in range(parts):
        start = part * REACH_MM
        reach = min(REACH_MM, edge.size_mm - start)
        end = start + reach
        here = tuple(m for m in edge.marks if start - 1e-9 <= m.at_mm <= end + 1e-9)
        words = edge.words if parts == 1 else f"{edge.words}, {part + 1} of {parts}"
        yield _Strip(words, start, reach, here)


def _page(plan: DrawnPlan, strips: list[_Strip], page: int, pages: int) -> str:
    seed = repr((plan.name, strips, page)).encode()
    id_ = f"strip-{blake2s(seed, digest_size=6).hexdigest()}"
    wide, high = PAGE_MM
    name = shortened(cleaned(plan.name), 60.0, 5.0, "name")
    head = text((_LEFT, 12.0), name, "head")
    said = f"Print at 100%. This line is 100 mm long. Page {page} of {pages}."
    head += text((90.0, 9.5), said, "small")
    head += element("path", d="M90 12h100M90 11v2M190 11v2", class_="cut")
    body = "".join(
        element(
            "g",
            _drawn(one),
            transform=f"translate({number(_LEFT + i * _PITCH)} {_TOP})",
        )
        for i, one in enumerate(strips)
    )
    title = f"Ruler strips for {cleaned(plan.name)}"
    desc = "; ".join(f"{one.words}: {_listed(one)}" for one in strips)
    return element(
        "svg",
        element("title", escaped(title), id=f"{id_}-title")
        + element("desc", escaped(desc), id=f"{id_}-desc")
        + element("style", _style(id_))
        + element("path", d=f"M0 0h{wide:g}v{high:g}h-{wide:g}z", class_="sheet")
        + head
        + body,
        xmlns="http://www.w3.org/2000/svg",
        id=id_,
        viewBox=f"0 0 {wide:g} {high:g}",
        width=f"{wide:g}mm",
        height=f"{high:g}mm",
        role="img",
        aria_labelledby=f"{id_}-title {id_}-desc",
    )


def _style(id_: str) -> str:
    rules = {
        "text": f"font-family:{_FACE};font-size:3.4px;fill:#000",
        ".head": "font-family:Besley,Georgia,serif;font-size:5px",
        ".small": "font-size:3.2px",
        ".at": "font-size:4.2px;font-weight:700",
        ".sheet": "fill:#fff",
        ".cut,.tick": "fill:none;stroke:#000;stroke-width:.18",
        ".outline": "fill:none;stroke:#000;stroke-width:.18;stroke-dasharray:2 1.4",
        ".knife": "fill:none;stroke:#000;stroke-width:.5",
        ".point": "fill:#000;stroke:#000;stroke-width:.3",
        ".open": "fill:#fff;stroke:#000;stroke-width:.3",
    }
    return "".join(
        f"{','.join(f'#{id_} {one}' for one in which.split(','))}{{{rule}}}"
        for which, rule in rules.items()
    )


def _listed(strip: _Strip) -> str:
    marks = ", ".join(mark_mm(mark.at_mm) for mark in strip.marks)
    return f"{marks} mm" if marks else "no marks"


def _drawn(strip: _Strip) -> str:
    """One strip, its edge with the ticks at the left."""
    ticks, figures = [], ""
    taken = [mark.at_mm - strip.start_mm for mark in strip.marks]
    for at in range(int(strip.reach_mm + 1e-9) + 1):
        shown = round(strip.start_mm) + at
        size = next((s for step, s in _TICKS.items() if shown % step == 0), _TICK)
        ticks.append(line([(0.0, float(at)), (size, float(at))]))
        if shown % 10 == 0 and all(abs(at - mark) > 3.4 for mark in taken):
            figures += text((10.0, at + 1.2), f"{shown}", "small")
    edge = line([(0.0, 0.0), (0.0, strip.reach_mm)])
    out = element("path", d="".join(ticks) + edge, class_="tick") + figures
    out += "".join(_marks(strip))
    high = number(strip.reach_mm + 2 * _OVER)
    box = f"M0 {-_OVER:g}h{_WIDE:g}v{high}h-{_WIDE:g}z"
    turned = element(
        "text",
        escaped(strip.words),
        class_="small",
        transform=f"translate({_WIDE - 2.7:g} 1) rotate(90)",
    )
    return out + element("path", d=box, class_="outline") + turned


def _marks(strip: _Strip) -> Iterator[str]:
    """Arrows at the edge, and their millimetres; close ones share a figure."""
    last = -_HIGH
    for mark in strip.marks:
        at = mark.at_mm - strip.start_mm
        yield element("path", d=line([(0.0, at), (12.0, at)]), class_="knife")
        point = line([(9.5, at), (13.0, at - 1.5), (13.0, at + 1.5)]) + "z"
        yield element("path", d=point, class_="open" if mark.slants else "point")
        if at - last >= _HIGH:
            yield text((13.8, at + 1.5), mark_mm(mark.at_mm), "at")
            last = at
