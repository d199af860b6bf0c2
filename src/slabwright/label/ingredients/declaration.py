"""The list of ingredients of a slab: what stands where in it, and by which rule.

Regulation (EU) No 1169/2011, Article 18 and Annex VII; Great Britain keeps its text.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

from slabwright.errors import Span
from slabwright.figure import Figure, Standing
from slabwright.label.allergen.allergens import SlabAllergens
from slabwright.label.ingredients.bowl import InBowl, Poured, Weight
from slabwright.label.ingredients.name import Named, capitals, joined
from slabwright.label.ingredients.rules import Rule, rules
from slabwright.label.paper.face import Run, Runs

HEADING: Final = "Ingredients"
FREE_ORDER_UNDER: Final = 0.02
"""Share of the finished food under which the order is free; ING-08."""


@dataclass(frozen=True, slots=True)
class Entry:
    """One name in the list, where it stands, and why."""

    named: Named
    weight: Weight | None
    """Grams that decide its place; None if that is not known."""
    share: Figure
    """Of the finished slab."""
    sum: str
    """How the grams add up, layer by layer."""
    rules: tuple[Rule, ...]
    """What put it there and shaped it, the first rule first."""
    lines: tuple[InBowl, ...]
    asks: tuple[str, ...] = ()
    """What must be asked before it may be printed."""
    inside: tuple["Entry", ...] = ()
    """What a layer is made of, where layers are told apart."""
    layer: int | None = None

    @property
    def larder_ids(self) -> tuple[str, ...]:
        """The bought things that it is made of."""
        known = (one.ingredient for one in self.lines)
        return tuple(dict.fromkeys(one.id for one in known if one is not None))

    @property
    def span(self) -> Span | None:
        """The first line of the card that it comes from."""
        return self.lines[0].span if self.lines else None


@dataclass(frozen=True, slots=True)
class LeftOut:
    """What goes in and stands in no list, and the rule that lets it out."""

    name: str
    why: str
    rule: Rule
    span: Span | None = None


@dataclass(frozen=True, slots=True)
class Open:
    """What must be asked before the list may be printed."""

    about: str
    what: str
    do: str
    span: Span | None = None


@dataclass(frozen=True, slots=True)
class Declaration:
    """The list of ingredients of one slab."""

    slab: str
    by_layer: bool
    entries: tuple[Entry, ...]
    left_out: tuple[LeftOut, ...]
    open: tuple[Open, ...]
    poured: tuple[Poured, ...]
    lines: tuple[InBowl, ...]
    finished: Figure
    """What the finished slab weighs [g]."""
    bowl_g: float | None
    """What was weighed in for it [g]; None if a line isn't known."""
    allergens: SlabAllergens

    @property
    def runs(self) -> Runs:
        """The list with its heading, what stands out marked."""
        return joined(self._runs())

    @property
    def plain(self) -> str:
        """The list as text alone."""
        return "".join(run.text for run in self.runs)

    @property
    def marked(self) -> str:
        """The list with what stands out in capitals."""
        return capitals(self.runs)

    @property
    def held(self) -> str:
        """Why it is a draft, in words; empty if nothing is open."""
        said = []
        asked = len(self.allergens.questions)
        if asked:
            said.append(
                f"{asked} question{'' if asked == 1 else 's'} of allergens open"
            )
        if self.open:
            many = "" if len(self.open) == 1 else "s"
            said.append(f"{len(self.open)} question{many} of the list open")
        if not self.entries:
            said.append("nothing is in it")
        return "; ".join(said)

    @property
    def is_held(self) -> bool:
        """Whether it must wait for an answer."""
        return bool(self.held)

    @property
    def bought(self) -> tuple[Entry, ...]:
        """Entries of bought things, those inside layers too, in their order."""
        return tuple(
            one for top in self.entries for one in ((top, *top.inside))
            if one.layer is None
        )  # fmt: skip

    def with_shares(self, shares: dict[str, str]) -> "Declaration":
        """The same with shares beside the names that they are of."""
        return replace(
            self, entries=tuple(_with_share(one, shares) for one in self.entries)
        )

    def _runs(self) -> Iterator[Run]:
        if not self.entries:
            return
        yield Run(f"{HEADING}: ")
        for number, one in enumerate(self.entries):
            yield Run(", " if number else "")
            yield from one.named.stretches()
        yield Run(".")


def _with_share(one: Entry, shares: dict[str, str]) -> Entry:
    named = one.named.with_share(shares.get(one.named.text, one.named.share))
    inside = tuple(_with_share(part, shares) for part in one.inside)
    if inside:
        named = replace(named, inside=tuple(part.named for part in inside))
    return replace(one, named=named, inside=inside)


def in_order(entries: Sequence[Entry]) -> tuple[Entry, ...]:
    """Heaviest first; ties by name; those whose weight isn't known last."""
    whole = sum(one.weight.g for one in entries if one.weight is not None)

    def place(one: Entry) -> tuple[bool, float, str]:
        if one.weight is None or not one.weight.g > 0:
            return (True, 0.0, one.named.text.casefold())
        share = round(one.weight.g / whole, 9)  # so that scaling keeps a tie a tie
        return (False, -share, one.named.text.casefold())

    return tuple(sorted(entries, key=place))


def share_of(weight: Weight | None, finished: Figure) -> Figure:
    """Share of the finished slab, with its range."""
    if weight is None:
        return Figure(None, "share", "its weight is not known", Standing.ASSUMED)
    if not finished.known or not finished.number > 0:
        return Figure(None, "share", finished.sum, Standing.ASSUMED)
    whole = finished.number
    least = finished.high if finished.high is not None else whole
    most = finished.low if finished.low is not None else whole
    value = weight.g / whole
    low, high = weight.low_g / least, weight.high_g / most if most > 0 else value
    is_wide = high - low > 1e-9
    return Figure(
        value,
        "share",
        f"{weight.g:.5g} ÷ {whole:.5g} g = {value:.1%} of the finished slab",
        finished.standing,
        low if is_wide else None,
        high if is_wide else None,
    )


def highest(share: Figure) -> float | None:
    """The most that a share may be; None if it is not known."""
    if not share.known:
        return None
    return share.number if share.high is None else share.high


def rule_rows(ids: Sequence[str]) -> tuple[Rule, ...]:
    """Rows of these rules, each once."""
    return tuple(rules()[id] for id in dict.fromkeys(ids))
