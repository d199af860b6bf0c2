"""A whole kitchen out and in, and back-ups of the store."""

import tempfile
from dataclasses import replace
from pathlib import Path
from typing import Annotated, Final

from fastapi import APIRouter, File, Request, Response, UploadFile
from starlette.background import BackgroundTask
from starlette.responses import FileResponse

from slabwright.desk.moving import take_in
from slabwright.errors import FileError, Mistake, SlabwrightError
from slabwright.files.folder import PAPERS
from slabwright.files.packed import packed, unpacked
from slabwright.store import backup, cards, kitchens
from slabwright.store.backup_file import BackupFacts
from slabwright.store.folder import PutIn, taken_out
from slabwright.web.guard import MOST_UPLOAD_BYTES
from slabwright.web.house import acting, house_of, looking, render

router = APIRouter(include_in_schema=False)

Upload = Annotated[UploadFile, File()]
_BACKUP: Final = Mistake(
    "This is a back-up of a whole store and no kitchen folder.",
    "Look it over below, or put it back with: slabwright restore.",
)
_NO_KITCHEN: Final = Mistake(
    "There is nothing of a kitchen in this zip: no slabs/, no kitchen.yaml.",
    "Pack the folder that holds them.",
)
_KITCHENS: Final = ("slabs/", "components/", "history/")
_ATTACHED: Final = 'attachment; filename="{name}"'


@router.get("/kitchen/moving")
def moving_page(request: Request) -> Response:
    """What can be taken out, taken in and backed up."""
    return _page(request)


@router.get("/kitchen/export.zip")
def export(request: Request) -> Response:
    """The kitchen folder in a zip: cards, history, papers, photographs."""
    house = house_of(request)
    with looking(request) as visit:
        files = list(taken_out(visit.connection, visit.kitchen_id))
    name = f"kitchen-{house.now():%Y-%m-%d}.zip"
    return Response(
        packed(files, house.now()),
        media_type="application/zip",
        headers={"Content-Disposition": _ATTACHED.format(name=name)},
    )


@router.post("/kitchen/import")
def take_in_zip(request: Request, folder: Upload) -> Response:
    """Take a packed kitchen folder in; nothing that is here is lost."""
    files = unpacked(_read(folder))
    names = [name for name, _ in files]
    if not any(name in PAPERS or name.startswith(_KITCHENS) for name in names):
        raise FileError(_BACKUP if "manifest.json" in names else _NO_KITCHEN)
    with acting(request) as visit:
        came = take_in(visit.connection, visit.kitchen_id, files, visit.who("taken in"))
    return _page(request, came=came)


@router.get("/kitchen/backup")
def back_up(request: Request) -> Response:
    """The whole store as it stands at this moment, in one file."""
    house = house_of(request)
    folder = tempfile.TemporaryDirectory(prefix="slabwright-")
    path = Path(folder.name) / "backup.slabs"
    backup.back_up(house.engine, path)
    return FileResponse(
        path,
        media_type="application/octet-stream",
        filename=f"slabwright-{house.now():%Y-%m-%d-%H%M}.backup",
        background=BackgroundTask(folder.cleanup),
    )


@router.post("/kitchen/verify")
def verify(request: Request, file: Upload) -> Response:
    """Look a back-up over: every part, every checksum."""
    data, name = _read(file), file.filename or "the file"
    with tempfile.TemporaryDirectory(prefix="slabwright-") as folder:
        path = Path(folder) / "backup.slabs"
        path.write_bytes(data)
        try:
            facts = backup.verify(path)
        except SlabwrightError as error:
            raise FileError(
                *(_called(one, str(path), name) for one in error.mistakes)
            ) from error
    return _page(request, facts=facts)


def _called(one: Mistake, path: str, name: str) -> Mistake:
    """A mistake that names the file as its sender does."""
    where = replace(one.where, file="")
    return replace(one, what=one.what.replace(path, name), where=where)


def _read(upload: UploadFile) -> bytes:
    data = upload.file.read(MOST_UPLOAD_BYTES + 1)
    if not data:
        raise FileError(Mistake("No file was chosen.", "Choose one."))
    return data


def _page(
    request: Request, *, came: PutIn | None = None, facts: BackupFacts | None = None
) -> Response:
    with looking(request) as visit:
        place = (visit.connection, visit.kitchen_id)
        row = kitchens.one(*place)
        return render(
            request, "moving.html", visit=visit, title="Moving and keeping",
            here="Kitchen", row=row, slabs=cards.counted(*place, "slab"),
            components=cards.counted(*place, "component"), came=came,
            facts=facts,
        )  # fmt: skip
