"""What the files of a kitchen folder are called, and what stands in the small ones."""

import re
from dataclasses import dataclass
from typing import Final, cast

from slabwright.errors import Mistake, Where
from slabwright.store import facts, paths
from slabwright.store.cards import CardRow, Kind
from slabwright.store.errors import StoreError
from slabwright.store.papers import Paper
from slabwright.store.photos import ENDS, PhotoRow
from slabwright.store.revisions import Revision

BOM: Final = b"\xef\xbb\xbf"

_FOLDERS: Final = {kind: folder for folder, kind in paths.CARD_FOLDERS.items()}
_NUMBERED: Final = re.compile(r"(\d{4,9})\.(card|paper|yaml)")

_SAVED: Final[dict[str, tuple[type, ...]]] = {"author": (str,), "at": (str,)}
_NOTED: Final = {**_SAVED, "note": (str,)}
_REVISION: Final = {
    **_NOTED,
    "from": (int,),
    "trial": (bool,),
    "proved": (bool,),
}
_CARD: Final = {"name": (str,), "aside": (bool,), "current": (int,)}
_PHOTO: Final = {
    "kind": (str,),
    "stem": (str,),
    "revision": (int, type(None)),
    "step_line": (int, type(None)),
    "media_type": (str,),
    "width": (int,),
    "height": (int,),
    "caption": (str,),
    **_SAVED,
}


@dataclass(frozen=True, slots=True)
class CardFacts:
    """What a card is apart from its revisions."""

    name: str
    is_aside: bool
    current: int


@dataclass(frozen=True, slots=True)
class PhotoFacts:
    """All about a picture, and the card that it is of."""

    kind: str
    stem: str
    photo: PhotoRow


def card_path(kind: Kind | str, stem: str) -> str:
    """Where a card lies."""
    return f"{_FOLDERS[kind]}/{stem}.card"


def history_path(kind: Kind | str, stem: str) -> str:
    """Where a card's history lies.

    A component's lies one deeper than a slab's, so they never meet: no stem ends
    in `.card` or `.yaml` as the files of a history do.
    """
    beside = "" if kind == "slab" else f"{_FOLDERS[kind]}/"
    return f"{paths.HISTORY}/{beside}{stem}"


def paper_history_path(name: str) -> str:
    """Where a paper's history lies."""
    return f"{paths.HISTORY}/papers/{name}"


def photo_path(file: str) -> str:
    """Where a picture lies."""
    return f"{paths.PHOTOS}/{file}"


def number_in(file: str) -> int | None:
    """The number of a revision whose file this is; None for any other file."""
    match = _NUMBERED.fullmatch(file)
    number = int(match[1]) if match else 0
    return number if number and match and f"{number:04}" == match[1] else None


def encoded(text: str, has_bom: bool) -> bytes:
    """A text as it stands in its file."""
    return (BOM if has_bom else b"") + text.encode("utf-8")


def decoded(data: bytes, file: str) -> tuple[str, bool]:
    """A file's text, and whether a byte order mark stood before it.

    Raises:
        StoreError: if it is not UTF-8.
    """
    try:
        return data.removeprefix(BOM).decode("utf-8"), data.startswith(BOM)
    except UnicodeDecodeError as error:
        where = Where(file)
        raise StoreError(
            Mistake("The file is not in UTF-8.", "Save it again as UTF-8 text.", where)
        ) from error


def card_file(card: CardRow) -> bytes:
    """What `history/…/card.yaml` holds."""
    return facts.written(
        {"name": card.name, "aside": card.is_aside, "current": card.current}
    )


def read_card_file(data: bytes, file: str) -> CardFacts:
    """What `card_file` wrote.

    Raises:
        StoreError: if it isn't that.
    """
    found = facts.read(data, file, _CARD)
    return CardFacts(
        name=str(found["name"]),
        is_aside=bool(found["aside"]),
        current=cast(int, found["current"]),
    )


def revision_file(revision: Revision) -> bytes:
    """What stands in the file beside a revision's text."""
    return facts.written(
        {
            "author": revision.author,
            "at": revision.at.isoformat(),
            "note": revision.note,
            "from": revision.from_number,
            "trial": revision.is_trial,
            "proved": revision.is_proved,
        }
    )


def read_revision(number: int, text: bytes, data: bytes, file: str) -> Revision:
    """What `revision_file` wrote, with its text.

    Args:
        number: of the revision.
        text: the bytes of its card.
        data: those of the file beside it.
        file: the path of both, without their ends.

    Raises:
        StoreError: if it isn't that.
    """
    found = facts.read(data, f"{file}.yaml", _REVISION)
    decoded_text, has_bom = decoded(text, f"{file}.card")
    return Revision(
        card_id=0,
        number=number,
        text=decoded_text,
        has_bom=has_bom,
        author=str(found["author"]),
        at=facts.moment(found["at"], f"{file}.yaml"),
        note=str(found["note"]),
        from_number=cast(int, found["from"]),
        is_trial=bool(found["trial"]),
        is_proved=bool(found["proved"]),
    )


def paper_file(paper: Paper) -> bytes:
    """What stands in the file beside a paper's text."""
    return facts.written(
        {"author": paper.author, "at": paper.at.isoformat(), "note": paper.note}
    )


def read_paper(name: str, number: int, text: bytes, data: bytes) -> Paper:
    """What `paper_file` wrote, with its text.

    Raises:
        StoreError: if it isn't that.
    """
    file = f"{paper_history_path(name)}/{number:04}"
    found = facts.read(data, f"{file}.yaml", _NOTED)
    decoded_text, has_bom = decoded(text, f"{file}.paper")
    return Paper(
        name=name,
        number=number,
        text=decoded_text,
        has_bom=has_bom,
        author=str(found["author"]),
        at=facts.moment(found["at"], f"{file}.yaml"),
        note=str(found["note"]),
    )


def photo_file(photo: PhotoRow, card: CardRow) -> bytes:
    """What stands in the file beside a picture."""
    return facts.written(
        {
            "kind": card.kind,
            "stem": card.stem,
            "revision": photo.revision,
            "step_line": photo.step_line,
            "media_type": photo.media_type,
            "width": photo.width,
            "height": photo.height,
            "caption": photo.caption,
            "author": photo.author,
            "at": photo.at.isoformat(),
        }
    )


def read_photo(file: str, size: int, data: bytes) -> PhotoFacts:
    """What `photo_file` wrote.

    Args:
        file: the picture's own name.
        size: of the picture [bytes].
        data: what stands beside it.

    Raises:
        StoreError: if it isn't that.
    """
    path = f"{photo_path(file)}.yaml"
    found = facts.read(data, path, _PHOTO)
    if found["media_type"] not in ENDS or found["kind"] not in _FOLDERS:
        raise StoreError(
            Mistake(
                f"A picture of the kind '{found['media_type']}', or of"
                f" a '{found['kind']}', is not known.",
                "Put the file back as it was exported.",
                Where(path),
            )
        )
    photo = PhotoRow(
        id=0,
        kitchen_id=0,
        card_id=0,
        revision=cast("int | None", found["revision"]),
        step_line=cast("int | None", found["step_line"]),
        file=file,
        media_type=str(found["media_type"]),
        width=cast(int, found["width"]),
        height=cast(int, found["height"]),
        size=size,
        caption=str(found["caption"]),
        author=str(found["author"]),
        at=facts.moment(found["at"], path),
    )
    return PhotoFacts(str(found["kind"]), str(found["stem"]), photo)
