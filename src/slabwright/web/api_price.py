"""The API of prices: what a slab and the counter cost and earn."""

from typing import Annotated, Any

from fastapi import APIRouter, Query, Request

from slabwright.desk.pricing import prices_asked
from slabwright.publish.pricing_json import pricing_json
from slabwright.web.counter_view import counter_of, spec_on
from slabwright.web.desk_pages import slab_at
from slabwright.web.fields import CardId
from slabwright.web.house import looking
from slabwright.web.price_pages import PriceQuery

router = APIRouter(prefix="/api", tags=["prices"])

Json = dict[str, Any]


@router.get("/price")
def counter_price(request: Request, ask: Annotated[PriceQuery, Query()]) -> Json:
    """Every slab on the counter in every way in which it is sold."""
    with looking(request) as visit:
        asked = ask.asked(visit.desk.day)
        specs = [one.spec for one in counter_of(visit, asked.on).slabs]
        return pricing_json(prices_asked(specs, visit.desk.folder, asked))


@router.get("/slabs/{card_id}/price")
def slab_price(
    request: Request, card_id: CardId, ask: Annotated[PriceQuery, Query()]
) -> Json:
    """What one slab costs with hands, energy and tax, and what is left."""
    with looking(request) as visit:
        asked = ask.asked(visit.desk.day)
        spec = spec_on(visit, slab_at(visit, card_id), asked.on)
        return pricing_json(prices_asked([spec], visit.desk.folder, asked))
