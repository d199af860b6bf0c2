"""The nutrition of a slab: what is declared, how surely, and what brings it."""

from typing import Annotated

from fastapi import APIRouter, Query, Request, Response
from pydantic import BaseModel, ConfigDict, Field

from slabwright.desk.nutrition import nutrition_for
from slabwright.errors import FileError, Mistake
from slabwright.label.particulars import NATIONS
from slabwright.spec.nutrition import FOOT
from slabwright.web.desk_pages import at_desk, revision_at, slab_at, worked_revision
from slabwright.web.desk_view import DeskView
from slabwright.web.fields import MOST_NUMBER, CardId
from slabwright.web.house import looking, render
from slabwright.web.nutrition_view import NutritionView
from slabwright.web.papers import without_file

router = APIRouter(include_in_schema=False)


class NutritionAsk(BaseModel):
    """What is asked of a slab's nutrition, as its address has it."""

    model_config = ConfigDict(frozen=True)
    nation: Annotated[str, Field(max_length=40)] = ""
    v: int = Field(0, ge=0, le=MOST_NUMBER)


@router.get("/slabs/{card_id}/nutrition")
def slab_page(
    request: Request, card_id: CardId, ask: Annotated[NutritionAsk, Query()]
) -> Response:
    """What 100 g and a piece hold, where it is sold."""
    with looking(request) as visit:
        card = slab_at(visit, card_id)
        revision = revision_at(visit, card_id, ask.v or card.current)
        worked = worked_revision(visit, revision)
        day = visit.desk.day
        found: NutritionView | None = None
        mistakes: tuple[Mistake, ...] = ()
        try:
            made = nutrition_for(worked.spec, visit.desk.folder, day, ask.nation)
            found = NutritionView(made)
        except FileError as error:
            mistakes = without_file(error.mistakes)
        return render(
            request, "slab_nutrition.html", visit=visit, card=card, revision=revision,
            status=422 if mistakes else 200, title=f"{card.name}: nutrition",
            here="Slabs", stop="Label", part="Nutrition", day=day, foot=FOOT,
            draft=at_desk(visit, card_id).draft, view=DeskView(worked), found=found,
            mistakes=mistakes, nations=NATIONS, ask=ask,
        )  # fmt: skip
