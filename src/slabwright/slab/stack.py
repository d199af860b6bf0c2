"""Layers in a tin, bottom first: how much of each lies there, and how deep."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from slabwright.figure import Ranged, leans_of
from slabwright.formula.batch import Batch
from slabwright.formula.bulk import usual_density
from slabwright.slab.tin import Tin

_SAME: Final = 0.05
"""A measured density further from the card's than this is worth a finding."""


@dataclass(frozen=True, slots=True)
class Wish:
    """How much of its batch a layer takes: all of one unless something is said."""

    grams: float | None = None
    depth_mm: float | None = None
    batches: float | None = None
    is_own: bool = True
    """Whether the batch stands in the layer itself, and not in a component."""


@dataclass(frozen=True, slots=True)
class Stacked:
    """A layer where it lies."""

    name: str
    batch: Batch
    mass: Ranged | None
    density: Ranged
    """[g/ml]"""
    depth: Ranged | None
    """[mm]"""
    from_mm: float | None
    """Height of its lower face over the tin's floor [mm]."""
    withheld: str = ""
    """Why mass or depth is not known."""
    said_density: float | None = None
    """What the card says, where the measured depth says something else [g/ml]."""
    batches: float | None = None
    """How many batches lie in it."""


def stack(
    layers: Iterable[tuple[str, Batch, Wish]], tin: Tin | None
) -> tuple[Stacked, ...]:
    """Every layer on the one before it."""
    lie: list[Stacked] = []
    height_mm: float | None = 0.0
    for name, batch, wish in layers:
        layer = _lay(name, batch, wish, tin, height_mm)
        lie.append(layer)
        if height_mm is not None:
            height_mm = height_mm + layer.depth.value if layer.depth else None
    return tuple(lie)


def _lay(
    name: str, batch: Batch, wish: Wish, tin: Tin | None, from_mm: float | None
) -> Stacked:
    density = _density(batch)
    wished = wish.depth_mm
    if wished is not None:
        if batch.deep is not None and batch.mass_out is not None:
            density = _measured(name, batch, batch.mass_out, tin, from_mm).density
        return _to_depth(name, batch, density, wished, tin, from_mm)
    mass = _mass(batch, wish)
    if mass is None:
        return Stacked(name, batch, None, density, None, from_mm, batch.withheld)
    if not mass.value > 0:
        why = "there is nothing in it"
        return Stacked(name, batch, mass, density, None, from_mm, why)
    share = _batches(batch, mass)
    if batch.deep is not None:
        return _measured(name, batch, mass, tin, from_mm)
    if tin is None:
        why = "the card names no tin"
        return Stacked(name, batch, mass, density, None, from_mm, why, batches=share)
    if from_mm is None and tin.sloping:
        why = "in a sloping tin its height is not known, since a layer below has none"
        return Stacked(name, batch, mass, density, None, None, why, batches=share)
    depth = _depth(mass, density, tin, from_mm or 0.0)
    return Stacked(name, batch, mass, density, depth, from_mm, batches=share)


def _mass(batch: Batch, wish: Wish) -> Ranged | None:
    """What the layer takes [g]: the whole batch, so many of them, or so many grams."""
    if wish.grams is not None:
        g = wish.grams
        return Ranged(g, g, g, "given", f"{g:g} g, as the card says")
    out = batch.mass_out
    if out is None or wish.batches is None or wish.batches == 1:
        return out
    n = wish.batches
    said = f"{n:g} batches × {out.value:.5g} g = {n * out.value:.5g} g"
    return Ranged(
        n * out.value, n * out.low, n * out.high, out.leans, said, sources=out.sources
    )


def _density(batch: Batch) -> Ranged:
    """Density of the finished layer [g/ml]: said, or the usual one of its kind."""
    if batch.density is not None:
        g_ml = batch.density.g_ml
        how = "measured" if batch.density.is_measured else "as the card says"
        said = f"{g_ml:g} g/ml, {how}"
        leans = leans_of(["measured" if batch.density.is_measured else "assumed"])
        return Ranged(g_ml, g_ml, g_ml, leans, said)
    return usual_density(batch)


def _depth(mass: Ranged, density: Ranged, tin: Tin, from_mm: float) -> Ranged:
    def deep(grams: float, g_ml: float) -> float:
        return tin.depth_mm_of(grams / g_ml * 1000, from_mm)

    value = deep(mass.value, density.value)
    if tin.sloping:
        where = f"in the tin {from_mm:.1f} mm up" if from_mm else "at the tin's floor"
        said = (
            f"{mass.value:.5g} g ÷ {density.value:.4g} g/ml = "
            f"{mass.value / density.value:.5g} ml, {where} {value:.1f} mm"
        )
    else:
        said = (
            f"{mass.value:.5g} g ÷ {tin.area_mm2() / 100:.6g} cm² ÷ "
            f"{density.value:.4g} g/ml = {value:.1f} mm"
        )
    return Ranged(
        value,
        deep(mass.low, density.high),
        deep(mass.high, density.low),
        leans_of([mass.leans, density.leans, "given"]),
        said,
        sources=tuple(dict.fromkeys((*mass.sources, *density.sources))),
    )


def _to_depth(
    name: str,
    batch: Batch,
    density: Ranged,
    wished_mm: float,
    tin: Tin | None,
    from_mm: float | None,
) -> Stacked:
    """So much that the layer stands as deep as wished."""
    said = f"{wished_mm:g} mm, as the card wishes"
    depth = Ranged(wished_mm, wished_mm, wished_mm, "given", said)
    if tin is None or (from_mm is None and tin.sloping):
        why = "the card names no tin" if tin is None else "a layer below has no depth"
        return Stacked(name, batch, None, density, depth, from_mm, why)
    low_mm = from_mm or 0.0
    volume_ml = (tin.volume_mm3(low_mm + wished_mm) - tin.volume_mm3(low_mm)) / 1000
    mass = Ranged(
        volume_ml * density.value,
        volume_ml * density.low,
        volume_ml * density.high,
        leans_of([density.leans, "given"]),
        f"{volume_ml:.5g} ml × {density.value:.4g} g/ml = "
        f"{volume_ml * density.value:.5g} g",
        sources=density.sources,
    )
    share = _batches(batch, mass)
    return Stacked(name, batch, mass, density, depth, from_mm, batches=share)


def _measured(
    name: str, batch: Batch, mass: Ranged, tin: Tin | None, from_mm: float | None
) -> Stacked:
    """A ruler's depth, and the density that it teaches."""
    deep_mm = batch.deep.depth_mm if batch.deep else 0.0
    depth = Ranged(deep_mm, deep_mm, deep_mm, "measured", f"{deep_mm:g} mm, measured")
    share = _batches(batch, mass)
    said = _density(batch)
    if tin is None or (from_mm is None and tin.sloping):
        return Stacked(name, batch, mass, said, depth, from_mm, batches=share)
    low_mm = from_mm or 0.0
    volume_ml = (tin.volume_mm3(low_mm + deep_mm) - tin.volume_mm3(low_mm)) / 1000
    learned = Ranged(
        mass.value / volume_ml,
        mass.low / volume_ml,
        mass.high / volume_ml,
        leans_of([mass.leans, "measured", "given"]),
        f"{mass.value:.5g} g ÷ {volume_ml:.5g} ml = {mass.value / volume_ml:.3g} g/ml, "
        f"learned from the measured {deep_mm:g} mm",
        sources=mass.sources,
    )
    differs = (
        batch.density is not None
        and abs(batch.density.g_ml - learned.value) > _SAME * learned.value
    )
    other = batch.density.g_ml if differs and batch.density else None
    return Stacked(
        name, batch, mass, learned, depth, from_mm, said_density=other, batches=share
    )


def _batches(batch: Batch, mass: Ranged) -> float | None:
    out = batch.mass_out
    return mass.value / out.value if out is not None and out.value > 0 else None
