"""What must be asked of a slab's allergens: of whom, from which pack, and then what."""

import shlex
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from slabwright.errors import Span
from slabwright.label.allergen.allergens import Doubt, Question
from slabwright.larder.ingredient import Ingredient


@dataclass(frozen=True, slots=True)
class Sold:
    """A pack in which an ingredient is bought."""

    pack: str
    """In words, with its supplier."""
    supplier: str


@dataclass(frozen=True, slots=True)
class Asked:
    """A doubt, and the bought thing or the words on the card that it hangs on."""

    about: str
    doubt: Doubt
    ingredient: Ingredient | None = None
    in_it: tuple[str, ...] = ()
    """What the ingredient is known to contain."""
    by_card: str = ""
    """What would settle it on the card, where no pack does."""
    span: Span | None = None


def questions(
    asked: Iterable[Asked], sold: Mapping[str, tuple[Sold, ...]]
) -> tuple[Question, ...]:
    """One question for each thing that there are doubts about, in the card's order."""
    groups: dict[tuple[str, str], list[Asked]] = {}
    for one in asked:
        id = one.ingredient.id if one.ingredient else ""
        name = one.about.casefold() if not one.ingredient or one.by_card else ""
        groups.setdefault((id, name), []).append(one)
    return tuple(_question(group, sold) for group in groups.values())


def _question(group: list[Asked], sold: Mapping[str, tuple[Sold, ...]]) -> Question:
    first = group[0]
    id = first.ingredient.id if first.ingredient else ""
    packs = sold.get(id, ()) if not first.by_card else ()
    suppliers = dict.fromkeys(one.supplier for one in packs if one.supplier)
    who = " or ".join(suppliers) or "its supplier"
    if first.by_card:
        who = "whoever makes it"
    return Question(
        first.about,
        id,
        tuple(dict.fromkeys(one.doubt for one in group)),
        who,
        tuple(dict.fromkeys(one.pack for one in packs)),
        first.by_card or _do(first),
        first.span,
    )


def _do(one: Asked) -> str:
    """How the answer is kept."""
    name, known = shlex.quote(one.about), one.ingredient
    if known is not None and known.own:
        return (
            f"Read the pack; give {known.name} its contains: and source: in "
            "larder.yaml, contains: [] if it names none of the 14."
        )
    like = f"--like {shlex.quote(known.name)}" if known else "'its nutrition'"
    there = "".join(f" --contains {name}" for name in one.in_it)
    more = "--contains again for each that it adds"
    if not there:
        more = "--contains none if it names none of the 14"
    return (
        f"Read the pack; keep the answer: slabwright larder add {name} {like}"
        f"{there or ' --contains …'} --source 'specification, date, who read it' "
        f"({more})."
    )
