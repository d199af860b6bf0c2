"""Opening a store, and standing in it."""

import shutil
import sqlite3
import subprocess
import sys
from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path
from threading import Barrier, Thread

import pytest
import sqlalchemy as sa
from alembic.autogenerate import compare_metadata
from alembic.runtime.migration import MigrationContext
from sqlalchemy.exc import DBAPIError

from slabwright.store import kitchens, migrate
from slabwright.store.engine import open_store, reading, sqlite_url, writing
from slabwright.store.errors import StoreError
from slabwright.store.migrations.env import VERSION_TABLE
from slabwright.store.schema import KITCHEN, METADATA
from slabwright.store.who import Who
from tests.store.kitchen import DAY


def test_the_steps_make_the_tables_that_the_program_works_with(
    store: sa.Engine,
) -> None:
    with reading(store) as c:
        context = MigrationContext.configure(c, opts={"version_table": VERSION_TABLE})

        assert compare_metadata(context, METADATA) == []
        assert migrate.version(c) == migrate.newest()


def test_the_tables_checks_are_as_the_steps_make_them(store: sa.Engine) -> None:
    # the comparison above leaves checks, and the order of columns in keys, out
    with reading(store) as c:
        there = sa.inspect(c)
        for table in METADATA.sorted_tables:
            checks = {
                check["name"] for check in there.get_check_constraints(table.name)
            }
            wanted = {
                str(one.name)
                for one in table.constraints
                if isinstance(one, sa.CheckConstraint)
            }
            keys = there.get_pk_constraint(table.name)["constrained_columns"]

            assert checks == wanted
            assert keys == [column.name for column in table.primary_key]


def test_a_store_opens_again_with_what_was_kept(url: str) -> None:
    first = open_store(url)
    with writing(first) as c:
        kitchens.add(c, "Harbour", DAY)
    first.dispose()
    again = open_store(url)

    with reading(again) as c:
        assert [row.name for row in kitchens.listed(c)] == ["Harbour"]
    again.dispose()


def test_the_folder_is_made(tmp_path: Path) -> None:
    file = tmp_path / "a" / "b %20?é#" / "store.db"
    open_store(sqlite_url(file)).dispose()

    assert file.is_file()


def test_two_that_open_an_empty_database_at_once_both_can(empty_url: str) -> None:
    start, opened = Barrier(4), list[sa.Engine]()

    def opening() -> None:
        start.wait()
        opened.append(open_store(empty_url))

    threads = [Thread(target=opening) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    for engine in opened:
        engine.dispose()

    assert len(opened) == 4


def test_a_newer_store_is_left_alone(store: sa.Engine, url: str) -> None:
    with writing(store) as c:
        c.execute(sa.text(f"UPDATE {VERSION_TABLE} SET version_num = '9999'"))  # noqa: S608

    with pytest.raises(StoreError, match=r"newer than this program.*9999.*Install"):
        open_store(url)


def test_another_programs_tables_are_left_alone(empty_url: str) -> None:
    engine = sa.create_engine(empty_url)
    with engine.begin() as c:
        c.execute(sa.text("CREATE TABLE orders (id integer)"))

    with pytest.raises(StoreError, match="no store of slabwright's"):
        open_store(empty_url)
    assert sa.inspect(engine).get_table_names() == ["orders"]
    engine.dispose()


@pytest.mark.parametrize(
    "address", ["", "lemon", "mysql://x/y", "sqlite://", "sqlite:///:memory:", "a b://"]
)
def test_an_address_of_no_store_is_told(address: str) -> None:
    with pytest.raises(StoreError, match="is no address of a store"):
        open_store(address)


def test_a_file_that_is_no_database_is_told(tmp_path: Path) -> None:
    file = tmp_path / "store.db"
    file.write_bytes(b"slab Lemon\n" * 200)

    with pytest.raises(StoreError, match="can't be opened: file is not a database"):
        open_store(f"sqlite:///{file}")
    assert file.read_bytes() == b"slab Lemon\n" * 200


def test_a_folder_that_cannot_be_made_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")

    with pytest.raises(StoreError, match=r"/file' can't be made: .*Name another"):
        open_store(f"sqlite:///{tmp_path}/file/store.db")


def test_a_server_that_is_not_there_is_told_without_its_password() -> None:
    url = "postgresql+psycopg://slab:secret@/x?host=/nowhere"

    with pytest.raises(StoreError, match=r"slab:\*\*\*@.*can't be opened") as caught:
        open_store(url)
    assert "secret" not in str(caught.value)


class OvenError(Exception):
    pass


def test_an_act_that_fails_leaves_nothing(store: sa.Engine) -> None:
    def half() -> None:
        with writing(store) as c:
            kitchens.add(c, "Harbour", DAY)
            raise OvenError

    with pytest.raises(OvenError):
        half()

    with reading(store) as c:
        assert kitchens.listed(c) == ()


def test_a_reader_can_change_nothing(store: sa.Engine) -> None:
    with pytest.raises((StoreError, DBAPIError)), reading(store) as c:
        kitchens.add(c, "Harbour", DAY)

    with writing(store) as c:  # on the same connection of the pool
        assert kitchens.add(c, "Harbour", DAY).name == "Harbour"


def test_a_reader_sees_one_moment_and_does_not_wait(store: sa.Engine) -> None:
    with writing(store) as c:
        kitchens.add(c, "Harbour", DAY)
    with reading(store) as looking:
        before = kitchens.listed(looking)
        with writing(store) as c:
            kitchens.add(c, "Quay", DAY)

        assert kitchens.listed(looking) == before
    with reading(store) as looking:
        assert len(kitchens.listed(looking)) == 2


def test_every_connection_of_the_pool_is_told(tmp_path: Path) -> None:
    engine = open_store(f"sqlite:///{tmp_path}/store.db")
    with reading(engine) as one, reading(engine) as two:
        for c in (one, two):
            told = {
                name: c.exec_driver_sql(f"PRAGMA {name}").scalar()
                for name in (
                    "journal_mode",
                    "synchronous",
                    "foreign_keys",
                    "recursive_triggers",
                    "busy_timeout",
                )
            }

            # 2 is FULL: https://sqlite.org/pragma.html#pragma_synchronous (from memory)
            assert tuple(told.values()) == ("wal", 2, 1, 1, 10000)
    engine.dispose()


def test_a_store_that_stays_locked_is_told_in_words(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("slabwright.store.engine.PRAGMAS", ("busy_timeout=50",))
    engine = open_store(f"sqlite:///{tmp_path}/store.db")
    holder = sqlite3.connect(tmp_path / "store.db", isolation_level=None)
    holder.execute("BEGIN IMMEDIATE")

    refused = pytest.raises(StoreError, match="can't do it: database is locked")
    with refused, writing(engine):
        pass
    holder.close()
    engine.dispose()


SAVING = """
import sys
from datetime import UTC, datetime
from slabwright.store import kitchens
from slabwright.store.engine import open_store, writing
engine = open_store(sys.argv[1])
for number in range(10):
    with writing(engine) as c:
        kitchens.add(c, f"Kitchen {number}", datetime.now(UTC))
"""


@pytest.mark.skipif(shutil.which("strace") is None, reason="counts with strace")
def test_each_commit_is_on_the_disk(tmp_path: Path) -> None:
    url = f"sqlite:///{tmp_path}/store.db"
    open_store(url).dispose()
    trace = tmp_path / "trace"
    command = ["strace", "-f", "-e", "trace=fsync,fdatasync", "-o", str(trace)]
    subprocess.run([*command, sys.executable, "-c", SAVING, url], check=True)  # noqa: S603

    synced = [line for line in trace.read_text().splitlines() if "sync(" in line]
    assert len(synced) >= 10


def test_times_are_kept_to_the_microsecond_in_utc(store: sa.Engine) -> None:
    summer = timezone(timedelta(hours=5, minutes=30))
    at = datetime(2026, 6, 1, 3, 0, 0, 7, tzinfo=summer)
    with writing(store) as c:
        kitchens.add(c, "Harbour", at)
        found = c.execute(sa.select(KITCHEN.c.at)).scalar_one()

    assert (found, found.tzinfo) == (at, UTC)


def test_a_time_without_a_zone_is_refused(c: sa.Connection) -> None:
    naive = DAY.replace(tzinfo=None)

    with pytest.raises(ValueError, match="has no time zone"):
        Who("Noor", naive)
    with pytest.raises(sa.exc.StatementError, match="has no time zone"):
        kitchens.add(c, "Harbour", naive)


@pytest.mark.parametrize("name", ["", "  ", "x" * 121, "a\0b", "\ud800"])
def test_a_name_that_is_none_is_refused(c: sa.Connection, name: str) -> None:
    kitchen = kitchens.add(c, "Harbour", DAY)

    with pytest.raises(StoreError):
        kitchens.add(c, name, DAY)
    with pytest.raises(StoreError):
        kitchens.rename(c, kitchen.id, name)
    assert kitchens.listed(c) == (kitchen,)


def test_a_kitchen_is_renamed_alone(
    c: sa.Connection, kitchen: int, theirs: int
) -> None:
    kitchens.rename(c, kitchen, "Lighthouse")

    names = [row.name for row in kitchens.listed(c)]
    assert names == ["Lighthouse", f"Not kitchen {kitchen}"]
    with pytest.raises(StoreError, match="no such kitchen"):
        kitchens.rename(c, theirs + 1, "Quay")
    assert kitchens.one(c, theirs + 1) is None
