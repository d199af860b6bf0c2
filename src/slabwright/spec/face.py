"""What a label or a ticket of a slab says, word for word, out of its particulars."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from slabwright.label.allergen.allergens import SlabAllergens
from slabwright.label.allergen.annex import plain_name
from slabwright.label.allergen.emphasis import emphasis
from slabwright.label.codes import Number
from slabwright.label.paper.face import Face, Kind, NutritionRow, Paragraph, Run, Runs
from slabwright.label.particulars import Need, Particular, Standing
from slabwright.label.presentation import figures, letters
from slabwright.spec.allergens import allergen_words
from slabwright.spec.label import Label, net_words

ASK: Final = "Allergies? Please ask us."
NONE_KNOWN: Final = "None of the 14 allergens that the law lists is known to be in it."
_ON_A_TICKET: Final = ("name", "allergens")
_SMALL_CM2: Final = 25
"""Below it no nutrition is asked: Annex V (18), from memory."""
_TICKET_X_MM: Final = 1.6
"""What a ticket reads well at across a counter; common practice, no source."""


@dataclass(frozen=True, slots=True)
class FaceOrder:
    """What a face is made with, beside its label."""

    kind: Kind = "label"
    price: str = ""
    """In words, with its currency."""
    number: Number | None = None
    """Under the bars."""
    revisions: tuple[str, ...] = ()
    """Of the card and of the larder."""
    ingredients: Runs = ()
    """The list of ingredients; without it, the label's own words."""
    nutrition: tuple[NutritionRow, ...] = ()
    piece: str = ""
    """What a piece weighs, for the head of its column."""


def face_of(label: Label, order: FaceOrder) -> Face:
    """All that this label or ticket says.

    What is missing is not there; `Label.missing` lists it.
    """
    there = {one.name: one for one in label.particulars if one.what}
    is_ticket = order.kind == "ticket"
    net_g = label.sold.net_g if label.sold and not is_ticket else None
    return Face(
        kind=order.kind,
        slab=label.slab,
        way=label.order.way.value,
        name=_capital(label.name),
        net=net_words(net_g) if net_g is not None else "",
        net_g=net_g,
        paragraphs=tuple(_paragraphs(label, order, there)),
        nutrition=() if is_ticket else order.nutrition,
        piece="" if is_ticket else order.piece,
        date="" if is_ticket else _words(there, "date"),
        lot="" if is_ticket or label.mark else _words(there, "lot"),
        storage=() if is_ticket else label.storage,
        business="" if is_ticket else _words(there, "business"),
        price=order.price,
        number=order.number.digits if order.number and not is_ticket else "",
        revisions=order.revisions,
        least_x_mm=_least_x(label, is_ticket=is_ticket),
        least_figures_mm=figures(net_g).least_mm if net_g is not None else None,
    )


def shows_nutrition(label: Label, kind: Kind, *, asked: bool) -> bool:
    """Whether the nutrition declaration stands on it.

    It does where the law asks it and nothing lifts that, or where the shop wants it.

    Args:
        label: what must be shown.
        kind: what is printed; on a ticket there is none.
        asked: whether the shop wants it.
    """
    if kind != "label":
        return False
    row = next((one for one in label.particulars if one.name == "nutrition"), None)
    if row is None or row.need is Need.MAY:
        return asked
    surface = label.order.surface_cm2
    is_small = surface is not None and surface < _SMALL_CM2
    lifted = set(label.order.lifted) & set(row.row.unless)
    return asked or not (
        lifted or (is_small and "surface_under_25_cm2" in row.row.unless)
    )


def waited_for(
    label: Label, kind: Kind, *, nutrition: bool = False
) -> tuple[Particular, ...]:
    """Particulars that keep it from being printed: what is held, what is missing.

    A ticket waits only for what stands on it, a label for nutrition only if it shows
    it.

    Args:
        label: what must be shown.
        kind: what is printed.
        nutrition: whether the shop wants the nutrition declaration on it.
    """
    shown = shows_nutrition(label, kind, asked=nutrition)
    return tuple(
        one
        for one in label.particulars
        if one.standing in {Standing.HELD, Standing.MISSING}
        and (kind != "ticket" or one.name in _ON_A_TICKET)
        and (one.name != "nutrition" or shown)
    )


def allergen_face(
    found: SlabAllergens, called: str, revisions: tuple[str, ...]
) -> Face:
    """All that the allergen card of a slab says of what is in it, to compare later.

    Args:
        found: what it contains, what suppliers warn of, what must be asked.
        called: the name of the food.
        revisions: of the card and of the larder.
    """
    said = [
        ("contains", found.in_it, "None of the 14 is known"),
        ("may_contain", found.may_contain, ""),
        ("unknown", found.unknown, ""),
    ]
    paragraphs = [
        Paragraph(name, (Run(allergen_words(which, "and") if which else without),))
        for name, which, without in said
        if which or without
    ]
    for allergen in (*found.in_it, *found.may_contain):
        ways = [" > ".join(one.way) for one in found.traces if one.allergen == allergen]
        name = f"how {plain_name(allergen)} gets there"
        paragraphs.append(Paragraph(name, (Run("; ".join(dict.fromkeys(ways))),)))
    return Face(
        "allergen card",
        found.slab,
        "",
        _capital(called),
        paragraphs=tuple(paragraphs),
        revisions=revisions,
    )


def listed_runs(words: str, allergens: Sequence[str]) -> Runs:
    """A list of ingredients in runs, where it names an allergen set apart.

    Args:
        words: the list.
        allergens: those that are in it.

    >>> [run.text for run in listed_runs("wheat flour", ["gluten:wheat"])]
    ['wheat', ' flour']
    """
    found: list[Run] = []
    last = 0
    for start, end in emphasis(words, allergens).spans:
        found += [Run(words[last:start]), Run(words[start:end], is_emphasised=True)]
        last = end
    found.append(Run(words[last:]))
    return tuple(run for run in found if run.text)


def _paragraphs(
    label: Label, order: FaceOrder, there: dict[str, Particular]
) -> Iterator[Paragraph]:
    in_it, warned = label.allergens.in_it, label.allergens.may_contain
    is_ticket = order.kind == "ticket"
    runs = order.ingredients
    if not runs and "ingredients" in there:
        runs = listed_runs(there["ingredients"].what, in_it)
    if runs and not is_ticket:
        yield Paragraph("ingredients", _headed("Ingredients: ", runs))
    elif in_it:
        names = allergen_words(in_it, "and")
        stressed = (*listed_runs(names, in_it), Run("."))
        yield Paragraph("contains", (Run("Contains "), *stressed))
    elif not label.is_held:
        yield Paragraph("contains", (Run(NONE_KNOWN),))
    if "quid" in there and not order.ingredients and not is_ticket:
        yield Paragraph("quid", (Run(_ended(_capital(there["quid"].what))),))
    if warned:
        names = allergen_words(warned, "and")
        said = listed_runs(names, warned)
        end = Run(", by its suppliers.")
        yield Paragraph("may_contain", (Run("May contain "), *said, end))
    if is_ticket:
        yield Paragraph("ask", (Run(ASK),))


def _headed(head: str, runs: Runs) -> Runs:
    """With its heading, once."""
    if re.match(r"\s*ingredients\b", runs[0].text, re.IGNORECASE):
        return runs
    return (Run(head), *runs)


def _least_x(label: Label, *, is_ticket: bool) -> float:
    if is_ticket:
        return _TICKET_X_MM
    return letters(label.order.surface_cm2).least_mm or 1.2


def _words(there: dict[str, Particular], name: str) -> str:
    return _capital(there[name].what) if name in there else ""


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _ended(text: str) -> str:
    return text if text.endswith(".") else f"{text}."
