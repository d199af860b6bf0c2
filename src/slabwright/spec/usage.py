"""How much of each component the layers of a slab take, and lines inside others."""

from collections.abc import Iterable

from slabwright.formula.batch import Batch


def taken(layers: Iterable[tuple[Batch, float]]) -> dict[str, tuple[Batch, float]]:
    """Finished grams of every component that stands on a line, by its name.

    Args:
        layers: each batch that is made, and how many of it.
    """
    found: dict[str, tuple[Batch, float]] = {}
    for batch, times in layers:
        _tally(batch, times, found)
    return found


def _tally(batch: Batch, times: float, found: dict[str, tuple[Batch, float]]) -> None:
    """Add what so many batches take of the components inside them."""
    for line in batch.lines:
        inner, grams = line.batch, line.mass_g
        if inner is None or grams is None:
            continue
        name = inner.component.name
        before = found.get(name, (inner, 0.0))[1]
        found[name] = (inner, before + grams * times)
        out = inner.mass_out
        if out is not None and out.value > 0:
            _tally(inner, times * grams / out.value, found)
