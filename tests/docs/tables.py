"""Tables of the documentation that are the program's own data."""

from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from typing import Final

from slabwright.formula.kinds import Likely, kinds
from slabwright.larder.load import built_in
from slabwright.slab.presets import preset_names, preset_row
from slabwright.source import Source, sources


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
            row.seen.value,
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
        (group, str(number), ", ".join(_some(group))) for group, number in count.items()
    ]
    yield from _table(
        ("Group", "Ingredients", "Such as"), *rows, ("in all", str(len(larder)), "")
    )


def _some(group: str) -> list[str]:
    names = [one.name for one in built_in().ingredients if one.group == group]
    return names[:3]


TABLES: Final[dict[str, Callable[[], Iterator[str]]]] = {
    "kinds": _kinds,
    "tins": _tins,
    "sources": _sources,
    "groups": _groups,
}
"""Tables by the name that a page calls them."""
