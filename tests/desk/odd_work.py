"""Long work as it must not go wrong, and as it does: for the tests of the desk."""

import os
import time
from collections.abc import Generator
from pathlib import Path
from threading import Lock

from slabwright.desk.work_kinds import Json, Kind, Report, Stop
from slabwright.errors import GeometryError, Mistake

HERE = "odd_work"
"""A process of its own finds it by this name: the tests put this folder on its path."""
NAMES = "counted paced deaf faulty mistaken numberless silent doomed"
KINDS = {name: Kind(f"{HERE}:{name}", 1) for name in NAMES.split()} | {
    "missing": Kind(f"{HERE}:nowhere", 1)
}
Answers = Generator[Json, None, Json | None]


class InMemory:
    """Results, kept as long as the test."""

    def __init__(self) -> None:
        self.values: dict[str, Json] = {}
        self.puts: list[str] = []
        self._lock = Lock()

    def get(self, key: str) -> Json | None:
        return self.values.get(key)

    def put(self, key: str, kind: str, value: Json) -> None:
        with self._lock:
            self.values[key] = value
            self.puts.append(kind)


def counted(inputs: Json, report: Report, stop: Stop) -> Answers:
    """Square a number, and leave a mark each time that it is done."""
    with Path(inputs["marks"]).open("a", encoding="utf-8") as file:
        file.write(f"{inputs['x']}\n")
    yield {"about": inputs["x"]}
    time.sleep(inputs.get("for_s", 0.0))
    report(0.5)
    return {"square": inputs["x"] ** 2, "pid": os.getpid()}


def paced(inputs: Json, report: Report, stop: Stop) -> Answers:
    """Take so many steps of a hundredth of a second; end at once when told."""
    yield {"about": 1, "pid": os.getpid()}
    for step in range(inputs["steps"]):
        if stop():
            yield {"about": 2, "pid": os.getpid()}
            return None
        time.sleep(0.01)
        report((step + 1) / inputs["steps"])
    return {"steps": inputs["steps"]}


def deaf(inputs: Json, report: Report, stop: Stop) -> Answers:
    """Go on and on, whatever it is told."""
    yield {"about": 1, "pid": os.getpid()}
    time.sleep(inputs["for_s"])
    return {"done": True}


def faulty(inputs: Json, report: Report, stop: Stop) -> Answers:
    """Divide by nought."""
    yield {"about": 1 / inputs["by"]}
    return {}


def mistaken(inputs: Json, report: Report, stop: Stop) -> Answers:
    """Raise what a user can put right."""
    yield {"about": 1}
    raise GeometryError(Mistake("The tin is full.", "Take a larger one."))


def numberless(inputs: Json, report: Report, stop: Stop) -> Answers:
    """Come to what is no number."""
    yield {"about": 1}
    return {"value": float("nan")}


def silent(inputs: Json, report: Report, stop: Stop) -> Answers:
    """Give no rough answer, and claim too much."""
    report(7.0)
    time.sleep(0.1)
    yield from ()
    return {"value": 1}


def doomed(inputs: Json, report: Report, stop: Stop) -> Answers:
    """End its own process, as the system does when memory is short."""
    yield {"about": 1}
    os.kill(os.getpid(), 9)
    return {}
