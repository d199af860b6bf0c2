"""Which gelling agents a layer holds, how much of each, and what stands beside them."""

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from slabwright.composition import Masses, amount, fat, total, water
from slabwright.physics.acid import acids, mixed_ph
from slabwright.physics.gel import (
    ENZYME_C,
    REFERENCE_BLOOM,
    Agent,
    agents,
    exchange,
    grades,
    is_bloom,
)
from slabwright.physics.species import Array
from slabwright.spec.nature.inside import Thing
from slabwright.spec.nature.subject import Subject

_GELATINES: Final = {
    "leaf-gelatine": "leaf",
    "leaf-gelatine-bronze": "bronze",
    "leaf-gelatine-silver": "silver",
    "leaf-gelatine-gold": "gold",
    "leaf-gelatine-platinum": "platinum",
    "gelatine-powder": "powder",
}
_NO_GRADE: Final = frozenset({"leaf", "powder"})
_PECTINS: Final = {
    "pectin-nh": "pectin-nh",
    "pectin-yellow": "pectin-hm",
    "pectin-powder": "pectin-hm",
    "agar": "agar",
}
_STARCHES: Final = {
    "cornflour": 1.0,
    "potato-starch": 1.0,
    "tapioca-starch": 1.0,
    "arrowroot": 1.0,
    "custard-powder": 1.0,
    "rice-flour": 0.67,
    "plain-flour": 0.67,
    "all-purpose-flour": 0.67,
}
"""What thickens, by what it is worth beside cornflour. Common practice."""
_EGGS: Final = ("whole-egg", "egg-yolk", "egg-white")
_EGG_KINDS: Final = frozenset({"curd"})
_STARCH_KINDS: Final = frozenset({"curd", "jelly", "compote", "gelatine jelly"})
_FOAM_BLOOM: Final = 250.0
"""Doses of gelatine in foams are told for this strength [bloom]."""
_FOAMS: Final = frozenset({"marshmallow", "nougat", "soft meringue", "meringue"})
RICH_KINDS: Final = frozenset(
    {"mousse", "whipped cream", "cheesecake", "ganache", "buttercream"}
)
"""What fat and air help to stand: half the dose of a jelly sets it. Common practice."""
_RICH_SHARE: Final = 0.12
"""So does this much fat, in a set cream. Our own."""
_RAW: Final = re.compile(
    r"\b(pineapples?|kiwis?|kiwi ?fruits?|papayas?|pawpaws?|figs?|mango(?:es)?|"
    r"ginger root)\b",
    re.IGNORECASE,
)
_NOT_RAW: Final = re.compile(
    r"\b(tinned|canned|cooked|dried|roasted|jam|candied|stem|crystallised|pasteurised|"
    r"poached|stewed|rolls?|biscuits?|extract|syrup|sorbet|chutney)\b",
    re.IGNORECASE,
)
_COOKED: Final = frozenset({"tinned-pineapple", "dried-figs"})
_PRESSED: Final = re.compile(r"\b(juice|pur[eé]e|pulp|nectar)\b", re.IGNORECASE)
"""Sold pasteurised, unless it is called fresh."""


@dataclass(frozen=True, slots=True)
class Dose:
    """How much of one agent is in a layer."""

    agent: Agent
    grams: float
    """As the card has it."""
    worth_g: tuple[float, float, float]
    """The same at the strength that doses are told for: likely, low, high."""
    base_g: float
    """What it is a share of."""
    base_ends_g: tuple[float, float]
    """The same, low and high: what a boil leaves may be assumed."""
    base: str
    """The same in words."""
    hot_C: float | None
    """How hot it was made after it went in, where that is told."""
    is_baked: bool
    strength_is_open: bool = False
    """Whether nobody says how strong its gelatine is: powder, or leaf of no grade."""
    is_untried: bool = False
    """Whether a strength was told for which neither rule of exchange was tried."""

    @property
    def shares(self) -> tuple[float, float, float]:
        """Likely, low and high."""
        one, low, high = self.worth_g
        least, most = self.base_ends_g
        return one / self.base_g, low / most, high / least

    @property
    def worth_per_gram(self) -> float:
        """What a gram as on the card counts."""
        return self.worth_g[0] / self.grams


@dataclass(frozen=True, slots=True)
class GelMix:
    """A layer that something sets."""

    doses: tuple[Dose, ...]
    things: tuple[Thing, ...]
    solids: tuple[float, float, float] | None
    """Dry matter that dissolves, as a share of what is not fat: likely, low, high; None
    if nobody knows what all of it is made of."""
    ph: tuple[float, float] | None
    """Between which limits its pH lies; None if nothing here tells."""
    raw_fruit: tuple[Thing, ...]
    """What digests gelatine, and was not heated as far as the card says."""
    alcohol_share: float
    """Of water and alcohol together."""
    mass_g: float

    def dose(self, agent: str) -> Dose | None:
        """How much of this agent there is."""
        return next((one for one in self.doses if one.agent.agent == agent), None)


def gel_mix(subject: Subject) -> GelMix | None:
    """What sets this layer; None if nothing here does, or its weight is not known."""
    found = subject.inside
    rows = subject.finished
    whole = float(total(rows)[0])
    if not whole > 0:
        return None
    kind = subject.batch.kind.name
    lean = total(rows) - fat(rows)
    doses = tuple(
        dose
        for dose in (
            _gelatine(found, lean, kind),
            *(_pectin(found, lean, key) for key in ("pectin-nh", "pectin-hm", "agar")),
            _starch(found, lean, kind),
            _egg(found, subject, kind),
        )
        if dose is not None
    )
    if not doses:
        return None
    wet = float(amount(rows[0], "water", "alcohol"))
    return GelMix(
        doses,
        found,
        None if subject.unknown else _solids(rows),
        _ph(found),
        tuple(one for one in found if _is_raw(one)),
        float(amount(rows[0], "alcohol")) / wet if wet > 0 else 0.0,
        whole,
    )


def is_rich(subject: Subject) -> bool:
    """Whether fat and air help the layer to stand."""
    rows = subject.finished
    whole = float(total(rows)[0])
    is_fat = whole > 0 and float(fat(rows)[0]) >= _RICH_SHARE * whole
    return is_fat or subject.batch.kind.name in RICH_KINDS


def least(dose: Dose, subject: Subject) -> float:
    """The least usual dose in a layer of this kind, a share."""
    eased = 0.5 if is_rich(subject) and dose.agent.agent == "gelatine" else 1.0
    return eased * dose.agent.low


def _solids(rows: Masses) -> tuple[float, float, float] | None:
    lean = total(rows) - fat(rows)
    if not bool((lean > 0).all()):
        return None
    shares = (lean - water(rows) - amount(rows, "alcohol", "starch")) / lean
    return float(shares[0]), float(shares.min()), float(shares.max())


def _named(found: Sequence[Thing], names: Sequence[str]) -> list[Thing]:
    return [one for one in found if one.ingredient in names and one.grams]


def _dose(
    agent: str,
    parts: list[Thing],
    worth: tuple[float, float, float],
    base_g: Array,
    base: str,
) -> Dose | None:
    grams = sum(one.grams or 0.0 for one in parts)
    if not (grams > 0 and bool((base_g > 0).all())):
        return None
    told = [one.hot_C for one in parts if one.hot_C is not None]
    return Dose(
        agents()[agent], grams, worth, float(base_g[0]),
        (float(base_g.min()), float(base_g.max())), base, min(told, default=None),
        any(one.is_baked for one in parts),
    )  # fmt: skip


def _gelatine(found: Sequence[Thing], lean: Array, kind: str) -> Dose | None:
    parts = _named(found, tuple(_GELATINES))
    agent = "gelatine-foam" if kind in _FOAMS else "gelatine"
    told_for = _FOAM_BLOOM if kind in _FOAMS else REFERENCE_BLOOM
    worth = [0.0, 0.0, 0.0]
    for one in parts:
        bloom = _told(one) or grades()[_GELATINES[one.ingredient]].bloom
        for end, strength in enumerate((bloom[1], bloom[0], bloom[2])):
            both = exchange(one.grams or 0.0, strength, told_for)
            ends = (float(both.linear), float(both.square_root))
            worth[end] += (ends[0], min(ends), max(ends))[end]
    three = (worth[0], worth[1], worth[2])
    found_dose = _dose(agent, parts, three, lean, "what is not fat")
    is_open = any(
        _GELATINES[one.ingredient] in _NO_GRADE and _told(one) is None for one in parts
    )
    is_untried = any(
        bool(exchange.outside(1.0, bloom, told_for))
        for one in parts
        for bloom in _told(one) or ()
    )
    if found_dose is None:
        return None
    return replace(found_dose, strength_is_open=is_open, is_untried=is_untried)


def _told(one: Thing) -> tuple[float, float, float] | None:
    """Low, middle and high strength as its line says; None where no gelatine has it."""
    if one.bloom is None or not is_bloom(*one.bloom):
        return None
    low, high = one.bloom
    return low, (low + high) / 2, high


def _pectin(found: Sequence[Thing], lean: Array, agent: str) -> Dose | None:
    parts = [one for one in found if _PECTINS.get(one.ingredient) == agent]
    grams = sum(one.grams or 0.0 for one in parts)
    return _dose(agent, parts, (grams, grams, grams), lean, "what is not fat")


def _starch(found: Sequence[Thing], lean: Array, kind: str) -> Dose | None:
    if kind not in _STARCH_KINDS:
        return None
    parts = _named(found, tuple(_STARCHES))
    worth = sum(_STARCHES[one.ingredient] * (one.grams or 0.0) for one in parts)
    return _dose("starch", parts, (worth, worth, worth), lean, "what is not fat")


def _egg(found: Sequence[Thing], subject: Subject, kind: str) -> Dose | None:
    if kind not in _EGG_KINDS:
        return None
    parts = _named(found, _EGGS)
    grams = sum(one.grams or 0.0 for one in parts)
    mix = subject.batch.mass_in
    ends = np.array([mix.value, mix.low, mix.high])
    return _dose("egg", parts, (grams, grams, grams), ends, "the mix before cooking")


def _ph(found: Sequence[Thing]) -> tuple[float, float] | None:
    known = [
        (acids()[one.ingredient], one.grams or 0.0)
        for one in found
        if one.ingredient in acids()
    ]
    wet = sum(one.water_g for one in found)
    sour = sum(one.water_g for one in found if one.ingredient in acids())
    protein = sum(one.protein_g for one in found)
    gelatine = sum(one.protein_g for one in found if one.ingredient in _GELATINES)
    return mixed_ph(known, sour / wet if wet > 0 else 1.0, protein - gelatine)


def _is_raw(one: Thing) -> bool:
    is_named = bool(_RAW.search(one.name)) and not _NOT_RAW.search(one.name)
    is_cooked = bool(_PRESSED.search(one.name)) or one.ingredient in _COOKED
    if not is_named or (is_cooked and "fresh" not in one.name.casefold()):
        return False
    return not one.is_baked and (one.hot_C is None or one.hot_C < ENZYME_C)
