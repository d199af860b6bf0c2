"""Kitchen folders packed and unpacked; hostile zips and odd folders."""

import io
import os
import random
import stat
import struct
import zipfile
import zlib
from contextlib import suppress
from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path
from typing import IO, Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from slabwright.errors import FileError
from slabwright.files import packed as packed_module
from slabwright.files.packed import folder_files, packed, unpacked, write_folder
from slabwright.files.packed_names import is_litter

AT = datetime(2026, 11, 25, 14, 30, 8, tzinfo=UTC)
KITCHEN = (
    ("kitchen.yaml", b"name: X\n"),
    ("photos/1.jpg", bytes(range(256))),
    ("slabs/two-tides.card", b"slab Two tides\r\n"),
    ("slabs/\u00e9clair.card", b"slab \xc3\xa9clair\n"),
)


def zipped(*files: tuple[str, bytes], way: int = zipfile.ZIP_DEFLATED) -> bytes:
    """A zip as any program makes it, whatever the names."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", way) as made:
        for name, data in files:
            made.writestr(zipfile.ZipInfo(name), data, way)
    return out.getvalue()


def refused(data: bytes, words: str) -> FileError:
    with pytest.raises(FileError, match=words) as caught:
        unpacked(data)
    assert all(mistake.what and mistake.do for mistake in caught.value.mistakes)
    return caught.value


# --- there and back ----------------


def test_what_is_packed_comes_out_the_same() -> None:
    assert unpacked(packed(reversed(KITCHEN), AT)) == KITCHEN


def test_the_same_files_make_the_same_zip() -> None:
    there = AT.astimezone(timezone(timedelta(hours=9)))

    assert packed(KITCHEN, AT) == packed(reversed(KITCHEN), there)
    assert packed(KITCHEN, AT) != packed(KITCHEN, AT + timedelta(hours=1))


@pytest.mark.parametrize(("year", "kept"), [(1970, 1980), (2200, 2107)])
def test_a_time_that_no_zip_knows(year: int, kept: int) -> None:
    made = packed(KITCHEN, AT.replace(year=year))

    with zipfile.ZipFile(io.BytesIO(made)) as read:
        assert read.infolist()[0].date_time == (kept, 11, 25, 14, 30, 8)


def test_the_library_reads_what_was_packed() -> None:
    with zipfile.ZipFile(io.BytesIO(packed(KITCHEN, AT))) as read:
        assert read.testzip() is None
        assert [info.filename for info in read.infolist()] == [n for n, _ in KITCHEN]
        modes = {info.external_attr >> 16 for info in read.infolist()}
        assert modes == {stat.S_IFREG | 0o644}


names = st.text(st.characters(exclude_categories=["Cs", "Cc"]), min_size=1, max_size=9)


@given(st.dictionaries(names, st.binary(max_size=300), min_size=1, max_size=6))
def test_any_files_that_can_be_packed_come_out_the_same(
    files: dict[str, bytes],
) -> None:
    try:
        made = packed(files.items(), AT)
    except FileError:
        return
    kept = tuple(sorted((n, d) for n, d in files.items() if not is_litter(n)))
    if kept and not all("/" in name for name, _ in kept):
        assert unpacked(made) == kept


# --- the folder around all ----------------


def test_one_folder_around_everything_is_taken_off() -> None:
    inside = [(f"Our kitchen/{name}", data) for name, data in KITCHEN]

    assert unpacked(zipped(("Our kitchen/", b""), *inside)) == KITCHEN
    litter = [("__MACOSX/._x", b""), ("Our kitchen/.DS_Store", b"\0\1")]
    assert unpacked(zipped(*inside, *litter)) == KITCHEN


def test_a_kitchens_own_folder_stays() -> None:
    only = (("slabs/a.card", b"slab A\n"), ("slabs/b.card", b"slab B\n"))

    assert unpacked(zipped(*only)) == only


def test_two_folders_stay() -> None:
    two = (("one/kitchen.yaml", b""), ("two/kitchen.yaml", b""))

    assert unpacked(zipped(*two)) == two


def test_a_name_in_utf_8_that_does_not_say_so() -> None:
    made = zipped(("slabs/\u00e9.card", b"x"), ("k", b""))
    silent = bytearray(made)
    for magic, at in ((b"PK\x03\x04", 6), (b"PK\x01\x02", 8)):
        start = made.index(magic)
        flags = struct.unpack_from("<H", silent, start + at)[0]
        struct.pack_into("<H", silent, start + at, flags & ~0x800)

    assert unpacked(bytes(silent)) == (("k", b""), ("slabs/\u00e9.card", b"x"))


# --- names ----------------


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("/etc/passwd", "doesn't begin in the folder"),
        ("../up.card", "leaves the folder"),
        ("slabs/../../up.card", "leaves the folder"),
        ("slabs//a.card", "leaves the folder"),
        ("./a.card", "leaves the folder"),
        ("..\\up.card", "a backslash or a colon"),
        ("C:/up.card", "a backslash or a colon"),
        ("a\n.card", "characters that no file's name has"),
        ("a\0.card", "characters that no file's name has"),
        ("a/b/c/d/e/f/g/h/i.card", "lies 9 deep; at most 8"),
        ("x" * 241, "241 characters; at most 240"),
        ("\u00e9" * 130, "130 characters"),
        ("../", "leaves the folder"),
    ],
)
def test_a_path_that_is_none(name: str, words: str) -> None:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as made:
        info = zipfile.ZipInfo("plain")
        info.filename = name
        made.writestr(info, b"")
        made.writestr("kitchen.yaml", b"")

    refused(out.getvalue(), words)
    if not name.endswith("/"):
        with pytest.raises(FileError, match=words):
            packed([(name, b"")], AT)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("a.card", "A.card"),
        ("slabs/a.card", "Slabs/A.CARD"),
        ("\u00e9.card", "e\u0301.card"),
        ("stra\u00dfe", "STRASSE"),
        ("a", "a/b.card"),
        ("a/b.card", "A"),
    ],
)
def test_names_that_a_disk_may_take_for_one(one: str, other: str) -> None:
    files = ((one, b"1"), (other, b"2"), ("kitchen.yaml", b""))

    error = refused(zipped(*files), "Two files go by one name")
    assert len(error.mistakes) == 1
    with pytest.raises(FileError, match="Two files go by one name"):
        packed(files, AT)


@pytest.mark.filterwarnings("ignore:Duplicate name")
def test_a_name_that_comes_twice() -> None:
    refused(zipped(("a", b"1"), ("a", b"2")), "Two files go by one name")


def test_everything_wrong_is_told_at_once() -> None:
    bad = (("../a", b""), ("/b", b""), ("c", b""), ("C", b""))

    assert len(refused(zipped(*bad), "leaves").mistakes) == 3


# --- what is no plain file ----------------


@pytest.mark.parametrize("what", [stat.S_IFLNK, stat.S_IFIFO, stat.S_IFCHR])
def test_links_and_devices(what: int) -> None:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as made:
        info = zipfile.ZipInfo("slabs/a.card")
        info.create_system = 3
        info.external_attr = (what | 0o777) << 16
        made.writestr(info, "/etc/passwd")

    refused(out.getvalue(), "a link or a device")


def with_flags(data: bytes, flags: int) -> bytes:
    made = bytearray(data)
    for magic, at in ((b"PK\x03\x04", 6), (b"PK\x01\x02", 8)):
        struct.pack_into("<H", made, data.index(magic) + at, flags)
    return bytes(made)


@pytest.mark.parametrize("flags", [0x1, 0x41, 0x40])
def test_a_locked_zip(flags: int) -> None:
    refused(with_flags(zipped(("a", b"x")), flags), "locked by a password")


@pytest.mark.parametrize("way", [zipfile.ZIP_BZIP2, zipfile.ZIP_LZMA])
def test_a_way_of_packing_that_is_not_read(way: int) -> None:
    refused(zipped(("a", b"x" * 99), way=way), "packed in a way")


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"", "no zip"),
        (b"slab Two tides\n", "no zip"),
        (b"GIF89a" + zipped(("a", b"x")), "no zip"),
        (b"\x89PNG\r\n\x1a\n" + zipped(("a", b"x")), "no zip"),
        (b"PK\x03\x04", "damaged"),
        (b"PK\x05\x06" + bytes(18), "empty"),
        (zipped(("a/", b"")), "holds no file"),
        (zipped(("__MACOSX/._a", b"x")), "holds no file"),
        (zipped(("a", b"x" * 99))[:-30], "damaged"),
    ],
)
def test_what_is_no_zip_of_a_folder(data: bytes, words: str) -> None:
    refused(data, words)


# --- too much ----------------


def test_a_zip_bomb_is_refused_before_it_fills_the_memory() -> None:
    zeros = bytes(15 * 1024 * 1024)
    bomb = zipped(*((f"{n}.bin", zeros) for n in range(8)))

    assert len(bomb) < 150_000
    refused(bomb, "far more than its size lets expect")


def test_a_file_that_is_too_large(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(packed_module, "MOST_EACH", 1000)

    assert unpacked(zipped(("a", bytes(1000))))
    refused(zipped(("a", bytes(1001))), r"a: It has more than")


def test_too_much_together(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(packed_module, "MOST_ALL", 1000)

    assert unpacked(zipped(("a", bytes(500)), ("b", bytes(500))))
    refused(zipped(("a", bytes(500)), ("b", bytes(501))), "far more")


def test_a_zip_that_is_too_large(monkeypatch: pytest.MonkeyPatch) -> None:
    data = zipped(("a", b"x"))
    monkeypatch.setattr(packed_module, "MOST_PACKED", len(data))
    assert unpacked(data)
    monkeypatch.setattr(packed_module, "MOST_PACKED", len(data) - 1)

    refused(data, "The zip has .* at most")


def test_too_many_files(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(packed_module, "MOST_FILES", 3)
    four = tuple((str(n), b"") for n in range(4))

    assert len(unpacked(zipped(*four[:3]))) == 3
    refused(zipped(*four), "more than 3 files")
    refused(zipped(*((str(n), b"") for n in range(9))), "more than 3 files")


def test_a_header_that_understates_its_file() -> None:
    data = bytearray(zipped(("a", bytes(10_000))))
    struct.pack_into("<L", data, data.index(b"PK\x01\x02") + 24, 10)
    struct.pack_into("<L", data, 22, 10)

    refused(bytes(data), "damaged")


def entry(name: bytes, offset: int, squeezed: bytes, size: int, crc: int) -> bytes:
    """A line of a zip's directory."""
    return (
        struct.pack(
            "<4s6H3L5H2L", b"PK\x01\x02", 20, 20, 0, 8, 0, 0, crc, len(squeezed), size,
            len(name), 0, 0, 0, 0, 0, offset,
        )
        + name
    )  # fmt: skip


def test_files_that_share_their_bytes() -> None:
    """A kernel that many files point at, as in bombs without nesting."""
    content = bytes(1_000_000)
    squeeze = zlib.compressobj(9, zlib.DEFLATED, -15)
    squeezed = squeeze.compress(content) + squeeze.flush()
    crc, size = zlib.crc32(content), len(content)
    local = struct.pack(
        "<4s5H3L2H", b"PK\x03\x04", 20, 0, 8, 0, 0, crc, len(squeezed), size, 1, 0
    )
    body = local + b"a" + squeezed
    same = b"".join(entry(b"a", 0, squeezed, size, crc) for _ in range(2))
    end = struct.pack("<4s4H2LH", b"PK\x05\x06", 0, 0, 2, 2, len(same), len(body), 0)

    refused(body + same + end, "Two files go by one name")
    other = local + b"b" + squeezed  # its header lies within the first file's bytes
    longer = len(squeezed) + len(other)
    first = struct.pack(
        "<4s5H3L2H", b"PK\x03\x04", 20, 0, 8, 0, 0, crc, longer, size, 1, 0
    )
    body = first + b"a" + squeezed + other
    lines = entry(b"a", 0, squeezed + other, size, crc) + entry(
        b"b", len(first) + 1 + len(squeezed), squeezed, size, crc
    )
    end = struct.pack("<4s4H2LH", b"PK\x05\x06", 0, 0, 2, 2, len(lines), len(body), 0)
    with zipfile.ZipFile(io.BytesIO(body + lines + end)) as read:
        assert len(read.read("b")) == size  # the library itself would give it

    refused(body + lines + end, "damaged")


def test_a_file_that_reaches_into_the_list() -> None:
    data = bytearray(zipped(("a", b"x" * 99)))
    at = data.index(b"PK\x01\x02") + 20
    (squeezed,) = struct.unpack_from("<L", data, at)
    struct.pack_into("<L", data, at, squeezed + 4)

    refused(bytes(data), "damaged")


def test_a_zip_in_a_zip_is_a_file_like_any_other() -> None:
    inner = zipped(("a", b"x"))

    assert unpacked(zipped(("inner.zip", inner))) == (("inner.zip", inner),)


@given(st.binary(max_size=400))
def test_no_bytes_at_all_trip_it(data: bytes) -> None:
    for tried in (data, b"PK\x03\x04" + data):
        with suppress(FileError):
            unpacked(tried)


@given(st.integers(0, 2**32), st.integers(1, 12))
def test_no_damage_trips_it(seed: int, changes: int) -> None:
    dice = random.Random(seed)  # noqa: S311
    data = bytearray(packed(KITCHEN, AT))
    for _ in range(changes):
        data[dice.randrange(len(data))] = dice.choice((0, 1, 0x7F, 0x80, 0xFF))
    if seed % 3 == 0:
        del data[dice.randrange(len(data)) :]
    with suppress(FileError):
        unpacked(bytes(data))


# --- on a disk ----------------


def test_a_folder_is_written_and_read_the_same(tmp_path: Path) -> None:
    home = tmp_path / "new" / "kitchen"
    write_folder(home, KITCHEN)

    assert folder_files(home) == (KITCHEN, ())


def test_a_folder_with_anything_in_it_is_not_written_over(tmp_path: Path) -> None:
    (tmp_path / "note.txt").write_text("mine", "utf-8")

    with pytest.raises(FileError, match="not empty: nothing was written"):
        write_folder(tmp_path, KITCHEN)
    assert [one.name for one in tmp_path.iterdir()] == ["note.txt"]


def test_a_folder_that_cannot_be_written(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("", "utf-8")

    with pytest.raises(FileError, match="can't be written in full"):
        write_folder(tmp_path / "file" / "kitchen", KITCHEN)


def test_nothing_is_written_of_files_that_cannot_all_be(tmp_path: Path) -> None:
    with pytest.raises(FileError, match="leaves the folder"):
        write_folder(tmp_path / "new", [("a", b""), ("../b", b"")])
    assert list(tmp_path.iterdir()) == []


def test_links_are_not_followed_and_all_that_is_left_out_is_told(
    tmp_path: Path,
) -> None:
    home = tmp_path / "kitchen"
    write_folder(home, KITCHEN)
    secret = tmp_path / "secret"
    secret.mkdir()
    (secret / "key").write_text("x", "utf-8")
    (home / "linked").symlink_to(secret / "key")
    (home / "linked-folder").symlink_to(secret)
    (home / "loop").symlink_to(home)
    os.mkfifo(home / "pipe")
    (home / ".git").mkdir()
    (home / ".git" / "config").write_text("", "utf-8")
    (home / "a:b").write_text("", "utf-8")
    files, mistakes = folder_files(home)

    assert files == KITCHEN
    left = {str(one.where): one.what for one in mistakes}
    assert set(left) == {"linked", "linked-folder", "loop", "pipe", ".git", "a:b"}
    assert "link or a device" in left["pipe"]
    assert "backslash or a colon" in left["a:b"]


def test_a_name_that_is_no_text_and_names_that_clash(tmp_path: Path) -> None:
    (tmp_path / "a.card").write_text("1", "utf-8")
    (tmp_path / "A.card").write_text("2", "utf-8")
    Path(os.fsdecode(os.fsencode(tmp_path) + b"/\xff.card")).write_bytes(b"3")
    files, mistakes = folder_files(tmp_path)

    assert len(files) == 1
    assert sorted(one.what.split()[0] for one in mistakes) == ["Its", "Two"]


def test_a_file_that_is_too_large_on_disk(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(packed_module, "MOST_EACH", 10)
    (tmp_path / "a").write_bytes(bytes(10))
    (tmp_path / "b").write_bytes(bytes(11))
    files, mistakes = folder_files(tmp_path)

    assert files == (("a", bytes(10)),)
    assert [str(one.where) for one in mistakes] == ["b"]


def test_a_folder_that_holds_far_too_much(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for n in range(4):
        (tmp_path / str(n)).write_bytes(bytes(10))
    monkeypatch.setattr(packed_module, "MOST_FILES", 3)
    with pytest.raises(FileError, match="more than 3 files"):
        folder_files(tmp_path)
    monkeypatch.setattr(packed_module, "MOST_FILES", 4)
    monkeypatch.setattr(packed_module, "MOST_ALL", 39)
    with pytest.raises(FileError, match="holds more than"):
        folder_files(tmp_path)


def test_a_file_that_may_not_be_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Told, not raised; the error is feigned, since an administrator may read all."""
    (tmp_path / "a").write_bytes(b"1")
    (tmp_path / "b").write_bytes(b"2")
    opened = Path.open

    def shut(path: Path, mode: str) -> IO[Any]:
        if path.name == "a":
            raise PermissionError(13, "Permission denied")
        return opened(path, mode)

    monkeypatch.setattr(Path, "open", shut)
    files, mistakes = folder_files(tmp_path)

    assert files == (("b", b"2"),)
    assert [one.what for one in mistakes] == [
        "It can't be read, and was left out: Permission denied."
    ]


@pytest.mark.parametrize("name", ["nowhere", "file"])
def test_what_is_no_folder(tmp_path: Path, name: str) -> None:
    (tmp_path / "file").write_text("", "utf-8")

    with pytest.raises(FileError, match=r"not there|no folder"):
        folder_files(tmp_path / name)
