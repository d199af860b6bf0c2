"""Prices in the app: what one slab costs and earns, and the whole counter."""

from datetime import date
from typing import Annotated

from fastapi import APIRouter, Form, Query, Request, Response
from pydantic import BaseModel, ConfigDict, Field
from starlette.responses import RedirectResponse

from slabwright.cost.tax_reading import HEAD, tax_reading
from slabwright.counter.pricing import CounterPricing
from slabwright.desk.pricing import PriceAsked, prices_asked
from slabwright.errors import FileError, Mistake, Where
from slabwright.files.day import read_day
from slabwright.label.ways import Selling
from slabwright.web.counter_view import counter_of, spec_on
from slabwright.web.desk_pages import at_desk, revision_at, slab_at
from slabwright.web.desk_view import DeskView
from slabwright.web.fields import CardId
from slabwright.web.house import Visit, acting, looking, render
from slabwright.web.label_pages import write_on_card
from slabwright.web.papers import without_file
from slabwright.web.price_view import CounterRow, OfferView

router = APIRouter(include_in_schema=False)

_Short = Annotated[str, Field(max_length=120)]


class PriceQuery(BaseModel):
    """What is asked of prices, as an address has it."""

    model_config = ConfigDict(frozen=True)
    price: _Short = ""
    line: _Short = ""
    eaten: _Short = ""
    way: _Short = ""
    tax: _Short = ""
    trays: _Short = ""
    on: _Short = ""
    what_if: Annotated[str, Field(max_length=1000)] = ""

    def asked(self, today: date) -> PriceAsked:
        """The same, as far as it is read here.

        Raises:
            FileError: for a day or a number of trays that is none.
        """
        changes = self.what_if.replace(";", "\n").splitlines()
        return PriceAsked(
            read_day(self.on) or today, self.price, self.line, self.eaten, self.way,
            self.tax, _trays(self.trays),
            tuple(one.strip() for one in changes if one.strip()),
        )  # fmt: skip


def _trays(typed: str) -> int:
    said = typed.strip()
    if not said:
        return 1
    if not said.isascii() or not said.isdecimal():
        what, do = f"'{typed:.40}' is no number of trays.", "Write a whole number."
        raise FileError(Mistake(what, do, Where(field="trays")))
    return int(said[:10])


@router.get("/slabs/{card_id}/price")
def slab_price(
    request: Request, card_id: CardId, ask: Annotated[PriceQuery, Query()]
) -> Response:
    """What a slab costs with hands and energy, and what is left of its price."""
    with looking(request) as visit:
        return _page(request, visit, card_id, ask)


@router.post("/slabs/{card_id}/price")
def write(
    request: Request,
    card_id: CardId,
    word: Annotated[str, Form(max_length=20)] = "",
    value: Annotated[str, Form(max_length=500)] = "",
) -> Response:
    """Write on the card what it bears, or how it is sold: at the desk, to be kept."""
    try:
        with acting(request) as visit:
            write_on_card(visit, card_id, word, value)
    except FileError as error:
        with looking(request) as visit:
            return _page(request, visit, card_id, PriceQuery(), error.mistakes, value)
    return RedirectResponse(f"/slabs/{card_id}", status_code=303)


def _page(
    request: Request,
    visit: Visit,
    card_id: int,
    ask: PriceQuery,
    mistakes: tuple[Mistake, ...] = (),
    typed: str = "",
) -> Response:
    card = slab_at(visit, card_id)
    revision = revision_at(visit, card_id, card.current)
    desk = visit.desk
    found: CounterPricing | None = None
    day = desk.day
    try:
        asked = ask.asked(desk.day)
        day = asked.on
        found = prices_asked([spec_on(visit, card, day)], desk.folder, asked)
    except FileError as error:
        mistakes = (*mistakes, *error.mistakes)
    rows = found.rows if found else ()
    pricing = rows[0].before if rows else None
    offers = pricing.offers if pricing else ()
    views = [OfferView(pricing, one, n) for n, one in enumerate(offers) if pricing]
    lacking = dict.fromkeys(lack for one in offers for lack in one.costed.lacking)
    kitchen = desk.folder.kitchen
    return render(
        request, "slab_price.html", visit=visit, card=card, revision=revision,
        status=422 if mistakes else 200, title=f"{card.name}: price", here="Slabs",
        stop="Price", ask=ask, pricing=pricing, offers=views, lacking=list(lacking),
        draft=at_desk(visit, card_id).draft, view=DeskView(desk.worked(revision.text)),
        mistakes=without_file(mistakes), typed=typed, day=day, ways=list(Selling),
        shop=kitchen.shop, currency=kitchen.currency, reading_head=HEAD,
        reading=tax_reading(kitchen.country),
    )  # fmt: skip


@router.get("/price")
def counter_price(request: Request, ask: Annotated[PriceQuery, Query()]) -> Response:
    """The counter: what falls under the line, and what a change of prices does."""
    with looking(request) as visit:
        desk = visit.desk
        mistakes: tuple[Mistake, ...] = ()
        found: CounterPricing | None = None
        day = desk.day
        try:
            day = read_day(ask.on) or desk.day
        except FileError as error:
            mistakes = error.mistakes
        counter = counter_of(visit, day)
        specs = [slab.spec for slab in counter.slabs]
        if not mistakes:
            try:
                found = prices_asked(specs, desk.folder, ask.asked(desk.day))
            except FileError as error:
                mistakes = error.mistakes
        addresses = {id(slab.spec): slab.address for slab in counter.slabs}
        rows = [
            CounterRow(row, f"{addresses[id(row.before.spec)]}/price", number)
            for number, row in enumerate(found.rows if found else ())
        ]
        return render(
            request, "counter_price.html", visit=visit,
            status=422 if mistakes else 200, title="What it earns", here="Buying",
            stop="What it earns", ask=ask, found=found, rows=rows, day=day,
            mistakes=mistakes, counter=counter, shop=desk.folder.kitchen.shop,
            currency=desk.folder.kitchen.currency,
        )  # fmt: skip
