"""Tables of the documentation that are the program's own data."""

import importlib
import importlib.util
import tomllib
from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import Final

from slabwright.formula.kinds import Likely, kinds
from slabwright.larder.load import built_in
from slabwright.slab.presets import preset_names, preset_row
from slabwright.source import Source, sources

ROOT: Final = Path(__file__).parents[2]


def _table(*rows: Iterable[str]) -> Iterator[str]:
    head, *body = (list(row) for row in rows)
    yield f"| {' | '.join(head)} |"
    yield f"|{'---|' * len(head)}"
    for row in body:
        yield f"| {' | '.join(cell.replace('|', '/') for cell in row)} |"


def _kinds() -> Iterator[str]:
    """Every kind of layer with its usual figures."""
    rows = [
        (
            f"`{kind.name}`",
            ", ".join(kind.also),
            kind.texture,
            f"{kind.density_g_ml.value:.2f} ({_range(kind.density_g_ml, 1, '.2f')})",
            f"{_range(kind.loss_share, 100, '.3g')} % {kind.loses}",
            f"{_range(kind.water_share, 100, '.3g')} %" if kind.water_share else "",
            _how(kind.density_g_ml.source, kind.loss_share.source),
        )
        for kind in kinds().values()
    ]
    head = (
        "Kind", "Also called", "Texture", "Density, g/ml", "Usually loses",
        "Water left", "Known from (density; loss)",
    )  # fmt: skip
    yield from _table(head, *rows)


def _range(likely: Likely, factor: float, form: str) -> str:
    low, high = likely.low * factor, likely.high * factor
    return f"{low:{form}}-{high:{form}}"


def _how(*found: Source) -> str:
    return "; ".join(f"`{source.key}`" for source in found)


def _tins() -> Iterator[str]:
    """The usual tins that need no kitchen file."""
    presets = [row for name in preset_names() if (row := preset_row(name))]
    rows = [
        (
            ", ".join(row.names),
            row.tin.describe().removeprefix("round "),
            row.source if row.source == "arithmetic" else row.seen.value,
            row.note,
        )
        for row in presets
    ]
    yield from _table(("Name", "Inner size", "How known", "Note"), *rows)


def _sources() -> Iterator[str]:
    """Every source, and how many of the larder's values lean on it."""
    count = Counter(
        cited.source.key
        for ingredient in built_in().ingredients
        for cited in ingredient.values.values()
        if cited.value
    )
    rows = [
        (f"`{key}`", source.text, source.seen.value, f"{count[key]:,}")
        for key, source in sources().items()
    ]
    head = ("Key", "Source", "How we know it", "Values of the larder over 0")
    yield from _table(head, *rows)


def _groups() -> Iterator[str]:
    """What the larder holds, group by group."""
    larder = built_in().ingredients
    count = Counter(ingredient.group for ingredient in larder)
    rows = [
        (group, str(number), "; ".join(_some(group))) for group, number in count.items()
    ]
    yield from _table(
        ("Group", "Ingredients", "Such as"), *rows, ("in all", str(len(larder)), "")
    )


def _some(group: str) -> list[str]:
    names = [one.name for one in built_in().ingredients if one.group == group]
    return names[:3]


def _house() -> Iterator[str]:
    """The floors of the house, top first, from the rule that is checked."""
    rules = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
    floors = rules["tool"]["importlinter"]["contracts"][0]["layers"]
    rows = [_floor([room.strip() for room in floor.split("|")]) for floor in floors]
    yield from _table(("Room", "What it holds"), *rows)


def _floor(rooms: list[str]) -> tuple[str, str]:
    names = " ".join(f"`{room.strip('()')}`" for room in rooms)
    built = {room: about for room in rooms if (about := _about(room.strip("()")))}
    if not built:
        return names, "not built yet"
    if len(rooms) == 1:
        return names, built[rooms[0]]
    return names, "<br>".join(f"`{room}`: {about}" for room, about in built.items())


def _about(room: str) -> str:
    """The first line of a room's docstring; nothing of one that is yet to be built."""
    if importlib.util.find_spec(f"slabwright.{room}") is None:
        return ""
    module = importlib.import_module(f"slabwright.{room}")
    return (module.__doc__ or "").split("\n")[0]


TABLES: Final[dict[str, Callable[[], Iterator[str]]]] = {
    "kinds": _kinds,
    "tins": _tins,
    "sources": _sources,
    "groups": _groups,
    "house": _house,
}
"""Tables by the name that a page calls them."""
