"""The list of ingredients of a slab that is worked out, its shares and its traps."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from slabwright.figure import Figure
from slabwright.finding import Finding, Severity
from slabwright.formula.batch import all_batches
from slabwright.formula.step import Step
from slabwright.label.allergen.allergens import SlabAllergens
from slabwright.label.allergen.contents import Contents
from slabwright.label.ingredients.bowl import Poured
from slabwright.label.ingredients.declaration import Declaration
from slabwright.label.ingredients.declared import Nation
from slabwright.label.ingredients.declaring import Asked, declaration
from slabwright.label.ingredients.opening import Opener
from slabwright.label.ingredients.quid import Share, beside, shares
from slabwright.label.ingredients.reserved import reserved_findings
from slabwright.label.ingredients.stressed import Missed, Told, stressed
from slabwright.label.ingredients.traps import trap_findings
from slabwright.spec.card import Take
from slabwright.spec.layers import sum_of
from slabwright.spec.specification import LayerFigures, Specification

_ALL: Final = Take()
_LONGEST_NAME: Final = 4
"""Words of a step that may be no more than a name."""


@dataclass(frozen=True, slots=True)
class ListOrder:
    """What a list of ingredients is asked for, beside the card."""

    where: Nation
    by_layer: bool = False
    sugars_together: bool = False
    numbers: bool = False
    """Whether additives are told by their E number."""
    described: str = ""
    """The maker's own words on it, beside the name and the pack."""


@dataclass(frozen=True, slots=True)
class IngredientList:
    """The list, the shares of what is stressed, and what to watch about both."""

    order: ListOrder
    declaration: Declaration
    """With shares beside the names that they are of."""
    told: tuple[Told, ...]
    """Words that may stress something."""
    shares: tuple[Share, ...]
    findings: tuple[Finding, ...]

    @property
    def quid(self) -> str:
        """The shares that are needed, in words; empty if nothing is stressed."""
        return "; ".join(
            f"{one.term} {one.words}" for one in self.shares if one.needed and one.words
        )

    @property
    def quid_held(self) -> str:
        """Why a share is not told, in words; empty if none is missing."""
        open_ones = [one for one in self.shares if one.needed and not one.words]
        said = dict.fromkeys(f"{one.term}: {one.figure.sum}" for one in open_ones)
        return "; ".join(said)


def declaration_of(
    spec: Specification, contents: Contents, allergens: SlabAllergens, order: ListOrder
) -> Declaration:
    """The list of ingredients of this slab, in order, opened and set apart.

    Args:
        spec: the slab, worked out; of a card without layers, its components.
        contents: what the kitchen's ingredients bring.
        allergens: what it contains and what must still be asked.
        order: where and when it is sold, merged or by layer.
    """
    return declaration(
        spec.name,
        poured_of(spec),
        Opener(contents, order.where, numbers=order.numbers),
        finished_of(spec),
        allergens,
        Asked(order.by_layer, order.sugars_together),
        tuple(_doubted(spec, contents)),
    )


def ingredient_list(
    spec: Specification, contents: Contents, allergens: SlabAllergens, order: ListOrder
) -> IngredientList:
    """The list with the shares of what is stressed, and what to watch about it.

    Args:
        spec: the slab, worked out.
        contents: what the kitchen's ingredients bring.
        allergens: what it contains and what must still be asked.
        order: where and when it is sold, and how the list is wanted.
    """
    found = declaration_of(spec, contents, allergens, order)
    told = _told(spec, order)
    hits, missed = stressed(found, told, contents)
    parts = shares(found, hits)
    called = " ".join(one.text for one in told)

    def step_g(grams: float) -> float:
        scale = spec.kitchen.scale_for(grams)
        return scale.step_g if scale is not None else 0.0

    findings = (
        *(_missed(found, one) for one in missed),
        *reserved_findings(found, called, order.where),
        *trap_findings(found, step_g),
    )
    return IngredientList(
        order, found.with_shares(beside(found, parts)), told, parts, findings
    )


def _told(spec: Specification, order: ListOrder) -> tuple[Told, ...]:
    name = spec.card.called or spec.name
    told = [Told(name, f"the name “{name}”")] if name else []
    told += [Told(one, f"“{one}” on the pack", True) for one in spec.card.pictured]
    if order.described:
        told.append(Told(order.described, f"“{order.described}”", True))
    return tuple(told)


def _missed(found: Declaration, one: Missed) -> Finding:
    return Finding(
        "named_not_in_it", Severity.LOOK, found.slab,
        f"{one.told.by[:1].upper()}{one.told.by[1:]} says {one.name}, and no line "
        "brings it.",
        "A name, a picture or a description must not mislead about what is in it.",
        "Write a line of it, or other words.",
        source="Reg (EU) No 1169/2011, Article 7(1) (from memory)",
    )  # fmt: skip


def _doubted(spec: Specification, contents: Contents) -> Iterator[Step]:
    """Steps that may be lines: they begin with an amount, or are a bare name."""
    finish = (spec.card.finish,) if spec.card.finish else ()
    inside = [
        batch.component
        for one in (spec.layers or spec.components)
        for batch in all_batches(one.batch)
    ]
    for component in (*spec.card.head, *inside, *finish):
        for step in component.steps:
            if step.misread == "amount" or _is_bare_name(step, contents):
                yield step


def _is_bare_name(step: Step, contents: Contents) -> bool:
    words = step.text.split()
    return len(words) <= _LONGEST_NAME and any(
        start == 0 and end >= len(step.text)
        for start, end, _ in contents.larder.mentions(step.text, contents.country)
    )


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
