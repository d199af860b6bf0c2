"""A backup as a file: a zip that packs nothing, with a manifest of what is in it.

As nothing is packed, no small file can grow into a large one, and the parts together
are never larger than the file.
"""

import hashlib
import json
import re
import struct
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final
from zipfile import ZIP_STORED, BadZipFile, ZipFile, ZipInfo

import sqlalchemy as sa

from slabwright.errors import Mistake, Where
from slabwright.store.backup_parts import (
    TABLES,
    Blob,
    OddRowError,
    Row,
    blob_name,
    part_name,
    row_of,
)
from slabwright.store.errors import StoreError

FORMAT: Final = "slabwright backup 1"
MANIFEST: Final = "manifest.json"

_MOST_MANIFEST: Final = 1024 * 1024
_MOST_LINE: Final = 64 * 1024 * 1024
"""Bytes of a row without its picture: some times the largest text and its words."""
_MOST_BLOB: Final = 64 * 1024 * 1024
_CHUNK: Final = 1024 * 1024
_BLOB: Final = re.compile(r"blobs/[0-9a-f]{64}")


@dataclass(frozen=True, slots=True)
class Part:
    """A table, as the manifest tells of it."""

    name: str
    rows: int
    size: int
    """In bytes."""
    sha256: str


@dataclass(frozen=True, slots=True)
class BackupFacts:
    """What a backup holds."""

    schema: str
    """Version of the tables that it was made from."""
    parts: tuple[Part, ...]
    """One for each table."""
    blobs: int
    """Number of different pictures and files."""
    size: int
    """Of the backup [bytes]."""

    def rows(self, table: str) -> int:
        """How many rows of a table it holds."""
        return {part.name: part.rows for part in self.parts}[f"{table}.jsonl"]


def written_manifest(schema: str, parts: list[Part], blobs: int) -> bytes:
    """The manifest of these parts."""
    said = {
        "format": FORMAT,
        "schema": schema,
        "parts": [
            {
                "name": part.name,
                "rows": part.rows,
                "size": part.size,
                "sha256": part.sha256,
            }
            for part in parts
        ],
        "blobs": blobs,
    }
    return json.dumps(said, indent=1).encode()


class BackupFile:
    """A backup that is open for reading; nothing in it is trusted."""

    def __init__(self, path: Path, packed: ZipFile) -> None:
        self._path = path
        self._zip = packed

    def checked(self) -> BackupFacts:
        """What it holds, once every byte of it was looked at.

        Raises:
            StoreError: with what is wrong.
        """
        entries = self._entries()
        facts = self._manifest(entries)
        wanted: set[str] = set()
        for table, part in zip(TABLES, facts.parts, strict=True):
            self._check_part(table, part, entries, wanted)
        found = {name for name in entries if _BLOB.fullmatch(name)}
        named = {blob_name(sha256) for sha256 in wanted}
        if found != named or len(found) != facts.blobs:
            raise self.wrong("A picture or file is missing, or is one too many")
        for name in found:
            self._check_blob(name)
        return facts

    def rows(self, table: sa.Table) -> Iterator[Row]:
        """A table's rows; pictures and files as `Blob`.

        Raises:
            StoreError: if a line is no row.
        """
        with self._zip.open(part_name(table)) as part:
            number = 0
            while line := part.readline(_MOST_LINE):
                number += 1
                try:
                    yield row_of(table, line)
                except OddRowError as error:
                    what = f"Row {number} of {part_name(table)}: {error}"
                    raise self.wrong(what) from error

    def blob(self, blob: Blob) -> bytes:
        """A picture or file."""
        return self._zip.read(blob_name(blob.sha256))

    def wrong(self, what: str) -> StoreError:
        """That this is amiss."""
        return wrong(self._path, what)

    def _entries(self) -> dict[str, ZipInfo]:
        entries = self._zip.infolist()
        (name, times), *_ = Counter(e.filename for e in entries).most_common(1) or [
            ("", 0)
        ]
        if times > 1:
            raise self.wrong(f"It holds '{name[:80]}' twice")
        known = {MANIFEST, *map(part_name, TABLES)}
        for entry in entries:
            name = entry.filename
            if name not in known and not _BLOB.fullmatch(name):
                raise self.wrong(f"It holds '{name[:80]}', which no backup does")
            if entry.compress_type != ZIP_STORED or entry.flag_bits & 1:
                raise self.wrong(f"Its '{name}' is packed or locked; a backup's isn't")
            if _BLOB.fullmatch(name) and entry.file_size > _MOST_BLOB:
                raise self.wrong(f"Its '{name}' is larger than any picture or file")
        if sum(entry.file_size for entry in entries) > self._path.stat().st_size:
            raise self.wrong("Its parts are larger than itself")
        return {entry.filename: entry for entry in entries}

    def _manifest(self, entries: dict[str, ZipInfo]) -> BackupFacts:
        if MANIFEST not in entries or entries[MANIFEST].file_size > _MOST_MANIFEST:
            raise self.wrong("It has no manifest")
        try:
            said = json.loads(self._zip.read(MANIFEST))
            facts = _facts(said, self._path.stat().st_size)
        except (ValueError, TypeError, KeyError, RecursionError) as error:
            raise self.wrong("Its manifest can't be read") from error
        if said["format"] != FORMAT:
            raise self.wrong(f"It is of the kind '{said['format']}'")
        if [part.name for part in facts.parts] != [part_name(t) for t in TABLES]:
            raise self.wrong("It holds other tables than this program's")
        return facts

    def _check_part(
        self,
        table: sa.Table,
        part: Part,
        entries: dict[str, ZipInfo],
        wanted: set[str],
    ) -> None:
        if part.name not in entries or entries[part.name].file_size != part.size:
            raise self.wrong(f"Its '{part.name}' is missing or cut short")
        if self._sha256(part.name) != part.sha256:
            raise self.wrong(f"Its '{part.name}' is damaged")
        number = 0
        for row in self.rows(table):
            number += 1
            wanted |= {v.sha256 for v in row.values() if isinstance(v, Blob)}
        if number != part.rows:
            raise self.wrong(
                f"Its '{part.name}' has {number} rows, not {part.rows} as it says"
            )

    def _check_blob(self, name: str) -> None:
        if blob_name(self._sha256(name)) != name:
            raise self.wrong(f"Its '{name}' is damaged")

    def _sha256(self, name: str) -> str:
        found = hashlib.sha256()
        with self._zip.open(name) as part:
            while chunk := part.read(_CHUNK):
                found.update(chunk)
        return found.hexdigest()


@contextmanager
def opened(path: Path) -> Iterator[BackupFile]:
    """A backup, open for reading.

    Raises:
        StoreError: if it can't be read, now or later while it is open.
    """
    try:
        with ZipFile(path) as packed:
            yield BackupFile(path, packed)
    except (BadZipFile, EOFError, NotImplementedError, struct.error) as error:
        raise wrong(path, "It is damaged, or no backup at all") from error
    except OSError as error:
        reason = error.strerror or "it is damaged"
        raise wrong(path, f"It can't be read: {reason}") from error


def wrong(path: Path, what: str) -> StoreError:
    """That this is amiss with the backup at this path."""
    return StoreError(
        Mistake(
            f"This backup can't be used. {what}.",
            "Take another one; nothing was changed.",
            Where(str(path)),
        )
    )


def _facts(said: Any, size: int) -> BackupFacts:
    parts = tuple(
        Part(str(one["name"]), int(one["rows"]), int(one["size"]), str(one["sha256"]))
        for one in said["parts"]
    )
    return BackupFacts(str(said["schema"]), parts, int(said["blobs"]), size)
