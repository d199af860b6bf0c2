"""The whole store into one file while it is in use, and back into an empty one."""

import hashlib
import os
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import IO, Final
from zipfile import ZIP_STORED, ZipFile, ZipInfo

import sqlalchemy as sa
from sqlalchemy.exc import DBAPIError

from slabwright.errors import Mistake, Where
from slabwright.store import backup_file, migrate
from slabwright.store.backup_file import BackupFacts, BackupFile, Part
from slabwright.store.backup_parts import (
    TABLES,
    Blob,
    Row,
    blob_name,
    digest,
    holds_blobs,
    line_of,
    part_name,
    rows,
)
from slabwright.store.engine import reading, writing
from slabwright.store.errors import StoppedError, StoreError

Report = Callable[[float], None]
"""Is told the share that is done, from 0 to 1."""
Stop = Callable[[], bool]
"""Says whether to stop."""

_BATCH: Final = 500
_EPOCH: Final = (1980, 1, 1, 0, 0, 0)
"""The time of every part, so that equal stores give equal backups."""


def back_up(
    engine: sa.Engine,
    path: Path,
    *,
    report: Report = lambda share: None,
    stop: Stop = lambda: False,
) -> BackupFacts:
    """Write all that the store holds at this moment; others may go on meanwhile.

    The file appears whole, checked, or not at all; one of that name is replaced then.

    Raises:
        StoppedError: if it was stopped.
        StoreError: if the file can't be written.
    """
    with _new_file(path) as (unfinished, file):
        with reading(engine) as c:
            _write(c, file, _Progress(_rows_in(c), report, stop))
        file.flush()
        os.fsync(file.fileno())
        facts = verify(unfinished)
    report(1.0)
    return facts


def verify(path: Path) -> BackupFacts:
    """What a backup holds, once every byte of it was looked at.

    Raises:
        StoreError: with what is wrong.
    """
    with backup_file.opened(path) as backup:
        return backup.checked()


def restore(path: Path, engine: sa.Engine) -> BackupFacts:
    """Put a backup into an empty store: all of it, compared at the end, or nothing.

    Raises:
        StoreError: if the backup is damaged, or from other tables; if the store isn't
            empty.
    """
    with backup_file.opened(path) as backup, writing(engine) as c:
        facts = backup.checked()
        _check_schema(c, backup, facts)
        if _rows_in(c):
            raise StoreError(
                Mistake(
                    "The store is not empty.",
                    "Restore into a new one; nothing was changed.",
                )
            )
        try:
            for table in TABLES:
                _fill(c, backup, table)
        except DBAPIError as error:
            raise backup.wrong("Its rows don't belong together") from error
        for table, part in zip(TABLES, facts.parts, strict=True):
            if digest(c, table) != part.sha256:
                raise backup.wrong(f"'{table.name}' came out otherwise than it was")
        return facts


@dataclass
class _Progress:
    """How far it is."""

    in_all: int
    report: Report
    stop: Stop
    done: int = 0

    def step(self) -> None:
        """One row more."""
        self.done += 1
        if self.done % 100 == 0:
            self.report(self.done / (self.in_all + 1))
        if self.stop():
            what = "The backup was stopped before it was done."
            raise StoppedError(Mistake(what, "Nothing is left of it."))


@contextmanager
def _new_file(path: Path) -> Iterator[tuple[Path, IO[bytes]]]:
    """A file that takes its name when all went well."""
    unfinished = path.with_name(f".{path.name}.{os.getpid()}.part")
    try:
        with unfinished.open("wb") as file:
            yield unfinished, file
        unfinished.replace(path)
        _sync_folder(path.parent)
    except OSError as error:
        reason = error.strerror or str(error)
        raise StoreError(
            Mistake(
                f"The backup can't be written: {reason}.",
                "Name another place for it.",
                Where(str(path)),
            )
        ) from error
    finally:
        unfinished.unlink(missing_ok=True)


def _sync_folder(folder: Path) -> None:
    """The new name is on the disk too."""
    if os.name != "posix":
        return
    descriptor = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)


def _rows_in(c: sa.Connection) -> int:
    counts = (sa.select(sa.func.count()).select_from(table) for table in TABLES)
    return sum(c.execute(count).scalar_one() for count in counts)


def _write(c: sa.Connection, file: IO[bytes], progress: _Progress) -> None:
    schema = migrate.version(c) or ""
    with ZipFile(file, "w", ZIP_STORED) as packed:
        blobs: set[str] = set()
        for table in TABLES:
            if holds_blobs(table):
                _write_blobs(c, packed, table, blobs)
        parts = [_write_part(c, packed, table, progress) for table in TABLES]
        manifest = backup_file.written_manifest(schema, parts, len(blobs))
        packed.writestr(_entry(backup_file.MANIFEST), manifest)


def _write_blobs(
    c: sa.Connection, packed: ZipFile, table: sa.Table, written: set[str]
) -> None:
    with closing(rows(c, table)) as found:
        for value in (value for row in found for value in row.values()):
            if isinstance(value, bytes):
                sha256 = hashlib.sha256(value).hexdigest()
                if sha256 not in written:
                    packed.writestr(_entry(blob_name(sha256)), value)
                    written.add(sha256)


def _write_part(
    c: sa.Connection, packed: ZipFile, table: sa.Table, progress: _Progress
) -> Part:
    sha256, number, size = hashlib.sha256(), 0, 0
    entry = _entry(part_name(table))
    with (
        packed.open(entry, "w", force_zip64=True) as part,
        closing(rows(c, table)) as found,
    ):
        for row in found:
            line = line_of(row)
            part.write(line)
            sha256.update(line)
            number, size = number + 1, size + len(line)
            progress.step()
    return Part(part_name(table), number, size, sha256.hexdigest())


def _entry(name: str) -> ZipInfo:
    return ZipInfo(name, _EPOCH)


def _check_schema(c: sa.Connection, backup: BackupFile, facts: BackupFacts) -> None:
    here = migrate.version(c)
    if facts.schema != here:
        raise backup.wrong(
            f"Its tables are of version '{facts.schema[:20]}', the store's of '{here}';"
            " the slabwright that made it can restore it"
        )


def _fill(c: sa.Connection, backup: BackupFile, table: sa.Table) -> None:
    most = 1 if holds_blobs(table) else _BATCH
    batch: list[Row] = []
    for row in backup.rows(table):
        batch.append(
            {
                name: backup.blob(value) if isinstance(value, Blob) else value
                for name, value in row.items()
            }
        )
        if len(batch) == most:
            c.execute(sa.insert(table), batch)
            batch = []
    if batch:
        c.execute(sa.insert(table), batch)
    if c.dialect.name == "postgresql" and "id" in table.columns:
        _go_on_counting(c, table)


def _go_on_counting(c: sa.Connection, table: sa.Table) -> None:
    """PostgreSQL gives ids from a counter, which rows that have one leave alone."""
    highest = c.execute(sa.select(sa.func.max(table.c.id))).scalar_one()
    if highest is not None:
        counter = sa.func.pg_get_serial_sequence(table.name, "id")
        c.execute(sa.select(sa.func.setval(counter, highest)))
