"""Strips of paper to lay along a slab's edge, at true size, with the knife's marks."""

from collections.abc import Iterator
from dataclasses import dataclass
from hashlib import blake2s
from math import ceil
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
_FACE: Final = "'Atkinson Hyperlegible Next','DejaVu Sans',sans-serif"


@dataclass(frozen=True, slots=True)
class _Strip:
    """One strip: which edge it is laid along, from where, and its marks."""

    words: str
    start_mm: float
    reach_mm: float
    marks_mm: tuple[float, ...]


def ruler_pages(plan: DrawnPlan) -> tuple[str, ...]:
    """A4 pages as SVG documents, their unit a millimetre: print them at 100 %.

    A strip is cut out along its line and its ticks laid on the slab's edge; arrows say
    where the knife goes. Slanted strokes and wedges have no marks on a straight edge.

    Args:
        plan: the slab from above.
    """
    strips = [*_strips(plan, "left"), *_strips(plan, "near")]
    pages = [strips[i : i + _A_PAGE] for i in range(0, len(strips), _A_PAGE)]
    return tuple(
        _page(plan, page, number_, len(pages)) for number_, page in enumerate(pages, 1)
    )


def _strips(plan: DrawnPlan, edge: str) -> Iterator[_Strip]:
    marks = sorted(
        one.at_mm for one in plan.strokes if one.edge == edge and one.at_mm is not None
    )
    if not marks:
        return
    size_mm = plan.length_mm if edge == "left" else plan.width_mm
    side = "along" if edge == "left" else "across"
    parts = max(1, ceil(size_mm / REACH_MM - 1e-9))
    for part in range(parts):
        start = part * REACH_MM
        reach = min(REACH_MM, size_mm - start)
        end = start + reach
        here = tuple(m for m in marks if start - 1e-9 <= m <= end + 1e-9)
        whole = f"{side}, from the {edge} edge"
        words = whole if parts == 1 else f"{whole}, {part + 1} of {parts}"
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
    desc = "; ".join(
        f"{one.words}: {', '.join(map(mark_mm, one.marks_mm)) or 'no marks'} mm"
        for one in strips
    )
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
        ".at": "font-size:4.4px;font-weight:700",
        ".sheet": "fill:#fff",
        ".cut,.tick": "fill:none;stroke:#000;stroke-width:.18",
        ".outline": "fill:none;stroke:#000;stroke-width:.18;stroke-dasharray:2 1.4",
        ".knife": "fill:none;stroke:#000;stroke-width:.5",
        ".point": "fill:#000",
    }
    return "".join(
        f"{','.join(f'#{id_} {one}' for one in which.split(','))}{{{rule}}}"
        for which, rule in rules.items()
    )


def _drawn(strip: _Strip) -> str:
    """One strip, its edge with the ticks at the left."""
    ticks, figures = [], ""
    taken = [at - strip.start_mm for at in strip.marks_mm]
    for at in range(int(strip.reach_mm + 1e-9) + 1):
        shown = round(strip.start_mm) + at
        size = next((s for step, s in _TICKS.items() if shown % step == 0), _TICK)
        ticks.append(line([(0.0, float(at)), (size, float(at))]))
        if shown % 10 == 0 and all(abs(at - mark) > 3.4 for mark in taken):
            figures += text((10.0, at + 1.2), f"{shown}", "small")
    edge = line([(0.0, 0.0), (0.0, strip.reach_mm)])
    out = element("path", d="".join(ticks) + edge, class_="tick") + figures
    for mark in taken:
        out += element("path", d=line([(0.0, mark), (12.0, mark)]), class_="knife")
        point = line([(9.5, mark), (13.0, mark - 1.5), (13.0, mark + 1.5)]) + "z"
        out += element("path", d=point, class_="point")
        words = mark_mm(mark + strip.start_mm)
        out += text((13.8, mark + 1.5), words, "at")
    high = number(strip.reach_mm + 2 * _OVER)
    box = f"M0 {-_OVER:g}h{_WIDE:g}v{high}h-{_WIDE:g}z"
    turned = element(
        "text",
        escaped(strip.words),
        class_="small",
        transform=f"translate({_WIDE - 3.4:g} 1) rotate(90)",
    )
    return out + element("path", d=box, class_="outline") + turned
