"""What to watch, told once: one finding that holds for many layers stands on one line.

Programs get every finding by its layer; people get the same words once, with the layers
that they hold for, and one number on the list and in the drawing.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from slabwright.finding import Finding

_BY_NAME: Final = 2
"""So many layers are called by their names, more by their numbers."""
_A_LAYER: Final = "\0"


@dataclass(frozen=True, slots=True)
class Told:
    """One finding, and wherever else the same is found."""

    number: int
    """On the list, from 1."""
    finding: Finding
    """The first of them."""
    where: str
    """All the places, in words."""
    every: tuple[Finding, ...]


def told(findings: Sequence[Finding], layers: Sequence[str]) -> tuple[Told, ...]:
    """Each finding once, in the order in which they stand.

    Args:
        findings: of a slab.
        layers: names of its layers, bottom first.

    >>> from slabwright.finding import Severity
    >>> thin = [Finding("too_thin", Severity.LOOK, name, "Thin.", "It tears.", "Mend.")
    ...         for name in ("A", "B", "D")]
    >>> [one.where for one in told(thin, ("A", "B", "C", "D"))]
    ['Layers 1, 2, 4 from the bottom']
    """
    groups: dict[tuple[object, ...], list[Finding]] = {}
    for one in findings:
        groups.setdefault(_key(one, layers), []).append(one)
    return tuple(
        Told(number, every[0], _where(every, layers), tuple(every))
        for number, every in enumerate(groups.values(), start=1)
    )


def _key(one: Finding, layers: Sequence[str]) -> tuple[object, ...]:
    """What is alike where only the layer differs."""
    layer, rest = _split(one, layers)
    if layer is None:
        return (one,)
    # whole words: a layer may be called I
    name = re.compile(rf"(?<!\w){re.escape(layers[layer])}(?!\w)")
    texts = (name.sub(_A_LAYER, text) for text in (one.what, one.why, one.do))
    return one.code, one.severity, rest, *texts, one.source


def _split(one: Finding, layers: Sequence[str]) -> tuple[int | None, str]:
    """The layer that a finding is about, and what follows its name."""
    at = one.layer
    if at is None:
        named = [
            n for n, name in enumerate(layers)
            if one.where == name or one.where.startswith(f"{name}: ")
        ]  # fmt: skip
        at = max(named, key=lambda n: len(layers[n]), default=None)
    if at is None or at >= len(layers) or not one.where.startswith(layers[at]):
        return None, one.where
    return at, one.where.removeprefix(layers[at])


def _where(every: Sequence[Finding], layers: Sequence[str]) -> str:
    found = [_split(one, layers) for one in every]
    at = sorted({layer for layer, _ in found if layer is not None})
    if len(at) < _BY_NAME:
        return every[0].where
    rest = found[0][1]
    if len(at) == _BY_NAME:
        return " and ".join(layers[n] for n in at) + rest
    return f"Layers {', '.join(_runs(at))} from the bottom{rest}"


def _runs(at: Sequence[int]) -> Iterator[str]:
    """Numbers from 1, three or more on end as one: 3, 5 to 9."""
    begin = 0
    for end in range(1, len(at) + 1):
        if end < len(at) and at[end] == at[end - 1] + 1:
            continue
        if end - begin > _BY_NAME:
            yield f"{at[begin] + 1} to {at[end - 1] + 1}"
        else:
            yield from (f"{n + 1}" for n in at[begin:end])
        begin = end
