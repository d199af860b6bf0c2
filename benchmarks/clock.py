"""Taking times side by side: every task once a round, so that all share the weather."""

import gc
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from statistics import median
from time import process_time

Clock = Callable[[], float]
"""Seconds since whenever."""


@dataclass(frozen=True, slots=True)
class Taken:
    """How long a task took [ms]."""

    task: str
    median_ms: float
    least_ms: float
    most_ms: float


def side_by_side(
    tasks: Mapping[str, Callable[[int], object]],
    *,
    rounds: int,
    warm: int = 0,
    clock: Clock = process_time,
) -> tuple[Taken, ...]:
    """Each task's time over so many rounds.

    Args:
        tasks: by name; each is handed the number of the round.
        rounds: that count.
        warm: rounds before them that don't.
        clock: this process's own time, unless others work for it.
    """
    found: dict[str, list[float]] = {name: [] for name in tasks}
    for number in range(-warm, rounds):
        for name, task in tasks.items():
            took = milliseconds(task, number + warm, clock)
            if number >= 0:
                found[name].append(took)
    return tuple(
        Taken(name, median(times), min(times), max(times))
        for name, times in found.items()
    )


def milliseconds(
    task: Callable[[int], object], number: int, clock: Clock = process_time
) -> float:
    """How long one call takes [ms], with what lies about cleared away before."""
    gc.collect()
    begun = clock()
    task(number)
    return (clock() - begun) * 1000
