"""What the editor asks while somebody types: completions, and changes from beside."""

from typing import Annotated, Final

from fastapi import APIRouter, Request
from pydantic import BaseModel, ConfigDict, Field

from slabwright.errors import FileError, Mistake
from slabwright.files.card.complete import completions
from slabwright.files.card.edits import Asked, edited
from slabwright.files.raw import Text
from slabwright.web.fields import MOST_CARD
from slabwright.web.house import looking
from slabwright.web.typed import shown

router = APIRouter(prefix="/api", tags=["editing"])

CardField = Annotated[str, Field(max_length=MOST_CARD)]
_STRICT: Final = ConfigDict(extra="ignore", allow_inf_nan=False)


NO_CARD: Final = Mistake(
    "This is read as a pasted recipe: its first line does not begin with slab.",
    "Begin it with: slab NAME.",
)


class CompleteAsked(BaseModel):
    """A card and where the caret stands in it."""

    model_config = _STRICT
    text: CardField
    at: int = Field(ge=0, le=MOST_CARD)


class Offer(BaseModel):
    """What can be written, and in place of what."""

    start: int
    end: int
    text: str
    label: str
    note: str


class Offered(BaseModel):
    """What can be written at the caret, the likeliest first."""

    offers: list[Offer]


class EditAsked(BaseModel):
    """A card and a value that was typed beside it."""

    model_config = _STRICT
    text: CardField
    what: str = Field(max_length=40)
    value: str = Field(max_length=200)
    layer: int | None = Field(default=None, ge=0, le=1000)
    line: int | None = Field(default=None, ge=1, le=MOST_CARD)
    mix_g: float | None = Field(default=None, ge=0, le=1e9)
    adopt: bool = Field(
        default=False, description="Whether a pasted recipe may become a card."
    )


class EditMade(BaseModel):
    """One stretch of the text, and what is to stand there instead."""

    start: int
    end: int
    value: str


@router.post("/complete")
def complete(request: Request, asked: CompleteAsked) -> Offered:
    """What can be written where the caret stands."""
    with looking(request) as visit:
        folder = visit.desk.folder
    found = completions(shown(asked.text), asked.at, folder)
    return Offered(
        offers=[
            Offer(start=o.start, end=o.end, text=o.text, label=o.label, note=o.note)
            for o in found
        ]
    )


@router.post("/edit")
def edit(request: Request, asked: EditAsked) -> EditMade:
    """The change of the text that makes the card say what was typed beside it."""
    with looking(request) as visit:
        folder = visit.desk.folder
    text = shown(asked.text)
    wanted = Asked(asked.what, asked.value, asked.layer, asked.line, asked.mix_g)
    read = folder.read(Text(text))
    if read.is_pasted and not asked.adopt:
        raise FileError(NO_CARD)
    made = edited(text, wanted, read, folder.names, folder.tins)
    return EditMade(start=made.start, end=made.end, value=made.value)
