"""Every figure of a specification by name, so that any of them can be opened."""

import re
from collections.abc import Iterator
from difflib import get_close_matches
from typing import Final

from slabwright.figure import Figure
from slabwright.spec.bench import bench_figures
from slabwright.spec.nature.aspect import Classed
from slabwright.spec.specification import CutFigures, LayerFigures, Specification

_LAYER = (
    "depth_mm", "mass_out_g", "mass_in_g", "batch_out_g", "lost_g", "density_g_ml",
    "share_of_mass", "share_of_height", "water_share", "fat_share", "sugars_share",
    "dry_matter_share",
)  # fmt: skip
_CUT = (
    "pieces", "along", "across", "piece_length_mm", "piece_width_mm",
    "piece_angle_deg", "piece_mass_g", "promised_g", "trim_g", "left_over_g",
    "edge_pieces",
)  # fmt: skip
_COST = (
    "ingredients", "ingredients_per_piece", "trim", "waste_allowance", "with_waste",
    "with_waste_per_piece",
)  # fmt: skip
_SAME = {"height": "height", "tall": "height", "weight": "mass", "deep": "depth"}
"""Words that people use for another."""
_OFFERED: Final = 8


def figures_of(spec: Specification) -> Iterator[tuple[str, Figure]]:
    """Name and figure, the slab's own first: `Malt caramel / depth_mm`."""
    for name in ("height_mm", "mass_g", "head_room_mm", "water_share"):
        yield f"slab / {name}", getattr(spec, name)
    if spec.tin is not None:
        yield "tin / area_cm2", spec.area_cm2
    if spec.cut is not None:
        yield from _of_cut("cut", spec.cut)
    for cut in spec.other_cuts:
        yield from _of_cut(f"cut in {cut.tin_name}", cut)
    for part in _COST if spec.cost is not None else ():
        figure = getattr(spec.cost, part)
        if figure is not None:
            yield f"cost / {part}", figure
    for layer in (*spec.layers, *spec.components):
        yield from _of_layer(layer)
    yield from _of_natures(spec)
    yield from _of_kit(spec)
    yield from bench_figures(spec)


def _of_natures(spec: Specification) -> Iterator[tuple[str, Figure]]:
    """What layers are like, and what happens where two touch."""
    for nature in spec.natures:
        for aspect in nature.aspects:
            for one in aspect.figures:
                yield f"{nature.layer} / {one.name}", one.figure
    for pair in spec.touching:
        for one in pair.figures:
            yield f"{pair.upper} on {pair.lower} / {one.name}", one.figure


def _of_kit(spec: Specification) -> Iterator[tuple[str, Figure]]:
    """What vessels are filled with, and the loads of ovens and fridges."""
    for use in spec.kit:
        for name in ("filled_ml", "rises_to_ml", "holds_ml", "mixings"):
            yield f"{use.layer} / {use.vessel} / {name}", getattr(use, name)
    for one in spec.places:
        yield f"{one.place} / loads", one.loads


def _of_cut(name: str, cut: CutFigures) -> Iterator[tuple[str, Figure]]:
    for part in _CUT:
        figure = getattr(cut, part)
        if figure is not None:
            yield f"{name} / {part}", figure


def _of_layer(layer: LayerFigures) -> Iterator[tuple[str, Figure]]:
    for name in _LAYER:
        yield f"{layer.name} / {name}", getattr(layer, name)
    if layer.left_over_g is not None:
        yield f"{layer.name} / left_over_g", layer.left_over_g
    for line in layer.lines:
        here = f"{layer.name} / {line.name}"
        yield f"{here} / mass_g", line.mass_g
        yield f"{here} / share_of_total", line.share_of_total
        if line.bakers_share is not None:
            yield f"{here} / bakers_share", line.bakers_share
        if line.cost is not None:
            yield f"{here} / cost", line.cost
    for constituent, figure in layer.composition.items():
        yield f"{layer.name} / after / {constituent}", figure
    for constituent, figure in layer.before.items():
        yield f"{layer.name} / before / {constituent}", figure


def find_figures(spec: Specification, asked: str) -> tuple[tuple[str, Figure], ...]:
    """The figures that these words can mean; those with the shortest name alone."""
    wanted = _words(asked)
    if not wanted:
        return ()
    fits = [
        (name, figure)
        for name, figure in figures_of(spec)
        if all(any(w.startswith(word) for w in _words(name)) for word in wanted)
    ]
    exact = [one for one in fits if set(_words(one[0])) == set(wanted)]
    if exact:
        return tuple(exact[:1])
    parts = min((name.count("/") for name, _ in fits), default=0)
    return tuple(one for one in fits if one[0].count("/") == parts)


def nearest_figures(spec: Specification, asked: str) -> tuple[str, ...]:
    """Names of figures that a slip of the finger may have meant; else some of all."""
    names = [name for name, _ in figures_of(spec)]
    known = {word for name in names for word in _words(name)}
    mended = [
        next(iter(get_close_matches(word, known, n=1)), "") for word in _words(asked)
    ]
    near = find_figures(spec, " ".join(mended))
    return tuple(name for name, _ in near)[:_OFFERED] or tuple(names[:_OFFERED])


def _words(name: str) -> tuple[str, ...]:
    found = re.findall(r"[^\W_]+", name.casefold())
    return tuple(_SAME.get(word, word) for word in found)


def find_classes(spec: Specification, asked: str) -> tuple[tuple[str, Classed], ...]:
    """The classes that these words can mean: `caramel chew`; by name or label."""
    wanted = _words(asked)
    named = [
        (f"{nature.layer} / {one.name}", one)
        for nature in spec.natures
        for aspect in nature.aspects
        for one in aspect.classes
    ]
    named += [
        (f"{pair.upper} on {pair.lower} / {one.name}", one)
        for pair in spec.touching
        for one in pair.classes
    ]
    return tuple(
        (name, one)
        for name, one in named
        if wanted and all(_begins(name, one.label, word) for word in wanted)
    )


def _begins(name: str, label: str, word: str) -> bool:
    return any(w.startswith(word) for w in (*_words(name), *_words(label)))
