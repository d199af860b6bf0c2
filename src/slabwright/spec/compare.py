"""Two slabs, or two versions of one: what was changed, and what that moved."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher
from typing import Final, Literal

from slabwright.figure import Figure
from slabwright.finding import Finding
from slabwright.spec.compare_lines import LineChange, line_changes, matched
from slabwright.spec.specification import LayerFigures, Specification

_LIKE: Final = 0.4
"""Layers less alike than this are no two versions of one. Our own limit."""
_SAME: Final = 1e-9
Kind = Literal["added", "gone", "changed"]


@dataclass(frozen=True, slots=True)
class Said:
    """Something that the cards say otherwise: tin, cut, a step, a loss."""

    where: str
    what: str
    before: str
    """Empty where it is new."""
    after: str
    """Empty where it is gone."""


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
class Pair:
    """A layer or component and what became of it."""

    before: LayerFigures | None
    after: LayerFigures | None

    @property
    def name(self) -> str:
        """Its name now, or the one that it had."""
        one = self.after or self.before
        return one.name if one else ""

    @property
    def kind(self) -> Kind:
        """Whether it came, went or stayed."""
        if self.before is None:
            return "added"
        return "gone" if self.after is None else "changed"


@dataclass(frozen=True, slots=True)
class Comparison:
    """What differs between two slabs."""

    before: Specification
    after: Specification
    pairs: tuple[Pair, ...]
    lines: tuple[LineChange, ...]
    said: tuple[Said, ...]
    moved: tuple[Moved, ...]
    """What the changes did, the most moved first."""
    found: tuple[Finding, ...]
    """Findings that came."""
    settled: tuple[Finding, ...]
    """Findings that went."""

    @property
    def same(self) -> bool:
        """Whether the two say and come to the same."""
        differs = (self.lines, self.said, self.moved, self.found, self.settled)
        return not any(differs) and all(p.kind == "changed" for p in self.pairs)


def compare(before: Specification, after: Specification) -> Comparison:
    """What differs between two slabs that are worked out.

    Args:
        before: the one that is compared with.
        after: the other.
    """
    pairs = (
        *_pairs(before.layers, after.layers),
        *_pairs(before.components, after.components),
    )
    known, now = ({(f.code, f.where, f.what) for f in s.findings}
                  for s in (before, after))  # fmt: skip
    return Comparison(
        before,
        after,
        pairs,
        tuple(line_changes([(pair.before, pair.after) for pair in pairs])),
        (*_said_of_slab(before, after), *_said_of_layers(pairs)),
        tuple(sorted(_moved(before, after, pairs), key=_weight, reverse=True)),
        tuple(f for f in after.findings if (f.code, f.where, f.what) not in known),
        tuple(f for f in before.findings if (f.code, f.where, f.what) not in now),
    )


# --- which layer is which --------------------


def _pairs(
    before: Sequence[LayerFigures], after: Sequence[LayerFigures]
) -> Iterator[Pair]:
    """Layers of one name, then those most alike, bottom first."""
    left, right = list(before), list(after)
    found: dict[int, LayerFigures] = {}
    for layer in before:
        twin = next((one for one in right if _key(one) == _key(layer)), None)
        if twin is not None:
            found[id(layer)] = twin
            left.remove(layer)
            right.remove(twin)
    scores = [(_alike(a, b), n, a, b) for n, a in enumerate(left) for b in right]
    for score, _, a, b in sorted(scores, key=lambda one: (-one[0], one[1])):
        if score >= _LIKE and id(a) not in found and b in right:
            found[id(a)] = b
            right.remove(b)
    for layer in before:
        yield Pair(layer, found.get(id(layer)))
    yield from (Pair(None, layer) for layer in right)


def _key(layer: LayerFigures) -> str:
    return " ".join(layer.name.casefold().split())


def _alike(one: LayerFigures, other: LayerFigures) -> float:
    """How alike two layers are, 0 to 1: what goes in counts most, then the name."""
    names = SequenceMatcher(None, _key(one), _key(other)).ratio()
    mine, theirs = (_grams(layer) for layer in (one, other))
    whole = sum(mine.values()) + sum(theirs.values())
    if not whole:
        return names
    shared = sum(min(grams, theirs.get(key, 0.0)) for key, grams in mine.items())
    return 0.7 * 2 * shared / whole + 0.3 * names


def _grams(layer: LayerFigures) -> dict[str, float]:
    found: dict[str, float] = {}
    for line in layer.lines:
        if line.mass_g.known:
            key = line.larder_id or line.name.casefold()
            found[key] = found.get(key, 0.0) + line.mass_g.number
    return found


# --- what the cards say --------------------


def _said_of_slab(before: Specification, after: Specification) -> Iterator[Said]:
    name = after.name
    if before.name != after.name:
        yield Said(name, "name", before.name, after.name)
    tins = (spec.tin.describe() if spec.tin else "" for spec in (before, after))
    yield from _differs(name, "tin", *tins)
    cuts = ([cut.text for cut in spec.card.cuts] for spec in (before, after))
    yield from _lists(name, "cut", *cuts)
    keeps = ([keep.text for keep in spec.card.keeps] for spec in (before, after))
    yield from _lists(name, "keep", *keeps)
    sold = (
        f"{spec.card.sold.how}, {spec.card.sold.price}" if spec.card.sold else ""
        for spec in (before, after)
    )
    yield from _differs(name, "sold", *sold)
    notes = (list(spec.card.notes) for spec in (before, after))
    yield from _lists(name, "note", *notes)
    ends = (
        [step.text for step in spec.card.finish.steps] if spec.card.finish else []
        for spec in (before, after)
    )
    yield from _lists("finish", "step", *ends)
    order = ([_key(layer) for layer in spec.layers] for spec in (before, after))
    first, second = order
    if first != second and sorted(first) == sorted(second):
        yield Said(name, "order of layers", ", ".join(first), ", ".join(second))


def _said_of_layers(pairs: Sequence[Pair]) -> Iterator[Said]:
    for pair in pairs:
        a, b = pair.before, pair.after
        if a is None or b is None:
            names = (one.name if one else "" for one in (a, b))
            yield Said(pair.name, "layer", *names)
            continue
        yield from _differs(b.name, "name", a.name, b.name)
        yield from _differs(b.name, "kind", a.kind, b.kind)
        yield from _differs(b.name, "made from", a.from_component, b.from_component)
        yield from _notes(a, b)
        steps = ([_plain(step.text) for step in one.steps] for one in (a, b))
        yield from _lists(b.name, "step", *steps)
        went = ([h.what for h in one.happenings] for one in (a, b))
        yield from _lists(b.name, "loss", *went)
        said = (_density(one) for one in (a, b))
        yield from _differs(b.name, "density", *said)


def _notes(before: LayerFigures, after: LayerFigures) -> Iterator[Said]:
    """Words beside an ingredient that are others now."""
    for a, b in matched(before.lines, after.lines):
        if a is not None and b is not None:
            said = (", ".join(one.weighed.line.notes) for one in (a, b))
            yield from _differs(after.name, f"note on {b.name}", *said)


def _plain(text: str) -> str:
    return " ".join(text.split())


def _density(layer: LayerFigures) -> str:
    said = layer.batch.density
    deep = layer.batch.deep
    parts = [f"{said.g_ml:g} g/ml"] if said else []
    parts += [f"measured {deep.depth_mm:g} mm"] if deep else []
    return ", ".join(parts)


def _differs(where: str, what: str, before: str, after: str) -> Iterator[Said]:
    if before != after:
        yield Said(where, what, before, after)


def _lists(
    where: str, what: str, before: Sequence[str], after: Sequence[str]
) -> Iterator[Said]:
    """Entries that came, went or were written otherwise, in their order."""
    for tag, i, j, k, m in SequenceMatcher(None, before, after, False).get_opcodes():
        if tag == "equal":
            continue
        gone, new = list(before[i:j]), list(after[k:m])
        for n in range(max(len(gone), len(new))):
            was = gone[n] if n < len(gone) else ""
            now = new[n] if n < len(new) else ""
            yield Said(where, what, was, now)


# --- what it moved --------------------

_SLAB: Final = ("height_mm", "mass_g", "head_room_mm", "water_share")
_LAYER: Final = (
    "depth_mm", "mass_in_g", "mass_out_g", "lost_g", "density_g_ml", "share_of_mass",
    "share_of_height", "water_share", "fat_share", "sugars_share",
)  # fmt: skip
_CUT: Final = ("pieces", "piece_length_mm", "piece_width_mm", "piece_mass_g", "trim_g")
_COST: Final = ("ingredients", "ingredients_per_piece")


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
    yield from between("cut", _CUT, before.cut, after.cut)
    yield from between("cost", _COST, before.cost, after.cost)
    for pair in pairs:
        if pair.before is not None and pair.after is not None:
            yield from between(pair.name, _LAYER, pair.before, pair.after)


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
