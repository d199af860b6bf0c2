"""Sizes of tins: `30 x 20 x 5 cm`, `round 23 cm, 7 cm deep`, sloping ones."""

import re
from dataclasses import dataclass
from math import nan
from typing import Final

from slabwright.errors import GeometryError, Mistake
from slabwright.slab.outline import Outline
from slabwright.slab.tin import Tin

MM: Final = {
    "mm": 1.0, "cm": 10.0, "m": 1000.0, "in": 25.4, "inch": 25.4, "inches": 25.4,
    '"': 25.4, "”": 25.4, "″": 25.4,
}  # fmt: skip
"""Units of length and what they come to [mm]; the inch is exact (NIST SP 811)."""

NOT_INSIDE: Final = r"(?<![\d])(?<!\d[.,])(?<!\.\.)"
"""Before a number: `5` is none of `3..5` or `1.2.5`, which are no numbers."""
_NUM: Final = r"[-−]?\d+(?:[.,]\d+)?(?:\s?[½¼¾])?|nan|inf"
_UNIT: Final = r"mm|cm|m|inches|inch|in|\"|”|″"
_SIZE: Final = re.compile(
    rf"{NOT_INSIDE}(?P<n>{_NUM})\s*-?\s*(?P<u>{_UNIT})?(?![\w])"
    rf"(?:\s*(?:x|×|by)\s*(?P<n2>{_NUM})\s*-?\s*(?P<u2>{_UNIT})?(?![\w]))?"
    rf"(?:\s*(?:x|×|by)\s*(?P<n3>{_NUM})\s*-?\s*(?P<u3>{_UNIT})?(?![\w]))?",
    re.IGNORECASE,
)
_GLUED: Final = re.compile(r"(?<=[\dmn\"”″½¼¾])\s*[x×]\s*(?=[-−\d])", re.IGNORECASE)


_MANY: Final = re.compile(
    r"\s*(?P<n>\d{1,6})\s*(?:(?:tins?|trays?|frames?|pans?)\s+)?(?:of|[x×](?=\s*[^\W\d]))\s+",
    re.IGNORECASE,
)
_DIVIDED: Final = re.compile(
    rf",?\s*divided\s+(?:into\s+)?(?P<a>\d{{1,4}})\s*(?:x|×|by)\s*(?P<b>\d{{1,4}})"
    rf"(?:\s*cells)?(?:,?\s*(?:with\s+)?dividers?\s+(?P<t>{_NUM})\s*(?P<u>{_UNIT})"
    r"(?:\s+thick)?)?(?=\s*(?:,|$))",
    re.IGNORECASE,
)
_ABOUT_TINS: Final = frozenset(
    "round square rectangular rectangle oblong deep depth high tall at the base bottom "
    "rim top wide long across inside inner internal diameter corner corners radius "
    "rounded with of a and tin pan tray frame loose bottomed straight sided sloping "
    "traybake baking cake".split()
)
"""Words that may stand beside the sizes of a tin."""


@dataclass(frozen=True, slots=True)
class _Sizes:
    """One to three lengths and the words around them."""

    mm: tuple[float, ...]
    words: str


def number_of(text: str) -> float:
    """A plain number with point, comma or ½; NaN for what is none."""
    plain, part = text.strip().replace("−", "-").replace(",", "."), 0.0
    for mark, value in (("½", 0.5), ("¼", 0.25), ("¾", 0.75)):
        if plain.endswith(mark):
            plain, part = plain[:-1].strip() or "0", value
    try:
        return float(plain) + part
    except ValueError:
        return nan


def lengths(text: str) -> tuple[tuple[float, ...], str]:
    """Lengths written at the start or within words, in mm, and the words left.

    The last unit serves the numbers before it. No unit at all gives an empty tuple.
    """
    spaced = _GLUED.sub(" x ", text)
    found = next(
        (m for m in _SIZE.finditer(spaced) if m["u"] or m["u2"] or m["u3"]), None
    )
    if found is None:
        return (), text
    pairs = [
        (found["n"], found["u"]),
        (found["n2"], found["u2"]),
        (found["n3"], found["u3"]),
    ]
    values: list[float] = []
    unit = ""
    for number, own in reversed(pairs):
        if number:
            unit = (own or unit or "").lower()
            if not unit:
                return (), text
            values.append(number_of(number) * MM[unit])
    left = f"{spaced[: found.start()]} {spaced[found.end() :]}"
    return tuple(reversed(values)), " ".join(left.split()).casefold()


def read_tin(text: str) -> Tin | None:
    """The tin of these sizes; None if the text gives none.

    Raises:
        GeometryError: if no tin can have these sizes, or a size is missing.
    """
    count, bare = count_of(re.sub(r"\([^)]*\)", " ", text))
    bare, cells, divider_mm = _division(bare)
    tin = _one_tin(text, bare)
    if tin is None:
        return None
    return tin.times(count).parted(*cells, divider_mm)


def count_of(text: str) -> tuple[int, str]:
    """How many alike tins, and the words left: `2 of shop frame`.

    Whether `2 x` counts tins or measures one is told by what comes after it.
    """
    found = _MANY.match(text)
    return (int(found["n"]), text[found.end() :]) if found else (1, text)


def _division(text: str) -> tuple[str, tuple[int, int], float]:
    """The words without those on dividers; cells along and across; thickness [mm]."""
    found = _DIVIDED.search(text)
    if found is None:
        return text, (1, 1), 0.0
    thick_mm = number_of(found["t"]) * MM[found["u"].lower()] if found["t"] else 0.0
    left = text[: found.start()] + text[found.end() :]
    return left, (int(found["a"]), int(found["b"])), thick_mm


def _one_tin(text: str, bare: str) -> Tin | None:
    parts = [
        _Sizes(*lengths(part)) for part in re.split(r",(?!\d)", bare) if part.strip()
    ]
    if not any(part.mm for part in parts):
        return None
    for part in parts:
        odd = set(part.words.replace("-", " ").split()) - _ABOUT_TINS
        if odd:
            raise _not_a_size(text, " ".join(sorted(odd)))
    base, rim, depth, corner = parts[0], None, None, 0.0
    for part in parts[1:]:
        if "deep" in part.words or "depth" in part.words or "high" in part.words:
            depth = part.mm[0] if part.mm else None
        elif "rim" in part.words or "top" in part.words:
            rim = part.mm
        elif "corner" in part.words:
            corner = part.mm[0] if part.mm else 0.0
        elif part.mm or part.words:
            raise _odd(text)
    return _tin(text, _Said(base.words, base.mm, rim, depth, corner))


@dataclass(frozen=True, slots=True)
class _Said:
    """What a size says, in mm."""

    words: str
    base: tuple[float, ...]
    rim: tuple[float, ...] | None
    depth_mm: float | None
    corner_mm: float


def _tin(text: str, said: _Said) -> Tin:
    base, depth_mm = said.base, said.depth_mm
    if "round" in said.words:
        if depth_mm is None and len(base) > 1:
            depth_mm = base[1]
        rim_mm = said.rim[0] if said.rim else None
        return Tin.round(base[0], depth_mm, rim_diameter_mm=rim_mm)
    if len(base) == 1 and "square" in said.words:
        base = (base[0], base[0])
    if len(base) < len("xy"):
        raise _odd(text)
    if len(base) > len("xy") and depth_mm is None:
        depth_mm = base[2]
    rim = Outline(said.rim[0], said.rim[-1], said.corner_mm) if said.rim else None
    return Tin.rectangular(
        base[0], base[1], depth_mm, corner_radius_mm=said.corner_mm, rim=rim
    )


def _not_a_size(text: str, words: str) -> GeometryError:
    return GeometryError(
        Mistake(
            f"In '{text.strip()}' the words '{words}' say nothing about a size.",
            "Write its inner sizes alone: 30 x 20 x 5 cm.",
        )
    )


def _odd(text: str) -> GeometryError:
    return GeometryError(
        Mistake(
            f"'{text.strip()}' is not the size of a tin.",
            "Write its inner sizes: 30 x 20 x 5 cm, or: round 23 cm, 7 cm deep.",
        )
    )
