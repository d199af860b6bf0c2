"""Labels that were printed: kept in the kitchen, and set against the card as it is."""

import json
from dataclasses import dataclass
from typing import Annotated, Final

from fastapi import APIRouter, Form, Request, Response
from starlette.exceptions import HTTPException
from starlette.responses import RedirectResponse

from slabwright.desk.label import Asked
from slabwright.desk.label_paper import done, record_of
from slabwright.desk.label_print import Extras, Numbered, compared, paper_of
from slabwright.errors import FileError, Mistake, SlabwrightError
from slabwright.files.print_record import print_record
from slabwright.files.raw import decoded
from slabwright.label.paper.printed import Printed
from slabwright.publish.print.record import printed_json
from slabwright.spec.specification import Specification
from slabwright.store import kept_files
from slabwright.store.cards import CardRow
from slabwright.web.desk_pages import revision_at, slab_at, worked_revision
from slabwright.web.fields import CardId
from slabwright.web.house import Visit, acting
from slabwright.web.label_print_pages import PrintAsk, revisions_of

router = APIRouter(include_in_schema=False)

FOLDER: Final = "printed"
"""Of the kitchen's folder, for the records."""
_MOST_SHOWN: Final = 20
_MOST_A_DAY: Final = 1000


@dataclass(frozen=True, slots=True)
class KeptPrint:
    """A print that was kept, and what of it no longer holds."""

    path: str
    printed: Printed | None
    """None where the record can't be read."""
    changes: tuple[str, ...]
    waits: tuple[str, ...] = ()

    @property
    def is_stale(self) -> bool:
        """Whether it must not be stuck on any more."""
        return bool(self.changes or self.waits)


@router.post("/slabs/{card_id}/label/printed")
def keep_print(
    request: Request, card_id: CardId, ask: Annotated[PrintAsk, Form()]
) -> Response:
    """Keep what was printed, to be told when it no longer holds."""
    with acting(request) as visit:
        card = slab_at(visit, card_id)
        revision = revision_at(visit, card_id, ask.v or card.current)
        spec = worked_revision(visit, revision).spec
        asked = ask.asked(visit.desk.day)
        numbered = Numbered(ask.item, ask.code)
        paper = paper_of(
            spec, visit.desk.folder, asked, ask.what(),
            revisions_of(visit, revision.number), Extras(numbered, bool(ask.nutrition)),
        )  # fmt: skip
        found = done(paper, ask.paper_asked(), asked.on)
        if found.is_draft:
            what = "It waits for an answer: what was printed is a draft, and no label."
            raise FileError(Mistake(what, "Settle what it waits for, and print it."))
        record = record_of(paper, asked, numbered, found)
        text = json.dumps(printed_json(record), ensure_ascii=False, indent=1)
        kept_files.keep(
            visit.connection, visit.kitchen_id, _free(visit, card, record),
            f"{text}\n".encode(), visit.house.now(),
        )  # fmt: skip
    return RedirectResponse(f"/slabs/{card_id}/label#printed", status_code=303)


@router.post("/slabs/{card_id}/label/used-up")
def used_up(
    request: Request,
    card_id: CardId,
    path: Annotated[str, Form(max_length=240)],
) -> Response:
    """Let go of a record: these labels are used up or thrown away."""
    with acting(request) as visit:
        card = slab_at(visit, card_id)
        if path not in _paths(visit, card):
            raise HTTPException(404, "There is no such record of this slab.")
        kept_files.drop(visit.connection, visit.kitchen_id, path)
    return RedirectResponse(f"/slabs/{card_id}/label#printed", status_code=303)


def kept_prints(
    visit: Visit, card: CardRow, spec: Specification
) -> tuple[KeptPrint, ...]:
    """What was printed of this slab, the newest first, against the slab as it is."""
    paths = sorted(_paths(visit, card), reverse=True)[:_MOST_SHOWN]
    return tuple(_kept(visit, card, spec, path) for path in paths)


def _kept(visit: Visit, card: CardRow, spec: Specification, path: str) -> KeptPrint:
    data = kept_files.data(visit.connection, visit.kitchen_id, path) or b""
    try:
        record = print_record(decoded(data, path))
    except FileError as error:
        return KeptPrint(path, None, tuple(one.what for one in error.mistakes))
    now = revisions_of(visit, card.current)
    try:
        changes, waits = compared(
            record, spec, visit.desk.folder, Asked(visit.desk.day), now
        )
    except SlabwrightError as error:  # not sold so any more, or a number that is gone
        return KeptPrint(path, record, tuple(one.what for one in error.mistakes))
    return KeptPrint(path, record, changes, waits)


def _paths(visit: Visit, card: CardRow) -> frozenset[str]:
    start = f"{FOLDER}/{card.stem}/"
    every = kept_files.listed(visit.connection, visit.kitchen_id)
    return frozenset(one.path for one in every if one.path.startswith(start))


def _free(visit: Visit, card: CardRow, record: Printed) -> str:
    there = {path.casefold() for path in _paths(visit, card)}
    day = record.printed.isoformat()
    names = (f"{FOLDER}/{card.stem}/{day}-{n:03}.json" for n in range(1, _MOST_A_DAY))
    free = next((one for one in names if one.casefold() not in there), "")
    if not free:
        what = f"{_MOST_A_DAY - 1} prints of this slab were kept on one day."
        raise FileError(Mistake(what, "Let go of those that are used up."))
    return free
