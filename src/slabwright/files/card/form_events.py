"""The JSON form of what a block of a card holds: lines, steps, what was weighed."""

from typing import Annotated, Final, Literal

from pydantic import BaseModel, ConfigDict, Field

from slabwright.formula.component import (
    Deep,
    Density,
    Ends,
    Event,
    Into,
    Loses,
    Reads,
)
from slabwright.formula.line import Line
from slabwright.formula.step import Step
from slabwright.quantity.amount import Amount

ONLY: Final = ConfigDict(extra="forbid", allow_inf_nan=False)
"""Nothing but its own fields may stand in a part of a card."""


class _Form(BaseModel):
    model_config = ONLY


Name = Annotated[str, Field(min_length=1, max_length=120)]
Positive = Annotated[float, Field(gt=0, le=1e9)]
Share = Annotated[float, Field(gt=0, lt=1)]


class AmountForm(_Form):
    """So many of a unit; the middle of low and high counts."""

    value: Positive
    unit: str
    low: Positive
    high: Positive
    each: "AmountForm | None" = None
    heaped: bool = False
    spoons: Literal["metric", "US", "AU"] | None = None


class LineForm(_Form):
    """So much of an ingredient or a component."""

    what: Literal["line"] = "line"
    name: str
    amounts: list[AmountForm] = []
    second: AmountForm | None = None
    weighs_g: Positive | None = None
    measured: bool = False
    size: str = ""
    part: Literal["", "juice", "zest"] = ""
    notes: list[str] = []
    aside: str = ""


class StepForm(_Form):
    """Something that is done, in its maker's words."""

    what: Literal["step"] = "step"
    text: str


class EndsForm(_Form):
    """What is there now."""

    what: Literal["ends"] = "ends"
    grams: Positive | None = None
    water_share: Share | None = None
    measured: bool = False


class LosesForm(_Form):
    """What goes: mix left behind, or water."""

    what: Literal["loses"] = "loses"
    of: Literal["mix", "water"]
    grams: Annotated[float, Field(ge=0, le=1e9)] | None = None
    share: Annotated[float, Field(ge=0, lt=1)] | None = None
    measured: bool = False
    place: str = ""


class ReadsForm(_Form):
    """What scale or refractometer said of the pan at the end of a boil."""

    what: Literal["reads"] = "reads"
    at_C: Annotated[float, Field(gt=0, le=250)] | None = None
    grams: Positive | None = None
    brix: Annotated[float, Field(gt=0, lt=100)] | None = None
    water_share: Share | None = None


class DeepForm(_Form):
    """A measured depth."""

    what: Literal["deep"] = "deep"
    depth_mm: Positive


class DensityForm(_Form):
    """What a millilitre of the finished layer weighs."""

    what: Literal["density"] = "density"
    g_ml: Positive
    measured: bool = False


class IntoForm(_Form):
    """The vessel of the lines after it."""

    what: Literal["into"] = "into"
    vessel: str


class NoteForm(_Form):
    """The maker's own words."""

    what: Literal["note"] = "note"
    text: str


EventForm = Annotated[
    LineForm
    | StepForm
    | EndsForm
    | LosesForm
    | ReadsForm
    | DeepForm
    | DensityForm
    | IntoForm
    | NoteForm,
    Field(discriminator="what"),
]


def form_of_event(event: Event) -> EventForm:
    """An event in its JSON form."""
    form: EventForm
    if isinstance(event, Line):
        form = form_of_line(event)
    elif isinstance(event, Step):
        form = StepForm(text=event.text)
    elif isinstance(event, Ends):
        form = EndsForm(
            grams=event.grams, water_share=event.water_share, measured=event.is_measured
        )
    elif isinstance(event, Loses):
        form = LosesForm(
            of=event.of, grams=event.grams, share=event.share,
            measured=event.is_measured, place=event.place,
        )  # fmt: skip
    elif isinstance(event, Reads):
        form = ReadsForm(
            at_C=event.at_C, grams=event.grams, brix=event.brix,
            water_share=event.water_share,
        )  # fmt: skip
    elif isinstance(event, Deep):
        form = DeepForm(depth_mm=event.depth_mm)
    elif isinstance(event, Density):
        form = DensityForm(g_ml=event.g_ml, measured=event.is_measured)
    elif isinstance(event, Into):
        form = IntoForm(vessel=event.vessel)
    else:
        form = NoteForm(text=event.text)
    return form


def form_of_line(line: Line) -> LineForm:
    """An ingredient line in its JSON form."""
    part: Literal["", "juice", "zest"] = ""
    if line.part in {"juice", "zest"}:
        part = "juice" if line.part == "juice" else "zest"
    return LineForm(
        name=line.name,
        amounts=[_amount(amount) for amount in line.amounts],
        second=_amount(line.second) if line.second else None,
        weighs_g=line.stated_g,
        measured=line.is_measured,
        size=line.size,
        part=part,
        notes=list(line.notes),
        aside=line.aside,
    )


def _amount(amount: Amount) -> AmountForm:
    return AmountForm(
        value=amount.value,
        unit=amount.unit.name,
        low=amount.low,
        high=amount.high,
        each=_amount(amount.size) if amount.size else None,
        heaped=amount.heaped,
        spoons=amount.regime,
    )
