"""How soon the app gives its first page after it is started."""

import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from statistics import median
from time import perf_counter

from benchmarks.clock import Taken
from benchmarks.served import fill, serving


def starts(scratch: Path, rounds: int = 5) -> tuple[Taken, ...]:
    """Start to first page, by the clock on the wall. First: Python and nothing else.

    Args:
        scratch: where stores may be written.
        rounds: how many times each, in turn.
    """
    fill(scratch / "demo", ())
    with serving(scratch / "empty"):
        pass  # from here on its store is there, and the program is compiled
    tasks: dict[str, Callable[[int], float]] = {
        "bare Python": _bare,
        "no store yet": lambda n: _started(scratch / f"new-{n}"),
        "an empty store": lambda _: _started(scratch / "empty"),
        "the demo's store": lambda _: _started(scratch / "demo"),
    }
    found: dict[str, list[float]] = {name: [] for name in tasks}
    for number in range(rounds):
        for name, task in tasks.items():
            found[name].append(task(number))
    return tuple(
        Taken(name, median(times), min(times), max(times))
        for name, times in found.items()
    )


def _started(data: Path) -> float:
    with serving(data) as served:
        return served.took_ms


def _bare(_: int) -> float:
    begun = perf_counter()
    subprocess.run([sys.executable, "-c", ""], check=True)
    return (perf_counter() - begun) * 1000
