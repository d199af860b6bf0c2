import time
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from threading import Thread
from typing import Any

import pytest
import sqlalchemy as sa
import uvicorn
from fastapi import FastAPI
from playwright.sync_api import Browser
from starlette.testclient import TestClient

from slabwright.cli.serving import socket_at
from slabwright.desk.kept import StoreKept
from slabwright.desk.moving import UNNAMED, take_in_folder
from slabwright.desk.work import Worker
from slabwright.store import cards, kitchens
from slabwright.store.engine import open_store, reading, writing
from slabwright.web.app import Settings, create_app, own_hosts
from tests.browser import Watched, chromium, watched

DEMO = Path(__file__).parents[2] / "demo"
HOST = "127.0.0.1:8750"
NOW = datetime(2026, 11, 26, 10, 12, tzinfo=UTC)


@dataclass(frozen=True)
class Kitchen:
    """A store with the demo kitchen in it, and another kitchen beside it."""

    engine: sa.Engine
    id: int
    other_id: int

    def card_id(self, name: str) -> int:
        """The number of a slab of the demo kitchen."""
        with reading(self.engine) as connection:
            rows = cards.listed(connection, self.id, "slab", find=name)
            return next(row.id for row in rows if row.name == name)


@pytest.fixture
def kitchen(tmp_path: Path) -> Iterator[Kitchen]:
    engine = open_store(f"sqlite:///{tmp_path}/kitchen.db")
    with writing(engine) as connection:
        mine = kitchens.add(connection, UNNAMED, NOW)
        take_in_folder(connection, mine.id, DEMO, NOW)
        other = kitchens.add(connection, "The other one", NOW)
    yield Kitchen(engine, mine.id, other.id)
    engine.dispose()


@pytest.fixture
def app(kitchen: Kitchen) -> Iterator[FastAPI]:
    worker = Worker(1, StoreKept(kitchen.engine, kitchen.id))
    yield create_app(kitchen.engine, Settings(kitchen.id, (HOST,)), worker, lambda: NOW)
    worker.close()


@pytest.fixture
def client(app: FastAPI) -> TestClient:
    return TestClient(app, base_url=f"http://{HOST}")


# --- the app in a browser --------------------


@dataclass(frozen=True)
class Served:
    """The app, answering on loopback."""

    address: str
    kitchen: Kitchen


@contextmanager
def serving(kitchen: Kitchen, at: int = 0) -> Iterator[Served]:
    """The app over a kitchen, on a free port if none is said, to the block's end."""
    taken = socket_at(at)
    port = taken.getsockname()[1]
    worker = Worker(1, StoreKept(kitchen.engine, kitchen.id))
    made = create_app(
        kitchen.engine, Settings(kitchen.id, tuple(own_hosts(port))), worker
    )
    config = uvicorn.Config(made, log_level="warning", ws="none", lifespan="on")
    server = uvicorn.Server(config)
    thread = Thread(target=server.run, kwargs={"sockets": [taken]}, daemon=True)
    thread.start()
    while not server.started:
        time.sleep(0.01)
    yield Served(f"http://127.0.0.1:{port}", kitchen)
    server.should_exit = True
    thread.join(timeout=10)
    taken.close()


@pytest.fixture
def served(kitchen: Kitchen) -> Iterator[Served]:
    with serving(kitchen) as one:
        yield one


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    with chromium() as one:
        yield one


@pytest.fixture
def pages(browser: Browser, served: Served) -> Iterator[Callable[..., Watched]]:
    """Opens pages of the app; at the end none may have done what it must not."""
    with ExitStack() as stack:

        def opened(**how: Any) -> Watched:
            return stack.enter_context(watched(browser, served.address, **how))

        yield opened
