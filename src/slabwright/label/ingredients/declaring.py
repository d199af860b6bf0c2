"""Making the list of ingredients: merging, water, what is left out, the order."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from slabwright.figure import Figure
from slabwright.formula.step import Step
from slabwright.label.allergen.allergens import SlabAllergens
from slabwright.label.allergen.annex import SULPHITES
from slabwright.label.allergen.part_words import told
from slabwright.label.ingredients.bowl import (
    NOTHING,
    InBowl,
    Poured,
    Weight,
    grams_by_layer,
    in_bowls,
)
from slabwright.label.ingredients.declaration import (
    FREE_ORDER_UNDER,
    Declaration,
    Entry,
    LeftOut,
    Open,
    highest,
    in_order,
    rule_rows,
    share_of,
)
from slabwright.label.ingredients.name import Named, named
from slabwright.label.ingredients.opening import SMALL, Opener
from slabwright.label.ingredients.rules import rules
from slabwright.larder.ingredient import ALLERGENS

WATER_UNDER: Final = 0.05
"""Share of the finished slab up to which added water may be left out; ING-03."""
SUCROSE: Final = frozenset(
    ["sugar", "brown sugar", "demerara sugar", "muscovado sugar"]
)
"""What may all be called `sugar`; GEN-05."""
_FOR_THE_TIN: Final = frozenset(
    "greasing grease lining line tin tins pan rolling worktop flouring oiling "
    "buttering serve serving".split()
)
"""Words by which a line without a weight is for tin or table, not for the slab."""


@dataclass(frozen=True, slots=True)
class Asked:
    """How a list is asked for."""

    by_layer: bool = False
    sugars_together: bool = False
    """Whether all sucrose is called `sugar`."""


@dataclass(frozen=True, slots=True)
class _Water:
    """Added water by layer, and whether it may be left out."""

    whole: Weight | None
    by_layer: dict[int, Weight | None]
    is_left_out: bool
    sum: str


def declaration(
    name: str,
    poured: Sequence[Poured],
    opener: Opener,
    finished: Figure,
    allergens: SlabAllergens,
    asked: Asked,
    doubted: Sequence[Step] = (),
) -> Declaration:
    """The list of ingredients of a slab.

    Args:
        name: the slab.
        poured: its layers, bottom first.
        opener: names and opens what the kitchen buys.
        finished: what the finished slab weighs [g].
        allergens: what is known of its allergens.
        asked: how it is asked for.
        doubted: steps that look like lines that could not be read.
    """
    lines = in_bowls(poured)
    kept, left_out = _without_aids(lines, opener)
    water = _water(kept, poured, finished)
    if water is not None and water.is_left_out:
        left_out += _water_left_out(kept, water)
        kept = [one for one in kept if not one.is_water]
    maker = _Maker(opener, finished, allergens, asked, water)
    if asked.by_layer:
        entries = _layers(poured, kept, maker)
    else:
        entries = in_order(maker.entries(kept, None))
    weights = [one.weight for one in lines if not one.is_aside]
    known = [one.g for one in weights if one is not None]
    return Declaration(
        name,
        asked.by_layer,
        entries,
        tuple(left_out),
        tuple(dict.fromkeys((*_open(entries), *map(_doubted, doubted)))),
        tuple(poured),
        lines,
        finished,
        sum(known) if len(known) == len(weights) else None,
        allergens,
    )


# --- what is left out --------------------


def _without_aids(
    lines: Iterable[InBowl], opener: Opener
) -> tuple[list[InBowl], list[LeftOut]]:
    """Lines without those that only touch it and bring nothing of the 14."""
    kept: list[InBowl] = []
    out: list[LeftOut] = []
    for one in lines:
        is_aid = one.is_aside and not _FOR_THE_TIN.isdisjoint(
            one.why_not.casefold().split()
        )
        if is_aid and one.ingredient is not None and not _in_it(one, opener):
            why = f"{one.why_not}: nothing of it is meant to be in the slab"
            out.append(LeftOut(one.name, why, rules()["ING-23"], one.span))
        else:
            kept.append(one)
    return kept, out


def _in_it(one: InBowl, opener: Opener) -> frozenset[str]:
    if one.ingredient is None:
        said = [word for word in told(one.name).words if word.how == "contains"]
        return frozenset(a for word in said for a in word.allergens)
    return opener.contents.of(one.ingredient).in_it


def _water(
    lines: Sequence[InBowl], poured: Sequence[Poured], finished: Figure
) -> _Water | None:
    """What is left of added water; None if no water is added."""
    if not any(one.is_water and not one.is_aside for one in lines):
        return None
    by_layer = {
        number: _left(one.out, [line for line in lines if line.layer == number])
        for number, one in enumerate(poured)
    }
    out = None
    if finished.known:
        g = finished.number
        out = (
            g,
            g if finished.low is None else finished.low,
            g if finished.high is None else finished.high,
        )
    whole = _left(out, lines)
    if whole is None or out is None:
        return _Water(None, by_layer, False, finished.sum)
    others = _others(lines) or NOTHING
    said = (
        f"water: {out[0]:.5g} g finished - {others.g:.5g} g of all else "
        f"= {out[0] - others.g:.5g} g"
    )
    if whole.g <= 0 < others.g - out[0]:
        said += ", so none of it counts"
    is_left_out = whole.high_g <= WATER_UNDER * max(out[2], out[0])
    return _Water(whole, by_layer, is_left_out, said)


def _left(
    out: tuple[float, float, float] | None, lines: Sequence[InBowl]
) -> Weight | None:
    """Water that is left of what is added: what comes out less all else."""
    others = _others(lines)
    if out is None or others is None:
        return None
    value, low, high = out
    return Weight(
        max(value - others.g, 0.0),
        max(low - others.high_g, 0.0),
        max(high - others.low_g, 0.0),
    )


def _others(lines: Sequence[InBowl]) -> Weight | None:
    total = NOTHING
    for one in lines:
        if one.is_water or one.is_aside:
            continue
        if one.counted is None:
            return None
        total += one.counted
    return total


def _water_left_out(lines: Iterable[InBowl], water: _Water) -> list[LeftOut]:
    first = next(one for one in lines if one.is_water)
    why = f"{water.sum}, at most {WATER_UNDER:.0%} of the finished slab"
    return [LeftOut("water", why, rules()["ING-03"], first.span)]


# --- entries --------------------


class _Maker:
    """Makes entries of lines: one for all that is called alike."""

    def __init__(
        self,
        opener: Opener,
        finished: Figure,
        allergens: SlabAllergens,
        asked: Asked,
        water: _Water | None,
    ) -> None:
        self._opener = opener
        self._finished = finished
        self._allergens = allergens
        self._asked = asked
        self._water = water

    def entries(self, lines: Iterable[InBowl], layer: int | None) -> list[Entry]:
        """One entry for each name, in the order in which the card brings them."""
        groups: dict[tuple[object, ...], list[InBowl]] = {}
        for one in lines:
            groups.setdefault(self._key(one), []).append(one)
        return [self._entry(tuple(group), layer) for group in groups.values()]

    def share(self, weight: Weight | None) -> Figure:
        """Share of the finished slab."""
        return share_of(weight, self._finished)

    def _key(self, one: InBowl) -> tuple[object, ...]:
        if one.ingredient is None:
            return ("unknown", one.name.casefold())
        said = self._opener.declared(one.ingredient)
        name = self._called(said.name)
        return (name.casefold(), said.kind == "own", said.parts, said.is_said, said.ask)

    def _called(self, name: str) -> str:
        if self._asked.sugars_together and name in SUCROSE:
            return "sugar"
        return name

    def _entry(self, group: tuple[InBowl, ...], layer: int | None) -> Entry:
        if group[0].is_water and self._water is not None:
            return self._water_entry(group, layer, self._water)
        weight, asks = _weight(group)
        share = share_of(weight, self._finished)
        most = highest(share)
        is_small = most is not None and most < SMALL and weight is not None
        must = sorted(
            {a for one in group for a in self._must_show(one)}, key=ALLERGENS.index
        )
        first = group[0].ingredient
        if first is None:
            what = (
                "what it is, and what it is called by law; the larder doesn't know it"
            )
            asks.append(what)
            shown, ids = named(group[0].name, must), ["ING-02"]
        else:
            found = self._opener.opened(first, must, is_small=is_small)
            shown, ids = self._renamed(found.named, must), list(found.rules)
            asks += found.asks
            if shown.text != found.named.text:
                ids.insert(0, "GEN-05")
        if any(one.gone_g for one in group):
            ids.insert(0, "ING-03")
        is_free = most is not None and most < FREE_ORDER_UNDER
        ids.insert(0, "ING-08" if is_free else "ING-01")
        if len({one.layer for one in group}) > 1:
            ids.append("ING-27")
        return Entry(
            shown, weight, share, grams_by_layer(group, weight), rule_rows(ids), group,
            tuple(dict.fromkeys(asks)),
        )  # fmt: skip

    def _renamed(self, shown: Named, must: Sequence[str]) -> Named:
        name = self._called(shown.text)
        return shown if name == shown.text else named(name, must)

    def _must_show(self, one: InBowl) -> frozenset[str]:
        """What its name must show; sulphites by the sum where there is a figure."""
        found = _in_it(one, self._opener)
        known = one.ingredient
        if known is None or known.so2_mg_kg is None:
            return found
        if SULPHITES in self._allergens.in_it and known.so2_mg_kg > 0:
            return found | {SULPHITES}
        return found - {SULPHITES}

    def _water_entry(
        self, group: tuple[InBowl, ...], layer: int | None, water: _Water
    ) -> Entry:
        weight = water.whole if layer is None else water.by_layer.get(layer)
        said = water.sum
        if layer is not None and weight is not None:
            said = f"water: what the layer weighs less all else = {weight.g:.5g} g"
        asks = () if weight is not None else ("how much of its water is left",)
        share = share_of(weight, self._finished)
        return Entry(
            named("water", ()), weight, share, said, rule_rows(["ING-03"]), group, asks
        )


def _weight(group: Sequence[InBowl]) -> tuple[Weight | None, list[str]]:
    """What a group weighs; what of it isn't known is asked for."""
    asks: list[str] = []
    total: Weight | None = None
    for one in group:
        if one.counted is not None:
            total = one.counted if total is None else total + one.counted
        elif not one.is_aside:
            asks.append(f"how much of it goes in: {one.why_not.rstrip('.')}")
        elif _FOR_THE_TIN.isdisjoint(one.why_not.casefold().split()):
            asks.append(f"how much of it goes in, since it is {one.why_not}")
    return total, asks


# --- by layer --------------------


def _layers(
    poured: Sequence[Poured], lines: Sequence[InBowl], maker: _Maker
) -> tuple[Entry, ...]:
    """Each layer as a compound of its own, its ingredients in their own order."""
    is_weighed = all(one.out is not None for one in poured)
    found: list[Entry] = []
    for number, one in enumerate(poured):
        own = [line for line in lines if line.layer == number]
        if not own:
            continue
        inside = in_order(
            [part for part in maker.entries(own, number) if not _is_gone(part)]
        )
        weight, said = _layer_weight(one, inside, is_weighed=is_weighed)
        shown = named(one.name, (), [part.named for part in inside])
        found.append(
            Entry(
                shown, weight, maker.share(weight), said,
                rule_rows(["ING-01", "ING-15", "ING-27"]), tuple(own),
                inside=inside, layer=number,
            )
        )  # fmt: skip
    return in_order(found)


def _is_gone(one: Entry) -> bool:
    """Whether it is added water of which nothing is left in its layer."""
    is_water = any(line.is_water for line in one.lines)
    return is_water and one.weight is not None and not one.weight.g > 0


def _layer_weight(
    one: Poured, inside: Sequence[Entry], *, is_weighed: bool
) -> tuple[Weight | None, str]:
    if is_weighed and one.out is not None:
        return Weight(*one.out), f"{one.name}: {one.out[0]:.5g} g as it is laid"
    weights = [part.weight for part in inside if part.weight is not None]
    total = sum(weights, NOTHING)
    return total, f"{one.name}: {total.g:.5g} g as it is weighed in"


def _open(entries: Iterable[Entry]) -> Iterator[Open]:
    for one in entries:
        yield from _open(one.inside)
        for ask in one.asks:
            yield Open(one.named.text, ask, _do(one, ask), one.span)


def _doubted(step: Step) -> Open:
    what = "whether it is an ingredient: it reads as a step"
    do = "Write it as a line of so much of something, or in other words."
    return Open(step.text, what, do, step.span)


def _do(one: Entry, ask: str) -> str:
    if ask.startswith("how much"):
        return "Weigh it and write its grams on the card."
    if "called by law" in ask:
        return (
            "Read the pack; give it declared_as: and, if it has a list, made_of: in "
            "larder.yaml."
        )
    return "Read the pack; give it made_of: in larder.yaml, its list word for word."
