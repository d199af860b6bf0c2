"""The sheet as PDF: tagged, fonts embedded, the same bytes for the same sheet."""

import json
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

import typst

from slabwright.publish.fonts import house_fonts
from slabwright.publish.sheet.page import content, drawings
from slabwright.spec.bench import BenchSheet


def sheet_pdf(sheet: BenchSheet, plan: str = "") -> bytes:
    """The sheet as a PDF/UA-1 file of A4 pages.

    Args:
        sheet: what stands on it.
        plan: an SVG document of the cut plan, if there is one.
    """
    made = typst.compile(
        _template(),
        font_paths=house_fonts(),
        sys_inputs={"data": sheet_data(sheet, plan)},
        pdf_standards=["ua-1"],
    )
    return bytes(made)


@dataclass(frozen=True, slots=True)
class AsSet:
    """How the pages came out, for the HTML to follow."""

    pages: int
    has_section: bool
    """Whether there was room for the section without a page of its own."""
    has_plan: bool
    """The same of the cut plan."""


def as_set(sheet: BenchSheet, plan: str = "") -> AsSet:
    """How many pages the sheet has, and what stands on them."""
    found = typst.query(
        _template(),
        "<set>",
        field="value",
        one=True,
        font_paths=house_fonts(),
        sys_inputs={"data": sheet_data(sheet, plan)},
    )
    said = json.loads(found)
    return AsSet(int(said["pages"]), bool(said["section"]), bool(said["plan"]))


def sheet_data(sheet: BenchSheet, plan: str = "") -> str:
    """What the template is handed, as JSON: words and drawings, no markup."""
    draw = drawings(sheet.spec, plan)
    said = content(sheet)
    said |= {
        "face": draw.face,
        "face_mm": draw.face_mm,
        "section": draw.section,
        "plan": draw.plan,
        "left": draw.left,
        "right": draw.right,
    }
    return json.dumps(said, ensure_ascii=False)


@cache
def _template() -> bytes:
    return files("slabwright.publish.sheet").joinpath("sheet.typ").read_bytes()
