"""The sheet in words: every text, figure and drawing that PDF and HTML set alike."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from typing import Any

from slabwright.figure import Figure, Standing
from slabwright.publish import words
from slabwright.publish.draw import drawn
from slabwright.publish.drawing.cut_face import SAMPLE_MM, cut_face_svg
from slabwright.publish.drawing.drawn import DrawnSlab
from slabwright.publish.drawing.section import section_svg
from slabwright.publish.nature_words import brief
from slabwright.publish.sheet.glyphs import BOX, all_shown, is_whole, shown
from slabwright.publish.sheet.rulers import REACH_MM, pages, ruler
from slabwright.publish.sheet.steps import paragraphs, typed
from slabwright.spec.bench import BenchSheet, Contents, Job
from slabwright.spec.bench_weigh import Group, Weighing
from slabwright.spec.specification import CutFigures, Specification

_FACE_MARGIN_PX = 1.5
_PX_PER_MM = 4.0
"""At this scale the cut face's textures have their own size."""
_WIDEST_FACE_MM = 75.0


@dataclass(frozen=True, slots=True)
class Drawings:
    """What is drawn on the sheet, as SVG."""

    face: str
    face_mm: tuple[float, float]
    """Size on paper with its margin, so that the piece is as large as life."""
    section: str
    plan: str
    """The plan of the cut, where one is handed in; else empty."""
    left: tuple[str, ...]
    """Rulers by page."""
    right: tuple[str, ...]


def drawings(spec: Specification, plan: str = "") -> Drawings:
    """Cut face, section and rulers of a slab.

    Args:
        spec: the slab.
        plan: an SVG document of its cut plan, seen from above.
    """
    slab = _printable(drawn(spec))
    wide_mm = min(slab.piece_mm or SAMPLE_MM, _WIDEST_FACE_MM)
    px = wide_mm * _PX_PER_MM + 2 * _FACE_MARGIN_PX
    face = cut_face_svg(replace(slab, piece_mm=wide_mm), width_px=px, theme="paper")
    size = tuple(float(part) / _PX_PER_MM for part in _size(face))
    cutting = spec.cut.cutting if spec.cut else None
    along = cutting.cuts_along_mm if cutting else ()
    across = cutting.cuts_across_mm if cutting else ()
    tin = spec.cut.tin if spec.cut and along else None
    long_mm, short_mm = (tin.length_mm, tin.width_mm) if tin else (0.0, 0.0)
    count = max(pages(long_mm), pages(short_mm))
    return Drawings(
        face if slab.layers else "",
        (size[0], size[1]),
        section_svg(slab, theme="paper") if slab.layers else "",
        plan,
        tuple(ruler(along, long_mm, i, at_right=False) for i in range(count)),
        tuple(ruler(across, short_mm, i, at_right=True) for i in range(count)),
    )


def _printable(slab: DrawnSlab) -> DrawnSlab:
    """The same slab, its names as our fonts can print them, without findings."""
    layers = tuple(replace(one, name=shown(one.name)) for one in slab.layers)
    return replace(slab, name=shown(slab.name), layers=layers, marks=())


def _size(svg: str) -> tuple[str, str]:
    """Width and height of a drawing, as its head says them."""
    head = svg[: svg.index(">")]
    wide, high = (head.split(f' {name}="')[1].split('"')[0] for name in _SIDES)
    return wide, high


_SIDES = ("width", "height")


def content(sheet: BenchSheet) -> dict[str, Any]:
    """Every word on the sheet, fit to be printed; runs and lists, no markup."""
    spec, making = sheet.spec, sheet.making
    said: dict[str, Any] = {
        "title": spec.name or "Slab without a name",
        "for": _for(sheet),
        "meta": [
            f"proved {day(spec.card.proved)}" if spec.card.proved else "not proved",
            *([making.revision] if making.revision else []),
            *([f"printed {day(making.day)}"] if making.day else []),
        ],
        "layers": _layers(spec),
        "all": _all(spec),
        "face_alt": "The cut face of a piece, as large as life.",
        "section_alt": "Section of the slab in its tin, with the depth of each layer.",
        "plan_alt": "Plan of the cuts, seen from above.",
        "jobs": [
            _job(job, i, _will_be(job, spec))
            for i, job in enumerate(sheet.jobs, start=1)
        ],
        "cut": list(_cut(spec.cut)) if spec.cut else [],
        "foot": list(_foot(sheet)),
    }
    if not _all_whole(said):
        said["foot"].append(
            f"{BOX} stands for a sign that our type lacks: see the card."
        )
    printed: dict[str, Any] = all_shown(said)
    return printed


def _all_whole(value: Any) -> bool:
    if isinstance(value, str):
        return is_whole(value)
    inner = value.values() if isinstance(value, dict) else value
    return all(map(_all_whole, inner)) if isinstance(value, dict | list) else True


def day(one: date) -> str:
    """A date as it is written on a wall.

    >>> day(date(2026, 3, 14))
    '14 March 2026'
    """
    return f"{one.day} {one:%B %Y}"


def _for(sheet: BenchSheet) -> str:
    spec, making = sheet.spec, sheet.making
    if spec.tin is None and making.words:
        return making.words
    tin = spec.tin.describe() if spec.tin else "no tin named"
    is_many = making.trays > 1 and spec.tin is not None and spec.tin.count == 1
    trays = f"{making.trays} trays of " if is_many else ""
    return f"{trays}{tin}" + (f"; {making.words}" if making.words else "")


def _layers(spec: Specification) -> list[dict[str, str]]:
    """From the top down, as they stand in the drawing beside."""
    return [
        {
            "mm": words.mm(one.depth_mm.number) if one.depth_mm.known else "?",
            "name": one.name,
        }
        for one in reversed(spec.layers)
    ]


def _all(spec: Specification) -> str:
    parts = []
    if spec.height_mm.known:
        parts.append(f"{words.mm(spec.height_mm.number)} mm in all")
    if spec.cut is not None and spec.cut.piece_mass_g.known:
        parts.append(f"a piece {words.grams(spec.cut.piece_mass_g.number)} g")
    return "; ".join(parts)


# --- jobs --------------------


def _will_be(job: Job, spec: Specification) -> str:
    """What the layer of a job will be, in a line; empty where nobody knows."""
    said = (brief(one, _MOST_TOLD) for one in spec.natures if one.layer == job.name)
    will = next((one for one in said if one), "")
    return f"It will be: {will}." if will else ""


def _job(job: Job, i: int, will: str) -> dict[str, Any]:
    return {
        "number": str(i),
        "name": job.name,
        "takes": f"Take {job.takes}." if job.takes else "",
        "will": will,
        "groups": [_group(group) for group in job.groups],
        "steps": [
            {
                "cautions": [[c.head, c.text] for c in step.cautions],
                "paragraphs": list(paragraphs(step)),
            }
            for step in job.steps
        ],
        "is_finish": job.is_finish,
        "height": _height(job, len(will)),
    }


_MOST_TOLD = 3
"""So much of what a layer will be is told on the sheet, where room is dear."""
_SURELY_SHORT = (20, 900)
"""Lines and letters of steps that surely go on one page."""
_MAY_FIT = 40
"""More lines than this surely don't."""


def _height(job: Job, more: int) -> str:
    """Whether a job is surely `short` or `tall` for a page, or has to be `measured`."""
    lines = sum(len(group.lines) for group in job.groups)
    steps = [one.step.text for one in job.steps if one.step]
    letters = more + sum(map(len, steps)) + 25 * len(steps)
    letters += sum(len(c.text) for one in job.steps for c in one.cautions)
    names = sum(len(one.name) for group in job.groups for one in group.lines)
    most_lines, most_letters = _SURELY_SHORT
    if lines <= most_lines and letters <= most_letters and names <= most_letters:
        return "short"
    return "tall" if lines > _MAY_FIT else "measured"


def _group(group: Group) -> dict[str, Any]:
    head = group.vessel
    if group.after:
        head = f"keep aside for after “{typed(group.after)}”"
    if group.is_again:
        head = f"{head or 'the same'}, from 0 again: the scale carries no more"
    return {"head": head, "lines": [_line(one) for one in group.lines]}


def _line(one: Weighing) -> dict[str, str]:
    count = f"{one.count} " if one.count else ""
    if one.reads_g is None:
        return {"name": f"{count}{one.name}", "notes": ", ".join(one.notes),
                "add": "", "reads": "", "says": one.says}  # fmt: skip
    says = ", ".join(filter(None, ("small scale" if one.is_small else "", one.says)))
    return {
        "name": f"{count}{one.name}",
        "notes": ", ".join(one.notes),
        "add": figure(one.add_g, is_small=one.is_small),
        "reads": figure(one.reads_g, is_small=one.is_on_small),
        "says": says,
    }


def figure(value: Decimal | None, *, is_small: bool = False) -> str:
    """Grams as the scale shows them; a small scale shows its tenth.

    >>> figure(Decimal("1564")), figure(Decimal("7.0"), is_small=True)
    ('1,564', '7.0')
    """
    if value is None:
        return ""
    if is_small or value % 1:
        return f"{value:,.1f}"
    return f"{value:,.0f}"


# --- the cut and the foot --------------------


def _cut(cut: CutFigures) -> Iterator[list[list[str]]]:
    made = cut.cutting
    pieces = made.summary.replace(" of ", " pieces of ", 1)
    if made.shape not in {"grid", "cells"}:
        pieces = made.summary
    each = cut.piece_mass_g
    weight = f", {words.grams(each.number)} g each" if each.known else ""
    yield [["big", f"{pieces}{weight}"]]
    if made.cuts_along_mm:
        yield [["", "Along: "], ["b", _list(made.cuts_along_mm)]]
    if made.cuts_across_mm:
        near = _list(made.cuts_across_mm)
        yield [["", "Across: "], ["b", near]]
    if made.cuts_along_mm:
        yield [["", _how_to_mark(cut)]]
    gap, blank = ["", " "], ["blank", ""]
    yield [["blank", "three pieces weigh"], gap, blank, gap, blank]


def _list(marks_mm: Sequence[float]) -> str:
    return ", ".join(words.length(at) for at in marks_mm) + " mm"


def _how_to_mark(cut: CutFigures) -> str:
    said = (
        "From the left and the near edge. The paper's edges are true, left for along,"
        " right for across: lay its 0 on the slab's edge and mark."
    )
    longest = max(cut.cutting.cuts_along_mm + cut.cutting.cuts_across_mm)
    if longest > REACH_MM:
        said += f" {REACH_MM:.0f} mm a page; measure on by the figures."
    return said


def _foot(sheet: BenchSheet) -> Iterator[str]:
    spec = sheet.spec
    yield from spec.card.notes
    shown_figures = [f for one in spec.layers for f in (one.depth_mm, one.mass_out_g)]
    yield _standing([f for f in shown_figures if f.known])
    yield _contains(sheet.contents)
    if spec.errors:
        yield "The card has mistakes: mend them before you weigh."


def _standing(figures: Sequence[Figure]) -> str:
    if not figures:
        return "Amounts as the card gives them; no depth is known."
    standings = {one.standing for one in figures}
    if standings == {Standing.MEASURED}:
        return "Depths and finished weights are measured."
    if Standing.ASSUMED in standings:
        return "Depths and finished weights lean on what the card or the trade assumes."
    return "Depths and finished weights are worked out."


def _contains(contents: Contents) -> str:
    parts = []
    if contents.contains:
        parts.append(
            f"Contains {_and(contents.contains)} by our larder; read the packs."
        )
    else:
        parts.append("Our larder knows of no allergen in it; read the packs.")
    if contents.may_hide:
        parts.append(f"May hide {_and(contents.may_hide)}.")
    if contents.unknown:
        parts.append(f"Not in our larder: {_and(contents.unknown)}.")
    return " ".join(parts)


def _and(names: Sequence[str]) -> str:
    *first, last = names
    return f"{', '.join(first)} and {last}" if first else last
