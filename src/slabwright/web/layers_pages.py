"""What each layer of a slab will be: the page, and the same as JSON."""

from collections.abc import Iterator
from typing import Annotated, Any, Final

from fastapi import APIRouter, Query, Request, Response
from pydantic import BaseModel, ConfigDict, Field

from slabwright.publish.layers_json import layers_json
from slabwright.spec.nature.sheet import LayerSheet, layer_sheet
from slabwright.store import cards, revisions
from slabwright.store.revisions import Revision
from slabwright.web.desk_pages import at_desk, revision_at, slab_at, worked_revision
from slabwright.web.desk_view import DeskView
from slabwright.web.fields import MOST_NUMBER, CardId
from slabwright.web.house import Visit, looking, render
from slabwright.web.layers_view import LayersView

router = APIRouter(include_in_schema=False)
api = APIRouter(prefix="/api", tags=["slabs"])

_MOST_BESIDE: Final = 60
"""Revisions, and slabs, that one can choose from, the newest first."""


class LayersAsk(BaseModel):
    """What is asked of a slab's layers, as its address has it."""

    model_config = ConfigDict(frozen=True)
    v: int = Field(0, ge=0, le=MOST_NUMBER, description="The revision; 0: as it is.")
    beside: Annotated[
        str,
        Field(
            pattern=r"^(?:[vs]\d{1,9})?$",
            description="What to hold against it: a revision (v3) or a slab (s12).",
        ),
    ] = ""
    layer: Annotated[
        str, Field(max_length=200, description="This layer or component alone.")
    ] = ""


@router.get("/slabs/{card_id}/layers")
def slab_page(
    request: Request, card_id: CardId, ask: Annotated[LayersAsk, Query()]
) -> Response:
    """What each layer will be, from the top of the slab to its base."""
    with looking(request) as visit:
        card = slab_at(visit, card_id)
        revision = revision_at(visit, card_id, ask.v or card.current)
        sheet, name = _sheet(visit, card_id, revision, ask)
        return render(
            request, "slab_layers.html", visit=visit, card=card, revision=revision,
            title=f"{card.name}: layers", here="Slabs", stop="Layers",
            draft=at_desk(visit, card_id).draft, ask=ask, against=name,
            others=tuple(_others(visit, card_id, revision)),
            view=DeskView(worked_revision(visit, revision)),
            found=LayersView(sheet),
        )  # fmt: skip


@api.get("/slabs/{card_id}/layers")
def slab_layers(
    request: Request, card_id: CardId, ask: Annotated[LayersAsk, Query()]
) -> dict[str, Any]:
    """What each layer will be, with what passes where two touch."""
    with looking(request) as visit:
        row = slab_at(visit, card_id)
        revision = revision_at(visit, card_id, ask.v or row.current)
        sheet, _ = _sheet(visit, card_id, revision, ask)
        return layers_json(sheet)


def _others(
    visit: Visit, card_id: int, revision: Revision
) -> Iterator[tuple[str, str]]:
    """What a slab may be held against: its other revisions, then other slabs."""
    c, kitchen = visit.connection, visit.kitchen_id
    for one in revisions.listed(c, kitchen, card_id, limit=_MOST_BESIDE):
        if one.number != revision.number:
            trial = ", a trial" if one.is_trial else ""
            yield f"v{one.number}", f"v{one.number}{trial}"
    for row in cards.listed(c, kitchen, "slab", is_aside=False, limit=_MOST_BESIDE):
        if row.id != card_id:
            yield f"s{row.id}", row.name


def _sheet(
    visit: Visit, card_id: int, revision: Revision, ask: LayersAsk
) -> tuple[LayerSheet, str]:
    """What was asked, with the kitchen as it stands now; what it is held against."""
    name = ""
    beside: Revision | None = None
    if ask.beside:
        number = int(ask.beside[1:])
        if ask.beside.startswith("v"):
            beside, name = revision_at(visit, card_id, number), ask.beside
        else:
            row = slab_at(visit, number)
            beside, name = revision_at(visit, number, row.current), row.name
    return layer_sheet(
        worked_revision(visit, revision).spec,
        ask.layer,
        worked_revision(visit, beside).spec if beside else None,
    ), name
