"""A PostgreSQL of the tests' own: started when wanted, gone with them.

It listens on a socket in a folder of its own, and syncs nothing. Debian keeps its
programs off the path, and it refuses to run as root.
"""

import os
import shutil
import signal
import subprocess
import time
from collections.abc import Iterator
from contextlib import contextmanager
from itertools import count
from pathlib import Path
from tempfile import mkdtemp

import psycopg
import pytest
import sqlalchemy as sa

USER = "slab"
LONGEST_SOCKET = 80
"""Characters of the folder; the system allows some 100 for socket and folder."""
_SECONDS = 30


class Server:
    """One that runs, and gives out databases."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._numbers = count()

    def url(self, database: str) -> str:
        """The address of a database."""
        return f"postgresql+psycopg://{USER}@/{database}?host={self._folder}"

    def new_database(self, like: str = "template1") -> str:
        """The address of a new database, a copy of another."""
        name = f"kitchen_{next(self._numbers)}"
        self._do(f'CREATE DATABASE "{name}" TEMPLATE "{like}"')
        return self.url(name)

    def database_sorted_as(self, language: str) -> str:
        """The address of an empty database that sorts texts as this language does."""
        name = f"kitchen_{next(self._numbers)}"
        self._do(
            f'CREATE DATABASE "{name}" TEMPLATE template0'
            f" LOCALE_PROVIDER icu ICU_LOCALE '{language}'"
        )
        return self.url(name)

    def drop(self, url: str) -> None:
        """Remove a database, whoever is still connected."""
        self._do(f'DROP DATABASE "{sa.make_url(url).database}" WITH (FORCE)')

    def _do(self, statement: str) -> None:
        with self.connected() as connection:
            connection.execute(statement.encode())

    def connected(self) -> psycopg.Connection:
        """To the database that is always there."""
        return psycopg.connect(
            host=str(self._folder), user=USER, dbname="postgres", autocommit=True
        )


@contextmanager
def server() -> Iterator[Server]:
    """A new PostgreSQL."""
    programs = _programs()
    folder = Path(mkdtemp(prefix="pg"))
    try:
        if len(str(folder)) > LONGEST_SOCKET:
            pytest.fail(f"{folder} is too long a path for a socket: set TMPDIR.")
        if os.geteuid() == 0:
            shutil.chown(folder, "postgres", "postgres")
        data = folder / "data"
        _run(folder, programs / "initdb", "-D", data, "-U", USER, "-A", "trust", *_LIKE)
        with _running(folder, programs / "postgres", data):
            yield Server(folder)
    finally:
        shutil.rmtree(folder, ignore_errors=True)


_LIKE = ("-E", "UTF8", "--locale=C.UTF-8", "--no-sync")


def _programs() -> Path:
    found = sorted(
        Path("/usr/lib/postgresql").glob("*/bin/postgres"),
        key=lambda path: float(path.parts[-3]),
    )
    on_path = shutil.which("postgres")
    if not found and on_path is None:
        pytest.fail("PostgreSQL is not installed: `make test` installs it.")
    return (found[-1] if found else Path(str(on_path)).resolve()).parent


def _as(folder: Path, *command: object) -> list[str]:
    """A command that ends when the tests do, not run as root."""
    who: list[str] = []
    if os.geteuid() == 0:
        who = ["--reuid=postgres", "--regid=postgres", "--clear-groups"]
    setpriv = ["setpriv", "--pdeathsig=INT", *who]
    return [*setpriv, "env", f"HOME={folder}", *map(str, command)]


def _run(folder: Path, *command: object) -> None:
    done = subprocess.run(  # noqa: S603
        _as(folder, *command), cwd=folder, capture_output=True, check=False, text=True
    )
    if done.returncode:
        pytest.fail(f"{command[0]} failed: {done.stderr}")


@contextmanager
def _running(folder: Path, program: Path, data: Path) -> Iterator[None]:
    settings = ("listen_addresses=", f"unix_socket_directories={folder}", "fsync=off")
    told = [word for setting in settings for word in ("-c", setting)]
    with (
        (folder / "log").open("wb") as log,
        subprocess.Popen(  # noqa: S603
            _as(folder, program, "-D", data, *told), cwd=folder, stdout=log, stderr=log
        ) as process,
    ):
        try:
            _wait(Server(folder), process, folder / "log")
            yield
        finally:
            process.send_signal(signal.SIGINT)  # close now, whoever is connected
            process.wait(_SECONDS)


def _wait(server: Server, process: subprocess.Popen[bytes], log: Path) -> None:
    end = time.monotonic() + _SECONDS
    while True:
        try:
            server.connected().close()
        except psycopg.OperationalError:
            if process.poll() is not None or time.monotonic() > end:
                pytest.fail(f"PostgreSQL did not start: {log.read_text('utf-8')}")
            time.sleep(0.02)
        else:
            return
