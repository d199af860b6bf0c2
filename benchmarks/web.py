"""The app as a browser meets it; by itself: `python -m benchmarks.web`.

Times by the clock on the wall hang on what else the machine does: the load is said, and
what is compared was taken by turns. Processor time, as in the columns "busy", hangs on
it less.
"""

import os
from collections.abc import Sequence
from pathlib import Path
from tempfile import TemporaryDirectory

from benchmarks.clients import ClientsTaken, clients
from benchmarks.desk_parts import desk_parts
from benchmarks.presses import PressTaken, presses
from benchmarks.printed import say, table
from benchmarks.shelves import ShelfTaken, shelves
from benchmarks.starting import StartTaken, starts


def web(scratch: Path) -> None:
    """Measure the app, and print what was found.

    Args:
        scratch: an empty folder.
    """
    table("A card followed, processor time", desk_parts())
    _load()
    _presses(presses(scratch))
    _load()
    _clients(clients(scratch))
    _load()
    _shelves(shelves(scratch))
    _load()
    _starts(starts(scratch))


def _load() -> None:
    say(f"{os.cpu_count()} processors, load {os.getloadavg()[0]:.1f}")


def _presses(rows: Sequence[PressTaken]) -> None:
    _head("From key press to redraw", "p50", "p95", "least", "busy", "ratio")
    for row in rows:
        ratio = row.p50_ms / rows[0].p50_ms
        times = (row.p50_ms, row.p95_ms, row.least_ms, row.busy_ms)
        say(f"  {row.page:<30}{''.join(f'{t:9.1f}' for t in times)}{ratio:9.2f}")
    say("")


def _clients(rows: Sequence[ClientsTaken]) -> None:
    _head("Clients at the desk at once", "a second", "p50", "p95", "ratio")
    for row in rows:
        ratio = row.p50_ms / rows[0].p50_ms
        times = f"{row.a_second:9.1f}{row.p50_ms:9.0f}{row.p95_ms:9.0f}"
        say(f"  {row.clients:<30}{times}{ratio:9.2f}")
    say("")


def _shelves(rows: Sequence[ShelfTaken]) -> None:
    _head("The list of so many slabs", "shown", "cold", "warm")
    for row in rows:
        times = f"{row.shown:9}{row.cold_ms:9.1f}{row.warm_ms:9.1f}"
        say(f"  {row.slabs:<30,}{times}")
    say("")


def _starts(rows: Sequence[StartTaken]) -> None:
    _head("Start to first page", "ms", "least", "busy", "ratio")
    for row in rows:
        ratio = row.median_ms / rows[0].median_ms
        times = (row.median_ms, row.least_ms, row.busy_ms)
        say(f"  {row.task:<30}{''.join(f'{t:9.0f}' for t in times)}{ratio:9.1f}")
    say("")


def _head(heading: str, *columns: str) -> None:
    say(f"{heading:<32}{''.join(f'{one:>9}' for one in columns)}")


if __name__ == "__main__":
    with TemporaryDirectory() as folder:
        web(Path(folder))
