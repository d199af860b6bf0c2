"""Long work: begun from a page, watched from any, stopped with its first answer."""

from typing import Annotated, Final
from urllib.parse import urlsplit

from fastapi import APIRouter, Form, Request, Response
from starlette.exceptions import HTTPException
from starlette.responses import RedirectResponse

from slabwright.desk.piece_mass import piece_mass_job
from slabwright.web.fields import CardId
from slabwright.web.house import house_of, looking, render
from slabwright.web.scale_asked import ScaleAsk, WorkKey
from slabwright.web.scale_pages import asked_sheet, at_scale
from slabwright.web.work_view import work_view

router = APIRouter(include_in_schema=False)

SLABS: Final = 2000
"""So many are cut on paper."""


@router.post("/slabs/{card_id}/work")
def begin(
    request: Request, card_id: CardId, ask: Annotated[ScaleAsk, Form()]
) -> Response:
    """Cut many slabs on paper, as the form says, and weigh every piece."""
    with looking(request) as visit:
        sheet = asked_sheet(visit, at_scale(visit, card_id, ask), ask)
        job = piece_mass_job(sheet, SLABS * len(sheet.cut.cutting.each))
    key = house_of(request).worker.start(job)
    there = f"/slabs/{card_id}/scale{ask.query(work=key)}#tried"
    return RedirectResponse(there, status_code=303)


@router.get("/long-work/{key}")
def look(request: Request, key: WorkKey) -> Response:
    """How far it has come: a part of a page."""
    with looking(request) as visit:
        work = work_view(visit, key)
        if work is None:
            raise HTTPException(404, "Nothing of that name is being worked out.")
        return render(request, "_work.html", visit=visit, work=work)


@router.post("/long-work/{key}/stop")
def stop(request: Request, key: WorkKey) -> Response:
    """Leave it; its first answer stays."""
    house_of(request).worker.stop(key)
    return RedirectResponse(_came_from(request, f"/long-work/{key}"), status_code=303)


def _came_from(request: Request, other: str) -> str:
    """The page of ours that it was asked from."""
    came = urlsplit(request.headers.get("referer", ""))
    is_ours = came.netloc == request.headers.get("host") and came.path.startswith("/")
    if not is_ours or came.path.startswith("//"):
        return other
    return came.path + (f"?{came.query}" if came.query else "") + "#tried"
