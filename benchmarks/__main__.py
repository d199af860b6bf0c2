"""Measure, and print small tables."""

from collections.abc import Sequence
from pathlib import Path
from tempfile import TemporaryDirectory

from benchmarks.folders import FolderTaken, folders
from benchmarks.label_paper import on_paper
from benchmarks.labels import labels
from benchmarks.making import making
from benchmarks.one_slab import cold, warm
from benchmarks.physics import physics
from benchmarks.printed import say, table
from benchmarks.web import web


def _main() -> None:
    say("One slab of four layers. Times are medians; ratios are to the first row.\n")
    table("Warm, processor time", warm())
    table("Made of it, processor time", making())
    table("Labelled, processor time", labels())
    table("Labels on paper, processor time", on_paper())
    table("Solutions, processor time", physics())
    with TemporaryDirectory() as scratch:
        table("Cold, a new process each time", cold(Path(scratch)))
    with TemporaryDirectory() as scratch:
        _folders(folders(Path(scratch)))
    with TemporaryDirectory() as scratch:
        web(Path(scratch))


def _folders(rows: Sequence[FolderTaken]) -> None:
    say("A folder and its kitchen files, processor time; ratios are to the row before.")
    say(f"{'Slabs':>7}{'ms':>11}{'ms a slab':>12}{'slabs':>9}{'time':>9}")
    before: FolderTaken | None = None
    for row in rows:
        ratios = ""
        if before is not None:
            more = row.slabs / before.slabs
            ratios = f"{more:9.1f}{row.whole_ms / before.whole_ms:9.1f}"
        say(f"{row.slabs:7,}{row.whole_ms:11,.1f}{row.each_ms:12.1f}{ratios}")
        before = row


_main()
