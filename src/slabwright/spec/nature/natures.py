"""Every layer of a slab and what it is like, each side from the module that owns it."""

from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise
from typing import Final

from slabwright.finding import Finding
from slabwright.kitchen import Kitchen
from slabwright.spec.card import Card
from slabwright.spec.nature.aspect import Aspect, LayerNature, Touching
from slabwright.spec.nature.boil import boil_of
from slabwright.spec.nature.emulsion import emulsion_of
from slabwright.spec.nature.fat import fat_between, fat_of
from slabwright.spec.nature.gel import gel_of
from slabwright.spec.nature.glass import glass_of
from slabwright.spec.nature.heat import heat_of
from slabwright.spec.nature.places import ROOM_C, keepings
from slabwright.spec.nature.raising import raising_of
from slabwright.spec.nature.subject import Subject
from slabwright.spec.nature.sugar import sugar_of
from slabwright.spec.nature.taste import taste_of
from slabwright.spec.nature.water import water_aspect
from slabwright.spec.nature.water_between import water_between
from slabwright.spec.specification import LayerFigures

SIDES: Final[tuple[Callable[[Subject], Aspect | None], ...]] = (
    boil_of,
    water_aspect,
    sugar_of,
    glass_of,
    gel_of,
    raising_of,
    heat_of,
    fat_of,
    emulsion_of,
    taste_of,
)
"""Each gives one aspect of a layer, or None where it has nothing to say of it."""

BETWEEN: Final[tuple[Callable[[Subject, Subject], Touching | None], ...]] = (
    water_between,
    fat_between,
)
"""Each tells what happens where a lower and an upper layer touch."""


def natures_of(
    card: Card,
    layers: Sequence[LayerFigures],
    components: Sequence[LayerFigures],
    kitchen: Kitchen,
) -> tuple[tuple[LayerNature, ...], tuple[Touching, ...]]:
    """What each layer is like, bottom first, then each component; and who touches whom.

    Args:
        card: what the maker wrote.
        layers: the layers worked out, bottom first.
        components: components on the card that lie in no slab by themselves.
        kitchen: its altitude, its probe, its places.
    """
    lying = [_subject(card, one, at, kitchen) for at, one in enumerate(layers)]
    apart = [_subject(card, one, None, kitchen) for one in components]
    found = tuple(
        LayerNature(one.name, one.number, tuple(_aspects(one)))
        for one in (*lying, *apart)
    )
    touching = [
        told
        for lower, upper in pairwise(lying)
        for side in BETWEEN
        if (told := side(lower, upper)) is not None
    ]
    return found, tuple(touching)


def findings_of(
    natures: Sequence[LayerNature], touching: Sequence[Touching]
) -> Iterator[Finding]:
    """Everything that these say a maker should look out for."""
    for nature in natures:
        for aspect in nature.aspects:
            yield from aspect.findings
    for pair in touching:
        yield from pair.findings


def _aspects(subject: Subject) -> Iterator[Aspect]:
    for side in SIDES:
        aspect = side(subject)
        if aspect is not None:
            yield aspect


def _subject(
    card: Card, layer: LayerFigures, number: int | None, kitchen: Kitchen
) -> Subject:
    depth = layer.depth_mm.number if layer.depth_mm.known else None
    mass = layer.mass_out_g.number if layer.mass_out_g.known else None
    area = None
    if depth and mass and layer.density_g_ml.known:
        area = 10 * mass / layer.density_g_ml.number / depth
    return Subject(
        layer.name, number, layer.span, layer.batch, kitchen, ROOM_C,
        keepings(card, kitchen), depth, mass, area,
    )  # fmt: skip
