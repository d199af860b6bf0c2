"""What is not known of an ingredient: hidden by its kind, or against its own name."""

from collections.abc import Iterable, Iterator

from slabwright.label.allergen.allergens import Doubt
from slabwright.label.allergen.annex import number_of
from slabwright.label.allergen.part_words import exemption_of, exemptions_called, told
from slabwright.larder.index import COUNTRIES
from slabwright.larder.ingredient import Ingredient


def still_open(doubts: Iterable[Doubt], said: set[str]) -> Iterator[Doubt]:
    """Each doubt once, without what is known to be in it."""
    seen: set[Doubt] = set()
    for one in doubts:
        left = tuple(allergen for allergen in one.allergens if allergen not in said)
        doubt = Doubt(left, one.why, one.way)
        if left and doubt not in seen:
            seen.add(doubt)
            yield doubt


def hidden(one: Ingredient, country: str) -> Iterator[Doubt]:
    """What may hide in it, as our larder warns; an exempt derivative does not."""
    exempt = {by.number for by in exemptions_called(one.name)}
    abroad = tuple(f"in {name}" for key, name in COUNTRIES.items() if key != country)
    for warned in one.allergens:
        if warned.how != "may hide" or warned.note.startswith(abroad):
            continue
        if number_of(warned.name) not in exempt:
            yield Doubt((warned.name,), warned.note, ())


def named_in_vain(one: Ingredient, said: set[str]) -> Iterator[Doubt]:
    """Allergens that its own name names and its row does not.

    A row that names its source settles a name that can be read in two ways.
    """
    if exemption_of(one.name) is not None:
        return
    for word in told(one.name).words:
        left = tuple(a for a in word.allergens if a not in said)
        settled = word.how == "may hide" and (
            one.allergens_by == "answer" or len(left) < len(word.allergens)
        )
        if left and not settled:
            why = f"its name says “{word.text}” and its row does not"
            yield Doubt(left, why, ())
