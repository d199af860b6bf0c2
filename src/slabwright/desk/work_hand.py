"""A process that works things out, from outside: begun, given work, stopped, ended."""

from collections.abc import Callable
from dataclasses import dataclass
from multiprocessing import get_context
from multiprocessing.connection import Connection
from threading import Lock
from time import monotonic
from typing import Any, Final, Literal

from slabwright.desk.work_inside import serve

STOPS_WITHIN_S: Final = 5.0
"""Work that has not stopped by then loses its process."""
_LOOKS_EVERY_S: Final = 0.25
_ENDS_WITHIN_S: Final = 1.0
_SPAWN: Final = get_context("spawn")
"""Not forked: threads run in the program, and what they hold would stay held."""
FAILED: Final = "It failed; the log says why. Try again, or change what was asked."
LOST: Final = (
    "The process that worked it out was ended from outside: the computer may be short "
    "of memory. Try again."
)


@dataclass(frozen=True, slots=True)
class Ended:
    """How a piece of work came to its end."""

    how: Literal["done", "stopped", "wrong", "unbegun"]
    """Unbegun is work whose process had ended while it was idle."""
    said: str = ""
    """The result in JSON, or what is wrong in words."""


Heard = Callable[[str, Any], None]
"""Is told what is heard while work goes on: `begun`, `share` and `rough`."""


class Hand:
    """One process; it does one piece of work at a time."""

    def __init__(self) -> None:
        self._line, far = _SPAWN.Pipe()
        self._process = _SPAWN.Process(target=serve, args=(far,), daemon=True)
        self._process.start()
        far.close()  # or its end would not be noticed here
        self._number = 0
        self._has_begun = False
        self._stop_by: float | None = None
        self._sends = Lock()
        self._is_over = False

    @property
    def pid(self) -> int | None:
        """Number of its process."""
        return self._process.pid

    @property
    def is_fit(self) -> bool:
        """Whether it can be given work."""
        return not self._is_over and self._process.is_alive()

    def take(self) -> int:
        """Take up the next piece of work, which may be stopped from now on.

        Returns:
            Its number here.
        """
        with self._sends:
            self._number += 1
            self._has_begun = False
            self._stop_by = None
            return self._number

    def work(self, number: int, function: str, inputs: str, heard: Heard) -> Ended:
        """Do the piece of work that was taken up, and wait for its end.

        Args:
            number: as `take` gave it.
            function: `module:function` of a `Work`.
            inputs: in JSON.
            heard: is told what is heard meanwhile.
        """
        if not self._send("work", number, function, inputs):
            return self._lost()
        try:
            return self._listened(self._line, heard)
        except (EOFError, OSError):
            return self._lost()

    def _listened(self, line: Connection, heard: Heard) -> Ended:
        while True:
            if not line.poll(_LOOKS_EVERY_S):
                if self._stop_by is not None and monotonic() > self._stop_by:
                    self.end()
                continue
            what, *said = line.recv()
            if what in {"done", "stopped", "wrong"}:
                return Ended(what, *said)
            self._has_begun = True
            heard(what, said[0] if said else None)

    def _lost(self) -> Ended:
        """The end of work whose process is no more."""
        was_told = self._is_over
        if not was_told:
            self._process.join(_ENDS_WITHIN_S)  # so that it can say how it ended
        code = self._process.exitcode
        self.end()
        if was_told:
            return Ended("stopped")
        if self._number > 1 and not self._has_begun:
            return Ended("unbegun")
        return Ended("wrong", FAILED if code is not None and code > 0 else LOST)

    def stop(self, number: int) -> None:
        """Tell it to leave that piece of work; at the latest its process ends for it.

        It may be told before the work itself is sent.
        """
        with self._sends:
            if number == self._number and self._stop_by is None:
                self._stop_by = monotonic() + STOPS_WITHIN_S
        self._send("stop", number)

    def end(self) -> None:
        """End its process, whatever it is at."""
        self._is_over = True
        self._process.kill()
        self._process.join(_ENDS_WITHIN_S)

    def _send(self, *said: object) -> bool:
        try:
            with self._sends:
                self._line.send(said)
        except OSError:
            return False
        return True
