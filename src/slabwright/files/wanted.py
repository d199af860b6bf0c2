"""What a slab is to be scaled to, as people ask for it: `2 of shop frame`, `2.5 kg`."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from math import inf
from typing import Final

from slabwright.cost.prices import PriceList
from slabwright.errors import GeometryError, Mistake, Where
from slabwright.files.card.head import Tins
from slabwright.files.card.sizes import MM, number_of, read_tin
from slabwright.larder.ingredient import Ingredient
from slabwright.larder.lookup import Larder
from slabwright.quantity.units import unit_named
from slabwright.slab.tin import Tin
from slabwright.spec.wanted import NamedTin, ScalingError, Wanted

_SIZE: Final = re.compile(
    r"(?P<n>[-−]?\d+(?:[.,]\d+)?(?:\s?[½¼¾])?|[½¼¾]|nan|inf)\s*(?P<u>[a-zA-Z\"”″]+)?$"
)


@dataclass(frozen=True, slots=True)
class Asked:
    """What was typed; empty where nothing was."""

    tins: tuple[str, ...] = ()
    trays: int | None = None
    pieces: int | None = None
    by: str = ""
    mass: str = ""
    height: str = ""
    layers: tuple[str, ...] = ()
    """`NAME = 10 mm`, one each."""
    rim: bool = False
    head_room: str = ""
    whole_batch: bool = False


@dataclass
class _Reader:
    """Reads what was typed and keeps every mistake."""

    tins: Tins
    mistakes: list[Mistake] = field(default_factory=list)

    def wrong(self, what: str, do: str, option: str) -> None:
        self.mistakes.append(Mistake(what, do, Where(field=option)))

    def number(self, text: str, option: str) -> float | None:
        found = _SIZE.match(text.strip().removeprefix("x").removeprefix("×").strip())
        if found and not found["u"]:
            return number_of(found["n"])
        self.wrong(f"'{text}' is no number.", "Write it so: 1.5.", option)
        return None

    def mm(self, text: str, option: str) -> float | None:
        """A length; without a unit in millimetres."""
        found = _SIZE.match(text.strip())
        unit = MM.get((found["u"] or "mm").lower()) if found else None
        if found is None or unit is None:
            self.wrong(f"'{text}' is no length.", "Write it so: 28 mm.", option)
            return None
        return number_of(found["n"]) * unit

    def grams(self, text: str, option: str) -> float | None:
        """A mass; without a unit in grams."""
        found = _SIZE.match(text.strip())
        unit = unit_named(found["u"] or "g") if found else None
        if found is None or unit is None or unit.kind != "mass":
            self.wrong(f"'{text}' is no mass.", "Write it so: 2.5 kg.", option)
            return None
        return number_of(found["n"]) * unit.sizes["metric"].value

    def layers(self, texts: tuple[str, ...]) -> Iterator[tuple[str, float]]:
        for text in texts:
            name, is_said, size = text.rpartition("=")
            if not is_said:
                found = re.match(r"(.*?)[,:]?\s+([\d½¼¾].*)$", text)
                name, size = (found[1], found[2]) if found else ("", text)
            mm = self.mm(size, "layer")
            if not name.strip():
                do = "Write it so: Malt caramel = 10 mm."
                self.wrong(f"'{text}' names no layer.", do, "layer")
            elif mm is not None:
                yield name.strip(), mm

    def named_tins(self, texts: tuple[str, ...]) -> Iterator[NamedTin]:
        for text in texts:
            try:
                tin = self.tins.find_many(text) or read_tin(text)
            except GeometryError as error:
                self.mistakes.extend(error.mistakes)
                continue
            except ValueError:
                tin = None
            if tin is None:
                near = self.tins.nearest(text)
                do = f"Write {' or '.join(near)}, or sizes" if near else "Write sizes"
                what = f"'{text}' is no tin that is known here."
                self.wrong(what, f"{do}: 30 x 20 x 5 cm.", "tin")
            else:
                yield NamedTin(text, tin)


def read_wanted(asked: Asked, tins: Tins) -> Wanted:
    """What is asked for, as sizes.

    Raises:
        ScalingError: with everything in it that can't be read or had.
    """
    reader = _Reader(tins)
    room = asked.head_room or ("0 mm" if asked.rim else "")
    named = tuple(reader.named_tins(asked.tins))
    layers = tuple(reader.layers(asked.layers))
    by = reader.number(asked.by, "by") if asked.by else None
    mass_g = reader.grams(asked.mass, "mass") if asked.mass else None
    height_mm = reader.mm(asked.height, "height") if asked.height else None
    room_mm = reader.mm(room, "head-room") if room else None
    if reader.mistakes:
        raise ScalingError(*reader.mistakes)
    return Wanted(
        tins=_merged(named),
        trays=asked.trays,
        pieces=asked.pieces,
        by=by,
        mass_g=mass_g,
        height_mm=height_mm,
        layers_mm=layers,
        head_room_mm=room_mm,
        whole_batch=asked.whole_batch,
    )


def _merged(named: tuple[NamedTin, ...]) -> tuple[NamedTin, ...]:
    """Alike tins as one kind."""
    kinds: dict[Tin, NamedTin] = {}
    for one in named:
        alike = kinds.get(one.tin.one)
        count = one.tin.count + (alike.tin.count if alike else 0)
        words = alike.words if alike else one.words
        kinds[one.tin.one] = NamedTin(words, one.tin.times(count))
    return tuple(kinds.values())


def read_share(text: str, option: str) -> float:
    """A share that is written in per cent, or as a number from 0 to 1.

    Raises:
        ScalingError: for what is neither.

    >>> read_share("6 %", "allow"), read_share("0.1", "allow")
    (0.06, 0.1)
    """
    found = re.fullmatch(r"\s*(\d+(?:[.,]\d+)?)\s*(%?)\s*", text)
    if found is None:
        do = "Write it so: 6%."
        raise ScalingError(Mistake(f"'{text}' is no share.", do, Where(field=option)))
    value = number_of(found[1])
    return value / 100 if found[2] else value


def read_packs(
    texts: Sequence[str], larder: Larder, country: str, prices: PriceList | None
) -> dict[str, float]:
    """Grams in a pack, by larder id, of ingredients that are to use up whole packs.

    `butter` is the pack of the price list, else the larder's usual one here;
    `butter = 250 g` says it.

    Raises:
        ScalingError: for names and packs that nobody knows.
    """
    mistakes: list[Mistake] = []
    found: dict[str, float] = {}
    for text in texts:
        name, _, size = (part.strip() for part in text.partition("="))
        match = larder.find(name, country)
        if match is None:
            near = larder.nearest(name, country)
            do = f"Write {' or '.join(near)}." if near else "Mend its name."
            what = f"The larder has no '{name}'."
            mistakes.append(Mistake(what, do, Where(field="packs"), near))
            continue
        id = match.ingredient.id
        grams = _pack_g(size) if size else _usual_pack_g(match.ingredient, prices)
        if grams is None:
            what = f"What a pack of {match.ingredient.name} weighs is not known."
            do = f"Write it so: {name} = 250 g."
            mistakes.append(Mistake(what, do, Where(field="packs")))
        else:
            found[id] = grams
    if mistakes:
        raise ScalingError(*mistakes)
    return found


def _pack_g(size: str) -> float | None:
    sized = _SIZE.match(size)
    unit = unit_named(sized["u"] or "g") if sized else None
    if sized is None or unit is None or unit.kind != "mass":
        return None
    grams = number_of(sized["n"]) * unit.sizes["metric"].value
    return grams if 0 < grams < inf else None


def _usual_pack_g(ingredient: Ingredient, prices: PriceList | None) -> float | None:
    priced = prices.prices.get(ingredient.id, ()) if prices else ()
    if priced:
        return min(price.pack_g for price in priced)
    return min((pack.grams for pack in ingredient.packs), default=None)
