"""Tables of the documentation that are the program's own data."""

import importlib
import importlib.util
import tomllib
from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import Final

import numpy as np

from slabwright.composition import FATS
from slabwright.formula.kinds import Likely, kinds
from slabwright.larder.load import built_in
from slabwright.physics.fat import called, solid_fat, sources_of
from slabwright.physics.gel import agents
from slabwright.physics.glass import dry_glasses
from slabwright.physics.raising import raisers
from slabwright.physics.sorption import isotherms
from slabwright.slab.presets import preset_names, preset_row
from slabwright.source import Source, sources
from slabwright.spec.calc.calculators import CALCULATORS

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
    return "; ".join(f"`{source.key}`" for source in dict.fromkeys(found))


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


def _gels() -> Iterator[str]:
    """What sets a layer, with its working range."""
    rows = [
        (
            one.name,
            f"{100 * one.low:g} to {100 * one.high:g} %",
            f"{100 * one.solids[0]:g} to {100 * one.solids[1]:g} %",
            f"{one.ph[0]:g} to {one.ph[1]:g}",
            f"{one.dissolves_C:g} °C",
            f"{one.melts_C[0]:g} to {one.melts_C[1]:g} °C"
            if one.melts_C
            else "no more",
            _how(one.source, one.melt_source),
        )
        for one in agents().values()
    ]
    head = ("Agent", "Usual dose", "Dry matter", "pH", "Dissolves", "Melts", "Source")
    return _table(head, *rows)


def _fats() -> Iterator[str]:
    """How much of each kind of fat is solid, with its range."""
    warmths = (5.0, 10.0, 15.0, 20.0, 25.0, 30.0, 35.0)
    rows = []
    for name, fats in zip(FATS, np.eye(len(FATS)), strict=True):
        found = solid_fat(fats, np.array(warmths), tempered=True)
        cells = (
            f"{100 * value:.0f} ({100 * low:.0f} to {100 * high:.0f})"
            for value, low, high in zip(*found, strict=True)
        )
        rows.append((called(name), *cells, _how(*sources_of(fats))))
    return _table(("Fat", *(f"{one:g} °C" for one in warmths), "Source"), *rows)


def _raisers() -> Iterator[str]:
    """Raising agents, and the acids that are sold for soda."""
    rows = [
        (
            one.name,
            "" if one.is_acid else _ends(one.soda_share),
            _ends((one.neutralises[0], one.neutralises[2])) if one.is_acid else "",
            one.acts,
            _how(one.source),
        )
        for one in raisers().values()
    ]
    head = ("Agent", "As much gas as soda, g/g", "Takes up soda, g/g", "Acts", "Source")
    return _table(head, *rows)


def _ends(band: tuple[float, float]) -> str:
    low, high = band
    return f"{low:.3g}" if high - low < 1e-9 else f"{low:.3g} to {high:.3g}"


def _isotherms() -> Iterator[str]:
    """What holds water without dissolving, by the three constants of its isotherm."""
    rows = [
        (
            one.solid,
            f"{one.monolayer_g_g:g}",
            f"{one.c:g}",
            f"{one.k:g}",
            f"{100 * one.low_share:.0f} to {100 * one.high_share:.0f} %",
            _how(one.monolayer_source, one.shape_source),
        )
        for one in isotherms()
    ]
    head = ("Solid", "Monolayer [g/g]", "C", "K", "Holds of that", "Source")
    yield from _table(head, *rows)


def _glasses() -> Iterator[str]:
    """Dry sugars, where they are glasses."""
    rows = [
        (
            one.species.replace("_", " "),
            f"{one.dry_C:g} °C".replace("-", "−"),
            f"{one.low_C:g} to {one.high_C:g} °C".replace("-", "−"),
            f"{one.k:g}",
            _how(one.dry_source, one.k_source),
        )
        for one in dry_glasses()
    ]
    head = ("Sugar", "Dry glass", "Published", "k with water", "Source")
    yield from _table(head, *rows)


def _calculators() -> Iterator[str]:
    """Every calculator with what it asks and what it does."""
    rows = [
        (
            f"`{one.name}`",
            one.what,
            ", ".join(
                (
                    *(("parts by mass",) if one.takes_parts else ()),
                    *(f"`{field.name}`" for field in one.inputs),
                )
            ),
            f"`{one.python}`",
        )
        for one in CALCULATORS
    ]
    yield from _table(("Name", "Answers", "Asks", "For arrays"), *rows)


TABLES: Final[dict[str, Callable[[], Iterator[str]]]] = {
    "kinds": _kinds,
    "tins": _tins,
    "sources": _sources,
    "groups": _groups,
    "house": _house,
    "calculators": _calculators,
    "gels": _gels,
    "fats": _fats,
    "raisers": _raisers,
    "isotherms": _isotherms,
    "glasses": _glasses,
}
"""Tables by the name that a page calls them."""
