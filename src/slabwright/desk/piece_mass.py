"""What the pieces of a cut weigh, tried on many slabs: long work.

The first answer is the closed form; the better one comes of cutting slabs on paper.
"""

from collections.abc import Generator, Sequence
from dataclasses import asdict, replace
from functools import partial
from math import ceil
from typing import TYPE_CHECKING, Any, Final

import numpy as np
from numpy.typing import NDArray

from slabwright.cut.cut import cut
from slabwright.cut.cutting import Cutting
from slabwright.cut.request import CutRequest
from slabwright.cut.simulate import Simulated, Trial, simulate
from slabwright.cut.spread import PROMISED, Evenness, Spread, spread
from slabwright.desk.work_kinds import Job, Json, Report, Stop
from slabwright.errors import GeometryError, Mistake
from slabwright.slab.outline import Outline
from slabwright.slab.tin import Tin

if TYPE_CHECKING:  # a process that begins has no need of it
    from slabwright.spec.cut_sheet import CutSheet

WEIGHED: Final = 2_000_000
"""So many pieces are weighed, in whole slabs."""
_PARTS: Final = 20
_TOLD: Final = frozenset({1, 5, 10})
"""After so many parts a rough answer is given anew."""
_BINS: Final = 40
_REACH: Final = 4.0
"""Standard deviations that a histogram in closed form spans on either side."""
_NARROWEST: Final = 1e-6
"""Of the mean: pieces that are all alike still need a bin with a width."""

Array = NDArray[np.float64]


def piece_mass_job(sheet: "CutSheet", weighed: int = WEIGHED, seed: int = 1) -> Job:
    """The work of weighing the pieces of a cut.

    Args:
        sheet: the cut, of a slab whose mass and height are known.
        weighed: so many pieces at least, in whole slabs.
        seed: the same gives the same slabs.

    Raises:
        GeometryError: if mass or height is not known, or nothing is cut.
    """
    made, height, slab_g = sheet.cut.cutting, sheet.spec.height_mm, sheet.slab_g
    if slab_g is None or not height.value or not made.strokes:
        what = "There is no slab to cut: its mass or height is not known, or its cut."
        raise GeometryError(Mistake(what, "Give its layers weights, and a cut."))
    request = replace(sheet.cut.said.request, knife_mm=sheet.cut.knife_mm)
    inputs = {
        "request": {k: v for k, v in asdict(request).items() if v is not None},
        "tin": asdict(sheet.cut.tin.one),
        "height_mm": height.number,
        "slab_g": slab_g,
        "level_mm": sheet.evenness.level_mm,
        "knife_off_mm": sheet.evenness.knife_off_mm,
        "slabs": max(ceil(weighed / len(made.each)), 1),
        "seed": seed,
    }
    return Job("piece-mass", inputs)


def piece_mass(
    inputs: Json, report: Report, stop: Stop
) -> Generator[Json, None, Json | None]:
    """Weigh the pieces of many slabs.

    Args:
        inputs: as `piece_mass_job` writes them.
        report: is told the share that is done.
        stop: whether to end early.

    Yields:
        The same as is returned, in closed form at first (`slabs` is 0), then of the
        slabs that were cut until then.

    Returns:
        `mean_g`, `deviation_g`, `promised_g` (what 99 of 100 pieces reach), `slabs`,
        `pieces` and a `histogram` of `edges_g` and `counts`; None if it was stopped.

    Raises:
        GeometryError: for a cut that the slab does not allow.
    """
    tin, even = (
        _tin(inputs["tin"]),
        Evenness(inputs["level_mm"], inputs["knife_off_mm"]),
    )
    height_mm, slab_g, slabs = inputs["height_mm"], inputs["slab_g"], inputs["slabs"]
    made = cut(_request(inputs["request"]), tin, height_mm, slab_g, even)
    likely = spread(made, tin, height_mm, even)
    yield _in_closed_form(likely, slab_g, slabs * len(made.each))
    found: list[Array] = []
    done = 0
    seeds = np.random.SeedSequence(inputs["seed"]).generate_state(_PARTS, np.uint64)
    for part, seed in enumerate(seeds, start=1):
        count = slabs * part // _PARTS - slabs * (part - 1) // _PARTS
        if not count:
            continue
        trial = _trial(made, count, int(seed))
        told = partial(_report_part, report, done / slabs, count / slabs)
        tried = simulate(made, tin, height_mm, even, trial, told, stop)
        found.append(tried.shares)
        done += tried.slabs
        if done < slabs and stop():
            yield _tried(found, slab_g, done)
            return None
        if part in _TOLD:
            yield _tried(found, slab_g, done)
    return _tried(found, slab_g, done)


def _report_part(report: Report, start: float, size: float, share: float) -> None:
    report(start + size * share)


def _trial(made: Cutting, slabs: int, seed: int) -> Trial:
    """Exactly so many slabs, however many sides their pieces have."""
    sides = sum(len(piece.sides) for piece in made.each)
    return Trial(slabs * len(made.each), slabs * sides, seed)


def _request(said: Json) -> CutRequest:
    pair = said.get("trim_to_mm")
    return CutRequest(**{**said, "trim_to_mm": pair and tuple(pair)})


def _tin(said: Json) -> Tin:
    base, rim = Outline(**said["base"]), Outline(**said["rim"])
    cells = tuple(said["cells"])
    return Tin(**{**said, "base": base, "rim": rim, "cells": cells})


def _in_closed_form(likely: Spread, slab_g: float, pieces: int) -> Json:
    """As many pieces as will be weighed, as they should come out."""
    reach = _REACH * max(likely.deviation, likely.mean * _NARROWEST)
    edges = np.linspace(max(likely.mean - reach, 0.0), likely.mean + reach, _BINS + 1)
    below = np.array([likely.below(float(edge)) for edge in edges])
    below[0], below[-1] = 0.0, 1.0  # what lies beyond belongs to the outer ones
    counts = np.diff(np.rint(below * pieces))
    promised = likely.reached_by()
    return _answer((likely.mean, likely.deviation, promised), slab_g, 0, edges, counts)


def _tried(found: Sequence[Array], slab_g: float, slabs: int) -> Json:
    all_of = Simulated(slabs, np.concatenate(found))
    least = all_of.mean * _NARROWEST
    ends = (float(all_of.shares.min()) - least, float(all_of.shares.max()) + least)
    counts, edges = np.histogram(all_of.shares, _BINS, ends)
    about = (all_of.mean, all_of.deviation, all_of.reached_by())
    return _answer(about, slab_g, slabs, edges, counts)


def _answer(
    about: tuple[float, float, float],
    slab_g: float,
    slabs: int,
    edges: Array,
    counts: NDArray[Any],
) -> Json:
    mean, deviation, promised = (share * slab_g for share in about)
    return {
        "mean_g": mean,
        "deviation_g": deviation,
        "promised_g": promised,
        "promised_share": PROMISED,
        "slabs": slabs,
        "pieces": int(counts.sum()),
        "histogram": {
            "edges_g": (edges * slab_g).tolist(),
            "counts": [int(count) for count in counts],
        },
    }
