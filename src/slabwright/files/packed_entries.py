"""What a zip lists, looked at before anything is unpacked."""

import stat
import zipfile
from collections.abc import Iterable, Iterator
from typing import Final

from slabwright.errors import Mistake
from slabwright.paths import shown, wrong_path

_LOCAL_HEADER: Final = 30
"""Bytes before a file's name, by the format's description, from memory."""
_IS_LOCKED: Final = 0x1 | 0x40
_IS_UTF8: Final = 0x800
_WAYS: Final = frozenset({zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED})
_OWN_FOLDERS: Final = frozenset("slabs components history photos records".split())


def meant_name(info: zipfile.ZipInfo) -> str:
    """A file's name as it was meant: some programs don't say that it is in UTF-8."""
    name = info.orig_filename
    if info.flag_bits & _IS_UTF8:
        return name
    try:
        return name.encode("cp437").decode("utf-8")
    except UnicodeError:
        return name


def wrong_entry(name: str, info: zipfile.ZipInfo) -> Iterator[Mistake]:
    """What is wrong with something in a zip, by its name and what is said of it."""
    if wrong := wrong_path(name.removesuffix("/")):
        yield wrong
    mode = info.external_attr >> 16
    if stat.S_IFMT(mode) not in {0, stat.S_IFREG, stat.S_IFDIR}:
        yield Mistake(
            "It is a link or a device, and no file.", "Leave it out.", shown(name)
        )
    if info.flag_bits & _IS_LOCKED:
        yield Mistake("It is locked by a password.", "Pack it without.", shown(name))
    elif info.compress_type not in _WAYS:
        yield Mistake(
            "It is packed in a way that is not read here.",
            "Pack the folder again, as an ordinary zip.",
            shown(name),
        )


def insist_on_apart(listed: Iterable[zipfile.ZipInfo], end: int, data: bytes) -> None:
    """Refuse a zip in which two files share bytes: from few come endless ones.

    Args:
        listed: all that is listed.
        end: where the list begins, behind all files.
        data: the zip.

    Raises:
        zipfile.BadZipFile: if they do.
    """
    reached = 0
    for info in sorted(listed, key=lambda one: one.header_offset):
        start = info.header_offset
        header = data[start : start + _LOCAL_HEADER] if start >= 0 else b""
        if len(header) < _LOCAL_HEADER or start < reached:
            raise zipfile.BadZipFile
        names = int.from_bytes(header[26:28], "little")
        more = int.from_bytes(header[28:30], "little")
        reached = start + _LOCAL_HEADER + names + more + info.compress_size
    if reached > end:
        raise zipfile.BadZipFile


def without_top(names: list[str]) -> list[str]:
    """The same without a folder that is around all of them."""
    tops = {name.partition("/")[0] if "/" in name else "" for name in names}
    top = tops.pop()
    if tops or not top or top.casefold() in _OWN_FOLDERS:
        return names
    return [name.removeprefix(f"{top}/") for name in names]
