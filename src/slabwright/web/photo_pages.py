"""Photographs of a slab: of the whole, of a step, of a trial."""

from typing import Annotated

from fastapi import APIRouter, File, Form, Path, Request, Response, UploadFile
from starlette.exceptions import HTTPException
from starlette.responses import RedirectResponse

from slabwright.errors import FileError, Mistake
from slabwright.files.photo import MOST_BYTES, cleaned
from slabwright.store import photos, revisions
from slabwright.web.desk_pages import revision_at, slab_at, worked_revision
from slabwright.web.desk_view import DeskView
from slabwright.web.fields import MOST_NUMBER, CardId
from slabwright.web.house import acting, looking, render

router = APIRouter(include_in_schema=False)

PhotoId = Annotated[int, Path(ge=1, le=MOST_NUMBER)]
Caption = Annotated[str, Form(max_length=300)]
Of = Annotated[str, Form(max_length=20, pattern=r"^(slab|v\d{1,9}|line\d{1,9})?$")]


@router.get("/slabs/{card_id}/photos")
def photos_page(request: Request, card_id: CardId) -> Response:
    """Every photograph of a slab."""
    with looking(request) as visit:
        card = slab_at(visit, card_id)
        place = (visit.connection, visit.kitchen_id, card_id)
        current = revision_at(visit, card_id, card.current)
        worked = worked_revision(visit, current)
        steps = [
            (step.span.line, step.text)
            for layer in worked.spec.layers
            for step in layer.steps
        ]
        lines = current.text.splitlines()
        said = {number: " ".join(text.split()) for number, text in
                enumerate(lines, start=1)}  # fmt: skip
        return render(
            request, "photos.html", visit=visit, title=card.name, here="Slabs",
            stop="Photos", card=card, revision=current, draft=None, steps=steps,
            photos=photos.listed(*place), said=said,
            revisions=revisions.listed(*place, limit=100), view=DeskView(worked),
        )  # fmt: skip


@router.post("/slabs/{card_id}/photos")
def add_photo(
    request: Request,
    card_id: CardId,
    photo: Annotated[UploadFile, File()],
    caption: Caption = "",
    of: Of = "",
) -> Response:
    """Keep a photograph: drawn anew, without where and by what it was taken."""
    data = photo.file.read(MOST_BYTES + 1)
    if not data:
        what = "No photograph was chosen."
        raise FileError(Mistake(what, "Choose a JPEG, PNG or WebP."))
    clean = cleaned(data, photo.filename or "the photograph")
    with acting(request) as visit:
        card = slab_at(visit, card_id)
        revision = card.current
        if of.startswith("v"):
            revision = revision_at(visit, card_id, min(int(of[1:]), MOST_NUMBER)).number
        line = int(of.removeprefix("line")) if of.startswith("line") else None
        photos.add(
            visit.connection, visit.kitchen_id, card_id, clean.data, visit.who(),
            media_type=clean.media_type, width=clean.width, height=clean.height,
            caption=caption.strip(), revision=revision if of != "slab" else None,
            step_line=line,
        )  # fmt: skip
    return RedirectResponse(f"/slabs/{card_id}/photos", status_code=303)


@router.get("/photos/{photo_id}")
def photo_itself(request: Request, photo_id: PhotoId) -> Response:
    """The picture."""
    with looking(request) as visit:
        row = photos.one(visit.connection, visit.kitchen_id, photo_id)
        data = photos.data(visit.connection, visit.kitchen_id, photo_id)
    if row is None or data is None:
        raise HTTPException(404, "There is no such photograph in this kitchen.")
    return Response(
        data,
        media_type=row.media_type,
        headers={"Content-Disposition": "inline", "Cache-Control": "private"},
    )


@router.post("/photos/{photo_id}/drop")
def drop_photo(request: Request, photo_id: PhotoId) -> Response:
    """Let go of a photograph, its pixels too."""
    with acting(request) as visit:
        row = photos.one(visit.connection, visit.kitchen_id, photo_id)
        if row is None:
            raise HTTPException(404, "There is no such photograph in this kitchen.")
        photos.drop(visit.connection, visit.kitchen_id, photo_id)
    return RedirectResponse(f"/slabs/{row.card_id}/photos", status_code=303)
