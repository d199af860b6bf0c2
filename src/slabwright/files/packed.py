"""A kitchen folder, in and out: packed in one zip file, or as it lies on a disk.

A zip is taken for hostile: nothing in its directory is believed until it was read.
"""

import stat
import struct
import zipfile
import zlib
from collections.abc import Iterable, Iterator
from datetime import UTC, datetime
from io import BytesIO
from pathlib import Path
from typing import Final

from slabwright.errors import FileError, Mistake, Where
from slabwright.files.packed_entries import (
    insist_on_apart,
    meant_name,
    without_top,
    wrong_entry,
)
from slabwright.files.packed_names import (
    MOST_ALL,
    MOST_EACH,
    MOST_FILES,
    clashes,
    is_litter,
)
from slabwright.paths import shown, wrong_path

Files = tuple[tuple[str, bytes], ...]
"""Each file by its path in the folder, parted by /, in the order of their paths."""

MOST_PACKED: Final = 256 * 1024 * 1024
"""Bytes of a zip file."""
MOST_RATIO: Final = 200
"""So many times a zip's own size comes out of it at most."""
_SMALL: Final = 16 * 1024 * 1024
"""Below this no ratio counts: the same line over and over packs well."""
_MAGIC: Final = b"PK\x03\x04"
_EMPTY: Final = b"PK\x05\x06"
_ENTRY: Final = b"PK\x01\x02"
_LEVEL: Final = 6
_NOT_OURS: Final = frozenset(".git .hg .svn".split())
_FAULTS: Final = (
    zipfile.BadZipFile,
    zlib.error,
    EOFError,
    NotImplementedError,
    OSError,
    OverflowError,
    RuntimeError,
    ValueError,
    struct.error,
)
"""What comes of a damaged zip, or one that lies about itself."""


def unpacked(data: bytes) -> Files:
    """The files of a kitchen folder that was packed in a zip.

    A single folder around everything is taken off, unless it is one of a kitchen's
    own; what a computer adds by itself (`__MACOSX`, `.DS_Store`) is left out.

    Raises:
        FileError: with everything that is wrong: no zip, damaged, locked, too large in
            any way, or files that can't lie side by side in a folder.
    """
    if len(data) > MOST_PACKED:
        raise _error(
            f"The zip has {_mib(len(data))}; at most {_mib(MOST_PACKED)} are taken.",
            "Leave photographs out, or take it in in parts.",
        )
    if not data.startswith(_MAGIC):
        is_empty = data.startswith(_EMPTY)
        what = "The zip is empty." if is_empty else "The file is no zip file."
        raise _error(what, "Pack the kitchen's folder, and name that file.")
    if data.count(_ENTRY) > 2 * MOST_FILES:  # before room is made for that many
        raise _too_many()
    try:
        with zipfile.ZipFile(BytesIO(data)) as packing:
            return _read(packing, data)
    except _FAULTS as error:
        raise _error("The zip is damaged.", "Pack the folder again.") from error


def _read(packing: zipfile.ZipFile, data: bytes) -> Files:
    listed = [(meant_name(info), info) for info in packing.infolist()]
    wanted = [(name, info) for name, info in listed if not is_litter(name)]
    if len(wanted) > MOST_FILES:
        raise _too_many()
    mistakes = [wrong for entry in wanted for wrong in wrong_entry(*entry)]
    files = [(name, info) for name, info in wanted if not name.endswith("/")]
    mistakes.extend(clashes(name for name, _ in files))
    if mistakes:
        raise FileError(*mistakes)
    if not files:
        raise _error("The zip holds no file.", "Pack the kitchen's folder.")
    insist_on_apart([info for _, info in listed], packing.start_dir, data)
    bare = without_top([name for name, _ in files])
    most = min(MOST_ALL, max(_SMALL, MOST_RATIO * len(data)))
    found = []
    for name, (_, info) in zip(bare, files, strict=True):
        content = _content(packing, info, name, most)
        most -= len(content)
        found.append((name, content))
    return tuple(sorted(found))


def _content(
    packing: zipfile.ZipFile, info: zipfile.ZipInfo, name: str, most: int
) -> bytes:
    """What is in a file, by what was read of it, whatever its header says."""
    with packing.open(info) as file:
        content = file.read(min(MOST_EACH, most) + 1)
    if len(content) > MOST_EACH:
        raise FileError(_too_large(shown(name)))
    if len(content) > most:
        raise _error(
            "The zip holds far more than its size lets expect.",
            "Pack the kitchen's folder, and nothing else.",
        )
    return content


def packed(files: Iterable[tuple[str, bytes]], at: datetime) -> bytes:
    """A zip of these files: the same for the same files and time.

    Args:
        files: each by its path in the folder.
        at: the time that each is given, with its zone; a zip keeps it in UTC.

    Raises:
        FileError: for paths that can't stand in a folder, side by side.
    """
    every = _sorted_soundly(files)
    stamp = at.astimezone(UTC)
    year = min(max(stamp.year, 1980), 2107)  # a zip knows no other
    when = (year, stamp.month, stamp.day, stamp.hour, stamp.minute, stamp.second)
    out = BytesIO()
    with zipfile.ZipFile(out, "w") as packing:
        for path, content in every:
            info = zipfile.ZipInfo(path, when)
            info.create_system = 3  # wherever it is packed
            info.external_attr = (stat.S_IFREG | 0o644) << 16
            packing.writestr(info, content, zipfile.ZIP_DEFLATED, _LEVEL)
    return out.getvalue()


def folder_files(path: Path) -> tuple[Files, tuple[Mistake, ...]]:
    """The files in a kitchen folder on a disk.

    Links are not followed: a kitchen's files lie in its folder.

    Returns:
        Files, and a mistake for everything that was left out.

    Raises:
        FileError: if there is no such folder, or it holds far too much.
    """
    if not path.is_dir():
        is_there = path.exists()
        what = f"'{path}' is {'no folder' if is_there else 'not there'}."
        raise _error(what, "Name a kitchen's folder.")
    found: list[tuple[str, bytes]] = []
    mistakes: list[Mistake] = []
    size = 0
    for name, read in _in_folder(path, path):
        if isinstance(read, Mistake):
            mistakes.append(read)
            continue
        size += len(read)
        if len(found) >= MOST_FILES:
            raise _too_many()
        if size > MOST_ALL:
            raise _error(
                f"The folder holds more than {_mib(MOST_ALL)}.",
                "Name the kitchen's own folder, not one around it.",
            )
        found.append((name, read))
    clashing = list(clashes(name for name, _ in found))
    left = {mistake.where for mistake in clashing}
    kept = tuple(sorted(one for one in found if shown(one[0]) not in left))
    return kept, (*mistakes, *clashing)


def _in_folder(path: Path, top: Path) -> Iterator[tuple[str, bytes | Mistake]]:
    """Each file below, and what is wrong with each that is left out."""
    try:
        inside = sorted(path.iterdir())
    except OSError as error:
        name = path.relative_to(top).as_posix()
        yield name, _unread(name, error)
        return
    for one in inside:
        name = one.relative_to(top).as_posix()
        try:
            read = _read_one(one, name)
        except OSError as error:
            read = _unread(name, error)
        if read is None:
            yield from _in_folder(one, top)
        else:
            yield name, read


def _read_one(path: Path, name: str) -> bytes | Mistake | None:
    """What is in a file, or why it was left out; None for a folder."""
    if path.name in _NOT_OURS or is_litter(name):
        what = "It is no part of a kitchen, and was left out."
        return Mistake(what, "Nothing is to be done.", shown(name))
    if path.is_symlink() or not (path.is_file() or path.is_dir()):
        what = "It is a link or a device, and was left out."
        return Mistake(what, "Put the file itself there.", shown(name))
    if wrong := wrong_path(name):
        return wrong
    if path.is_dir():
        return None
    with path.open("rb") as file:
        content = file.read(MOST_EACH + 1)
    return content if len(content) <= MOST_EACH else _too_large(shown(name))


def write_folder(path: Path, files: Iterable[tuple[str, bytes]]) -> None:
    """Write these files into a new folder, or into an empty one.

    Args:
        path: the folder; those above it are made if they are missing.
        files: each by its path in the folder.

    Raises:
        FileError: if the folder is not empty or can't be written, or for paths that
            can't stand in a folder, side by side.
    """
    every = _sorted_soundly(files)
    try:
        path.mkdir(parents=True, exist_ok=True)
        if any(path.iterdir()):
            raise _error(
                f"The folder '{path}' is not empty: nothing was written.",
                "Name a new folder.",
            )
        for name, content in every:
            file = path / name
            file.parent.mkdir(parents=True, exist_ok=True)
            with file.open("xb") as out:
                out.write(content)
    except OSError as error:
        raise _error(
            f"'{path}' can't be written in full: {error.strerror}.",
            "Name a folder with room that is yours to write to.",
        ) from error


def _sorted_soundly(files: Iterable[tuple[str, bytes]]) -> list[tuple[str, bytes]]:
    every = sorted(files)
    names = [name for name, _ in every]
    mistakes = [wrong for name in names if (wrong := wrong_path(name))]
    mistakes.extend(clashes(names))
    if mistakes:
        raise FileError(*mistakes)
    return every


def _unread(name: str, error: OSError) -> Mistake:
    what = f"It can't be read, and was left out: {error.strerror}."
    return Mistake(what, "Give yourself leave to read it.", shown(name))


def _too_large(where: Where) -> Mistake:
    what = f"It has more than {_mib(MOST_EACH)}."
    return Mistake(what, "Leave it out.", where)


def _too_many() -> FileError:
    what = f"There are more than {MOST_FILES:,} files."
    return _error(what, "Name the kitchen's own folder, not one around it.")


def _mib(size: int) -> str:
    return f"{size / 1024 / 1024:.0f} MiB"


def _error(what: str, do: str) -> FileError:
    return FileError(Mistake(what, do))
