"""The kinds of long work: which function does each, in which version of its model."""

import json
from collections.abc import Callable, Generator, Mapping
from dataclasses import dataclass
from hashlib import sha256
from typing import Any, Final

from slabwright import __version__

Json = dict[str, Any]
"""What JSON can say, and nothing else: it crosses processes and is hashed."""
Report = Callable[[float], None]
"""Is told the share that is done."""
Stop = Callable[[], bool]
"""Whether to end early."""
Work = Callable[[Json, Report, Stop], Generator[Json, None, Json | None]]
"""Long work: a pure function of its inputs. It yields rough answers, the first one at
once, and returns the better one, or None if it was stopped before it had one."""


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of long work."""

    function: str
    """Where its function stands, `module:function`: a `Work`."""
    version: int
    """Of its model: to be raised when the same inputs come to another answer."""


KINDS: Final[Mapping[str, Kind]] = {
    "piece-mass": Kind("slabwright.desk.piece_mass:piece_mass", version=1),
}


@dataclass(frozen=True, slots=True)
class Job:
    """One piece of long work: what is asked, in full."""

    kind: str
    inputs: Json

    def key(self, kinds: Mapping[str, Kind] = KINDS) -> str:
        """A name that only the same inputs to the same model have.

        Raises:
            KeyError: for a kind that there is not.
            ValueError: for inputs that JSON can't say, such as a number that is none.
        """
        version = f"{__version__}/{kinds[self.kind].version}"
        said = {"kind": self.kind, "version": version, "inputs": self.inputs}
        return sha256(as_json(said).encode()).hexdigest()


def as_json(value: Json) -> str:
    """JSON, always the same for the same value.

    Raises:
        ValueError: for numbers that are none.
        TypeError: for what JSON can't say.
    """
    return json.dumps(value, sort_keys=True, allow_nan=False, separators=(",", ":"))
