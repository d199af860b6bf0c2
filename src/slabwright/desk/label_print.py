"""Printing a label of a kitchen's slab: which one, what it says, what it waits for."""

from dataclasses import dataclass, replace
from functools import cache
from hashlib import blake2s
from importlib.resources import files
from typing import Final

from slabwright.desk.declaration import list_of
from slabwright.desk.label import Asked, Labels, labels_of, number_for
from slabwright.desk.nutrition import nutrition_for
from slabwright.errors import FileError, Mistake, Where
from slabwright.files.folder import Folder
from slabwright.label.codes import Number
from slabwright.label.ingredients.declared import Nation
from slabwright.label.paper.face import Face, Kind, stale
from slabwright.label.paper.printed import Printed
from slabwright.label.particulars import Particular
from slabwright.label.ways import Selling
from slabwright.publish.words import money
from slabwright.spec.declaration import ListOrder
from slabwright.spec.face import (
    FaceOrder,
    allergen_face,
    face_of,
    shows_nutrition,
    waited_for,
)
from slabwright.spec.face_nutrition import face_rows, piece_words
from slabwright.spec.label import Label, net_words
from slabwright.spec.specification import Specification

_PRICED: Final = (Selling.LOOSE, Selling.PACKED_HERE)
"""Ways in which the card's price is what a buyer pays; another shop sets its own."""


@dataclass(frozen=True, slots=True)
class Numbered:
    """What stands under the bars, as it was typed."""

    item: str = ""
    code: str = ""
    value: int | None = None


@dataclass(frozen=True, slots=True)
class Extras:
    """What the shop wants on it beside what the law asks."""

    numbered: Numbered = Numbered()
    has_nutrition: bool = False


@dataclass(frozen=True, slots=True)
class Paper:
    """One label, ticket or allergen card of a slab, ready to be set."""

    label: Label
    face: Face
    waits: tuple[str, ...]
    """What it waits for, in words; a draft if there is anything."""
    waited: tuple[Particular, ...] = ()
    """Particulars among that."""
    mistakes: tuple[str, ...] = ()
    """What is wrong in the card or the kitchen: what it says may not be all."""
    asks: tuple[tuple[str, str], ...] = ()
    """Questions of the list of ingredients: what is open, what to do."""


def card_revision(text: bytes) -> str:
    """Which text of a card this is: the beginning of its fingerprint."""
    return f"card {_print_of(text)}"


def larder_revision(own: bytes) -> str:
    """Which larder: the beginning of the fingerprint of every table of it.

    Args:
        own: the kitchen's own larder file; empty without one.
    """
    return f"larder {_print_of(_larder() + own)}"


def paper_of(
    spec: Specification,
    folder: Folder,
    asked: Asked,
    kind: Kind,
    revisions: tuple[str, ...],
    extras: Extras = Extras(),
) -> Paper:
    """The one label, ticket or allergen card that is asked for.

    Raises:
        FileError: if the card is sold in several ways, or in none that fits.
    """
    if kind == "allergen card" and not asked.way:
        asked = replace(asked, way=Selling.LOOSE.value)
    label = _picked(labels_of(spec, folder, asked), kind)
    if kind == "allergen card":
        face = allergen_face(label.allergens, label.name, revisions)
        return Paper(label, face, ())
    number = _number(label, folder, extras.numbered)
    sold = label.sold
    price = ""
    is_ours = label.order.way in _PRICED
    if is_ours and sold is not None and sold.price is not None:
        price = money(sold.price, folder.kitchen.currency)
    order = FaceOrder(kind, price, number, revisions)
    asks: tuple[tuple[str, str], ...] = ()
    if kind == "label":
        where = Nation(label.order.nation, asked.on)
        found = list_of(spec, folder, ListOrder(where)).declaration
        order = replace(order, ingredients=found.runs)
        asks = tuple((f"{one.about}: {one.what}", one.do) for one in found.open)
    if shows_nutrition(label, kind, asked=extras.has_nutrition):
        nutrition = nutrition_for(spec, folder, asked.on, label.order.nation)
        rows, piece = face_rows(nutrition), piece_words(nutrition)
        if sold is not None and sold.net_g is not None:
            piece = piece if piece == net_words(sold.net_g) else ""
        order = replace(order, nutrition=rows, piece=piece)
    waited = waited_for(label, kind, nutrition=extras.has_nutrition)
    mistakes = tuple(map(str, spec.errors))
    waits = [f"{one.standing.value.capitalize()}: {one.title}." for one in waited]
    waits += [f"A question is open: {one.about}." for one in label.allergens.questions]
    waits += [f"To put right: {one}" for one in mistakes]
    return Paper(label, face_of(label, order), tuple(waits), waited, mistakes, asks)


def compared(
    printed: Printed, spec: Specification, folder: Folder, asked: Asked,
    revisions: tuple[str, ...],
) -> tuple[tuple[str, ...], tuple[str, ...]]:  # fmt: skip
    """What of a printed label no longer holds, and what it waits for now.

    Args:
        printed: the record.
        spec: the slab as it is now.
        folder: the kitchen as it is now.
        asked: only its day counts; all else is as it was.
        revisions: of card and larder now.

    Raises:
        FileError: if it is not sold in that way any more.
    """
    face = printed.face
    if face.slab.casefold() != spec.name.casefold():
        what = f"The record is of {face.slab}, and the card is {spec.name}."
        do = "Name the card that it was printed from."
        raise FileError(Mistake(what, do, Where(field="stale")))
    again = Asked(
        asked.on, face.way, printed.nation, printed.made, printed.frozen,
        printed.thawed, printed.unless, printed.surface_cm2,
    )  # fmt: skip
    numbered = Numbered(printed.item, printed.code, printed.value)
    extras = Extras(numbered, printed.nutrition)
    now = paper_of(spec, folder, again, face.kind, revisions, extras)
    return stale(face, now.face), now.waits


def _picked(labels: Labels, kind: Kind) -> Label:
    """The label that is meant.

    Raises:
        FileError: if none is, or several could be.
    """
    found = list(labels.labels)
    if kind == "ticket" and len(found) > 1:
        found = [one for one in found if one.order.way is Selling.LOOSE] or found
    if kind == "label" and len(found) > 1:
        packed = [one for one in found if one.order.way is not Selling.LOOSE]
        found = packed or found
    ways = ", ".join(f'--way "{one.order.way}"' for one in found)
    if not found:
        what = f"The card doesn't say how {labels.slab} is sold."
        do = 'Say it: --way "packed here".'
        raise FileError(Mistake(what, do, Where(field="way")))
    if len(found) > 1:
        what = f"{labels.slab} is sold in {len(found)} ways, each with its own label."
        raise FileError(Mistake(what, f"Say which: {ways}.", Where(field="way")))
    (one,) = found
    if kind == "label" and one.order.way is Selling.LOOSE:
        what = f"{labels.slab} is sold loose on the counter, and has no label."
        do = "Print a ticket: --ticket; or say how it is packed: --way."
        raise FileError(Mistake(what, do, Where(field="way")))
    return one


def _number(label: Label, folder: Folder, numbered: Numbered) -> Number | None:
    return number_for(
        label.order.way, folder, item=numbered.item, code=numbered.code,
        value=numbered.value,
    )  # fmt: skip


def _print_of(data: bytes) -> str:
    return blake2s(data, digest_size=4).hexdigest()


@cache
def _larder() -> bytes:
    """Every table that a label leans on, end to end."""
    rooms = ("slabwright.larder", "slabwright.label")
    tables = [
        one
        for room in rooms
        for one in files(room).joinpath("data").iterdir()
        if one.name.endswith(".csv")
    ]
    return b"".join(one.read_bytes() for one in sorted(tables, key=lambda t: t.name))
