"""The net weight of a slab's pieces: what the cut keeps, and what weighed ones tell."""

from typing import Annotated, Any, Final

from fastapi import APIRouter, Query, Request, Response
from pydantic import BaseModel, ConfigDict, Field

from slabwright.errors import FileError, Mistake, Where
from slabwright.files.raw import Text
from slabwright.files.weights import read_weights
from slabwright.publish.label_json import net_weight_json
from slabwright.spec.label import net_words
from slabwright.spec.label_net import NET_FOOT, NetFigures, net_figures, nominal_of
from slabwright.web.desk_pages import at_desk, revision_at, slab_at, worked_revision
from slabwright.web.desk_view import DeskView
from slabwright.web.fields import CardId
from slabwright.web.house import looking, render
from slabwright.web.papers import without_file

router = APIRouter(include_in_schema=False)
api = APIRouter(prefix="/api", tags=["labels"])

_COARSEST_G: Final = 1000.0


class WeighedAsk(BaseModel):
    """Weighed pieces, as they were typed."""

    model_config = ConfigDict(frozen=True)
    weights: Annotated[str, Field(max_length=5000)] = ""
    step: Annotated[str, Field(max_length=40)] = ""
    nominal: Annotated[str, Field(max_length=40)] = ""

    def figures(self) -> NetFigures | None:
        """What they tell; None if none were typed.

        Raises:
            FileError: for what is no weight.
        """
        if not self.weights.strip():
            return None
        step_g = _grams(self.step, "step of your scale")
        nominal_g = _grams(self.nominal, "net weight to try")
        if step_g is not None and step_g > _COARSEST_G:
            what = f"{step_g:g} g is no step of a scale."
            raise FileError(Mistake(what, "Give 0.1, 1 or 2."))
        read = read_weights(Text(self.weights))
        return net_figures(read, step_g=step_g or 0.0, nominal_g=nominal_g)


Asked = Annotated[WeighedAsk, Query()]


def _grams(typed: str, what: str) -> float | None:
    if not typed.strip():
        return None
    read = read_weights(Text(typed))
    if len(read) != 1:
        said = f"'{typed:.40}' is no {what}."
        raise FileError(Mistake(said, "Write one number of grams.", Where(field=what)))
    return read[0]


@router.get("/slabs/{card_id}/net-weight")
def slab_page(request: Request, card_id: CardId, ask: Asked) -> Response:
    """The largest net weight that the cut keeps, and that weighed pieces keep."""
    with looking(request) as visit:
        card = slab_at(visit, card_id)
        revision = revision_at(visit, card_id, card.current)
        worked = worked_revision(visit, revision)
        sold = worked.spec.card.sold_on(visit.desk.day)
        pieces = sold.pieces if sold and sold.pieces else 1
        found: NetFigures | None = None
        mistakes: tuple[Mistake, ...] = ()
        try:
            found = ask.figures()
        except FileError as error:
            mistakes = without_file(error.mistakes)
        return render(
            request, "slab_net_weight.html", visit=visit, card=card, found=found,
            status=422 if mistakes else 200, title=f"{card.name}: net weight",
            here="Slabs", stop="Label", part="Net weight", revision=revision, ask=ask,
            draft=at_desk(visit, card_id).draft, view=DeskView(worked), sold=sold,
            mistakes=mistakes, pieces=pieces, net_words=net_words, foot=NET_FOOT,
            worked_out=nominal_of(worked.spec, pieces),
        )  # fmt: skip


@api.get("/net-weight")
def weighed(ask: Asked) -> dict[str, Any]:
    """What weighed pieces tell of a net weight, by the packers' three rules."""
    found = ask.figures()
    if found is None:
        what = "No weights were given."
        raise FileError(
            Mistake(what, "Give weights=74 73.5 75.", Where(field="weights"))
        )
    return net_weight_json(found)
