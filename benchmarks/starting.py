"""How soon the app gives its first page after it is started."""

import resource
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from statistics import median
from time import perf_counter

from benchmarks.served import fill, serving


@dataclass(frozen=True, slots=True)
class StartTaken:
    """How long a start took [ms]."""

    task: str
    median_ms: float
    """To the first page, by the clock on the wall."""
    least_ms: float
    busy_ms: float
    """Processor time from start to end, however busy the machine is."""


def starts(scratch: Path, rounds: int = 5) -> tuple[StartTaken, ...]:
    """First: Python and nothing else.

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
    found: dict[str, list[tuple[float, float]]] = {name: [] for name in tasks}
    for number in range(rounds):
        for name, task in tasks.items():
            before_ms = _busy_ms()
            took_ms = task(number)
            found[name].append((took_ms, _busy_ms() - before_ms))
    return tuple(
        StartTaken(
            name,
            median(took for took, _ in times),
            min(took for took, _ in times),
            median(busy for _, busy in times),
        )
        for name, times in found.items()
    )


def _busy_ms() -> float:
    """Processor time of every process of ours that has ended."""
    ended = resource.getrusage(resource.RUSAGE_CHILDREN)
    return (ended.ru_utime + ended.ru_stime) * 1000


def _started(data: Path) -> float:
    with serving(data) as served:
        return served.took_ms


def _bare(_: int) -> float:
    begun = perf_counter()
    subprocess.run([sys.executable, "-c", ""], check=True)
    return (perf_counter() - begun) * 1000
