"""What a slab is to be scaled to, as people ask for it: `2 of shop frame`, `2.5 kg`."""

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Final

from slabwright.errors import GeometryError, Mistake, Where
from slabwright.files.card.head import Tins
from slabwright.files.card.sizes import MM, number_of, read_tin
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
