"""How a slab tastes beside one that its maker knows, in words: sweeter, richer, salter.

The numbers are shares of the mass, gram for gram; where both slabs are cut, a piece is
told too. Each word has its rule, and the range stands with it.
"""

from collections.abc import Iterator
from typing import Final

import numpy as np

from slabwright.composition import Masses, amount, fat, total
from slabwright.physics.species import parts_of
from slabwright.physics.sweetness import NOTICED, sucrose_equivalent, sweeter
from slabwright.spec.nature.taste import slab_masses
from slabwright.spec.specification import Specification

_SAME: Final = 0.02
"""Under this share of a difference they are told as the same. Our own."""
_TRACE_G: Final = 0.05
"""Grams in 100 g under which salt is none to speak of. Our own."""
_SWEET: Final = 0.02
"""Sucrose in a gram under which nothing is sweet. Our own."""
_HALF: Final = ((0.45, 0.55, "half the"), (1.9, 2.1, "twice the"))
"""Words for plain ratios, from and to. Our own."""
_RULE: Final = (
    f"A difference under {100 * NOTICED:.0f} % in sweetness is noticed by few. Acid, "
    "cold and crystals are not in it."
)


def taste_beside(spec: Specification, known: Specification) -> tuple[str, ...]:
    """How a slab tastes beside a known one, one line each; why it can't be told.

    Args:
        spec: the slab.
        known: the slab that its maker knows.
    """
    rows, why = slab_masses(spec)
    others, unknown = slab_masses(known)
    for name, reason in ((spec.name, why), (known.name, unknown)):
        if reason:
            return (f"How it tastes is not told: of {name}, {reason}.",)
    return (
        *_sweetness(rows, others, known.name),
        _fat(rows, others, _piece_g(spec), _piece_g(known)),
        _salt(rows, others),
        _RULE,
    )


def _sweetness(rows: Masses, known: Masses, name: str) -> Iterator[str]:
    beside = f"Beside {name}, gram for gram"
    one, other = parts_of(rows[0]), parts_of(known[0])
    least = min(
        float(sucrose_equivalent(each)[0] / each.sum()) for each in (one, other)
    )
    likely, low, high = sweeter(one, other).tolist()
    if least < _SWEET or not np.isfinite(likely):
        yield f"{beside}: one of both has hardly any sugar; neither is told as sweeter."
        return
    spread = f"{_signed(low)} to {_signed(high)}"
    if abs(likely) < _SAME:
        told = f" ({spread})" if high - low > _SAME else ""
        yield f"{beside}: as sweet{told}."
        return
    if likely > 1:
        ends = f"{1 + low:.1f} to {1 + high:.1f}"
        yield f"{beside}: {1 + likely:.1f} times as sweet ({ends})."
        return
    word = "sweeter" if likely > 0 else "less sweet"
    unsure = "; the tables do not agree which is sweeter" if low < 0 < high else ""
    yield f"{beside}: {100 * abs(likely):.0f} % {word} ({spread}){unsure}."


def _fat(rows: Masses, known: Masses, piece: float | None, other: float | None) -> str:
    one, two = (float(fat(each)[0] / total(each)[0]) for each in (rows, known))
    told = f"{_more(one, two, 'fat')}: {100 * one:.1f} g in 100 g for {100 * two:.1f} g"
    if piece is not None and other is not None:
        told += f"; a piece has {one * piece:.1f} g for {two * other:.1f} g"
    return f"{told}."


def _salt(rows: Masses, known: Masses) -> str:
    one, two = (
        100 * float(amount(each, "salt")[0] / total(each)[0]) for each in (rows, known)
    )
    if max(one, two) < _TRACE_G:
        return "Hardly any salt in either."
    return f"{_more(one, two, 'salt')}: {one:.2f} g in 100 g for {two:.2f} g."


def _more(one: float, two: float, what: str) -> str:
    """`Half the salt`, `12 % less fat`, `as much fat`."""
    if not two > 0:
        return f"{what.capitalize()} where there was none" if one > 0 else f"No {what}"
    ratio = one / two
    for low, high, words in _HALF:
        if low <= ratio <= high:
            return f"{words.capitalize()} {what}"
    if abs(ratio - 1) < _SAME:
        return f"As much {what}"
    if ratio > 3:
        return f"{ratio:.1f} times the {what}"
    return f"{100 * abs(ratio - 1):.0f} % {'more' if ratio > 1 else 'less'} {what}"


def _piece_g(spec: Specification) -> float | None:
    if spec.cut is None or not spec.cut.piece_mass_g.known:
        return None
    return spec.cut.piece_mass_g.number


def _signed(share: float) -> str:
    return f"{100 * share:+.0f} %".replace("-", "−")
