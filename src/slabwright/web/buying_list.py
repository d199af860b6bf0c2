"""The shopping list: slabs and trays chosen, what to buy, by supplier."""

import re
from base64 import b64encode
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from hashlib import sha256
from typing import Final
from urllib.parse import urlencode

from fastapi import APIRouter, Request, Response
from starlette.responses import HTMLResponse

from slabwright.cost.by_products import ByProduct, by_products
from slabwright.cost.opened import once_opened
from slabwright.counter.needs import Trays
from slabwright.counter.shopping import ShoppingList, Wanted
from slabwright.desk.counter import to_buy
from slabwright.errors import FileError, Mistake
from slabwright.publish.shopping import (
    mass_words,
    need_words,
    orders_words,
    other_words,
    pack_words,
    supplier_total,
)
from slabwright.publish.shopping_csv import shopping_csv
from slabwright.publish.shopping_page import shopping_page
from slabwright.spec.costing import uses_of_slab
from slabwright.store import cards
from slabwright.web.buying_costs import day_of
from slabwright.web.counter_view import MOST, spec_on
from slabwright.web.house import Visit, looking, render
from slabwright.web.posted import Asked, whole

router = APIRouter(include_in_schema=False)

MOST_TRAYS: Final = 1000
_TRAYS: Final = re.compile(r"t(\d{1,9})")
_STYLE: Final = re.compile(r"<style>(.*?)</style>", re.DOTALL)


@dataclass(frozen=True, slots=True)
class Choice:
    """A slab on the form, and how many trays of it were asked for."""

    id: int
    name: str
    trays: str


@dataclass(frozen=True, slots=True)
class Order:
    """What was asked for."""

    trays: tuple[Trays, ...]
    on: date
    with_waste: bool


def order_of(visit: Visit, asked: Mapping[str, str]) -> Order:
    """What an address asks for: trays of slabs as `t12=2`, a day, the waste.

    Raises:
        FileError: if a number or the day can't be read, or a slab is not there.
    """
    on = day_of(asked.get("on", "")[:20], visit.desk.day)
    found: list[Trays] = []
    for name in asked:
        slab = _TRAYS.fullmatch(name)
        if slab is None:
            continue
        count = whole(asked, name, MOST_TRAYS)
        if not count:
            continue
        row = cards.one(visit.connection, visit.kitchen_id, int(slab[1]))
        if row is None:
            what = "One of the slabs that were asked for is not there any more."
            raise FileError(Mistake(what, "Choose again."))
        if len(found) == MOST:
            raise FileError(Mistake(f"Over {MOST} slabs.", "Make two lists of them."))
        found.append(Trays(spec_on(visit, row, on), count))
    return Order(tuple(found), on, bool(asked.get("waste")))


def list_of(visit: Visit, order: Order) -> ShoppingList:
    """What to buy for an order."""
    folder = visit.desk.folder
    return to_buy(order.trays, folder, order.on, with_waste=order.with_waste)


def _left(visit: Visit, order: Order) -> tuple[ByProduct, ...]:
    """What is left of eggs and fruit that are opened for one of their parts."""
    folder = visit.desk.folder
    uses = [
        replace(
            use, grams=use.grams * one.count,
            pieces=None if use.pieces is None else use.pieces * one.count,
        )
        for one in order.trays
        for use in uses_of_slab(one.spec, whole_batches=True)
    ]  # fmt: skip
    kitchen = folder.kitchen
    return tuple(by_products(uses, folder.larder, kitchen.country, kitchen.eggs))


def keeps(one: Wanted) -> str:
    """How long what is left of it keeps once opened; empty if nothing is left."""
    if one.left_g <= 0:
        return ""
    opened = once_opened(one.ingredient)
    return opened.words if opened else "keeping once opened not known"


@router.get("/buying/list")
def list_page(request: Request, asked: Asked) -> Response:
    """Choose slabs and trays; what to buy for them stands below."""
    with looking(request) as visit:
        c, kitchen_id = visit.connection, visit.kitchen_id
        rows = cards.listed(c, kitchen_id, "slab", is_aside=False, limit=MOST)
        choices = [
            Choice(row.id, row.name, asked.get(f"t{row.id}", "")[:10]) for row in rows
        ]
        mistakes: tuple[Mistake, ...] = ()
        found: ShoppingList | None = None
        left: tuple[ByProduct, ...] = ()
        try:
            order = order_of(visit, asked)
            if order.trays:
                found, left = list_of(visit, order), _left(visit, order)
        except FileError as error:
            mistakes = error.mistakes
        kitchen = visit.desk.folder.kitchen
        return render(
            request, "buying_list.html", visit=visit, status=422 if mistakes else 200,
            title="Shopping list", here="Buying", stop="Shopping list",
            choices=choices, found=found, left=left, mistakes=mistakes,
            on=asked.get("on", "")[:20], waste=bool(asked.get("waste")),
            waste_share=kitchen.waste_share, is_asked=bool(asked), keeps=keeps,
            query=_query(asked), mass_words=mass_words, need_words=need_words,
            orders_words=orders_words, other_words=other_words,
            pack_words=pack_words, supplier_total=supplier_total,
        )  # fmt: skip


def _query(asked: Mapping[str, str]) -> str:
    """The same order, for the links to its table and its page."""
    kept = {
        name: value
        for name, value in asked.items()
        if value and (_TRAYS.fullmatch(name) or name in {"on", "waste"})
    }
    return urlencode(kept)


def _asked_list(visit: Visit, asked: Mapping[str, str]) -> ShoppingList:
    order = order_of(visit, asked)
    if not order.trays:
        raise FileError(Mistake("No slab was chosen.", "Choose slabs and trays first."))
    return list_of(visit, order)


@router.get("/buying/list.csv")
def list_csv(request: Request, asked: Asked) -> Response:
    """The list as a table for a spreadsheet."""
    with looking(request) as visit:
        found = _asked_list(visit, asked)
    name = f"to-buy-{found.on}.csv"
    headers = {"Content-Disposition": f'attachment; filename="{name}"'}
    return Response(shopping_csv(found), media_type="text/csv", headers=headers)


@router.get("/buying/list/print")
def list_print(request: Request, asked: Asked) -> Response:
    """The list as a page to print, whole in itself: its style stands in it."""
    with looking(request) as visit:
        page = shopping_page(_asked_list(visit, asked))
    hashes = " ".join(
        f"'sha256-{b64encode(sha256(style.encode()).digest()).decode()}'"
        for style in _STYLE.findall(page)
    )
    policy = (
        f"default-src 'none'; style-src {hashes}; font-src data:; base-uri 'none'; "
        "form-action 'none'; frame-ancestors 'none'"
    )
    return HTMLResponse(page, headers={"Content-Security-Policy": policy})
