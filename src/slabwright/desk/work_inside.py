"""A process that works things out, from inside: it takes a job, tells, takes the next.

It ends when its line to the program does, so none is left behind by a program that was
killed. A fault in a job ends it as well: the trace goes to the log, and the program
starts another.
"""

import json
import os
import signal
import sys
import time
from collections.abc import Generator
from importlib import import_module
from multiprocessing.connection import Connection
from queue import SimpleQueue
from threading import Thread
from typing import Final

from slabwright.desk.work_kinds import Json, Work, as_json
from slabwright.errors import SlabwrightError

_TOLD_EVERY_S: Final = 0.05
"""More often nobody sees it move."""
_MILDER: Final = 5
"""Steps of priority below the program, which has people waiting."""


def serve(line: Connection) -> None:
    """Work on what comes along the line until it ends.

    There come `("work", number, "module:function", JSON)` and `("stop", number)`; there
    go `("begun",)`, `("share", share)`, `("rough", JSON)` and, last of a job, one of
    `("done", JSON)`, `("stopped",)` and `("wrong", words)`.
    """
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the program ends it
    if sys.platform != "win32":
        os.nice(_MILDER)
    desk = _Desk(line)
    Thread(target=desk.listen, daemon=True).start()
    while True:
        number, function, inputs = desk.jobs.get()
        line.send(("begun",))
        line.send(_worked(function, json.loads(inputs), desk, number))


class _Desk:
    """What lies here to be done, and what is to be left."""

    def __init__(self, line: Connection) -> None:
        self.line = line
        self.jobs: SimpleQueue[tuple[int, str, str]] = SimpleQueue()
        self.stopped = 0
        """Number of the last job that is to be left; those before it are over."""

    def listen(self) -> None:
        """Take in what comes; end the process when nothing can come any more."""
        try:
            while True:
                what, *said = self.line.recv()
                if what == "stop":
                    self.stopped = said[0]
                else:
                    self.jobs.put((said[0], said[1], said[2]))
        except (EOFError, OSError):
            os._exit(0)


def _worked(function: str, inputs: Json, desk: _Desk, number: int) -> tuple[str, ...]:
    """The last word on a job."""
    told = -_TOLD_EVERY_S

    def report(share: float) -> None:
        nonlocal told
        now = time.monotonic()
        if now - told >= _TOLD_EVERY_S:
            told = now
            desk.line.send(("share", float(share)))

    def stop() -> bool:
        return desk.stopped >= number

    module, _, name = function.partition(":")
    work: Work = getattr(import_module(module), name)
    try:
        found = _passed_on(work(inputs, report, stop), desk.line)
    except SlabwrightError as error:
        return "wrong", " ".join(f"{one.what} {one.do}" for one in error.mistakes)
    return ("stopped",) if found is None else ("done", as_json(found))


def _passed_on(
    answers: Generator[Json, None, Json | None], line: Connection
) -> Json | None:
    """Send each rough answer along; return the better one."""
    while True:
        try:
            rough = next(answers)
        except StopIteration as end:
            found: Json | None = end.value
            return found
        line.send(("rough", as_json(rough)))
