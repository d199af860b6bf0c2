"""Bands of solid fat, and whether fat is what makes a layer firm."""

import re
from functools import lru_cache
from typing import Final, NamedTuple

import numpy as np

from slabwright.composition import amount, fat, total, water
from slabwright.formula.batch import Batch
from slabwright.formula.line import Line
from slabwright.formula.step import Step
from slabwright.physics.fat import (
    Spread,
    fats_of,
    melting_fats,
    solid_fat,
    temperature_of_solid,
)
from slabwright.physics.species import Array
from slabwright.spec.nature.subject import Subject

WARMTHS_C: Final = np.arange(2.0, 38.0)
"""From the fridge to the mouth."""
CUTS_SHARE: Final = 0.30
SOFT_SHARE: Final = 0.10
POURS_SHARE: Final = 0.05


class FatWord(NamedTuple):
    """A word for a fat of which so much at least is solid."""

    word: str
    from_share: float
    what: str


FAT_WORDS: Final = (
    FatWord("pours", 0.0, "next to nothing of it is solid"),
    FatWord("smears", POURS_SHARE, "a slush: it smears and sticks"),
    FatWord("spreads", SOFT_SHARE, "plastic under a knife"),
    FatWord("cuts", CUTS_SHARE, "firm, cuts with a clean face"),
    FatWord("snaps", 0.65, "hard: it snaps, and may crack under a knife"),
)
"""Bands of the solid share of the fat. Common practice with table fats, no source;
what is dry, wet or sugary in a layer makes it firmer or softer than its fat."""

_CARRIES: Final = {"ganache": 0.20, "glaze": 0.20, "cream": 0.20, "seed": 0.20}
"""Textures that fat makes firm, with the least share of it."""
_CARRIES_PACKED: Final = {"nut": 0.38, "plain": 0.38}
"""Pieces that touch each other hold a layer up to about so much fat. Our own."""
_FLOUR_SHARE: Final = 0.12
"""With more starch than this, the crumb makes it firm, not the fat."""
_WET_TIMES: Final = 1.5
"""With more water than so many times its fat, it is no layer of fat."""

_TEMPERED: Final = re.compile(
    r"(?<!not )(?<!don't )(?<!no )(?<!without )\btemper(?:ed|ing|s)?\b", re.IGNORECASE
)
"""`Temper`, but neither `temperature` nor `untempered`."""


class Bands(NamedTuple):
    """Solid shares over `WARMTHS_C`, and where the bands end [°C]."""

    solid: Spread
    ends: Spread
    """Down to which it cuts, up to which it is not soft, from which it pours."""


def by_kind(subject: Subject) -> Array:
    """Grams of each kind of fat of the finished batch, shape (5,)."""
    return fats_of(subject.finished[0])


def as_it_melts(subject: Subject) -> Array:
    """The same, with liquid oils among the nameless beside those of nuts."""
    return melting_fats(subject.finished[0])


def bands_of(fats: Array, *, tempered: bool) -> Bands:
    """Bands of a mixed fat; kept, since most of a card stays as it was."""
    whole = float(fats.sum())
    return _bands(tuple(round(float(one) / whole, 6) for one in fats), tempered)


@lru_cache(maxsize=512)
def _bands(shares: tuple[float, ...], tempered: bool) -> Bands:
    fats = np.array(shares)
    wanted = np.array([CUTS_SHARE, SOFT_SHARE, POURS_SHARE])
    return Bands(
        solid_fat(fats, WARMTHS_C, tempered=tempered),
        temperature_of_solid(fats, wanted, tempered=tempered),
    )


def is_tempered(subject: Subject) -> bool:
    """Whether its maker says that the chocolate is tempered."""
    return any(
        _TEMPERED.search(event.text) is not None
        for event in subject.batch.component.events
        if isinstance(event, (Line, Step))
    )


def carries(subject: Subject) -> bool:
    """Whether its fat makes this layer firm or soft, more than crumb, sugar or gel."""
    return carries_batch(subject.batch)


def carries_batch(batch: Batch) -> bool:
    """The same of a batch."""
    least = (_CARRIES | _CARRIES_PACKED).get(batch.kind.texture)
    row = batch.after[0]
    whole = float(total(row))
    if least is None or batch.composition_withheld or not whole > 0:
        return False
    fatty = float(fat(row))
    return (
        fatty >= least * whole
        and float(amount(row, "starch")) < _FLOUR_SHARE * whole
        and float(water(row)) < _WET_TIMES * fatty
    )


def word_of(share: float) -> FatWord:
    """The word for a fat so much of which is solid."""
    return next(one for one in reversed(FAT_WORDS) if share >= one.from_share)
