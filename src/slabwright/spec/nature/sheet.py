"""Layers with what they are like: all of them, those asked for, and beside others."""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from difflib import get_close_matches

from slabwright.errors import FileError, Mistake
from slabwright.finding import Finding
from slabwright.formula.book import called
from slabwright.spec.compare_pairs import pairs_of
from slabwright.spec.nature.aspect import LayerNature, Touching
from slabwright.spec.nature.beside import taste_beside
from slabwright.spec.nature.fat import coolest, fat_beside
from slabwright.spec.nature.natures import findings_of
from slabwright.spec.nature.places import ROOM_C, keepings
from slabwright.spec.specification import LayerFigures, Specification


@dataclass(frozen=True, slots=True)
class Natured:
    """A layer, or a component that lies in no slab, and what it is like."""

    layer: LayerFigures
    nature: LayerNature

    @property
    def name(self) -> str:
        """As the card calls it."""
        return self.layer.name


@dataclass(frozen=True, slots=True)
class LayerSheet:
    """What was asked of a slab's layers."""

    spec: Specification
    natured: tuple[Natured, ...]
    """Bottom first, then components."""
    touching: tuple[Touching, ...]
    findings: tuple[tuple[int, Finding], ...]
    """Each with its number among all findings of the slab."""
    beside: Specification | None = None
    """Another slab, or another version of this one, to hold against it."""
    tastes: tuple[str, ...] = ()
    """How the whole slab tastes beside that one, one line each."""

    @property
    def common(self) -> tuple[str, ...]:
        """Notes that several of these layers have: told once, below them all."""
        told = Counter(
            note
            for one in self.natured
            for aspect in one.nature.aspects
            for note in dict.fromkeys(aspect.notes)
        )
        return tuple(note for note, times in told.items() if times > 1)

    def twin(self, of: Natured) -> Natured | None:
        """The layer of the other slab that one holds this one against.

        The one of its name, else the one most like it, else the only one of its kind.
        """
        if self.beside is None:
            return None
        others = natured(self.beside)
        pairs = (
            *pairs_of(self.spec.layers, self.beside.layers),
            *pairs_of(self.spec.components, self.beside.components),
        )
        like = [pair.after for pair in pairs if pair.before is of.layer and pair.after]
        alike = [one for one in others if one.layer.kind == of.layer.kind]
        found = [one for one in others if any(one.layer is layer for layer in like)]
        return next(iter(found or (alike if len(alike) == 1 else [])), None)


def natured(spec: Specification) -> tuple[Natured, ...]:
    """Every layer of a slab, bottom first, then its components."""
    return tuple(
        Natured(layer, nature)
        for layer, nature in zip(
            (*spec.layers, *spec.components), spec.natures, strict=False
        )
    )


def layer_sheet(
    spec: Specification, name: str = "", beside: Specification | None = None
) -> LayerSheet:
    """What the layers of a slab are like.

    Args:
        spec: the slab.
        name: the layer or component that is asked for; empty for all.
        beside: what to hold it against.

    Raises:
        FileError: if no layer has this name.
    """
    every = natured(spec)
    found = _called(every, name)
    names = {one.name for one in found}
    numbers = {one.nature.number for one in found}
    touching = tuple(
        pair
        for pair in spec.touching
        if not name or pair.lower in names or pair.upper in names
    )
    shown = tuple(
        (at, finding)
        for at, finding in _numbered(spec)
        if not name or finding.layer in numbers - {None} or finding.where in names
    )
    tastes = taste_beside(spec, beside) if beside is not None and not name else ()
    sheet = LayerSheet(spec, found, touching, shown, beside, tastes)
    return replace(sheet, natured=tuple(_held(sheet)))


def _held(sheet: LayerSheet) -> Iterator[Natured]:
    """Each layer, with the temperature at which its fat is as solid as its twin's."""
    spec = sheet.spec
    at_C = coolest(keepings(spec.card, spec.kitchen), ROOM_C).middle
    for one in sheet.natured:
        twin = sheet.twin(one)
        named = None
        if twin is not None and sheet.beside is not None:
            called = f"{twin.name} of {sheet.beside.name}"
            named = fat_beside(one.layer.batch, twin.layer.batch, at_C, called)
        aspects = tuple(
            replace(aspect, figures=(*aspect.figures, named))
            if named is not None and aspect.name == "fat"
            else aspect
            for aspect in one.nature.aspects
        )
        yield replace(one, nature=replace(one.nature, aspects=aspects))


def _numbered(spec: Specification) -> Iterator[tuple[int, Finding]]:
    """Findings of what layers are like, with the number that each has on its slab."""
    own = list(findings_of(spec.natures, spec.touching))
    for one in spec.told:
        yield from ((one.number, each) for each in one.every if each in own)


def _called(every: Sequence[Natured], name: str) -> tuple[Natured, ...]:
    if not name:
        return tuple(every)
    found = [every[at] for at in called(name, [one.name for one in every])]
    if found:
        return tuple(found)
    names = list(dict.fromkeys(one.name for one in every))
    near = tuple(get_close_matches(name, names, 3, 0.4)) or tuple(names[:8])
    do = f"Write one of: {', '.join(near)}." if near else "The card has no layers."
    raise FileError(Mistake(f"No layer is called '{name}'.", do, nearest=near))
