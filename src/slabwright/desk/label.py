"""The label of a kitchen's slab, asked from the terminal or the app."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final

from slabwright.desk.label_inside import inside_of
from slabwright.errors import FileError, Mistake, Where
from slabwright.files.folder import Folder
from slabwright.label.allergen.contents import Contents
from slabwright.label.codes import (
    Number,
    in_store_number,
    measured_number,
    own_number,
    read_number,
)
from slabwright.label.dates import Freezer
from slabwright.label.dates import in_full as day_in_full
from slabwright.label.particulars import NATIONS, UNLESS, begins
from slabwright.label.ways import Selling, nearest_ways, way_of
from slabwright.spec.allergens import allergens_of
from slabwright.spec.label import Label, LabelOrder, label_of, nation_of
from slabwright.spec.specification import Specification

_LARDER: Final = "larder.yaml"
_INSIDE: Final = (Selling.LOOSE, Selling.PACKED_HERE)
"""Ways in which a slab does not leave the shop before it is sold."""


@dataclass(frozen=True, slots=True)
class Asked:
    """What somebody asks of a label, as it was typed."""

    on: date
    way: str = ""
    nation: str = ""
    made: date | None = None
    frozen: date | None = None
    thawed: date | None = None
    unless: tuple[str, ...] = ()
    surface_cm2: float | None = None


@dataclass(frozen=True, slots=True)
class WayAsked:
    """How is it sold? The card doesn't say it in words that are understood."""

    words: str
    """The maker's own words; empty if there are none."""
    nearest: tuple[Selling, ...]


@dataclass(frozen=True, slots=True)
class Labels:
    """A label for each way in which a slab is sold, and the ways to be asked for."""

    slab: str
    nation: str
    on: date
    labels: tuple[Label, ...]
    asked: tuple[WayAsked, ...]


def labels_of(spec: Specification, folder: Folder, asked: Asked) -> Labels:
    """The labels of a slab.

    Raises:
        FileError: for a way, a nation or days that can't be.
    """
    kitchen = folder.kitchen
    nation = nation_for(folder, asked.nation)
    ways, open_ones = _ways(spec, asked)
    for way in ways:
        _insist_on_table(way, nation, asked.on)
    lifted = tuple(_exception(one) for one in asked.unless)
    freezer = _freezer(asked)
    is_unread = any(one.where.file.endswith(_LARDER) for one in folder.mistakes)
    contents = Contents(folder.larder, kitchen.country)
    allergens = allergens_of(
        spec, contents, folder.prices, asked.on, (_LARDER,) if is_unread else ()
    )
    inside = inside_of(spec, folder, nation, asked.on) if ways else {}
    labels = tuple(
        label_of(
            spec,
            LabelOrder(
                way, nation, asked.on, asked.made, freezer, lifted, asked.surface_cm2
            ),
            allergens,
            inside,
        )
        for way in ways
    )
    return Labels(spec.name, nation, asked.on, labels, open_ones)


def number_for(
    way: Selling, folder: Folder, *, item: str, code: str, value: int | None = None
) -> Number | None:
    """The number under the bars of what is sold in this way; None if none is asked.

    Args:
        way: how it is sold.
        folder: the kitchen.
        item: the shop's own number for it.
        code: the whole number, in place of it.
        value: a price in pence or a weight in grams, to stand in the number.

    Raises:
        FileError: for a number that can't be, or one that must not leave the shop.
    """
    if code and (item or value is not None):
        what = "A whole number was given, and an item or a value besides."
        raise FileError(Mistake(what, "Give one of the two.", Where(field="code")))
    if code:
        number = read_number(code)
        if number.is_in_store and way not in _INSIDE:
            what = f"{number.digits} counts in one shop alone, and this is {way}."
            do = "Give it a number of your company prefix (GS1-08, from memory)."
            raise FileError(Mistake(what, do, Where(field="code")))
        return number
    codes = folder.kitchen.codes
    if value is not None:
        if way not in _INSIDE:
            what = (
                f"A price or weight inside a number is read in one shop alone: {way}."
            )
            do = "Leave the value out (GS1-08, from memory)."
            raise FileError(Mistake(what, do, Where(field="value")))
        return measured_number(codes, item, value)
    if not item:
        return None
    if way in _INSIDE and codes.in_store:
        return in_store_number(codes, item)
    return own_number(codes, item)


def _ways(
    spec: Specification, asked: Asked
) -> tuple[tuple[Selling, ...], tuple[WayAsked, ...]]:
    if asked.way:
        way = way_of(asked.way)
        if way is not None:
            return (way,), ()
        near = nearest_ways(asked.way)
        what = f"'{asked.way:.60}' is none of the five ways to sell."
        do = f"Write {' or '.join(one.value for one in near)}."
        raise FileError(Mistake(what, do, Where(field="way"), tuple(near)))
    lines = spec.card.sales_on(asked.on)
    ways = tuple(dict.fromkeys(one.way for one in lines if one.way is not None))
    open_ones = [
        WayAsked(one.how, nearest_ways(one.how)) for one in lines if one.way is None
    ]
    if not lines:
        open_ones.append(WayAsked("", tuple(Selling)))
    return ways, tuple(open_ones)


def _insist_on_table(way: Selling, nation: str, on: date) -> None:
    first = begins(way, nation)
    if on < first:
        what = f"What held on {day_in_full(on)} for {way} is not in the table."
        do = f"It begins on {day_in_full(first)}."
        raise FileError(Mistake(what, do, Where(field="on")))


def nation_for(folder: Folder, said: str) -> str:
    """Where a slab is sold: as it was typed, or as the kitchen says.

    Raises:
        FileError: for a nation that there is no table for.
    """
    kitchen = folder.kitchen
    nation = _nation(said) or nation_of(kitchen.country, kitchen.nation)
    if not nation:
        what = f"There is no table of particulars for the country {kitchen.country}."
        do = f"Tables here are of {', '.join(NATIONS)}: --nation."
        raise FileError(Mistake(what, do, Where(field="nation")))
    return nation


def _nation(said: str) -> str:
    if not said:
        return ""
    found = next((n for n in NATIONS if n.casefold() == said.strip().casefold()), "")
    if not found:
        what = f"'{said:.40}' is no nation that there is a table for."
        do = f"Write {', '.join(NATIONS[:-1])} or {NATIONS[-1]}."
        raise FileError(Mistake(what, do, Where(field="nation")))
    return found


def _exception(said: str) -> str:
    key = said.strip().casefold().replace("-", "_").replace(" ", "_")
    yours = _yours()
    if key not in yours:
        names = ", ".join(one.replace("_", "-") for one in yours)
        what = f"'{said:.40}' lifts nothing."
        raise FileError(Mistake(what, f"Write {names}.", Where(field="unless")))
    return key


def exceptions() -> tuple[tuple[str, str], ...]:
    """What lifts a need by the shop's own word: as it is asked for, and in words."""
    return tuple((one.replace("_", "-"), UNLESS[one]) for one in _yours())


def _yours() -> Sequence[str]:
    """Exceptions that are the shop's to say; the others follow from card and days."""
    worked_out = {"never_frozen", "date_to_the_day"}
    return [one for one in UNLESS if one not in worked_out]


def _freezer(asked: Asked) -> Freezer | None:
    if asked.frozen is None and asked.thawed is None:
        return None
    if asked.frozen is None or asked.thawed is None:
        lacking = "frozen" if asked.frozen is None else "thawed"
        what = f"The day on which it was {lacking} is missing."
        do = "Give both: --frozen 2026-11-26 --thawed 2026-12-03."
        raise FileError(Mistake(what, do, Where(field=lacking)))
    return Freezer(asked.frozen, asked.thawed)
