"""The API of the kitchen: its papers, photographs, drafts, money, and long work."""

from typing import Annotated, Any, Final, Literal

from fastapi import APIRouter, File, Form, Path, Query, Request, Response, UploadFile
from pydantic import BaseModel, ConfigDict, Field
from starlette.responses import JSONResponse

from slabwright.counter.needs import Trays
from slabwright.desk.counter import costs_of, to_buy
from slabwright.desk.piece_mass import piece_mass_job
from slabwright.desk.work_state import WorkState
from slabwright.desk.worked import Desk
from slabwright.files.photo import MOST_BYTES, cleaned
from slabwright.publish.figure_json import mistake_json
from slabwright.publish.money_json import costs_json
from slabwright.publish.shopping_json import shopping_json
from slabwright.spec.cut_sheet import cut_sheet
from slabwright.store import cards, drafts, photos
from slabwright.store.photos import PhotoRow
from slabwright.web.desk_pages import draft_key, revision_at, slab_at
from slabwright.web.fields import MOST_CARD, MOST_NUMBER, CardId
from slabwright.web.house import acting, house_of, looking
from slabwright.web.papers import (
    OvertakenError,
    checked,
    keep,
    paper_at,
    paper_of,
    text_of,
)

router = APIRouter(prefix="/api")

Json = dict[str, Any]
_STRICT: Final = ConfigDict(extra="forbid", allow_inf_nan=False)
PaperName = Literal["kitchen.yaml", "larder.yaml", "prices.yaml"]
PhotoId = Annotated[int, Path(ge=1, le=MOST_NUMBER)]
WorkKey = Annotated[str, Path(pattern=r"^[0-9a-f]{64}$")]
Change = Annotated[str, Field(max_length=200)]
MOST_ORDERS: Final = 200
SLABS_TRIED: Final = 2000


class PaperText(BaseModel):
    """One of the kitchen's files, to keep after the revision that was read."""

    model_config = _STRICT
    text: str = Field(max_length=MOST_CARD)
    based_on: int = Field(ge=0, le=MOST_NUMBER)
    note: str = Field(default="", max_length=2000)


class DraftText(BaseModel):
    """What is typed and not kept yet."""

    model_config = _STRICT
    text: str = Field(max_length=MOST_CARD)
    based_on: int = Field(ge=1, le=MOST_NUMBER)


class Aside(BaseModel):
    """Whether a slab is set aside."""

    model_config = _STRICT
    aside: bool


class Tray(BaseModel):
    """So many trays of a slab."""

    model_config = _STRICT
    slab: int = Field(ge=1, le=MOST_NUMBER)
    trays: int = Field(default=1, ge=1, le=1000)


class Order(BaseModel):
    """Trays to cost or to buy for; every slab on the counter once, if none is named."""

    model_config = _STRICT
    trays: list[Tray] = Field(default=[], max_length=MOST_ORDERS)
    changes: list[Change] = Field(
        default=[], max_length=20, description="Changes of prices: `butter +20 %`."
    )
    with_waste: bool = False


# --- papers --------------------


@router.get("/papers/{name}", tags=["kitchen"])
def paper(request: Request, name: PaperName) -> Json:
    """One of the kitchen's files as it stands, with what is wrong in it."""
    with looking(request) as visit:
        found = paper_of(visit, name)
        wrong = checked(visit, text_of(found))
    return {
        "name": found.name,
        "number": found.number,
        "text": found.text,
        "errors": [mistake_json(one) for one in wrong.every],
    }


@router.post("/papers/{name}", status_code=201, tags=["kitchen"])
def keep_paper(request: Request, name: PaperName, new: PaperText) -> Response:
    """Keep a file of the kitchen; 409 with `theirs` if it was changed meanwhile."""
    try:
        with acting(request) as visit:
            keep(visit, paper_at(visit, name, new.based_on), new.text, new.note)
            number = paper_of(visit, name).number
    except OvertakenError as error:
        theirs = {"number": error.theirs.number, "text": error.theirs.text}
        said = {"what": f"{name} was changed meanwhile.", "do": "Compare both."}
        return JSONResponse({"errors": [said], "theirs": theirs}, status_code=409)
    return JSONResponse({"name": name, "number": number}, status_code=201)


# --- slabs --------------------


@router.post("/slabs/{card_id}/aside", tags=["slabs"])
def set_aside(request: Request, card_id: CardId, wanted: Aside) -> Json:
    """Put a slab into the drawer, or back on the counter."""
    with acting(request) as visit:
        slab_at(visit, card_id)
        cards.set_aside(visit.connection, visit.kitchen_id, card_id, wanted.aside)
    return {"id": card_id, "is_aside": wanted.aside}


@router.get("/slabs/{card_id}/draft", tags=["revisions"])
def draft(request: Request, card_id: CardId) -> Json:
    """What is typed and not kept, by whoever asks; null if nothing is."""
    with looking(request) as visit:
        slab_at(visit, card_id)
        found = drafts.one(
            visit.connection, visit.kitchen_id, draft_key(card_id), visit.author
        )
    if found is None:
        return {"draft": None}
    said = {"text": found.text, "based_on": found.based_on, "at": found.at.isoformat()}
    return {"draft": said}


@router.post("/slabs/{card_id}/draft", tags=["revisions"])
def keep_draft(request: Request, card_id: CardId, new: DraftText) -> Json:
    """Keep what is typed, beside the revision that it began with."""
    with acting(request) as visit:
        slab_at(visit, card_id)
        revision_at(visit, card_id, new.based_on)
        drafts.keep(
            visit.connection, visit.kitchen_id, draft_key(card_id), visit.author,
            new.text, visit.house.now(), card_id=card_id, based_on=new.based_on,
        )  # fmt: skip
    return {"based_on": new.based_on}


# --- photographs --------------------


def _photo(one: PhotoRow) -> Json:
    return {
        "id": one.id,
        "address": f"/photos/{one.id}",
        "media_type": one.media_type,
        "width": one.width,
        "height": one.height,
        "caption": one.caption,
        "revision": one.revision,
        "step_line": one.step_line,
        "author": one.author,
        "at": one.at.isoformat(),
    }


@router.get("/slabs/{card_id}/photos", tags=["photographs"])
def photos_of(request: Request, card_id: CardId) -> Json:
    """Photographs of a slab; the pictures themselves stand at their address."""
    with looking(request) as visit:
        slab_at(visit, card_id)
        found = photos.listed(visit.connection, visit.kitchen_id, card_id)
    return {"photos": [_photo(one) for one in found]}


@router.post("/slabs/{card_id}/photos", status_code=201, tags=["photographs"])
def add_photo(
    request: Request,
    card_id: CardId,
    photo: Annotated[UploadFile, File()],
    caption: Annotated[str, Form(max_length=300)] = "",
    revision: Annotated[int | None, Form(ge=1, le=MOST_NUMBER)] = None,
) -> Json:
    """Keep a photograph, drawn anew: where and with what it was taken is left out."""
    with looking(request) as visit:
        slab_at(visit, card_id)
    clean = cleaned(photo.file.read(MOST_BYTES + 1), photo.filename or "photograph")
    with acting(request) as visit:
        card = slab_at(visit, card_id)
        number = revision_at(visit, card_id, revision or card.current).number
        row = photos.add(
            visit.connection, visit.kitchen_id, card_id, clean.data, visit.who(),
            media_type=clean.media_type, width=clean.width, height=clean.height,
            caption=caption.strip(), revision=number,
        )  # fmt: skip
    return _photo(row)


# --- money --------------------


def _orders(request: Request, order: Order) -> tuple[tuple[Trays, ...], Desk]:
    with looking(request) as visit:
        wanted = [(one.slab, one.trays) for one in order.trays]
        if not wanted:
            rows = cards.listed(
                visit.connection, visit.kitchen_id, "slab", is_aside=False,
                limit=MOST_ORDERS,
            )  # fmt: skip
            wanted = [(row.id, 1) for row in rows]
        desk = visit.desk
        found = tuple(
            Trays(desk.worked(slab_at(visit, number).text).spec, count)
            for number, count in wanted
        )
    return found, desk


@router.post("/costs", tags=["money"])
def costs(request: Request, order: Order) -> Json:
    """What trays cost by line, layer, slab and piece; what changes of prices do."""
    found, desk = _orders(request, order)
    return costs_json(costs_of(found, desk.folder, desk.day, None, order.changes))


@router.post("/shopping", tags=["money"])
def shopping(request: Request, order: Order) -> Json:
    """What to buy for trays, net of stock, in whole packs."""
    found, desk = _orders(request, order)
    return shopping_json(
        to_buy(found, desk.folder, desk.day, with_waste=order.with_waste)
    )


# --- long work --------------------


def _state(state: WorkState) -> Json:
    return {
        "key": state.key,
        "share_done": state.share_done,
        "rough": state.rough,
        "result": state.result,
        "is_over": state.is_over,
        "is_stopped": state.is_stopped,
        "problem": state.problem,
        "seconds_left": state.seconds_left,
    }


@router.post("/slabs/{card_id}/pieces", status_code=202, tags=["long work"])
def weigh_pieces(
    request: Request,
    card_id: CardId,
    tin: Annotated[str, Query(max_length=200)] = "",
) -> Json:
    """Cut many slabs on paper and weigh every piece: gives the key of the work."""
    with looking(request) as visit:
        row = slab_at(visit, card_id)
        sheet = cut_sheet(visit.desk.worked(row.text).spec, tin)
        job = piece_mass_job(sheet, SLABS_TRIED * len(sheet.cut.cutting.each))
    worker = house_of(request).worker
    return _state(worker.state(worker.start(job)))


@router.get("/long-work/{key}", tags=["long work"])
def work(request: Request, key: WorkKey) -> Json:
    """How far long work has come: a first answer at once, then the better one."""
    return _state(house_of(request).worker.state(key))


@router.post("/long-work/{key}/stop", tags=["long work"])
def stop_work(request: Request, key: WorkKey) -> Json:
    """Stop long work; its first answer stays."""
    worker = house_of(request).worker
    worker.state(key)
    worker.stop(key)
    return _state(worker.state(key))
