"""A scaled slab as text: how it stands in each tin, and what to weigh."""

import textwrap
from collections.abc import Iterator
from typing import Final

from slabwright.finding import Finding
from slabwright.publish import words
from slabwright.publish.terminal import Manner, watch_text
from slabwright.spec.scaling import InTin, Scaled
from slabwright.spec.specification import CutFigures

_AS_IT_STANDS: Final = frozenset({"over_rim", "too_thin", "one_layer_leads"})
"""Findings that a slab's tin decides, and not what is weighed."""
_FOR_FRIENDLY: Final = frozenset({"not_whole", "below_scale"})
"""Findings that friendly amounts answer."""


def scaling_text(scaled: Scaled, manner: Manner) -> str:
    """Multiplier, how it stands in every kind of tin, what to watch."""
    places = [line for place in scaled.tins for line in _place(scaled, place, manner)]
    parts = [*_head(scaled, manner), *places, *_no_tin(scaled, manner)]
    return "\n".join(line.rstrip() for line in parts) + "\n"


def scaling_watch(scaled: Scaled, manner: Manner) -> str:
    """What to watch in a scaled slab, as text; empty if there is nothing."""
    lines = list(watch_text(findings_of(scaled), manner))
    return "\n".join(line.rstrip() for line in lines) + "\n" if lines else ""


def findings_of(scaled: Scaled) -> tuple[Finding, ...]:
    """What scaling brought up, what stops first: the card's own notes are left out."""
    known = {(one.code, one.where) for one in scaled.of.findings}
    standing = [one for place in scaled.tins for one in place.spec.findings]
    every = [
        *(one for one in standing if one.code in _AS_IT_STANDS),
        *(one for one in scaled.making.findings if one.code not in _AS_IT_STANDS),
    ]
    new = [
        one
        for one in every
        if one.code == "over_rim"
        or ((one.code, one.where) not in known and one.code not in _FOR_FRIENDLY)
    ]
    once = dict.fromkeys((*scaled.findings, *new))
    order = {"stop": 0, "look": 1, "note": 2}
    return tuple(sorted(once, key=lambda finding: order[finding.severity.value]))


def _head(scaled: Scaled, manner: Manner) -> Iterator[str]:
    name, by = scaled.of.name, f"× {scaled.multiplier.number:.4g}"
    yield manner.bold(name) + f"{by:>{max(2, manner.columns - len(name))}}"
    yield from textwrap.wrap(scaled.multiplier.sum, manner.columns)


def _place(scaled: Scaled, place: InTin, manner: Manner) -> Iterator[str]:
    spec, said = place.spec, place.named.tin.describe()
    yield ""
    facts = [said if _same(said, place.named.words) else f"{place.named.words}: {said}"]
    if spec.mass_g.known:
        facts.append(f"{words.grams(spec.mass_g.number)} g")
    if spec.height_mm.known:
        facts.append(f"{words.mm(spec.height_mm.number)} mm tall")
    if spec.head_room_mm.known:
        facts.append(f"head room {words.mm(spec.head_room_mm.number)} mm")
    yield from textwrap.wrap("   ".join(facts), manner.columns)
    if spec.cut is not None:
        yield from textwrap.wrap(_cut(spec.cut), manner.columns)
    yield from _layers(scaled, place, manner)


def _same(said: str, words_: str) -> bool:
    return said.replace("×", "x").split() == words_.replace("×", "x").split()


def _cut(cut: CutFigures) -> str:
    made = cut.cutting
    pieces = words.counted(int(cut.pieces.number), "piece")
    text = f"cut in {pieces}"
    if made.piece_length_mm is not None and made.piece_width_mm is not None:
        length, width = made.piece_length_mm, made.piece_width_mm
        text += f" of {words.length(length)} × {words.length(width)} mm"
    if cut.piece_mass_g.known:
        text += f", {words.grams(cut.piece_mass_g.number)} g each"
    if cut.trim_g.known and cut.trim_g.number > 0:
        text += f"; trim {words.grams(cut.trim_g.number)} g"
    return text


def _layers(scaled: Scaled, place: InTin, manner: Manner) -> Iterator[str]:
    width = max(24, manner.columns - 46)
    yield f"  {'':<{width}}{'×':>8}{'mm, card':>10}{'mm':>7}{'g in':>9}{'g out':>9}"
    rows = zip(scaled.of.layers, place.spec.layers, place.factors, strict=True)
    for was, now, factor in reversed(list(rows)):
        name = textwrap.shorten(now.name, width - 1, placeholder="…")
        before, after = (
            words.mm(layer.depth_mm.number) if layer.depth_mm.known else "-"
            for layer in (was, now)
        )
        out = words.grams(now.mass_out_g.number) if now.mass_out_g.known else "-"
        into = words.grams(now.mass_in_g.number)
        yield (
            f"  {name:<{width}}{factor:>8.4g}{before:>10}{after:>7}{into:>9}{out:>9}"
        )


def _no_tin(scaled: Scaled, manner: Manner) -> Iterator[str]:
    if not scaled.tins:
        text = "The card names no tin, so how deep it stands is not known."
        yield from ("", *textwrap.wrap(text, manner.columns))
