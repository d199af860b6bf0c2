"""How much of a fat is solid: by its kinds, mixed, over temperature.

Solid shares of single fats are a table with wide ranges, for origin, season and feed
move them by tenths. Mixed fats soften each other: each melts into the liquid of the
others. The figures are good for holding one layer or version against another; they
tell no firmness, which crystals, particles and water make too.
"""

import csv
from functools import cache
from importlib.resources import files
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from slabwright.composition import FATS, INDEX, Masses
from slabwright.physics.species import Array
from slabwright.source import Source, relation, sources

FORM_V_C: Final = 33.8
"""Where well tempered cocoa butter melts [°C], after Wille and Lutton (1966)."""
FORM_IV_C: Final = 27.5
"""Where cocoa butter melts that set by itself, untempered [°C]; same source."""
FORM_SOURCE: Final[Source] = sources()["wille-lutton"]
SOFTEST_LAURIC_SHARE: Final = 0.65
"""Share of coconut oil in cocoa butter and it at which the mix melts lowest."""
SOFTEST_SOURCE: Final[Source] = sources()["cocoa-coconut-2020"]
HOLDS_C: Final = (0.0, 60.0)
"""Where the table holds; nothing here is solid over 50 °C."""

_SATURATED: Final = np.array([0.64, 0.60, 0.88, 0.12])
"""Saturated share of milk fat, cocoa butter, coconut and nut fats, as our larder's."""
_DOUBT: Final = 0.04
"""How far those shares may be off."""
_OIL_SATURATED: Final = (0.16, 0.20)
"""Olive, sunflower, rapeseed, soya oil have at most about the first. Our own limits."""
_LEAST_SATURATED: Final = 0.05
"""No oil has less; then nobody gave its saturates."""
_TRACE_SHARE: Final = 0.005
_KELVIN: Final = 273.15
_GAS_J_MOL_K: Final = 8.314462618
_FINE_K: Final = 0.1
_STEPS_K: Final = (np.arange(0.0, 60.0, 2.0), np.arange(0.0, 2.0, _FINE_K))
"""Grids by which a temperature is found, the second within a step of the first."""


class Spread(NamedTuple):
    """A value with the ends between which it may lie; arrays of one shape."""

    value: Array
    low: Array
    high: Array


class _Kind(NamedTuple):
    called: str
    heat_J_mol: float
    temperatures_C: Array
    shares: tuple[Array, Array, Array]
    """Solid shares at those temperatures: low, value, high."""
    sources: tuple[Source, ...]


def fats_of(masses: Masses) -> Array:
    """Masses of fats by kind, shape (..., 5), in the order of `FATS`.

    Args:
        masses: masses of constituents, shape (..., len(ROW)).
    """
    found: Array = masses[..., [INDEX[name] for name in FATS]]
    return found


def melting_fats(masses: Masses) -> Array:
    """The same, but with liquid oils among the nameless fats beside those of nuts.

    A nameless fat that is no more saturated than an oil is one. What its saturates do
    not tell (margarine, shortening, egg) stays nameless.

    Args:
        masses: masses of constituents, shape (..., len(ROW)).
    """
    found = fats_of(masses)
    nameless = found[..., -1]
    rest = found[..., :-1].sum(axis=-1)
    saturated = masses[..., INDEX["saturates"]] - found[..., :-1] @ _SATURATED
    felt = np.maximum(nameless, 1e-6 * (rest + nameless) + 1e-9)
    share, doubt = saturated / felt, _DOUBT * rest / felt
    low, high = _OIL_SATURATED
    part = np.clip((high - share) / (high - low), 0.0, 1.0)
    liquid = np.where(share + doubt >= _LEAST_SATURATED, part, 0.0) * nameless
    found[..., -1] = nameless - liquid
    found[..., FATS.index("fat_nut")] += liquid
    return found


def called(fat: str) -> str:
    """What people call a kind of fat: `fat_cocoa` is cocoa butter."""
    return _kinds()[FATS.index(fat)].called


def sources_of(fats: Array) -> tuple[Source, ...]:
    """Where the solid shares of the fats in a row come from; traces are left out.

    Args:
        fats: masses by kind, shape (5,).
    """
    felt = fats > _TRACE_SHARE * fats.sum()
    found = [
        source
        for one, is_felt in zip(_kinds(), felt, strict=True)
        if is_felt
        for source in one.sources
    ]
    mixed = [sources()["ideal-solubility"]] if np.count_nonzero(felt) > 1 else []
    return tuple(dict.fromkeys((*found, *mixed)))


@relation(sources()["ideal-solubility"], share=(0.0, 1.0), temperature_C=HOLDS_C)
def melting_drop(
    share: ArrayLike, heat_J_mol: ArrayLike, temperature_C: ArrayLike
) -> Array:
    """By how much a fat melts lower when it is only this share of the liquid [K].

    Args:
        share: its share of the fats, 0 to 1; nothing is lowered where it is 0.
        heat_J_mol: its heat of melting [J/mol].
        temperature_C: where it is asked [°C].

    Source: the law of ideal solubility, for small drops: R T² (−ln share) ÷ heat.
    Fats that shun or join each other's crystals depart from it.
    """
    x = np.asarray(share, dtype=float)
    kelvin = np.asarray(temperature_C, dtype=float) + _KELVIN
    log = -np.log(np.where(x > 0, np.minimum(x, 1.0), 1.0))
    drop: Array = _GAS_J_MOL_K * kelvin**2 * log / np.asarray(heat_J_mol, dtype=float)
    return drop


@relation(sources()["ideal-solubility"], temperature_C=HOLDS_C)
def solid_fat(
    fats: Array, temperature_C: ArrayLike, *, tempered: bool = False
) -> Spread:
    """Share of a mixed fat that is solid, 0 to 1.

    The value has each fat melting lower by what the others dilute it. The high end has
    each melt by itself, as if it were alone, at the upper edge of its table. The low
    end has the lower edge, and cocoa butter in the form that sets untempered.

    Args:
        fats: masses by kind, shape (..., 5), in the order of `FATS`; any unit.
        temperature_C: temperature, broadcast against the rows [°C].
        tempered: whether its cocoa butter is known to be tempered.

    Returns:
        Value, low and high, each of the broadcast shape; NaN without fat and under
        0 °C, where the table ends.
    """
    shares = _shares(fats)
    warmth = np.asarray(temperature_C, dtype=float)
    return Spread(
        _solid(shares, warmth, 1, tempered=tempered),
        _solid(shares, warmth, 0, tempered=tempered),
        _solid(shares, warmth, 2, tempered=tempered),
    )


def temperature_of_solid(
    fats: Array, solid_share: ArrayLike, *, tempered: bool = False
) -> Spread:
    """Temperature down to which a mixed fat is at least so solid [°C].

    Args:
        fats: masses by kind, shape (..., 5).
        solid_share: wanted solid share of the fat, over 0 to 1.
        tempered: as of `solid_fat`.

    Returns:
        Value, low and high; NaN where it is softer than that even at 0 °C, or where
        there is no fat.
    """
    shares = _shares(fats)
    wanted = np.asarray(solid_share, dtype=float)
    return Spread(
        _where(shares, wanted, 1, tempered=tempered),
        _where(shares, wanted, 0, tempered=tempered),
        _where(shares, wanted, 2, tempered=tempered),
    )


def same_softness(fats_a: Array, fats_b: Array, temperature_C: ArrayLike) -> Spread:
    """Temperature at which a has as much solid fat as b has at a temperature [°C].

    Grams of solid fat are held against each other, so give both per 100 g of layer;
    or per gram of fat, to compare the fats alone. What is not known of the fats is
    the same on both sides, so the range is narrow where both hold the same kinds.

    Args:
        fats_a: masses by kind of what is asked about, shape (..., 5).
        fats_b: masses by kind of what it is held against, shape (..., 5).
        temperature_C: temperature of b [°C].

    Returns:
        Value, low and high; NaN where b has no solid fat left there, or a never has as
        much at 0 °C and over.
    """
    found = []
    of_a, of_b = fats_a.sum(axis=-1), fats_b.sum(axis=-1)
    warmth = np.asarray(temperature_C, dtype=float)
    for edge in (1, 0, 2):
        solid = _solid(_shares(fats_b), warmth, edge, tempered=False) * of_b
        with np.errstate(divide="ignore", invalid="ignore"):
            wanted = np.where(solid > 0, solid / of_a, np.nan)
        found.append(_where(_shares(fats_a), wanted, edge, tempered=False))
    value, one, other = found
    return Spread(
        value,
        np.fmin(np.fmin(one, other), value),
        np.fmax(np.fmax(one, other), value),
    )


def _shares(fats: Array) -> Array:
    whole = fats.sum(axis=-1, keepdims=True)
    with np.errstate(divide="ignore", invalid="ignore"):
        shares: Array = np.where(whole > 0, fats / whole, np.nan)
    return shares


def _solid(shares: Array, warmth: Array, edge: int, *, tempered: bool) -> Array:
    """Solid share by one edge of the table: 0 low, 1 value, 2 high."""
    shape = np.broadcast_shapes(shares.shape[:-1], warmth.shape)
    solid = np.zeros(shape)
    for at, kind in enumerate(_kinds()):
        share = shares[..., at]
        felt = np.broadcast_to(warmth, shape)
        if edge < 2:
            felt = felt + melting_drop(share, kind.heat_J_mol, warmth)
        if edge == 0 and FATS[at] == "fat_cocoa" and not tempered:
            felt = felt + (FORM_V_C - FORM_IV_C)
        alone = np.interp(felt, kind.temperatures_C, kind.shares[edge])
        solid = solid + np.where(share > 0, share * alone, 0.0)
    known = (warmth >= HOLDS_C[0]) & np.isfinite(shares).all(axis=-1)
    return np.where(known, solid, np.nan)


def _where(shares: Array, wanted: Array, edge: int, *, tempered: bool) -> Array:
    """Warmest temperature with that solid share: by a grid, and a finer one in it."""
    shape = np.broadcast_shapes(shares.shape[:-1], wanted.shape)
    asked = np.broadcast_to(wanted, shape)[..., np.newaxis]
    rows = shares[..., np.newaxis, :]
    start = np.full((*shape, 1), HOLDS_C[0])
    for step in _STEPS_K:
        grid = start + step
        firm = _solid(rows, grid, edge, tempered=tempered) >= asked
        last = np.maximum(firm.sum(axis=-1, keepdims=True) - 1, 0)
        start = np.take_along_axis(grid, last, axis=-1)
        if step is _STEPS_K[0]:
            reached = firm[..., 0]
    known = reached & (wanted > 0) & np.isfinite(shares).all(axis=-1)
    pair = np.concatenate([start, start + _FINE_K], axis=-1)
    here = _solid(rows, pair, edge, tempered=tempered)
    fall = here[..., 0] - here[..., 1]
    over = here[..., 0] - asked[..., 0]
    part = np.where(fall > 0, over / np.where(fall > 0, fall, 1.0), 0.0)
    result: Array = np.where(known, start[..., 0] + _FINE_K * part, np.nan)
    return result


@cache
def _kinds() -> tuple[_Kind, ...]:
    """The five kinds of fat, in the order of `FATS`."""
    return tuple(_kind(name.removeprefix("fat_")) for name in FATS)


def _kind(name: str) -> _Kind:
    said = next(row for row in _rows("fat_kinds.csv") if row["fat"] == name)
    table = [row for row in _rows("fats.csv") if row["fat"] == name]
    keys = [row[column] for row in table for column in ("source", "also_source")]
    return _Kind(
        said["called"],
        float(said["heat_J_g"]) * float(said["molar_mass_g_mol"]),
        _column(table, "temperature_C"),
        (_column(table, "low"), _column(table, "value"), _column(table, "high")),
        tuple(sources()[key] for key in dict.fromkeys(keys) if key),
    )


def _column(table: list[dict[str, str]], name: str) -> NDArray[np.float64]:
    return np.array([float(row[name]) for row in table])


@cache
def _rows(name: str) -> tuple[dict[str, str], ...]:
    text = files("slabwright.physics").joinpath("data", name).read_text("utf-8")
    return tuple(csv.DictReader(text.splitlines()))
