"""Whether a roller with several wheels can cut a slab, how it is set, where it goes."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, hypot

from slabwright.cut.cutting import Cutting, mm
from slabwright.cut.stroke import Stroke
from slabwright.kitchen import Cutter

_EVEN_MM = 0.1
"""Strokes whose distances differ by less are evenly apart: no setting is finer."""
MOST_TURNS = 3
"""A roller goes between its own cuts so often at most. Our own limit; a second pass
squashes a soft slab: common practice, no source."""


@dataclass(frozen=True, slots=True)
class Run:
    """Strokes side by side, from one edge of the slab to the other."""

    way: str
    """Which way they go, in words: `across the length`."""
    apart_mm: float
    """From one to the next [mm]."""
    places_mm: tuple[float, ...]
    """Distance of each from the edge that `start` names [mm]."""
    start: str
    """What places are measured from: `left edge`, `near edge`; for slanted strokes the
    first of them."""
    by_hand: int = 0
    """Strokes the same way that stand at other distances: trims and strips."""


@dataclass(frozen=True, slots=True)
class Setting:
    """A roller set for a run of strokes, or why it can't be."""

    cutter: Cutter
    run: Run
    apart_mm: float | None
    """From wheel to wheel [mm]; None if it can't cut them."""
    first_mm: tuple[float, ...]
    """For each pass, where its first wheel goes, measured like the run's places."""
    why: str
    """How, or why not, in words."""

    @property
    def passes(self) -> int:
        """How many times it is rolled over the slab."""
        return len(self.first_mm)


def settings(made: Cutting, cutter: Cutter, knife_mm: float) -> tuple[Setting, ...]:
    """How a roller is set for each run of strokes of a cut.

    Args:
        made: how the slab is cut.
        cutter: the roller.
        knife_mm: width that the knife was to take from each cut [mm].
    """
    if made.shape == "wedges":
        return ()
    return tuple(_setting(run, cutter) for run in runs(made, knife_mm))


def runs(made: Cutting, knife_mm: float) -> Iterator[Run]:
    """Strokes that are evenly apart, two or more, each way that the knife goes."""
    for edge, way in (("left", "across the length"), ("near", "along the length")):
        strokes = [one for one in made.strokes if one.edge == edge]
        run = _even(strokes, way, f"{edge} edge", knife_mm)
        if run is not None:
            yield run
    slanted: dict[tuple[int, int], list[Stroke]] = {}
    for one in made.strokes:
        if not one.edge:
            slanted.setdefault(_direction(one), []).append(one)
    for some in slanted.values():
        places = sorted(_off_mm(some[0], one) for one in some)
        if len(places) > 1 and _is_even(places):
            apart_mm = abs(places[1] - places[0])
            start = f"stroke {some[0].number}"
            steps = tuple(i * apart_mm for i in range(len(places)))
            yield Run("at a slant", apart_mm, steps, start)


def _even(
    strokes: Sequence[Stroke], way: str, start: str, knife_mm: float
) -> Run | None:
    """Upright or level strokes as a run; trims go with it where they stand as far."""
    inside = sorted(o.at_mm for o in strokes if o.what == "cut" and o.at_mm is not None)
    others = [o.at_mm for o in strokes if o.what != "cut" and o.at_mm is not None]
    gaps = [b - a for a, b in pairwise(sorted([*inside, *others]))]
    if not inside or not gaps:
        return None
    # of two cuts the gap is a piece and the knife; a trim stands half the knife nearer
    apart_mm = inside[1] - inside[0] if len(inside) > 1 else gaps[-1] + knife_mm / 2
    places = list(inside)
    for at_mm in sorted(others, reverse=True):
        if abs(places[0] - at_mm - apart_mm) <= knife_mm / 2 + _EVEN_MM:
            places.insert(0, places[0] - apart_mm)
    for at_mm in sorted(others):
        if abs(at_mm - places[-1] - apart_mm) <= knife_mm / 2 + _EVEN_MM:
            places.append(places[-1] + apart_mm)
    if len(places) < 2 or not _is_even(places):
        return None
    by_hand = len(strokes) - len(places)
    return Run(way, apart_mm, tuple(places), start, by_hand)


def _is_even(places: Sequence[float]) -> bool:
    gaps = [b - a for a, b in pairwise(places)]
    return max(gaps) - min(gaps) < _EVEN_MM


def _direction(one: Stroke) -> tuple[int, int]:
    dx, dy = one.end_mm[0] - one.start_mm[0], one.end_mm[1] - one.start_mm[1]
    far = hypot(dx, dy)
    return round(1000 * dx / far), round(1000 * dy / far)


def _off_mm(first: Stroke, one: Stroke) -> float:
    """Distance of a stroke from a parallel one; to its right is more."""
    dx, dy = first.end_mm[0] - first.start_mm[0], first.end_mm[1] - first.start_mm[1]
    x, y = one.start_mm[0] - first.start_mm[0], one.start_mm[1] - first.start_mm[1]
    return (x * dy - y * dx) / hypot(dx, dy)


def _setting(run: Run, cutter: Cutter) -> Setting:
    turns = next(
        (
            n
            for n in range(1, MOST_TURNS + 1)
            if cutter.from_mm - _EVEN_MM / 2 <= n * run.apart_mm
            <= cutter.to_mm + _EVEN_MM / 2
        ),
        None,
    )  # fmt: skip
    if turns is None:
        return Setting(cutter, run, None, (), _why_not(run, cutter))
    wheels_mm = turns * run.apart_mm
    first = [
        places[i]
        for places in (run.places_mm[turn::turns] for turn in range(turns))
        for i in range(0, len(places), cutter.wheels)
    ]
    passes = f"{len(first)} passes" if len(first) > 1 else "1 pass"
    why = f"wheels {mm(wheels_mm)} mm apart, {passes}"
    if turns > 1:
        every = ("second", "third")[turns - 2]
        why += f": every {every} cut, then between them; too rough for a soft slab"
    elif ceil(len(run.places_mm) / cutter.wheels) * cutter.wheels > len(run.places_mm):
        why += "; spare wheels run off the far side"
    if run.by_hand:
        why += f"; {run.by_hand} more by hand"
    return Setting(cutter, run, wheels_mm, tuple(first), why)


def _why_not(run: Run, cutter: Cutter) -> str:
    apart = mm(run.apart_mm)
    if run.apart_mm > cutter.to_mm:
        return (
            f"cuts {apart} mm apart are farther than its widest setting, "
            f"{mm(cutter.to_mm)} mm"
        )
    more = "and no setting is two or three times as wide"
    return (
        f"cuts {apart} mm apart are closer than its closest setting, "
        f"{mm(cutter.from_mm)} mm, {more}"
    )
