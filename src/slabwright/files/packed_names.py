"""Paths of the files in a kitchen folder: which can stand on any disk, side by side."""

from collections.abc import Iterable, Iterator
from typing import Final

from slabwright.errors import Mistake
from slabwright.paths import alike, shown

MOST_FILES: Final = 20_000
"""Files of one kitchen: cards with all their history."""
MOST_EACH: Final = 16 * 1024 * 1024
"""Bytes of one file: above the largest photograph."""
MOST_ALL: Final = 512 * 1024 * 1024
"""Bytes of all files together."""
_LITTER: Final = frozenset({".ds_store", "thumbs.db", "desktop.ini", "__macosx"})


def is_litter(path: str) -> bool:
    """Whether a computer left this behind by itself, and nobody wrote it."""
    return any(
        part.casefold() in _LITTER or part.startswith("._") for part in path.split("/")
    )


def clashes(paths: Iterable[str]) -> Iterator[Mistake]:
    """Paths that a disk may take for one another, or for a folder of another."""
    files: dict[str, str] = {}
    folders: dict[str, str] = {}
    for path in paths:
        same = alike(path)
        above = _folders(same)
        other = files.get(same) or folders.get(same)
        if other is None:
            other = next((files[one] for one in above if one in files), None)
        if other is not None:
            what = f"Two files go by one name: the other is '{shown(other)}'."
            yield Mistake(what, "Rename one of them.", shown(path))
        files.setdefault(same, path)
        for folder in above:
            folders.setdefault(folder, path)


def _folders(path: str) -> list[str]:
    parts = path.split("/")
    return ["/".join(parts[:n]) for n in range(1, len(parts))]
