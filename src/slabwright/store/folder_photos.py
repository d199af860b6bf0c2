"""Putting in the pictures of a folder that say of what they are."""

from typing import cast

from slabwright.store import cards, photos, revisions
from slabwright.store import folder_files as form
from slabwright.store.cards import CardRow, Kind
from slabwright.store.errors import StoreError, missing
from slabwright.store.folder_put import Putting
from slabwright.store.paths import PHOTOS
from slabwright.store.who import Who


def put_photos(put: Putting) -> None:
    """Take in each picture that has its facts beside it; others wait on, as files."""
    files = put.files_in(PHOTOS)
    before = {photo.id for photo in photos.all_of_kitchen(put.c, put.kitchen_id)}
    for name in sorted(files):
        beside = files.get(f"{name}.yaml")
        if beside is None:
            continue
        try:
            with put.c.begin_nested():
                is_new = _put(put, name, files[name], beside, before)
        except StoreError:
            continue  # both are kept as the files that they are
        path = form.photo_path(name)
        (put.came if is_new else put.unchanged).extend((path, f"{path}.yaml"))
        put.take(path, f"{path}.yaml")


def _put(put: Putting, name: str, data: bytes, beside: bytes, before: set[int]) -> bool:
    """Whether the picture is new here.

    Raises:
        StoreError: if its facts can't be read, or its card isn't here.
    """
    facts = form.read_photo(name, len(data), beside)
    kind = cast(Kind, facts.kind)
    card = cards.by_stem(put.c, put.kitchen_id, kind, facts.stem)
    if card is None:
        raise missing("card")
    if _has(put, card, data, before):
        return False
    photo = facts.photo
    number = photo.revision
    if number is not None and not revisions.one(put.c, put.kitchen_id, card.id, number):
        number = None
    photos.add(
        put.c,
        put.kitchen_id,
        card.id,
        data,
        Who(photo.author, photo.at),
        media_type=photo.media_type,
        width=photo.width,
        height=photo.height,
        caption=photo.caption,
        revision=number,
        step_line=photo.step_line,
        file=name,
    )
    return True


def _has(put: Putting, card: CardRow, data: bytes, before: set[int]) -> bool:
    """Whether this picture was among the card's before."""
    alike = (
        photo.id
        for photo in photos.listed(put.c, put.kitchen_id, card.id)
        if photo.id in before and photo.size == len(data)
    )
    return any(photos.data(put.c, put.kitchen_id, one) == data for one in alike)
