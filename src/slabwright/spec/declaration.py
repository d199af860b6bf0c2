"""The list of ingredients of a slab that is worked out."""

from collections.abc import Iterator

from slabwright.figure import Figure
from slabwright.formula.batch import all_batches
from slabwright.formula.step import Step
from slabwright.label.allergens import SlabAllergens
from slabwright.label.bowl import Poured
from slabwright.label.contents import Contents
from slabwright.label.declaration import Declaration
from slabwright.label.declared import Nation
from slabwright.label.declaring import Asked, declaration
from slabwright.label.opening import Opener
from slabwright.spec.card import Take
from slabwright.spec.layers import sum_of
from slabwright.spec.specification import LayerFigures, Specification

_ALL = Take()


def declaration_of(
    spec: Specification,
    contents: Contents,
    allergens: SlabAllergens,
    where: Nation,
    asked: Asked | None = None,
    *,
    numbers: bool = False,
) -> Declaration:
    """The list of ingredients of this slab, in order, opened and set apart.

    Args:
        spec: the slab, worked out; of a card without layers, its components.
        contents: what the kitchen's ingredients bring.
        allergens: what it contains and what must still be asked.
        where: the nation and the day whose rules hold.
        asked: merged or by layer.
        numbers: additives by their E number.
    """
    opener = Opener(contents, where, numbers=numbers)
    return declaration(
        spec.name, poured_of(spec), opener, finished_of(spec), allergens,
        asked or Asked(), tuple(_doubted(spec)),
    )  # fmt: skip


def _doubted(spec: Specification) -> Iterator[Step]:
    """Steps that begin with an amount: lines that could not be read, perhaps."""
    finish = (spec.card.finish,) if spec.card.finish else ()
    inside = [
        batch.component
        for one in (spec.layers or spec.components)
        for batch in all_batches(one.batch)
    ]
    for component in (*spec.card.head, *inside, *finish):
        for step in component.steps:
            if step.misread == "amount":
                yield step


def poured_of(spec: Specification) -> tuple[Poured, ...]:
    """Its layers as they go into the slab; of a card without layers, its components."""
    if not spec.layers:
        return tuple(_poured(one, _ALL) for one in spec.components)
    takes = {layer.component.span: layer.take for layer in spec.card.layers}
    return tuple(_poured(one, takes.get(one.span, _ALL)) for one in spec.layers)


def finished_of(spec: Specification) -> Figure:
    """What the finished slab weighs [g]."""
    if spec.layers:
        return spec.mass_g
    masses = [one.mass_out_g for one in spec.components]
    return sum_of(masses, "g", "nothing is weighed")


def _poured(one: LayerFigures, take: Take) -> Poured:
    out, batch_out = one.mass_out_g, one.batch_out_g
    batches = None
    if out.known and batch_out.known and batch_out.number > 0:
        batches = out.number / batch_out.number
    elif take.grams is None and take.depth_mm is None:
        batches = 1.0 if take.batches is None else take.batches
    lies = None
    if out.known:
        g = out.number
        low = g if out.low is None else out.low
        lies = (g, low, g if out.high is None else out.high)
    return Poured(one.name, one.from_component, one.batch, batches, lies)
