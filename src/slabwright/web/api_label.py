"""The API of labels: allergens of a slab and of the counter, what must be shown."""

from typing import Annotated, Any

from fastapi import APIRouter, Query, Request

from slabwright.desk.allergens import allergens_of_counter
from slabwright.desk.label import labels_of
from slabwright.publish.allergens_json import allergens_json
from slabwright.publish.label_json import labels_json
from slabwright.web.counter_view import counter_of
from slabwright.web.desk_pages import revision_at, slab_at, worked_revision
from slabwright.web.fields import CardId
from slabwright.web.house import looking
from slabwright.web.label_asked import LabelAsk
from slabwright.web.label_pages import number_of

router = APIRouter(prefix="/api", tags=["labels"])

Json = dict[str, Any]


@router.get("/allergens")
def counter_allergens(request: Request) -> Json:
    """The counter against the 14, with every way and every question."""
    with looking(request) as visit:
        desk = visit.desk
        specs = [one.spec for one in counter_of(visit).slabs]
        return allergens_json(allergens_of_counter(specs, desk.folder, desk.day))


@router.get("/slabs/{card_id}/allergens")
def slab_allergens(request: Request, card_id: CardId) -> Json:
    """The allergens of one slab, beside what else its kitchen makes."""
    with looking(request) as visit:
        desk = visit.desk
        spec = desk.worked(slab_at(visit, card_id).text).spec
        others = [s.spec for s in counter_of(visit).slabs if s.card.id != card_id]
        found = allergens_of_counter([spec], desk.folder, desk.day, others)
        return allergens_json(found)


@router.get("/slabs/{card_id}/label")
def slab_label(
    request: Request, card_id: CardId, ask: Annotated[LabelAsk, Query()]
) -> Json:
    """What must be shown for each way in which it is sold, and what is there."""
    with looking(request) as visit:
        row = slab_at(visit, card_id)
        revision = revision_at(visit, card_id, ask.v or row.current)
        spec = worked_revision(visit, revision).spec
        desk = visit.desk
        made = labels_of(spec, desk.folder, ask.asked(desk.day))
        asked = [(one.words, one.nearest) for one in made.asked]
        labels = [(one, number_of(visit, ask, one)) for one in made.labels]
        return labels_json(made.slab, made.nation, made.on, asked, labels)
