"""Which characters the house's fonts can print, and a box for those that they can't."""

import struct
from collections.abc import Iterator
from functools import cache
from importlib.resources import files
from typing import Any, Final
from unicodedata import normalize

from slabwright.publish.drawing.lettering import cleaned

BOX: Final = "☐"
"""Stands for a character that no font of the house has."""
_READ: Final = ("AtkinsonHyperlegibleNext-Regular", "Besley-Medium")
_OTHER: Final = ("DejaVuSans", "DejaVuSans-Bold")


@cache
def printable() -> frozenset[str]:
    """Every character that stands on a sheet as it was typed."""
    own, names = map(_characters, _READ)
    plain, bold = map(_characters, _OTHER)
    return frozenset((own & names) | (plain & bold) | (own & plain))


def shown(text: str) -> str:
    """The text on one line, a box in place of what can't be printed.

    >>> shown("crème  brûlée"), shown("lemon 🍋")
    ('crème brûlée', 'lemon ☐')
    """
    able = printable()
    return "".join(c if c in able else BOX for c in normalize("NFC", cleaned(text)))


def all_shown(value: Any) -> Any:
    """The same for every text inside lists and mappings."""
    if isinstance(value, str):
        return shown_inside(value)
    if isinstance(value, dict):
        return {key: all_shown(one) for key, one in value.items()}
    if isinstance(value, list | tuple):
        return [all_shown(one) for one in value]
    return value


def shown_inside(text: str) -> str:
    """A stretch of a line: blanks at its ends stay."""
    before = " " if text[:1].isspace() else ""
    after = " " if len(text) > 1 and text[-1:].isspace() else ""
    return before + shown(text) + after


def is_whole(text: str) -> bool:
    """Whether every character of it can be printed."""
    return BOX not in shown(text.replace(BOX, ""))


@cache
def _characters(font: str) -> frozenset[str]:
    """What a font's own table of characters names."""
    path = files("slabwright.publish.drawing").joinpath(f"fonts/ttf/{font}.ttf")
    data = path.read_bytes()
    count = struct.unpack_from(">H", data, 4)[0]
    for i in range(count):
        tag, _, start, _ = struct.unpack_from(">4sIII", data, 12 + 16 * i)
        if tag == b"cmap":
            return frozenset(map(chr, _codes(data, start)))
    return frozenset()


def _codes(data: bytes, start: int) -> Iterator[int]:
    """Codes of its Unicode subtables, in the two usual formats (4 and 12)."""
    count = struct.unpack_from(">H", data, start + 2)[0]
    for i in range(count):
        platform, _, offset = struct.unpack_from(">HHI", data, start + 4 + 8 * i)
        at = start + offset
        form = struct.unpack_from(">H", data, at)[0]
        if platform not in {0, 3}:
            continue
        if form == 4:
            yield from _format_4(data, at)
        elif form == 12:
            groups = struct.unpack_from(">I", data, at + 12)[0]
            for one in range(groups):
                first, last, _ = struct.unpack_from(">III", data, at + 16 + 12 * one)
                yield from range(first, last + 1)


def _format_4(data: bytes, at: int) -> Iterator[int]:
    twice = struct.unpack_from(">H", data, at + 6)[0]
    for i in range(0, twice, 2):
        last = struct.unpack_from(">H", data, at + 14 + i)[0]
        first = struct.unpack_from(">H", data, at + 16 + twice + i)[0]
        if first <= last < 0xFFFF:
            yield from range(first, last + 1)
