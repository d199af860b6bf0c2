"""The slabs that a command asks about, each worked out in the one kitchen of them."""

import sys
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from slabwright.cli import desk
from slabwright.errors import FileError, Mistake
from slabwright.files.folder import Folder, folder_of, open_folder, standard_input
from slabwright.files.orders import read_orders
from slabwright.files.raw import read_text
from slabwright.spec.specification import Specification
from slabwright.spec.work_out import work_out


@dataclass(frozen=True)
class OpenedCounter:
    """Slabs of one kitchen, worked out at the prices of a day."""

    folder: Folder
    specs: tuple[Specification, ...]
    on: date
    mistakes: tuple[Mistake, ...]


def opened_counter(
    named: Sequence[str], kitchen: Path | None, on: date
) -> OpenedCounter:
    """The cards that are meant, each once.

    Raises:
        FileError: if a card can't be found, or two kitchens would have to be mixed.
    """
    paths = [one.card for one in read_orders(named, kitchen or folder_of(None))]
    homes = {kitchen or folder_of(None if str(p) == "-" else p) for p in paths}
    if len(homes) > 1:
        names = " and ".join(sorted(str(home) for home in homes))
        what = f"These cards are of several kitchens: {names}."
        raise FileError(Mistake(what, "Say whose prices hold: --kitchen FOLDER."))
    folder = open_folder(homes.pop())
    order = replace(desk.order_of(folder), on=on)
    mistakes = list(folder.mistakes)
    specs: list[Specification] = []
    for path in paths:
        is_pipe = str(path) == "-"
        text = standard_input(sys.stdin.buffer.read()) if is_pipe else read_text(path)
        read = folder.read(text)
        spec = work_out(read.card, order, read.mistakes)
        mistakes.extend(spec.errors)
        inside = folder.component_mistakes
        mistakes.extend(one for one in inside if one.where.file in spec.files)
        specs.append(spec)
    return OpenedCounter(folder, tuple(specs), on, tuple(dict.fromkeys(mistakes)))
