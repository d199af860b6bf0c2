"""The API of nutrition: what 100 g and a piece of a slab hold."""

from typing import Annotated, Any

from fastapi import APIRouter, Query, Request

from slabwright.desk.nutrition import nutrition_for
from slabwright.publish.nutrition_json import nutrition_json
from slabwright.web.desk_pages import revision_at, slab_at, worked_revision
from slabwright.web.fields import CardId
from slabwright.web.house import looking
from slabwright.web.nutrition_pages import NutritionAsk

router = APIRouter(prefix="/api", tags=["labels"])


@router.get("/slabs/{card_id}/nutrition")
def slab_nutrition(
    request: Request, card_id: CardId, ask: Annotated[NutritionAsk, Query()]
) -> dict[str, Any]:
    """What 100 g and a piece hold, with ranges, and what brings it."""
    with looking(request) as visit:
        row = slab_at(visit, card_id)
        revision = revision_at(visit, card_id, ask.v or row.current)
        spec = worked_revision(visit, revision).spec
        desk = visit.desk
        return nutrition_json(nutrition_for(spec, desk.folder, desk.day, ask.nation))
