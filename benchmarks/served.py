"""The app in a process of its own, as `slabwright serve` starts it."""

import os
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from time import perf_counter
from typing import Final

import httpx2

from benchmarks.cards import DEMO
from slabwright.cli.serving import LOOPBACK
from slabwright.desk.moving import take_in
from slabwright.files.packed import folder_files
from slabwright.store import cards, kitchens
from slabwright.store.engine import open_store, sqlite_url, writing
from slabwright.store.who import Who

NOW: Final = datetime(2026, 11, 25, 6, 30, tzinfo=UTC)
_LONGEST_S: Final = 120.0


@dataclass(frozen=True, slots=True)
class Served:
    """The app, answering on loopback."""

    address: str
    took_ms: float
    """From its start to the first page [ms]."""


@contextmanager
def serving(data: Path) -> Iterator[Served]:
    """The app over the store of a folder, to the block's end.

    Args:
        data: the folder; a store is made in it if there is none. What Python has
            compiled is kept beside it, as it is where the program is installed.

    Raises:
        RuntimeError: if it gives no page.
    """
    port = _free_port()
    words = ("serve", "--data", str(data), "--port", str(port), "--no-browser")
    own = {"PYTHONPYCACHEPREFIX": str(data.parent / "compiled")}
    others = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
    begun = perf_counter()
    process = subprocess.Popen(  # noqa: S603 # our own program
        [sys.executable, "-m", "slabwright", *words],
        stdout=subprocess.DEVNULL,
        env=others | own,
    )
    try:
        address = f"http://{LOOPBACK}:{port}"
        _until_page(address, process)
        yield Served(address, (perf_counter() - begun) * 1000)
    finally:
        process.send_signal(signal.SIGINT)
        process.wait(timeout=30)


def fill(data: Path, texts: Sequence[str], *, with_demo: bool = True) -> list[int]:
    """A new store in a folder, with a kitchen and these slabs in it; their numbers.

    Args:
        data: the folder.
        texts: the slabs' cards.
        with_demo: whether the demonstration's own slabs come too, and not only its
            papers and components.
    """
    data.mkdir(parents=True)
    engine = open_store(sqlite_url(data / "kitchen.db"))
    files, _ = folder_files(DEMO)
    wanted = [one for one in files if with_demo or not one[0].startswith("slabs/")]
    who = Who("", NOW)
    with writing(engine) as c:
        kitchen = kitchens.add(c, "Bench", NOW).id
        take_in(c, kitchen, wanted, who)
        numbers = [
            cards.add(c, kitchen, "slab", f"Measured {n}", text, who).id
            for n, text in enumerate(texts)
        ]
    engine.dispose()
    return numbers


def _until_page(address: str, process: subprocess.Popen[bytes]) -> None:
    """Wait for a page, as a browser that is opened at once would."""
    begun = perf_counter()
    while process.poll() is None and perf_counter() - begun < _LONGEST_S:
        try:
            answer = httpx2.get(address, follow_redirects=True, timeout=_LONGEST_S)
        except httpx2.ConnectError:
            time.sleep(0.01)
        else:
            answer.raise_for_status()
            return
    message = f"{address} gives no page."
    raise RuntimeError(message)


def _free_port() -> int:
    with socket.socket() as one:
        one.bind((LOOPBACK, 0))
        return int(one.getsockname()[1])
