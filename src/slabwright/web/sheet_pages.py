"""The bench sheet: seen in our frame, as a bare page that prints, and as PDF."""

import re
from base64 import b64encode
from dataclasses import dataclass
from hashlib import sha256
from html import unescape
from typing import Annotated, Final

from fastapi import APIRouter, Query, Request, Response
from starlette.responses import HTMLResponse

from slabwright.desk.scaling import chosen
from slabwright.errors import FileError, Mistake, SlabwrightError
from slabwright.files.wanted import Asked as ScaleTo
from slabwright.publish.draw_cut import drawn_plan
from slabwright.publish.drawing.cut_plan import cut_plan_svg
from slabwright.publish.sheet.html import sheet_html
from slabwright.publish.sheet.pdf import sheet_pdf
from slabwright.slab.presets import preset_names
from slabwright.spec.bench import BenchSheet, Making, bench_sheet
from slabwright.web.desk_view import DeskView
from slabwright.web.fields import CardId
from slabwright.web.guard import POLICY
from slabwright.web.house import Visit, looking, render
from slabwright.web.scale_asked import ScaleAsk, Wrong, wrong
from slabwright.web.scale_pages import AtScale, at_scale, filled, paper, scaled_view
from slabwright.web.scale_view import ScaleView

router = APIRouter(include_in_schema=False)

Asked = Annotated[ScaleAsk, Query()]
IN_FRAME: Final = f"{POLICY}; frame-src 'self'"
"""What the page with the sheet in it may load."""
_STYLE: Final = re.compile(r"<style[^>]*>(.*?)</style>", re.DOTALL)


@dataclass(frozen=True)
class Printed:
    """A sheet, and the scaling that it came by, if it is scaled."""

    sheet: BenchSheet
    view: ScaleView | None

    @property
    def plan(self) -> str:
        """The plan of its cut."""
        spec = self.sheet.spec
        cut = spec.cut
        return "" if cut is None else cut_plan_svg(drawn_plan(spec, cut), theme="paper")


def printed(visit: Visit, at: AtScale, ask: ScaleAsk) -> Printed:
    """The sheet of this revision, for the tins and amounts that are asked for.

    Raises:
        SlabwrightError: if there is nothing to weigh, or it can't be scaled so.
    """
    spec, words, view = at.worked.spec, "", None
    if not (spec.layers or spec.components):
        what = "There is nothing on the card to weigh yet."
        raise FileError(Mistake(what, "Write a layer and what goes in it."))
    if ask.choice or ask.packs or ask.asked(spec).scale != ScaleTo():
        view = scaled_view(visit, at, ask)
        spec = chosen(view.scaled.making, view.found, view.letter)
        words = f"card {view.multiplier}"
        if len(view.scaled.tins) > 1:
            words += f" for {' and '.join(one.title for one in view.tins)}"
    making = Making(visit.desk.day, words=words, revision=f"v{at.revision.number}")
    return Printed(bench_sheet(spec, making), view)


@router.get("/slabs/{card_id}/sheet")
def sheet_page(request: Request, card_id: CardId, ask: Asked) -> Response:
    """Choose what to make; the sheet stands beside it."""
    with looking(request) as visit:
        at = at_scale(visit, card_id, ask)
        made: Printed | None = None
        mistakes: tuple[Wrong, ...] = ()
        try:
            made = printed(visit, at, ask)
        except SlabwrightError as error:
            mistakes = wrong(error.mistakes)
        tins = visit.desk.folder.kitchen.tins
        names = (*(name for name, _ in tins), *preset_names())
        response = render(
            request, "sheet.html", visit=visit, title=f"{at.card.name}: bench sheet",
            here="Slabs", stop="Bench sheet", card=at.card, revision=at.revision,
            draft=at.draft, view=DeskView(at.worked), ask=ask, made=made,
            mistakes=mistakes, tin_names=tuple(dict.fromkeys(names)),
            tin_fields=filled(ask.tin, 1), query=ask.query(),
        )  # fmt: skip
        response.headers["Content-Security-Policy"] = IN_FRAME
        return response


@router.get("/slabs/{card_id}/sheet.html")
def bare_sheet(request: Request, card_id: CardId, ask: Asked) -> Response:
    """The sheet alone, with the style that it brings along and nothing else."""
    with looking(request) as visit:
        made = printed(visit, at_scale(visit, card_id, ask), ask)
    page = sheet_html(made.sheet, made.plan)
    return HTMLResponse(page, headers={"Content-Security-Policy": sheet_policy(page)})


@router.get("/slabs/{card_id}/sheet.pdf")
def pdf_sheet(request: Request, card_id: CardId, ask: Asked) -> Response:
    """The sheet as PDF, to look at and to print."""
    with looking(request) as visit:
        at = at_scale(visit, card_id, ask)
        made = printed(visit, at, ask)
    name = f"{at.card.stem}-v{at.revision.number}.pdf"
    return paper(sheet_pdf(made.sheet, made.plan), name, "inline")


def sheet_policy(page: str) -> str:
    """What a sheet may load: its own style blocks, each by its hash, and its fonts."""
    blocks = dict.fromkeys(_STYLE.findall(page))
    hashes = " ".join(f"'{_hash(unescape(block))}'" for block in blocks)
    return (
        f"default-src 'none'; style-src {hashes}; font-src data:; base-uri 'none'; "
        "form-action 'none'; frame-ancestors 'self'"
    )


def _hash(text: str) -> str:
    return f"sha256-{b64encode(sha256(text.encode()).digest()).decode()}"
