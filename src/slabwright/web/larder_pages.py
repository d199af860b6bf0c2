"""The larder: every ingredient with its sources, the kitchen's own ones first."""

from datetime import date
from typing import Annotated

from fastapi import APIRouter, Path, Query, Request, Response
from starlette.exceptions import HTTPException

from slabwright.cost.prices import Counted, Price
from slabwright.desk.counter import prices_of
from slabwright.larder.ingredient import Ingredient
from slabwright.web.counter_view import counter_of
from slabwright.web.fields import Find
from slabwright.web.house import Visit, looking, render
from slabwright.web.larder_view import (
    IngredientView,
    allergen_words,
    found_for,
    groups_of,
    share_words,
)
from slabwright.web.papers import LARDER, checked, paper_of, text_of, without_file

router = APIRouter(include_in_schema=False)

IngredientId = Annotated[str, Path(max_length=200)]
Group = Annotated[str, Query(max_length=60)]


def ingredient_at(visit: Visit, id: str) -> Ingredient:
    """The ingredient of this id, the kitchen's own one before ours.

    Raises:
        HTTPException: 404 if there is none.
    """
    found = visit.desk.folder.larder.by_id(id)
    if found is None:
        raise HTTPException(404, "The larder has no such ingredient.")
    return found


@router.get("/larder")
def larder_page(
    request: Request, find: Find = "", group: Group = "", gone: Group = ""
) -> Response:
    """Find an ingredient by what a cook calls it, or look through the groups."""
    with looking(request) as visit:
        folder = visit.desk.folder
        larder, country = folder.larder, folder.kitchen.country
        asked = find.strip()
        groups = groups_of(larder)
        paper = paper_of(visit, LARDER)
        wrong = checked(visit, text_of(paper)).every if paper.number else ()
        return render(
            request, "larder.html", visit=visit, title="Larder", here="Larder",
            find=find, group=group,
            count=sum(not one.own for one in larder.ingredients),
            found=found_for(asked, larder, country) if asked else None,
            own=next((every for name, every in groups if not name), ()),
            groups=[(name, every) for name, every in groups if name],
            shown=next((every for name, every in groups if name and name == group), ()),
            gone=gone, share_words=share_words, mistakes=without_file(wrong),
        )  # fmt: skip


@router.get("/larder/{id}")
def ingredient_page(request: Request, id: IngredientId) -> Response:
    """One ingredient: composition, measures, allergens, sources, slabs, prices."""
    with looking(request) as visit:
        found = ingredient_at(visit, id)
        larder = visit.desk.folder.larder
        prices, on = prices_of(visit.desk.folder), visit.desk.day
        counter = counter_of(visit)
        return render(
            request, "ingredient.html", visit=visit, title=found.name, here="Larder",
            one=found, view=IngredientView(found), allergen_words=allergen_words,
            like=larder.by_id(found.like) if found.like else None,
            using=list(counter.using(found.id)), is_cut_short=counter.is_cut_short,
            counted=prices.counted(found.id, on), offers=prices.offers(found.id, on),
            to_come=prices.to_come(found.id, on), on=on, currency=prices.currency,
            stock_g=prices.stock_g(found.id, on), why=_why,
            base=paper_of(visit, LARDER).number if found.own else 0,
        )  # fmt: skip


def _why(price: Price, counted: Counted | None, on: date) -> str:
    """What a price counts for on this day, in words."""
    if price.from_day > on:
        return "to come"
    return counted.why if counted and counted.price is price else "on sale"
