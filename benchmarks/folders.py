"""Folders of slabs: whether a thousand take a hundred times as long as ten."""

import shutil
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from benchmarks.cards import DEMO, card
from benchmarks.clock import milliseconds
from benchmarks.one_slab import DAY
from slabwright.files.folder import open_folder
from slabwright.files.raw import read_text
from slabwright.spec.work_out import Order, work_out

SIZES: Final = (1, 10, 100, 1000)


@dataclass(frozen=True, slots=True)
class FolderTaken:
    """How long a folder took."""

    slabs: int
    whole_ms: float

    @property
    def each_ms(self) -> float:
        """For one slab [ms]."""
        return self.whole_ms / self.slabs


def folders(scratch: Path) -> tuple[FolderTaken, ...]:
    """Every card of a folder read and worked out, its kitchen files with them.

    Args:
        scratch: where the folders may be written.
    """
    for slabs in SIZES:
        _lay_out(scratch / str(slabs), slabs)
    _work_through(scratch / str(SIZES[0]))
    return tuple(
        FolderTaken(
            slabs, milliseconds(lambda n: _work_through(scratch / str(n)), slabs)
        )
        for slabs in SIZES
    )


def _lay_out(folder: Path, slabs: int) -> None:
    (folder / "slabs").mkdir(parents=True)
    for name in ("kitchen.yaml", "larder.yaml", "prices.yaml"):
        shutil.copy(DEMO / name, folder)
    for number in range(slabs):
        path = folder / "slabs" / f"{number:04}.card"
        path.write_text(card(number), encoding="utf-8")


def _work_through(folder: Path) -> None:
    home = open_folder(folder)
    order = Order(home.kitchen, home.book, home.prices, DAY)
    for path in sorted((folder / "slabs").glob("*.card")):
        read = home.read(read_text(path))
        work_out(read.card, order, read.mistakes)
