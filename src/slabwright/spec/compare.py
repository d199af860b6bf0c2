"""Two slabs, or two versions of one: what was changed, and what that moved."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from slabwright.figure import Figure
from slabwright.finding import Finding
from slabwright.spec.compare_blocks import blocks_of, stands_on
from slabwright.spec.compare_findings import Unread, came_and_went, renaming, unread
from slabwright.spec.compare_head import said_of_heads
from slabwright.spec.compare_lines import LineChange, line_changes
from slabwright.spec.compare_pairs import Pair, pairs_of
from slabwright.spec.compare_said import Said, said_of_blocks, said_of_moved
from slabwright.spec.nature.beside import taste_beside
from slabwright.spec.nature.taste import taste_of_slab
from slabwright.spec.specification import Specification

_SAME: Final = 1e-9


@dataclass(frozen=True, slots=True)
class Moved:
    """A figure before and after; None where there is none."""

    where: str
    name: str
    before: Figure | None
    after: Figure | None

    @property
    def by(self) -> float | None:
        """How much it moved; None where one of both is not known."""
        both = (self.before, self.after)
        if any(figure is None or not figure.known for figure in both):
            return None
        first, second = (figure.number for figure in both if figure is not None)
        return second - first

    @property
    def share(self) -> float | None:
        """The same as a share of what it was."""
        by = self.by
        if by is None or self.before is None or not self.before.number:
            return None
        return by / abs(self.before.number)


@dataclass(frozen=True, slots=True)
class Comparison:
    """What differs between two slabs."""

    before: Specification
    after: Specification
    pairs: tuple[Pair, ...]
    lines: tuple[LineChange, ...]
    said: tuple[Said, ...]
    """What the cards say otherwise, but for the weight of a line."""
    taken: tuple[Said, ...]
    """What nobody says and is taken otherwise: the kind of a layer."""
    moved: tuple[Moved, ...]
    """What the changes did, the most moved first."""
    found: tuple[Finding, ...]
    """Findings that came."""
    settled: tuple[Finding, ...]
    """Findings that went."""
    unread: tuple[Unread, ...]
    """Lines of either card that could not be taken as they stand."""
    taste: tuple[str, ...] = ()
    """How the other tastes beside the one, in words; empty where it tastes the same."""

    @property
    def same(self) -> bool:
        """Whether the two say and come to the same, as far as they were read."""
        differs = (
            self.lines, self.said, self.taken, self.moved, self.found, self.settled,
        )  # fmt: skip
        stays = all(pair.kind == "changed" for pair in self.pairs)
        return stays and not any(differs) and all(u.is_in_both for u in self.unread)


def compare(before: Specification, after: Specification) -> Comparison:
    """What differs between two slabs that are worked out.

    Args:
        before: the one that is compared with.
        after: the other.
    """
    layers = tuple(pairs_of(before.layers, after.layers))
    components = tuple(
        pairs_of(
            before.components,
            after.components,
            lambda a, b: stands_on(before, a.name) and stands_on(after, b.name),
        )
    )
    pairs = (*layers, *components)
    blocks = tuple(blocks_of(before, after, layers, components))
    spoons = before.kitchen.spoons, after.kitchen.spoons
    lines = line_changes(blocks, spoons)
    said = [
        *said_of_heads(before, after, layers),
        *(one for two in blocks for one in said_of_blocks(two, spoons)),
        *said_of_moved(lines, spoons),
    ]
    both = [(one.before.name, one.after.name) for one in pairs
            if one.before and one.after]  # fmt: skip
    rename = renaming([(before.name, after.name), *both])
    found, settled = came_and_went(before, after, rename)
    moved = sorted(_moved(before, after, pairs), key=_weight, reverse=True)
    return Comparison(
        before, after, pairs, lines, tuple(said), tuple(_taken(pairs)), tuple(moved),
        found, settled, tuple(unread(before, after, rename)),
        tuple(_taste(before, after)),
    )  # fmt: skip


def _taken(pairs: Sequence[Pair]) -> Iterator[Said]:
    """Kinds that were guessed and are guessed otherwise."""
    for a, b in ((one.before, one.after) for one in pairs):
        if a is None or b is None or a.kind == b.kind:
            continue
        if not (a.batch.component.kind or b.batch.component.kind):
            yield Said(b.name, "kind", a.kind, b.kind)


# --- what it moved --------------------

_SLAB: Final = ("height_mm", "mass_g", "head_room_mm", "water_share")
_LAYER: Final = (
    "depth_mm", "mass_in_g", "mass_out_g", "lost_g", "density_g_ml", "share_of_mass",
    "share_of_height", "water_share", "fat_share", "sugars_share",
)  # fmt: skip
_CUT: Final = ("pieces", "piece_length_mm", "piece_width_mm", "piece_mass_g", "trim_g")
_COST: Final = ("ingredients", "ingredients_per_piece")
_WATER: Final = "water_activity"


_TASTE: Final = ("sweetness", "fat_share", "salt_share")


def _taste(before: Specification, after: Specification) -> Iterator[str]:
    """Told only where something that one tastes has moved, or can't be known."""
    if any(True for _ in _moved_taste(before, after)):
        yield from taste_beside(after, before)


def _moved_taste(before: Specification, after: Specification) -> Iterator[Moved]:
    old, new = taste_of_slab(before), taste_of_slab(after)
    for name in _TASTE:
        moved = Moved("slab", name, _figure(old, name), _figure(new, name))
        if _has_moved(moved):
            yield moved


def _moved(
    before: Specification, after: Specification, pairs: Sequence[Pair]
) -> Iterator[Moved]:
    def between(
        where: str, names: Sequence[str], a: object, b: object
    ) -> Iterator[Moved]:
        for name in names:
            moved = Moved(where, name, _figure(a, name), _figure(b, name))
            if _has_moved(moved):
                yield moved

    yield from between("slab", _SLAB, before, after)
    yield from _moved_taste(before, after)
    yield from between("cut", _CUT, before.cut, after.cut)
    yield from between("cost", _COST, before.cost, after.cost)
    for pair in pairs:
        if pair.before is not None and pair.after is not None:
            yield from between(pair.name, _LAYER, pair.before, pair.after)
            yield from _nature(pair, before, after)


def _nature(pair: Pair, before: Specification, after: Specification) -> Iterator[Moved]:
    """Of all that a layer is like, its water activity."""
    a, b = (
        nature.figure(_WATER) if (nature := spec.nature_of(layer)) else None
        for spec, layer in ((before, pair.before), (after, pair.after))
    )
    moved = Moved(pair.name, _WATER, a, b)
    if _has_moved(moved):
        yield moved


def _figure(of: object, name: str) -> Figure | None:
    found = getattr(of, name, None)
    return found if isinstance(found, Figure) else None


def _has_moved(moved: Moved) -> bool:
    before, after = moved.before, moved.after
    known = [one is not None and one.known for one in (before, after)]
    if known[0] != known[1]:
        return True
    by = moved.by
    if by is None or before is None or after is None:
        return False
    return abs(by) > _SAME * max(abs(before.number), abs(after.number))


def _weight(moved: Moved) -> float:
    """How far it moved for its size; what came or went leads."""
    share = moved.share
    return abs(share) if share is not None else float("inf")
