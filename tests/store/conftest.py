"""Both engines for every test of the store, each test in a database of its own."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
import sqlalchemy as sa

from slabwright.store import kitchens
from slabwright.store.engine import open_store, sqlite_url
from slabwright.store.schema import METADATA
from tests.postgres import Server, server
from tests.store.kitchen import DAY

ENGINES = ("sqlite", "postgresql")


@pytest.fixture(scope="session")
def postgres() -> Iterator[Server]:
    """A PostgreSQL for this session."""
    with server() as running:
        yield running


@pytest.fixture(scope="session")
def stores(
    postgres: Server, tmp_path_factory: pytest.TempPathFactory
) -> dict[str, str]:
    """An empty store on each engine, to be copied: its file, or its database."""
    file = tmp_path_factory.mktemp("store") / "store.db"
    database = postgres.new_database()
    for url in (f"sqlite:///{file}", database):
        open_store(url).dispose()
    return {"sqlite": str(file), "postgresql": str(sa.make_url(database).database)}


@pytest.fixture(params=ENGINES)
def engine_name(request: pytest.FixtureRequest) -> str:
    """Each of the two."""
    return str(request.param)


@pytest.fixture
def empty_url(
    engine_name: str, tmp_path: Path, request: pytest.FixtureRequest
) -> Iterator[str]:
    """The address of a database with nothing in it."""
    if engine_name == "sqlite":
        yield f"sqlite:///{tmp_path / 'empty.db'}"
        return
    postgres: Server = request.getfixturevalue("postgres")
    url = postgres.new_database()
    yield url
    postgres.drop(url)


@pytest.fixture
def url(
    engine_name: str, stores: dict[str, str], postgres: Server, tmp_path: Path
) -> Iterator[str]:
    """The address of an empty store."""
    if engine_name == "sqlite":
        file = tmp_path / "store.db"
        shutil.copy(stores["sqlite"], file)
        yield f"sqlite:///{file}"
        return
    url = postgres.new_database(stores["postgresql"])
    yield url
    postgres.drop(url)


@pytest.fixture
def store(url: str) -> Iterator[sa.Engine]:
    """An empty store, open."""
    engine = open_store(url)
    yield engine
    engine.dispose()


@pytest.fixture
def other(engine_name: str, postgres: Server, tmp_path: Path) -> Iterator[sa.Engine]:
    """An empty store on the engine that `store` is not on."""
    if engine_name == "postgresql":
        url = f"sqlite:///{tmp_path / 'other.db'}"
    else:
        url = postgres.new_database()
    engine = open_store(url)
    yield engine
    engine.dispose()
    if engine_name == "sqlite":
        postgres.drop(url)


@pytest.fixture(scope="session")
def shared(
    postgres: Server, stores: dict[str, str], tmp_path_factory: pytest.TempPathFactory
) -> Iterator[dict[str, sa.Engine]]:
    """An empty store on each engine, in which nothing is ever committed."""
    file = tmp_path_factory.mktemp("shared") / "store.db"
    shutil.copy(stores["sqlite"], file)
    engines = {
        "sqlite": open_store(sqlite_url(file)),
        "postgresql": open_store(postgres.new_database(stores["postgresql"])),
    }
    yield engines
    for engine in engines.values():
        engine.dispose()


@pytest.fixture
def c(engine_name: str, shared: dict[str, sa.Engine]) -> Iterator[sa.Connection]:
    """A connection in a transaction that is undone."""
    with shared[engine_name].connect() as connection:
        if engine_name == "postgresql":  # its counters are not undone
            for table in METADATA.sorted_tables:
                if "id" in table.columns:
                    counter = sa.func.pg_get_serial_sequence(table.name, "id")
                    connection.execute(sa.select(sa.func.setval(counter, 1, False)))
        yield connection
        connection.rollback()


@pytest.fixture
def kitchen(c: sa.Connection) -> int:
    """A kitchen's id."""
    return kitchens.add(c, "Harbour kitchen", DAY).id


@pytest.fixture
def theirs(c: sa.Connection, kitchen: int) -> int:
    """Another kitchen's id."""
    return kitchens.add(c, f"Not kitchen {kitchen}", DAY).id
