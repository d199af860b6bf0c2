"""The label of a slab for one way of selling: its text, and what must be shown."""

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Final

from slabwright.figure import Figure, withheld
from slabwright.finding import Finding, Severity
from slabwright.label.allergen.allergens import SlabAllergens
from slabwright.label.dates import DateMark, Freezer, in_full, lot_words
from slabwright.label.net_weight import tolerable_error_g
from slabwright.label.particulars import (
    UNITED_KINGDOM,
    Facts,
    Particular,
    Standing,
    Stated,
    particulars,
)
from slabwright.label.presentation import (
    NO_NUTRITION_CM2,
    few,
    figures,
    letters,
    together,
)
from slabwright.label.ways import Selling
from slabwright.spec.allergens import allergen_words
from slabwright.spec.card import Sold
from slabwright.spec.label_date import (
    Counted,
    counted_of,
    frozen_too_long,
    keeping,
    storage_words,
)
from slabwright.spec.label_net import nominal_of
from slabwright.spec.specification import Specification

FOOT: Final = (
    "Worked out from the card and the kitchen's papers, with its reasons. It certifies "
    "nothing; local law and the suppliers' specifications decide."
)
_BY_THE_TRAY: Final = withheld(
    "g", "it goes out by the tray, and each tray can say its own weight"
)
"""NET-10, from memory: what varies is marked with what it weighs."""
_EU: Final = frozenset(
    "AT BE BG CY CZ DE DK EE ES FI FR GR HR HU IE IT LT LU LV MT NL PL PT RO SE SI "
    "SK".split()
)


@dataclass(frozen=True, slots=True)
class LabelOrder:
    """What a label is asked for, beside the card."""

    way: Selling
    nation: str
    """One of those that there is a table for."""
    on: date
    made: date | None = None
    """The bake day; None leaves the date open."""
    freezer: Freezer | None = None
    lifted: Collection[str] = ()
    """What lifts a need, by the shop's own word."""
    surface_cm2: float | None = None
    """Largest surface of the pack [cm²]."""


@dataclass(frozen=True, slots=True)
class Label:
    """What one way of selling asks of a slab, and what is there of it."""

    slab: str
    order: LabelOrder
    sold: Sold | None
    """The line of the card that says so; None if it was asked for otherwise."""
    name: str
    """The name of the food; empty without one."""
    particulars: tuple[Particular, ...]
    allergens: SlabAllergens
    mark: DateMark | None
    counted: str
    """How the days are counted, in words."""
    storage: tuple[str, ...]
    nominal: Figure
    """The largest net weight that the cut would keep, worked out."""
    findings: tuple[Finding, ...]

    @property
    def is_held(self) -> bool:
        """Whether it must wait for an answer."""
        return self.allergens.is_held or any(
            one.standing is Standing.HELD for one in self.particulars
        )

    @property
    def missing(self) -> tuple[Particular, ...]:
        """What must be shown and isn't there."""
        return self._of(Standing.MISSING)

    def _of(self, standing: Standing) -> tuple[Particular, ...]:
        return tuple(one for one in self.particulars if one.standing is standing)


def nation_of(country: str, nation: str) -> str:
    """Whose table holds for a kitchen; empty where there is none for its country.

    >>> nation_of("GB", "Wales"), nation_of("IE", ""), nation_of("GB", "")
    ('Wales', 'EU', 'United Kingdom')
    """
    if country in _EU:
        return "EU"
    return (nation or UNITED_KINGDOM) if country == "GB" else ""


def label_of(
    spec: Specification,
    order: LabelOrder,
    allergens: SlabAllergens,
    inside: Mapping[str, Stated],
) -> Label:
    """The label of this slab, sold in this way.

    Args:
        spec: the slab, worked out.
        order: the way, the nation, the days.
        allergens: what it contains and what must still be asked.
        inside: what is declared of its inside: list of ingredients, shares, nutrition.

    Raises:
        FileError: for days of freezing that can't be.
    """
    sold = _sold(spec, order)
    pieces = sold.pieces if sold and sold.pieces else 1
    counted = counted_of(spec.card.dated, order.made, order.freezer)
    nominal = nominal_of(spec, pieces) if _by_the_piece(order, sold) else _BY_THE_TRAY
    called = spec.card.called
    is_thawed = order.freezer is not None and "unharmed_by_thawing" not in order.lifted
    is_said = "defrosted" in called.casefold()
    name = f"{called}, defrosted" if called and is_thawed and not is_said else called
    storage = storage_words(spec.card.keeps)
    there = dict(inside) | dict(_there(spec, order, counted, allergens))
    if name:
        there["name"] = Stated(name)
    if sold and sold.net_g is not None:
        there["net_quantity"] = Stated(net_words(sold.net_g))
    if storage:
        there["storage"] = Stated("; ".join(storage))
    facts = Facts(there, _lifted(order, counted), _do(spec, order, nominal))
    return Label(
        spec.name,
        order,
        sold,
        name,
        particulars(order.way, order.nation, order.on, facts),
        allergens,
        counted.mark,
        counted.words,
        storage,
        nominal,
        tuple(_findings(spec, order, sold, nominal, counted)),
    )


def net_words(grams: float) -> str:
    """A net weight as a label has it.

    >>> net_words(70), net_words(1200)
    ('70 g', '1.2 kg')
    """
    return f"{grams / 1000:.10g} kg" if grams >= 1000 else f"{grams:.10g} g"


def contains_words(allergens: SlabAllergens) -> str:
    """What it contains and what suppliers warn of; never that something is absent."""
    said: list[str] = []
    if allergens.in_it:
        said.append(f"contains {allergen_words(allergens.in_it, 'and')}")
    if warned := warned_words(allergens):
        said.append(warned)
    if not said:
        said.append("none of the 14 is known to be in it")
    return "; ".join(said)


def warned_words(allergens: SlabAllergens) -> str:
    """What suppliers warn of; empty if none of them does."""
    if not allergens.may_contain:
        return ""
    names = allergen_words(allergens.may_contain, "and")
    return f"may contain {names}, by its suppliers"


def _by_the_piece(order: LabelOrder, sold: Sold | None) -> bool:
    """Whether pieces lie in the pack: one, or as many as the card says."""
    if sold is not None and (sold.pieces or sold.is_whole_tray):
        return not sold.is_whole_tray
    return order.way is not Selling.TRAY


def _sold(spec: Specification, order: LabelOrder) -> Sold | None:
    lines = spec.card.sales_on(order.on)
    return next((one for one in lines if one.way is order.way), None)


def _there(
    spec: Specification,
    order: LabelOrder,
    counted: Counted,
    allergens: SlabAllergens,
) -> Iterator[tuple[str, Stated]]:
    """What is there, beside name, net weight, storage and the inside."""
    asked = len(allergens.questions)
    held = f"{asked} question{'' if asked == 1 else 's'} open" if asked else ""
    yield "allergens", Stated(contains_words(allergens), held)
    if counted.said:
        yield "date", Stated(counted.said, counted.held)
    if order.made is not None:
        yield "lot", Stated(lot_words(counted.mark, order.made))
    kitchen = spec.kitchen
    if kitchen.name and kitchen.address:
        yield "business", Stated(f"{kitchen.name}, {kitchen.address}")
    lifted = "unharmed_by_thawing" in order.lifted
    if order.freezer is not None and spec.card.called and not lifted:
        yield "defrosted", Stated("defrosted")
    smallest = None if order.surface_cm2 is None else few(order.surface_cm2)
    shown = [letters(order.surface_cm2), together(), *filter(None, (smallest,))]
    yield "letters", Stated("; ".join(f"{r.words} ({r.id}, {r.found})" for r in shown))


def _lifted(order: LabelOrder, counted: Counted) -> dict[str, bool]:
    lifted = dict.fromkeys(order.lifted, True)
    lifted["never_frozen"] = order.freezer is None
    lifted["date_to_the_day"] = counted.mark is not None
    surface = order.surface_cm2
    if surface is not None:
        lifted["surface_under_25_cm2"] = surface < NO_NUTRITION_CM2
        lifted["surface_under_10_cm2"] = few(surface) is not None
    return lifted


def _do(spec: Specification, order: LabelOrder, nominal: Figure) -> dict[str, str]:
    """What to do about what is missing."""
    weigh = (
        "Weigh 20 packs (slabwright net-weight), then write it on the sold line: net, "
        "and the figure."
    )
    net = (
        f"{weigh} Worked out, not weighed: up to {net_words(nominal.number)}."
        if nominal.known
        else f"{weigh} Not worked out: {nominal.sum}."
    )
    dated = "Your own decision. Write so: dated best before, 4 days, bake day counted."
    if spec.card.dated is not None:
        dated = "The card says dated none: your own decision, and yours to answer for."
    return {
        "name": f"Write called, and what {spec.name} is, in plain words; its own name "
        "once more if that tells it.",
        "net_quantity": net,
        "date": dated,
        "storage": "Write a keep line: keep chilled, 3 days.",
        "business": "Give name and address in kitchen.yaml.",
        "lot": "Give the bake day: --baked 2026-11-26.",
        "defrosted": "Write called, and what it is: defrosted is added to that.",
        "allergens_before": "On the page, or by telephone"
        f"{f', {spec.kitchen.phone}' if spec.kitchen.phone else ''}.",
        "allergens_on_arrival": "On the pack, or on a paper with it.",
        "allergen_sign": "Put it up; or, if they stand in writing beside the food, say "
        "--unless allergens-written.",
        "letters": "On a pack with a largest surface under 80, 25 or 10 cm² less is "
        "asked: --surface, and its cm².",
        "origin": "If the pack says none: --unless no-origin-said.",
        "instructions": "If it needs none: --unless eaten-as-it-is.",
        "quid": "Write called and pictured: shares follow from what they stress.",
        "nutrition": "See slabwright nutrition, or --unless small-and-direct.",
        "ingredients": "See slabwright declaration.",
    }


def _findings(
    spec: Specification,
    order: LabelOrder,
    sold: Sold | None,
    nominal: Figure,
    counted: Counted,
) -> Iterator[Finding]:
    yield from keeping(spec.card, order.nation)
    if order.freezer is not None:
        yield from frozen_too_long(spec.card, order.freezer)
    day = counted.mark.day if counted.mark else None
    if day is not None and day < order.on:
        yield Finding(
            "date_over", Severity.STOP, spec.name,
            f"Its date, {in_full(day)}, is over.",
            "A use by ends at midnight of its day, and sale after it is an offence; "
            "a best before is about quality.",
            "Don't sell it on after a use by.",
            source="DATE-09: a trade body's page on minimum durability (stored "
            "secondary)",
        )  # fmt: skip
    if sold is not None and sold.pieces and sold.pieces > 1:
        yield Finding(
            "many_in_pack", Severity.NOTE, spec.name,
            f"{sold.pieces} pieces lie in a pack.",
            "Wrapped one by one, the pack says what each weighs and how many there "
            "are, unless one can be seen and all be counted (NET-08, from memory); a "
            "use by stands on each (DATE-06, stored secondary).",
            "Nothing to do if they lie in it bare.", span=sold.span,
        )  # fmt: skip
    if order.way is Selling.POSTED:
        yield Finding(
            "post_reading", Severity.NOTE, spec.name,
            "Sent by post, it is taken as prepacked: the stricter reading.",
            "Of what is packed where it is sold the law may ask less: allergens before "
            "it is bought and on arrival (PPDS-06, from memory).",
            "Ask whoever inspects you which reading holds.",
        )  # fmt: skip
    if sold is None or sold.net_g is None:
        return
    error_g = tolerable_error_g(sold.net_g)
    if error_g is None:
        yield Finding(
            "net_outside", Severity.LOOK, spec.name,
            f"{net_words(sold.net_g)} is outside the average system.",
            "It holds from 5 g to 25 kg (NET-05, stored official). Below 5 g no net "
            "weight is asked (NET-07, from memory).",
            "Fill every pack to at least what it says.", span=sold.span,
        )  # fmt: skip
    elif nominal.known and sold.net_g > nominal.number:
        yield Finding(
            "net_too_high", Severity.LOOK, spec.name,
            f"The label would say {net_words(sold.net_g)}; the cut keeps "
            f"{net_words(nominal.number)}.",
            f"{nominal.sum}.",
            "Cut larger, cut truer, or say less. Weighed pieces decide: "
            "slabwright net-weight.",
            source="SI 2006/659, the packers' three rules, as told on gov.uk",
            span=sold.span,
        )  # fmt: skip
    high = figures(sold.net_g)
    yield Finding(
        "net_figures", Severity.NOTE, spec.name,
        f"{high.words.capitalize()}.",
        f"{high.article} ({high.found}).",
        "Print them no smaller. Mean contents count, so weigh pieces now and then.",
        span=sold.span,
    )  # fmt: skip
