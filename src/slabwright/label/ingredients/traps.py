"""What may change places in a list of ingredients, and thresholds that are near."""

from collections.abc import Callable, Iterator, Sequence
from datetime import date
from itertools import pairwise
from typing import Final

from slabwright.figure import Figure
from slabwright.finding import Finding, Severity
from slabwright.label.ingredients.bowl import Weight
from slabwright.label.ingredients.declaration import (
    FREE_ORDER_UNDER,
    Declaration,
    Entry,
    highest,
)
from slabwright.label.ingredients.declared import Nation, declared
from slabwright.label.ingredients.declaring import SUCROSE, WATER_UNDER
from slabwright.label.ingredients.opening import SMALL
from slabwright.label.ingredients.rules import rules

CLOSE: Final = 0.02
"""Two weights this near to each other may change places. Our own choice."""
NEAR: Final = 0.2
"""A share this near to a threshold, as a part of it, is told. Our own choice."""
_ANYWHERE: Final = Nation("EU", date.max)

Step = Callable[[float], float]
"""Step of the scale that weighs so many grams [g]."""


def trap_findings(found: Declaration, step_g: Step) -> Iterator[Finding]:
    """Everything in this list that a small change would alter.

    Args:
        found: the list.
        step_g: what the kitchen's scale can tell apart at so many grams [g].
    """
    yield from _close(found, found.entries, "the list", step_g)
    for one in found.entries:
        if one.inside:
            yield from _close(found, one.inside, one.named.text, step_g)
    yield from _sugars(found)
    yield from _near(found)


def _close(
    found: Declaration, entries: Sequence[Entry], where: str, step_g: Step
) -> Iterator[Finding]:
    """Neighbours that weighing, rounding or eggs may make change places."""
    chain: list[Entry] = []
    for one in (*entries, None):
        if chain and one is not None and _is_close(chain[-1], one, step_g):
            chain.append(one)
            continue
        if len(chain) > 1:
            yield _changes(found, chain, where, step_g)
        chain = [] if one is None or _is_free(one) or one.weight is None else [one]


def _is_close(first: Entry, second: Entry, step_g: Step) -> bool:
    a, b = first.weight, second.weight
    if a is None or b is None or _is_free(first) or not b.g > 0:
        return False
    return a.g - b.g <= CLOSE * a.g or _overlap(first, second, step_g)


def _overlap(first: Entry, second: Entry, step_g: Step) -> bool:
    a, b = first.weight, second.weight
    return (
        a is not None
        and b is not None
        and a.low_g - _slack(first, a, step_g) < b.high_g + _slack(second, b, step_g)
    )


def _slack(one: Entry, weight: Weight, step_g: Step) -> float:
    """What the scale may be out by: half a step each time that it is weighed [g]."""
    times = len([line for line in one.lines if line.weight is not None])
    return times * step_g(weight.g) / 2


def _changes(
    found: Declaration, chain: Sequence[Entry], where: str, step_g: Step
) -> Finding:
    names = [f"{one.named.text} ({_g(one.weight)})" for one in chain]
    said = f"{', '.join(names[:-1])} and {names[-1]}"
    overlaps = any(_overlap(a, b, step_g) for a, b in pairwise(chain))
    if overlaps:
        why = "their likely weights overlap: eggs, packs or the scale's own step"
    else:
        why = f"each is within {CLOSE:.0%} of the one before it"
    rule = rules()["ING-01"]
    return Finding(
        "order_close", Severity.LOOK if overlaps else Severity.NOTE,
        f"{found.slab}: {where}",
        f"{said} may change places.",
        f"{why[:1].upper()}{why[1:]}. Heavier stands first.",
        "Weigh them as the label is made, and look at the list again after scaling.",
        source=rule.law, span=chain[0].span,
    )  # fmt: skip


def _g(weight: Weight | None) -> str:
    return "weight not known" if weight is None else f"{weight.g:.4g} g"


def _is_free(one: Entry) -> bool:
    most = highest(one.share)
    return most is not None and most < FREE_ORDER_UNDER


def _is_water(one: Entry) -> bool:
    return any(line.is_water for line in one.lines)


# --- sugars by one name or by several --------------------


def _sugars(found: Declaration) -> Iterator[Finding]:
    for where, entries in _lists(found):
        apart = _apart(entries)
        if len(apart) < 2:
            continue
        together = sum(apart.values())
        others = [
            one.weight.g
            for one in entries
            if one.weight is not None and not _is_sugar(one)
        ]
        place = 1 + sum(grams > together for grams in others)
        rows = [
            f"{name} {grams:.4g} g, place {1 + _above(name, grams, apart, others)}"
            for name, grams in apart.items()
        ]
        rule = rules()["GEN-05"]
        yield Finding(
            "sugars_together", Severity.NOTE, f"{found.slab}: {where}",
            f"By one name, sugar comes to {together:.4g} g and stands in place "
            f"{place}; apart: {'; '.join(rows)}.",
            "All kinds of sucrose may be called sugar; either is lawful, and the place "
            "changes.",
            "Choose one way and keep to it: --sugars-together.", source=rule.law,
        )  # fmt: skip


def _above(
    name: str, grams: float, apart: dict[str, float], others: Sequence[float]
) -> int:
    mine = [g for other, g in apart.items() if other != name]
    return sum(g > grams for g in (*others, *mine))


def _apart(entries: Sequence[Entry]) -> dict[str, float]:
    """Grams of each sugar, by the name that it has apart."""
    by: dict[str, float] = {}
    for one in entries:
        if not _is_sugar(one):
            continue
        for line in one.lines:
            if line.ingredient is not None and line.counted is not None:
                name = declared(line.ingredient, _ANYWHERE).name
                by[name] = by.get(name, 0.0) + line.counted.g
    return dict(sorted(by.items(), key=lambda pair: -pair[1]))


def _is_sugar(one: Entry) -> bool:
    return one.named.text in SUCROSE and not one.named.inside


def _lists(found: Declaration) -> Iterator[tuple[str, Sequence[Entry]]]:
    if not found.by_layer:
        yield "the list", found.entries
    for one in found.entries:
        if one.inside:
            yield one.named.text, one.inside


# --- thresholds --------------------


def _near(found: Declaration) -> Iterator[Finding]:
    if not found.finished.known:
        return
    for one in found.bought:
        known = one.lines[0].ingredient
        if _is_water(one) and _is_near(one.share, WATER_UNDER):
            yield _threshold(found, one, WATER_UNDER, "ING-03", "water may be left out")
        elif known is not None and _is_near(one.share, SMALL):
            kind = declared(known, _ANYWHERE).kind
            if kind in {"law", "spices"}:
                rule = "ING-16" if kind == "law" else "ING-17"
                yield _threshold(found, one, SMALL, rule, "its list may be left out")


def _is_near(share: Figure, threshold: float) -> bool:
    if not share.known:
        return False
    low = share.number if share.low is None else share.low
    high = share.number if share.high is None else share.high
    return low <= threshold * (1 + NEAR) and high >= threshold * (1 - NEAR)


def _threshold(
    found: Declaration, one: Entry, threshold: float, rule: str, then: str
) -> Finding:
    return Finding(
        "threshold_near", Severity.NOTE, f"{found.slab}: {one.named.text}",
        f"{one.named.text} is {one.share.number:.1%} of the finished slab, near "
        f"{threshold:.0%}.",
        f"Up to there {then}; a little more or less of it changes the list.",
        "Leave it in if in doubt: that is always allowed.",
        source=rules()[rule].law, span=one.span,
    )  # fmt: skip
