"""The program as a script calls it: arguments in; two streams and a code out."""

import io
import os
import sys
from dataclasses import dataclass
from datetime import date
from unittest.mock import patch

from slabwright.cli.main import main

DAY = date(2026, 11, 25)
"""The clock stands still here, so that prices do."""


@dataclass(frozen=True, slots=True)
class Ran:
    """What the program printed, and how it ended."""

    out: str
    err: str
    code: int


def run(*arguments: str, data: bytes = b"", columns: int = 80, **env: str) -> Ran:
    """Run the program with these arguments and this standard input."""
    out, err = (
        io.TextIOWrapper(io.BytesIO(), encoding="utf-8", write_through=True)
        for _ in range(2)
    )
    into = io.TextIOWrapper(io.BytesIO(data), encoding="utf-8")
    code = 0
    with (
        patch.multiple(sys, stdout=out, stderr=err, stdin=into),
        patch.object(sys, "argv", ["slabwright", *arguments]),
        patch.dict(os.environ, {"COLUMNS": str(columns), **env}),
        patch("slabwright.cli.desk.today", return_value=DAY),
    ):
        try:
            main()
        except SystemExit as ended:
            code = ended.code if isinstance(ended.code, int) else int(bool(ended.code))
    for stream in (out, err):
        stream.seek(0)
    return Ran(out.read(), err.read(), code)
