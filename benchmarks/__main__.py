"""Measure, and print small tables."""

import sys
from collections.abc import Sequence
from pathlib import Path
from tempfile import TemporaryDirectory

from benchmarks.clock import Taken
from benchmarks.folders import FolderTaken, folders
from benchmarks.making import making
from benchmarks.one_slab import cold, warm


def _main() -> None:
    _say("One slab of four layers. Times are medians; ratios are to the first row.\n")
    _table("Warm, processor time", warm())
    _table("Made of it, processor time", making())
    with TemporaryDirectory() as scratch:
        _table("Cold, a new process each time", cold(Path(scratch)))
    with TemporaryDirectory() as scratch:
        _folders(folders(Path(scratch)))


def _table(heading: str, rows: Sequence[Taken]) -> None:
    _say(f"{heading:<32}{'ms':>9}{'least':>9}{'most':>9}{'ratio':>9}")
    for row in rows:
        ratio = row.median_ms / rows[0].median_ms
        times = (row.median_ms, row.least_ms, row.most_ms)
        _say(f"  {row.task:<30}{''.join(f'{t:9.1f}' for t in times)}{ratio:9.2f}")
    _say("")


def _folders(rows: Sequence[FolderTaken]) -> None:
    _say(
        "A folder and its kitchen files, processor time; ratios are to the row before."
    )
    _say(f"{'Slabs':>7}{'ms':>11}{'ms a slab':>12}{'slabs':>9}{'time':>9}")
    before: FolderTaken | None = None
    for row in rows:
        ratios = ""
        if before is not None:
            more = row.slabs / before.slabs
            ratios = f"{more:9.1f}{row.whole_ms / before.whole_ms:9.1f}"
        _say(f"{row.slabs:7,}{row.whole_ms:11,.1f}{row.each_ms:12.1f}{ratios}")
        before = row


def _say(line: str) -> None:
    sys.stdout.write(f"{line}\n")
    sys.stdout.flush()


_main()
