"""Which cards, and how many trays of each, as a baker types it."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from slabwright.errors import FileError, Mistake
from slabwright.formula.book import slug

MOST_TRAYS: Final = 1_000_000
_TIMES: Final = re.compile(
    r"(?P<name>.+?)(?:\s*=\s*|\s+[x×*]\s*)(?P<trays>[-+]?[\d.,]+)", re.IGNORECASE
)
_BEFORE: Final = re.compile(r"(?P<trays>\d+)\s*[x×]\s+(?P<name>.+)", re.IGNORECASE)
_ROOMS: Final = ("slabs", "components")
_DO: Final = "Write harbour-lamp x 2, or slabs/harbour-lamp.card=2."


@dataclass(frozen=True, slots=True)
class Ordered:
    """A card and how many trays of it."""

    card: Path
    trays: int = 1


def read_orders(
    arguments: Sequence[str], kitchen: Path | None, trays: int = 1
) -> tuple[Ordered, ...]:
    """The cards that are meant, in the order given; the same card twice adds up.

    Args:
        arguments: files, folders, names of slabs of the kitchen, each with `= N` or
            `x N` behind it if it is to be more than one tray; several with commas.
        kitchen: the folder whose slabs may be called by name.
        trays: how many of each, where nothing is said.

    Raises:
        FileError: with everything that can't be found or read as a number of trays.
    """
    found: dict[Path, int] = {}
    wrong: list[Mistake] = []
    for argument in arguments:
        for part in _parts(argument):
            try:
                for one in _ordered(part, kitchen, trays):
                    found[one.card] = found.get(one.card, 0) + one.trays
            except FileError as error:
                wrong.extend(error.mistakes)
    if not found and not wrong:
        wrong.append(Mistake("No slab is named.", _DO))
    if wrong:
        raise FileError(*wrong)
    return tuple(Ordered(card, count) for card, count in found.items())


def cards_in(folder: Path) -> tuple[Path, ...]:
    """The cards of a folder; of a kitchen's folder those of its slabs."""
    home = folder / "slabs" if (folder / "slabs").is_dir() else folder
    return tuple(path for path in sorted(home.rglob("*.card")) if path.is_file())


def _parts(argument: str) -> Iterator[str]:
    """One file may have a comma in its name; else commas part a list."""
    if _is_path(argument):
        yield argument
        return
    for part in re.split(r"[,;\n](?!\d)", argument):
        if part.strip():
            yield part.strip()


def _ordered(part: str, kitchen: Path | None, trays: int) -> Iterator[Ordered]:
    name, count = part, trays
    if not _is_path(part):
        found = _TIMES.fullmatch(part) or _BEFORE.fullmatch(part)
        if found is not None:
            name, count = found["name"].strip(), _count(part, found["trays"])
    cards = _cards(name, kitchen)
    if not cards:
        raise FileError(_unknown(name, kitchen))
    for card in cards:
        yield Ordered(card, count)


def _count(part: str, said: str) -> int:
    if not said.isdecimal() or not 1 <= int(said[:9] or 0) <= MOST_TRAYS:
        what = f"'{part}' asks for {said} trays."
        do = f"Give a whole number from 1 to {MOST_TRAYS:,}."
        raise FileError(Mistake(what, do))
    return int(said)


def _cards(name: str, kitchen: Path | None) -> tuple[Path, ...]:
    if name == "-" or _is_path(name):
        path = Path(name)
        return cards_in(path) if path.is_dir() else (path,)
    by_name = _by_name(kitchen)
    found = by_name.get(slug(name.removesuffix(".card")))
    return (found,) if found else ()


def _by_name(kitchen: Path | None) -> dict[str, Path]:
    """Cards of the kitchen by their file's name."""
    if kitchen is None:
        return {}
    return {
        slug(path.stem): path
        for room in reversed(_ROOMS)
        for path in sorted((kitchen / room).rglob("*.card"))
    }


def _is_path(text: str) -> bool:
    try:
        return len(text) < 1000 and Path(text).exists()
    except (OSError, ValueError):  # a name that no file can have
        return False


def _unknown(name: str, kitchen: Path | None) -> Mistake:
    known = sorted(_by_name(kitchen))
    what = f"No card is called '{name:.80}'."
    if known:
        shown = ", ".join(known[:8]) + (" …" if len(known) > 8 else "")
        return Mistake(what, f"The kitchen has: {shown}.", nearest=tuple(known[:8]))
    return Mistake(what, f"Name a card's file. {_DO}")
