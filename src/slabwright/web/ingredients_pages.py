"""The list of ingredients of a slab: in its order, opened, and why each stands so."""

from typing import Annotated, Any

from fastapi import APIRouter, Query, Request, Response
from pydantic import BaseModel, ConfigDict, Field

from slabwright.desk.declaration import list_of
from slabwright.desk.label import nation_for
from slabwright.errors import FileError, Mistake
from slabwright.label.ingredients.declared import Nation
from slabwright.label.particulars import NATIONS
from slabwright.publish.declaration import FOOT, summary
from slabwright.publish.declaration_json import declaration_json
from slabwright.spec.allergens import allergen_words
from slabwright.spec.declaration import IngredientList, ListOrder
from slabwright.spec.specification import Specification
from slabwright.web.desk_pages import at_desk, revision_at, slab_at, worked_revision
from slabwright.web.desk_view import DeskView
from slabwright.web.fields import MOST_NUMBER, CardId
from slabwright.web.house import Visit, looking, render
from slabwright.web.papers import without_file

router = APIRouter(include_in_schema=False)
api = APIRouter(prefix="/api", tags=["labels"])


class ListAsk(BaseModel):
    """How the list is wanted, as its address has it."""

    model_config = ConfigDict(frozen=True)
    nation: Annotated[str, Field(max_length=40)] = ""
    by_layer: bool = False
    sugars_together: bool = False
    e_numbers: bool = False
    described: Annotated[str, Field(max_length=1000)] = ""
    v: int = Field(0, ge=0, le=MOST_NUMBER)


Asked = Annotated[ListAsk, Query()]


@router.get("/slabs/{card_id}/ingredients")
def slab_page(request: Request, card_id: CardId, ask: Asked) -> Response:
    """The list, its shares, and the rule that put each name where it stands."""
    with looking(request) as visit:
        card = slab_at(visit, card_id)
        revision = revision_at(visit, card_id, ask.v or card.current)
        worked = worked_revision(visit, revision)
        found: IngredientList | None = None
        mistakes: tuple[Mistake, ...] = ()
        try:
            found = _list(visit, worked.spec, ask)
        except FileError as error:
            mistakes = without_file(error.mistakes)
        return render(
            request, "slab_ingredients.html", visit=visit, card=card,
            revision=revision, status=422 if mistakes else 200, here="Slabs",
            title=f"{card.name}: ingredients", stop="Label", part="Ingredients",
            draft=at_desk(visit, card_id).draft, view=DeskView(worked), found=found,
            summary=summary(found) if found else "", mistakes=mistakes, ask=ask,
            nations=NATIONS, day=visit.desk.day, foot=FOOT, may_contain=_warned(found),
        )  # fmt: skip


@api.get("/slabs/{card_id}/declaration")
def slab_declaration(request: Request, card_id: CardId, ask: Asked) -> dict[str, Any]:
    """The list of ingredients with its shares, its reasons and what must be asked."""
    with looking(request) as visit:
        row = slab_at(visit, card_id)
        revision = revision_at(visit, card_id, ask.v or row.current)
        spec = worked_revision(visit, revision).spec
        return declaration_json(_list(visit, spec, ask))


def _warned(found: IngredientList | None) -> str:
    """What suppliers warn of, in words; empty if of nothing."""
    warned = found.declaration.allergens.may_contain if found else ()
    return allergen_words(warned, "and") if warned else ""


def _list(visit: Visit, spec: Specification, ask: ListAsk) -> IngredientList:
    folder = visit.desk.folder
    where = Nation(nation_for(folder, ask.nation), visit.desk.day)
    order = ListOrder(
        where, ask.by_layer, ask.sugars_together, ask.e_numbers, ask.described
    )
    return list_of(spec, folder, order)
