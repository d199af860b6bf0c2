"""What each layer of a slab will be: the page, and the same as JSON."""

from typing import Annotated, Any

from fastapi import APIRouter, Query, Request, Response
from pydantic import BaseModel, ConfigDict, Field

from slabwright.publish.layers_json import layers_json
from slabwright.spec.nature.sheet import LayerSheet, layer_sheet
from slabwright.store import revisions
from slabwright.store.revisions import Revision
from slabwright.web.desk_pages import at_desk, revision_at, slab_at, worked_revision
from slabwright.web.desk_view import DeskView
from slabwright.web.fields import MOST_NUMBER, CardId
from slabwright.web.house import Visit, looking, render
from slabwright.web.layers_view import LayersView

router = APIRouter(include_in_schema=False)
api = APIRouter(prefix="/api", tags=["slabs"])

_MOST_BESIDE = 60
"""Revisions that one can choose from, the newest first."""


class LayersAsk(BaseModel):
    """What is asked of a slab's layers, as its address has it."""

    model_config = ConfigDict(frozen=True)
    v: int = Field(0, ge=0, le=MOST_NUMBER, description="The revision; 0: as it is.")
    beside: int = Field(
        0, ge=0, le=MOST_NUMBER, description="Another revision, to hold against it."
    )
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
        others = [
            one
            for one in revisions.listed(
                visit.connection, visit.kitchen_id, card_id, limit=_MOST_BESIDE
            )
            if one.number != revision.number
        ]
        return render(
            request, "slab_layers.html", visit=visit, card=card, revision=revision,
            title=f"{card.name}: layers", here="Slabs", stop="Layers",
            draft=at_desk(visit, card_id).draft, ask=ask, others=others,
            view=DeskView(worked_revision(visit, revision)),
            found=LayersView(_sheet(visit, card_id, revision, ask)),
        )  # fmt: skip


@api.get("/slabs/{card_id}/layers")
def slab_layers(
    request: Request, card_id: CardId, ask: Annotated[LayersAsk, Query()]
) -> dict[str, Any]:
    """What each layer will be, with what passes where two touch."""
    with looking(request) as visit:
        row = slab_at(visit, card_id)
        revision = revision_at(visit, card_id, ask.v or row.current)
        return layers_json(_sheet(visit, card_id, revision, ask))


def _sheet(
    visit: Visit, card_id: int, revision: Revision, ask: LayersAsk
) -> LayerSheet:
    """What was asked, worked out with the kitchen as it stands now."""
    beside = revision_at(visit, card_id, ask.beside) if ask.beside else None
    return layer_sheet(
        worked_revision(visit, revision).spec,
        ask.layer,
        worked_revision(visit, beside).spec if beside else None,
    )
