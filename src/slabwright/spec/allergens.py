"""The allergens of a slab that is worked out, and what to watch about them."""

from collections.abc import Iterator, Sequence
from datetime import date
from typing import Final

from slabwright.cost.prices import PriceList
from slabwright.figure import Figure
from slabwright.finding import Finding, Severity
from slabwright.formula.batch import all_batches
from slabwright.formula.step import Step
from slabwright.label.allergen.allergens import Doubt, SlabAllergens, State
from slabwright.label.allergen.annex import listed, plain_name
from slabwright.label.allergen.contents import Contents
from slabwright.label.allergen.part_words import told
from slabwright.label.allergen.questions import Sold
from slabwright.label.allergen.slab_allergens import Around, Laid, slab_allergens
from slabwright.larder.ingredient import ALLERGENS
from slabwright.spec.layers import sum_of
from slabwright.spec.specification import LayerFigures, Specification

ALL_14: Final = "any of the 14"
_NO_FOOD: Final = frozenset(
    "slab tin cut keep sold dated costs proved kind into ends loses deep "
    "density".split()
)
"""Words of a card that bring nothing into a slab."""
_MANY: Final = 12
"""More than these, of a question, are all that is not known to be in it already."""


def allergens_of(
    spec: Specification,
    contents: Contents,
    packs: PriceList | None = None,
    on: date | None = None,
    unread: Sequence[str] = (),
) -> SlabAllergens:
    """What this slab contains, what it may, and what must still be asked.

    Args:
        spec: the slab, worked out; of a card without layers, its components.
        contents: what the kitchen's ingredients bring.
        packs: the price list, for who sells what in which pack.
        on: the day whose packs are on sale.
        unread: files of the kitchen that may say more and can't be read.
    """
    places = spec.layers or spec.components
    laid = [
        Laid(one.name, one.from_component, one.batch, _grams(one)) for one in places
    ]
    ids = _bought(places)
    sold = _sold(ids, packs, on)
    lines = tuple(one for one in spec.card.unread if not is_no_food(one.text))
    around = Around(
        _mass(spec),
        _steps(spec),
        sold,
        tuple(unread),
        tuple((one.text, one.span) for one in lines),
    )
    return slab_allergens(spec.name, laid, contents, around)


def allergen_findings(found: SlabAllergens) -> Iterator[Finding]:
    """What is still to be asked, and what suppliers warn of."""
    for one in found.questions:
        packs = f"; the pack: {', '.join(one.packs)}" if one.packs else ""
        yield Finding(
            "allergen_unknown",
            Severity.LOOK,
            where=f"{found.slab}: {one.about}",
            what=f"Nobody has said whether it holds {allergen_words(one.allergens)}.",
            why=f"{reasons(one.doubts)}. A label waits for the answer.",
            do=f"Ask {one.who}{packs}. {one.do}",
            source=_law(),
            span=one.span,
        )
    there = set(found.in_it)
    warned: dict[str, list[str]] = {}
    for trace in found.traces:
        if trace.state is State.MAY_CONTAIN and trace.allergen not in there:
            warned.setdefault(trace.about, []).append(trace.allergen)
    for about, allergens in warned.items():
        words = allergen_words(tuple(dict.fromkeys(allergens)))
        yield Finding(
            "may_contain",
            Severity.LOOK,
            where=f"{found.slab}: {about}",
            what=f"Its supplier says that it may contain {words}.",
            why="What its maker can't rule out, you can't either.",
            do="Say it on the label or the ticket, apart from what the slab contains.",
            source="Reg (EU) No 1169/2011, Article 36(3)(a) (from memory)",
        )


def allergen_words(allergens: Sequence[str], last: str = "or") -> str:
    """Allergens in words, as a declaration names them.

    >>> allergen_words(["gluten:wheat", "milk"])
    'wheat or milk'
    """
    if set(allergens) >= set(ALLERGENS):
        return ALL_14
    if last == "or" and len(allergens) > _MANY:
        return "any other of the 14"
    names = [plain_name(name) for name in allergens]
    *most, end = names
    return f"{', '.join(most)} {last} {end}" if most else end


def reasons(doubts: Sequence[Doubt]) -> str:
    """Why it is not known, each reason once."""
    text = "; ".join(dict.fromkeys(one.why for one in doubts))
    return text[:1].upper() + text[1:]


def _law() -> str:
    one = listed()["milk"]
    return f"{one.source.text} ({one.source.seen.value})"


def _grams(one: LayerFigures) -> float | None:
    return one.mass_out_g.number if one.mass_out_g.known else None


def _mass(spec: Specification) -> Figure:
    if spec.layers:
        return spec.mass_g
    return sum_of(
        [one.mass_out_g for one in spec.components], "g", "nothing is weighed"
    )


def _steps(spec: Specification) -> tuple[Step, ...]:
    """What is done to the whole slab, before and after."""
    blocks = (*spec.card.head, *((spec.card.finish,) if spec.card.finish else ()))
    return tuple(step for block in blocks for step in block.steps)


def is_no_food(text: str) -> bool:
    """Whether a line that can't be read could bring nothing: `cut 5 x`."""
    return text.split(maxsplit=1)[0] in _NO_FOOD and not told(text).words


def _bought(places: Sequence[LayerFigures]) -> set[str]:
    """Ids of every ingredient, in components of components too."""
    return {
        line.ingredient.id
        for one in places
        for batch in all_batches(one.batch)
        for line in batch.lines
        if line.ingredient
    }


def _sold(
    ids: set[str], packs: PriceList | None, on: date | None
) -> dict[str, tuple[Sold, ...]]:
    """The packs that each is bought in on this day."""
    if packs is None or on is None:
        return {}
    offers = {id: packs.offers(id, on) for id in ids}
    return {
        id: tuple(Sold(one.words, one.supplier) for one in found)
        for id, found in offers.items()
        if found
    }
