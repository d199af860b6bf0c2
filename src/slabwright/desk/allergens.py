"""The allergens of a kitchen's slabs, asked from the terminal or the app."""

from collections.abc import Sequence
from datetime import date
from typing import Final

from slabwright.counter.allergen_matrix import AllergenMatrix, allergen_matrix
from slabwright.desk.worked import Desk
from slabwright.files.folder import Folder
from slabwright.label.allergen.allergens import SlabAllergens
from slabwright.label.allergen.contents import Contents
from slabwright.spec.allergens import allergens_of
from slabwright.spec.specification import Specification

_LARDER: Final = "larder.yaml"


def allergens_of_counter(
    specs: Sequence[Specification],
    folder: Folder,
    on: date,
    others: Sequence[Specification] = (),
) -> AllergenMatrix:
    """The allergens of these slabs, and of what else their kitchen makes.

    Args:
        specs: slabs, worked out.
        folder: their kitchen. If its larder file can't be read, every slab is held.
        on: the day whose packs are asked about.
        others: other slabs made in the same kitchen.
    """
    contents = Contents(folder.larder, folder.kitchen.country)
    unread = unread_papers(folder)
    found, beside = (
        [allergens_of(spec, contents, folder.prices, on, unread) for spec in some]
        for some in (specs, others)
    )
    return allergen_matrix(found, on, beside)


def allergens_at(desk: Desk, spec: Specification) -> SlabAllergens:
    """The allergens of one slab, in a kitchen that is open at a desk."""
    folder = desk.folder
    unread = unread_papers(folder)
    return allergens_of(spec, desk.contents, folder.prices, desk.day, unread)


def unread_papers(folder: Folder) -> tuple[str, ...]:
    """Papers that may say more of allergens and can't be read."""
    is_unread = any(one.where.file.endswith(_LARDER) for one in folder.mistakes)
    return (_LARDER,) if is_unread else ()
