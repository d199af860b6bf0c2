"""Shares of what a name, a picture or a description stresses.

Regulation (EU) No 1169/2011, Article 22 and Annex VIII. A share is of what was weighed
in; where the slab loses moisture it is of the finished slab.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

from slabwright.figure import Figure, Standing, withheld
from slabwright.label.ingredients.declaration import Declaration, rule_rows
from slabwright.label.ingredients.rules import Rule
from slabwright.label.ingredients.stressed import Stressed

FLAVOURS: Final = frozenset(["flavouring", "spice", "salt", "raising"])
"""Groups of the larder that go in for their taste."""
SMALL_FLAVOUR: Final = 0.02
"""Share under which such a thing is a small quantity. The law gives no number: ours."""
_LOSS: Final = 1e-3
"""Share of what goes in that must be lost for moisture to count as lost."""


@dataclass(frozen=True, slots=True)
class Share:
    """The share of one thing that is stressed."""

    term: str
    """As it is stressed: `lemon`."""
    by: str
    """What stresses it, in words: `the name “lemon slice”`."""
    of: tuple[str, ...]
    """Names in the list, or the layer, that it is the sum of."""
    is_layer: bool
    figure: Figure
    """Share, 1 = 100 %; above 1 where moisture is lost."""
    words: str
    """As it is told: `15 %`, `124 g per 100 g`; empty if it is withheld."""
    needed: bool
    rules: tuple[Rule, ...]
    why: str
    """Why it is needed or not, in words."""


@dataclass(frozen=True, slots=True)
class Base:
    """What shares are of."""

    grams: float | None
    rule: str
    words: str
    standing: Standing = Standing.WORKED_OUT


def shares(found: Declaration, stressed: Sequence[Stressed]) -> tuple[Share, ...]:
    """The share of everything that is stressed."""
    base = base_of(found)
    out: list[Share] = []
    for one in stressed:
        if one.layer is not None:
            out.append(_of_layer(found, one))
        elif one.entries:
            out.append(_of_entries(one, base))
    return tuple(_over_a_hundred(out))


def base_of(found: Declaration) -> Base:
    """The finished slab where moisture is lost, else what was weighed in."""
    if found.bowl_g is None or not found.bowl_g > 0:
        return Base(None, "QUID-11", "a line's weight is not known", Standing.ASSUMED)
    if not found.finished.known or not found.finished.number > 0:
        return Base(None, "QUID-13", found.finished.sum, Standing.ASSUMED)
    finished = found.finished.number
    lost = found.bowl_g - finished - _left_behind(found)
    if lost > _LOSS * found.bowl_g:
        return Base(finished, "QUID-13", "finished", found.finished.standing)
    return Base(found.bowl_g, "QUID-11", "weighed in")


def percent_words(share: float) -> str:
    """A share as it is told: whole per cent, halves under 5; QUID-17, from memory.

    >>> percent_words(0.1549), percent_words(0.0328), percent_words(0.0012)
    ('15 %', '3.5 %', '0.1 %')
    """
    percent = share * 100
    if percent >= 4.75:
        return f"{percent:.0f} %"
    half = round(percent * 2) / 2
    if half > 0:
        return f"{half:g} %"
    return f"{percent:.1f} %" if percent >= 0.05 else "under 0.1 %"


def per_100_g_words(share: float) -> str:
    """A share of over 100 % as grams for 100 g of the finished food; QUID-14."""
    grams = share * 100
    return f"{grams:.0f} g per 100 g" if grams >= 4.75 else f"{grams:.1f} g per 100 g"


def _left_behind(found: Declaration) -> float:
    """Mix that stays on bowls and pans [g]: no moisture is lost by it."""
    return sum(
        happening.lost_g * (one.batches or 0.0)
        for one in found.poured
        for happening in one.batch.happenings
        if happening.of == "mix"
    )


def _of_entries(one: Stressed, base: Base) -> Share:
    names = tuple(entry.named.text for entry in one.entries)
    weights = [entry.weight for entry in one.entries]
    known = [weight.g for weight in weights if weight is not None]
    parts = " + ".join(f"{grams:.5g}" for grams in known)
    total = sum(known)
    if len(known) < len(weights):
        figure = withheld("share", f"the weight of some {one.term} is not known")
    elif base.grams is None:
        figure = withheld("share", base.words)
    else:
        value = total / base.grams
        said = f"{parts} ÷ {base.grams:.5g} g {base.words} = {value:.1%}"
        figure = Figure(value, "share", said, base.standing)
    ids = ["QUID-02" if one.is_pictured else "QUID-01", base.rule]
    if any(line.gone_g for entry in one.entries for line in entry.lines):
        ids.append("QUID-15")
    exempt, why = _exempt(one, figure)
    if exempt:
        ids.append(exempt)
    return _share(one, names, figure, ids, why, needed=not exempt)


def _exempt(one: Stressed, figure: Figure) -> tuple[str, str]:
    """The rule that lifts the need, and why; empty if none does."""
    if one.entries and all(
        entry.named.text.startswith("sweetener") for entry in one.entries
    ):
        return "QUID-09", "a statement of sweeteners needs no share"
    is_flavour = all(
        line.ingredient is not None and _is_flavour(line.ingredient.group, line.name)
        for entry in one.entries
        for line in entry.lines
    )
    if is_flavour and figure.known and figure.number < SMALL_FLAVOUR:
        why = f"a small quantity for flavour: under {SMALL_FLAVOUR:.0%}, by our reading"
        return "QUID-06", why
    return "", f"{one.by} stresses it"


def _is_flavour(group: str, name: str) -> bool:
    return group in FLAVOURS or "zest" in name


def _of_layer(found: Declaration, one: Stressed) -> Share:
    layer = found.poured[one.layer or 0]
    finished = found.finished
    if layer.out is None or not finished.known or not finished.number > 0:
        figure = withheld("share", f"what {layer.name} or the slab weighs is not known")
    else:
        value = layer.out[0] / finished.number
        said = (
            f"{layer.out[0]:.5g} g of {layer.name} ÷ {finished.number:.5g} g finished "
            f"= {value:.1%}"
        )
        figure = Figure(value, "share", said, finished.standing)
    ids = ["QUID-02" if one.is_pictured else "QUID-01", "QUID-19", "QUID-11"]
    why = f"{one.by} stresses it"
    return _share(one, (layer.name,), figure, ids, why, needed=True)


def _share(
    one: Stressed,
    of: tuple[str, ...],
    figure: Figure,
    ids: Sequence[str],
    why: str,
    *,
    needed: bool,
) -> Share:
    words = percent_words(figure.number) if figure.known else ""
    rows = rule_rows([*ids, "QUID-12", "QUID-17"])
    return Share(
        one.term, one.by, of, one.layer is not None, figure, words, needed, rows, why
    )


def _over_a_hundred(found: Sequence[Share]) -> Iterator[Share]:
    """Grams for 100 g in place of shares that come to more than all."""
    by_names = {
        one.of: one.figure.number
        for one in found
        if not one.is_layer and one.needed and one.figure.known
    }
    is_over = sum(by_names.values()) > 1
    for one in found:
        if one.is_layer or not one.figure.known:
            yield one
        elif one.figure.number > 1 or (is_over and one.needed):
            yield replace(
                one,
                words=per_100_g_words(one.figure.number),
                rules=(*one.rules, *rule_rows(["QUID-14"])),
            )
        else:
            yield one


def beside(found: Declaration, told: Sequence[Share]) -> dict[str, str]:
    """Shares that stand beside a name in the list; the others stand by the food's name.

    A share of one name in the list stands there; QUID-12.
    """
    names = {one.named.text for one in (*found.entries, *found.bought)}
    return {
        one.of[0]: one.words
        for one in told
        if one.needed and one.words and len(one.of) == 1 and one.of[0] in names
    }
