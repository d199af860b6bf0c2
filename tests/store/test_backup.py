"""Backups: whole, checked, readable on either engine, and refused when damaged."""

import hashlib
import json
import os
import struct
import zlib
from collections.abc import Callable
from io import BytesIO
from pathlib import Path
from threading import Event, Thread
from zipfile import ZIP_DEFLATED, ZIP_STORED, ZipFile

import pytest
import sqlalchemy as sa
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from slabwright.store import (
    cards,
    drafts,
    kept_files,
    kitchens,
    papers,
    photos,
    results,
    revisions,
)
from slabwright.store.backup import back_up, restore, verify
from slabwright.store.backup_parts import TABLES, line_of, rows
from slabwright.store.engine import open_store, reading, sqlite_url, writing
from slabwright.store.errors import StoppedError, StoreError
from slabwright.store.folder import taken_out
from tests.postgres import Server
from tests.store.kitchen import DAY, NOOR, TEXT, a_card, later, saved

ODD = "½ Crème \u2028\ufeff\r\n\x01\U0001f34b\\\"'"


def fill(store: sa.Engine) -> int:
    """Something in every table, odd enough."""
    with writing(store) as c:
        kitchen = kitchens.add(c, ODD, DAY).id
        # texts that a country sorts otherwise than their bytes
        for number, name in enumerate(("b", "a", "B", "ä", "Z", "_", " ")):
            drafts.keep(c, kitchen, name, "Noor", ODD, DAY)
            path = f"records/{name}{number}.bin"
            kept_files.keep(c, kitchen, path, b"\0\xff", DAY)
        card = cards.add(
            c, kitchen, "slab", ODD[:7], TEXT + ODD, NOOR, has_bom=True, is_proved=True
        )
        saved(c, card, "trial", 1, is_trial=True)
        a_card(c, kitchen, "Ganache", kind="component")
        drafts.keep(c, kitchen, "card", "Sam", "", DAY, card_id=card.id, based_on=1)
        papers.save(c, kitchen, "larder.yaml", ODD, NOOR, based_on=0)
        papers.save(c, kitchen, "larder.yaml", "", later(1), based_on=1)
        for shows in (1, None):
            photos.add(
                c,
                kitchen,
                card.id,
                b"\x89PNG",
                NOOR,
                media_type="image/png",
                width=1,
                height=1,
                revision=shows,
            )
        results.keep(c, kitchen, "key", "kind", {"a": [1.5, ODD]}, DAY)
    return kitchen


def everything(store: sa.Engine) -> list[bytes]:
    with reading(store) as c:
        return [line_of(row) for table in TABLES for row in rows(c, table)]


@pytest.fixture
def backup(store: sa.Engine, tmp_path: Path) -> Path:
    fill(store)
    path = tmp_path / "store.backup"
    back_up(store, path)
    return path


def test_every_table_has_something_to_lose(store: sa.Engine) -> None:
    fill(store)

    with reading(store) as c:
        for table in TABLES:
            assert list(rows(c, table)), table.name


def test_a_backup_comes_back_on_the_other_engine(
    store: sa.Engine, other: sa.Engine, tmp_path: Path
) -> None:
    kitchen = fill(store)
    path, again = tmp_path / "one.backup", tmp_path / "two.backup"
    facts = back_up(store, path)
    restored = restore(path, other)
    back_up(other, again)

    assert everything(other) == everything(store)
    assert restored == facts == verify(path)
    assert path.read_bytes() == again.read_bytes()
    assert (facts.rows("revision"), facts.rows("photo"), facts.blobs) == (3, 2, 2)
    assert facts.size == path.stat().st_size
    with reading(store) as c, reading(other) as there:
        assert dict(taken_out(c, kitchen)) == dict(taken_out(there, kitchen))


def test_a_backup_is_the_same_from_a_database_that_sorts_by_a_language(
    postgres: Server, whole: tuple[Path, bytes], tmp_path: Path
) -> None:
    url = postgres.database_sorted_as("en-GB")
    store = open_store(url)
    with reading(store) as c:
        is_first = c.execute(sa.text("SELECT 'a' < 'B'")).scalar_one()
    path = tmp_path / "one.backup"
    path.write_bytes(whole[1])
    restore(path, store)
    back_up(store, path)
    store.dispose()
    postgres.drop(url)

    assert is_first  # by their bytes it is the other way round
    assert path.read_bytes() == whole[1]


def test_a_backup_is_on_the_disk_before_it_has_its_name(
    store: sa.Engine, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path, sync = tmp_path / "one.backup", os.fsync
    had_its_name: list[bool] = []

    def noted(descriptor: int) -> None:
        had_its_name.append(path.exists())
        sync(descriptor)

    monkeypatch.setattr(os, "fsync", noted)
    back_up(store, path)

    assert had_its_name == [False, True]  # the file, then its folder


def test_a_restored_store_goes_on_counting(
    backup: Path, store: sa.Engine, other: sa.Engine
) -> None:
    restore(backup, other)

    with writing(other) as c:
        kitchen = kitchens.listed(c)[0].id
        card = a_card(c, kitchen, "One more")
        assert card.id == 3
        assert kitchens.add(c, "Quay", DAY).id == 2
        papers.save(c, kitchen, "prices.yaml", "", NOOR, based_on=0)
        photo = photos.add(
            c, kitchen, card.id, b"", NOOR, media_type="image/png", width=1, height=1
        )
        assert photo.id == 3


def test_revisions_are_guarded_in_a_restored_store(
    backup: Path, store: sa.Engine, other: sa.Engine
) -> None:
    restore(backup, other)

    refused = pytest.raises(sa.exc.DBAPIError, match="only added")
    with refused, other.begin() as c:
        c.execute(sa.text("UPDATE revision SET text = ''"))


def test_an_empty_store_has_a_backup_too(
    store: sa.Engine, other: sa.Engine, tmp_path: Path
) -> None:
    path = tmp_path / "empty.backup"
    facts = back_up(store, path)
    restore(path, other)

    assert {part.rows for part in facts.parts} == {0}
    with writing(other) as c:
        assert kitchens.add(c, "First", DAY).id == 1


def test_a_backup_goes_into_an_empty_store_only(
    backup: Path, store: sa.Engine, other: sa.Engine
) -> None:
    with writing(other) as c:
        kitchens.add(c, "Quay", DAY)
    before = everything(other)

    with pytest.raises(StoreError, match=r"not empty.*nothing was changed"):
        restore(backup, other)
    assert everything(other) == before
    with pytest.raises(StoreError, match="not empty"):
        restore(backup, store)


def test_a_backup_holds_one_moment_while_others_write(
    store: sa.Engine, tmp_path: Path
) -> None:
    kitchen = fill(store)
    done = Event()

    def write() -> None:
        number = 1
        while not done.is_set():
            with writing(store) as c:
                card = a_card(c, kitchen, f"Slab {number}")
                revisions.save(c, kitchen, card.id, "two", NOOR, based_on=1)
            number += 1

    writer = Thread(target=write)
    writer.start()
    try:
        facts = [back_up(store, tmp_path / f"{n}.backup") for n in range(5)]
    finally:
        done.set()
        writer.join()

    for one in facts:
        # each card was added with two revisions, at once: two more than the first two's
        assert one.rows("revision") - 3 == 2 * (one.rows("card") - 2)
    assert facts[0].rows("card") < facts[-1].rows("card")


def test_progress_is_told_and_stopping_leaves_nothing(
    store: sa.Engine, tmp_path: Path
) -> None:
    kitchen = fill(store)
    with writing(store) as c:
        for number in range(250):
            a_card(c, kitchen, f"Slab {number}")
    shares: list[float] = []
    back_up(store, tmp_path / "a.backup", report=shares.append)
    seen: list[float] = []

    assert shares == sorted(shares)
    assert len(shares) > 4
    assert shares[-1] == 1.0
    assert all(0 < share <= 1 for share in shares)
    with pytest.raises(StoppedError, match="stopped before it was done"):
        back_up(
            store,
            tmp_path / "b.backup",
            report=seen.append,
            stop=lambda: len(seen) >= 2,
        )
    assert [path.name for path in tmp_path.glob("*backup*")] == ["a.backup"]


def test_a_backup_replaces_the_one_before_only_when_it_is_whole(
    store: sa.Engine, backup: Path
) -> None:
    before = backup.read_bytes()
    with writing(store) as c:
        kitchens.add(c, "Quay", DAY)

    with pytest.raises(StoppedError):
        back_up(store, backup, stop=lambda: True)
    assert backup.read_bytes() == before
    assert back_up(store, backup).rows("kitchen") == 2
    assert verify(backup).rows("kitchen") == 2


def test_a_place_that_cannot_be_written_is_told(
    store: sa.Engine, tmp_path: Path
) -> None:
    with pytest.raises(StoreError, match=r"can't be written: No such file.*Name anoth"):
        back_up(store, tmp_path / "nowhere" / "x.backup")


Parts = dict[str, bytes]


def parts_of(path: Path) -> Parts:
    with ZipFile(path) as packed:
        return {name: packed.read(name) for name in packed.namelist()}


def write(path: Path, parts: Parts, compression: int = ZIP_STORED) -> None:
    with ZipFile(path, "w", compression) as packed:
        for name, data in parts.items():
            packed.writestr(name, data)


def sealed(parts: Parts) -> Parts:
    """These parts with a manifest that fits them: forged, not damaged."""
    manifest = json.loads(parts["manifest.json"])
    for part in manifest["parts"]:
        data = parts[part["name"]]
        part["sha256"] = hashlib.sha256(data).hexdigest()
        part["size"] = len(data)
        part["rows"] = data.count(b"\n")
    manifest["blobs"] = sum(name.startswith("blobs/") for name in parts)
    return parts | {"manifest.json": json.dumps(manifest).encode()}


def put(parts: Parts, name: str, old: bytes, new: bytes) -> Parts:
    assert old in parts[name]
    return parts | {name: parts[name].replace(old, new)}


def without(parts: Parts, name: str) -> Parts:
    return {other: data for other, data in parts.items() if other != name}


def a_blob(parts: Parts) -> str:
    return next(name for name in parts if name.startswith("blobs/"))


DAMAGED: dict[str, tuple[Callable[[Parts], Parts], str]] = {
    "another text": (
        lambda p: put(p, "revision.jsonl", b"trial", b"TRIAL"),
        "Its 'revision.jsonl' is damaged",
    ),
    "a row less": (
        lambda p: p | {"draft.jsonl": p["draft.jsonl"].split(b"\n", 1)[1]},
        "Its 'draft.jsonl' is missing or cut short",
    ),
    "a table less": (lambda p: without(p, "card.jsonl"), "'card.jsonl' is missing"),
    "no manifest": (lambda p: without(p, "manifest.json"), "It has no manifest"),
    "another picture": (
        lambda p: p | {a_blob(p): b"other"},
        r"Its 'blobs/\w+' is damaged",
    ),
    "a picture less": (lambda p: without(p, a_blob(p)), "picture or file is missing"),
    "a picture more": (
        lambda p: p | {f"blobs/{hashlib.sha256(b'').hexdigest()}": b""},
        "one too many",
    ),
    "a part more": (lambda p: p | {"../x": b""}, r"It holds '\.\./x'"),
    "wrong count": (
        lambda p: put(p, "manifest.json", b'"rows": 3', b'"rows": 4'),
        "has 3 rows, not 4 as it says",
    ),
    "wrong count of pictures": (
        lambda p: put(p, "manifest.json", b'"blobs": 2', b'"blobs": 3'),
        "picture or file is missing",
    ),
    "another format": (
        lambda p: put(p, "manifest.json", b"backup 1", b"backup 2"),
        "It is of the kind 'slabwright backup 2'",
    ),
    "a manifest of noise": (
        lambda p: p | {"manifest.json": b"\xff{"},
        "Its manifest can't be read",
    ),
    "a manifest of a list": (
        lambda p: p | {"manifest.json": b"[" * 5000},
        "Its manifest can't be read",
    ),
    "a huge manifest": (
        lambda p: p | {"manifest.json": b" " * 1024 * 1024 * 2},
        "It has no manifest",
    ),
    "other tables": (
        lambda p: put(p, "manifest.json", b"draft.jsonl", b"mine.jsonl"),
        "other tables than this program's",
    ),
}


@pytest.mark.parametrize("case", DAMAGED)
def test_a_damaged_backup_is_refused_in_words(one_backup: Path, case: str) -> None:
    change, what = DAMAGED[case]
    write(one_backup, change(parts_of(one_backup)))

    with pytest.raises(StoreError, match=what) as caught:
        verify(one_backup)
    assert "Take another one; nothing was changed." in str(caught.value)


def test_a_damaged_backup_is_not_restored(
    store: sa.Engine, other: sa.Engine, backup: Path
) -> None:
    write(backup, put(parts_of(backup), "revision.jsonl", b"trial", b"TRIAL"))

    with pytest.raises(StoreError, match=r"'revision\.jsonl' is damaged"):
        restore(backup, other)
    assert everything(other) == []


FORGED: dict[str, tuple[Callable[[Parts], Parts], str]] = {
    "a column less": (
        lambda p: put(p, "kitchen.jsonl", b'"mark":3,', b""),
        "Row 1 of kitchen.jsonl: it has other columns",
    ),
    "no JSON": (
        lambda p: p | {"kitchen.jsonl": b"kitchen\n"},
        "Row 1 of kitchen.jsonl: it is no JSON",
    ),
    "deep JSON": (
        lambda p: p | {"kitchen.jsonl": b"[" * 100_000 + b"\n"},
        "it is no JSON",
    ),
    "a list": (lambda p: p | {"kitchen.jsonl": b"[]\n"}, "it has other columns"),
    "text for a number": (
        lambda p: put(p, "kitchen.jsonl", b'"mark":3', b'"mark":"3"'),
        "its 'mark' is odd",
    ),
    "true for a number": (
        lambda p: put(p, "kitchen.jsonl", b'"mark":3', b'"mark":true'),
        "its 'mark' is odd",
    ),
    "a number too large": (
        lambda p: put(p, "kitchen.jsonl", b'"mark":3', b'"mark":2147483648'),
        "its 'mark' is odd",
    ),
    "nothing where something must be": (
        lambda p: put(p, "kitchen.jsonl", b'"mark":3', b'"mark":null'),
        "its 'mark' is odd",
    ),
    "a number for a flag": (
        lambda p: put(p, "revision.jsonl", b'"has_bom":true', b'"has_bom":1'),
        "its 'has_bom' is odd",
    ),
    "no text": (
        lambda p: put(p, "revision.jsonl", b'"trial"', b'"a\\u0000"'),
        "its 'text' is odd",
    ),
    "no time": (
        lambda p: put(p, "kitchen.jsonl", b"+00:00", b""),
        "its 'at' is odd",
    ),
    "bytes in the row": (
        lambda p: put(p, "photo.jsonl", b'{"sha256":', b'{"x":1,"sha256":'),
        "its 'data' is odd",
    ),
}


@pytest.mark.parametrize("case", FORGED)
def test_a_forged_row_is_named(one_backup: Path, case: str) -> None:
    change, what = FORGED[case]
    write(one_backup, sealed(change(parts_of(one_backup))))

    with pytest.raises(StoreError, match=what):
        verify(one_backup)


BROKEN: dict[str, tuple[Callable[[Parts], Parts], str]] = {
    "a revision of no card": (
        lambda p: put(p, "revision.jsonl", b'"card_id":2', b'"card_id":9'),
        "rows don't belong together",
    ),
    "two of one number": (
        lambda p: p | {"kitchen.jsonl": p["kitchen.jsonl"] * 2},
        "rows don't belong together",
    ),
    "rows in another order": (
        lambda p: (
            p
            | {
                "draft.jsonl": b"".join(
                    p["draft.jsonl"].splitlines(keepends=True)[::-1]
                )
            }
        ),
        "'draft' came out otherwise than it was",
    ),
}


@pytest.mark.parametrize("case", BROKEN)
def test_what_comes_out_otherwise_is_undone(
    store: sa.Engine, other: sa.Engine, backup: Path, case: str
) -> None:
    change, what = BROKEN[case]
    write(backup, sealed(change(parts_of(backup))))
    verify(backup)  # nothing that a look at the file would tell

    with pytest.raises(StoreError, match=what):
        restore(backup, other)
    assert everything(other) == []


def test_a_backup_of_other_tables_is_refused(
    store: sa.Engine, other: sa.Engine, backup: Path
) -> None:
    write(backup, put(parts_of(backup), "manifest.json", b'"0001"', b'"0007"'))

    assert verify(backup).schema == "0007"
    with pytest.raises(StoreError, match=r"version '0007', the store's of '0001'"):
        restore(backup, other)


@pytest.mark.parametrize(
    "noise", [b"", b"slab Lemon\n", b"PK\x03\x04", b"PK\x05\x06" + b"\0" * 18]
)
def test_what_is_no_backup_is_refused(tmp_path: Path, noise: bytes) -> None:
    path = tmp_path / "x.backup"
    path.write_bytes(noise)

    with pytest.raises(StoreError, match="This backup can't be used"):
        verify(path)


def test_a_backup_that_is_not_there_is_told(tmp_path: Path) -> None:
    for path in (tmp_path / "none.backup", tmp_path):
        with pytest.raises(StoreError, match="It can't be read"):
            verify(path)


def test_a_packed_zip_is_refused_before_it_is_unpacked(one_backup: Path) -> None:
    bomb = parts_of(one_backup) | {"card.jsonl": b"\0" * 50_000_000}
    write(one_backup, bomb, ZIP_DEFLATED)
    assert one_backup.stat().st_size < 200_000

    with pytest.raises(StoreError, match="is packed or locked"):
        verify(one_backup)


def test_parts_that_lie_over_one_another_are_refused(one_backup: Path) -> None:
    # two entries of the list at the end tell of the same bytes
    data = b"x" * 10_000
    names = [f"blobs/{number:064x}" for number in range(2)]
    local = BytesIO()
    crc = zlib.crc32(data)
    head = struct.pack(
        "<4s5H3I2H", b"PK\3\4", 20, 0, 0, 0, 33, crc, len(data), len(data), 70, 0
    )
    local.write(head + names[0].encode() + data)
    start = local.tell()
    for name in names:
        local.write(
            struct.pack(
                "<4s6H3I5H2I",
                *(b"PK\1\2", 20, 20, 0, 0, 0, 33, crc, len(data), len(data), 70),
                *(0, 0, 0, 0, 0, 0),
            )
            + name.encode()
        )
    size = local.tell() - start
    local.write(struct.pack("<4s4H2IH", b"PK\5\6", 0, 0, 2, 2, size, start, 0))
    one_backup.write_bytes(local.getvalue())

    with pytest.raises(StoreError, match="larger than itself"):
        verify(one_backup)


def test_a_part_that_comes_twice_is_refused(one_backup: Path) -> None:
    with (
        ZipFile(one_backup, "a") as packed,
        pytest.warns(UserWarning, match="Duplicate"),
    ):
        packed.writestr("card.jsonl", b"")

    with pytest.raises(StoreError, match=r"It holds 'card\.jsonl' twice"):
        verify(one_backup)


@settings(max_examples=150, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(data=st.data())
def test_no_damage_goes_unnoticed_or_breaks_the_reader(
    whole: tuple[Path, bytes], data: st.DataObject
) -> None:
    path, good = whole
    place = data.draw(st.integers(0, len(good) - 1))
    if data.draw(st.booleans()):
        bad = good[:place]
    else:
        bit = 1 << data.draw(st.integers(0, 7))
        bad = good[:place] + bytes([good[place] ^ bit]) + good[place + 1 :]
    path.write_bytes(bad)
    try:
        verify(path)
    except StoreError:
        return
    # a zip says some things twice, such as times; the parts are whole all the same
    found = parts_of(path)
    path.write_bytes(good)
    assert found == parts_of(path)


@pytest.fixture
def one_backup(whole: tuple[Path, bytes], tmp_path: Path) -> Path:
    """A backup to be damaged."""
    path = tmp_path / "one.backup"
    path.write_bytes(whole[1])
    return path


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, bytes]:
    """A backup of a store on SQLite, and its bytes."""
    folder = tmp_path_factory.mktemp("backup")
    store = open_store(sqlite_url(folder / "store.db"))
    fill(store)
    path = folder / "store.backup"
    back_up(store, path)
    store.dispose()
    return path, path.read_bytes()
