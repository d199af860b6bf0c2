"""The list of ingredients of a kitchen's slab, asked from the terminal or the app."""

from collections.abc import Iterator
from typing import Final

from slabwright.files.folder import Folder
from slabwright.label.allergen.contents import Contents
from slabwright.label.particulars import Stated
from slabwright.spec.allergens import allergens_of
from slabwright.spec.declaration import IngredientList, ListOrder, ingredient_list
from slabwright.spec.specification import Specification

_LARDER: Final = "larder.yaml"


def list_of(spec: Specification, folder: Folder, order: ListOrder) -> IngredientList:
    """The list of ingredients of this slab, in its kitchen.

    Args:
        spec: the slab, worked out.
        folder: its kitchen. If its larder file can't be read, the list is held.
        order: where and when it is sold, and how the list is wanted.
    """
    contents = Contents(folder.larder, folder.kitchen.country)
    is_unread = any(one.where.file.endswith(_LARDER) for one in folder.mistakes)
    unread = (_LARDER,) if is_unread else ()
    allergens = allergens_of(spec, contents, folder.prices, order.where.on, unread)
    return ingredient_list(spec, contents, allergens, order)


def stated(found: IngredientList) -> Iterator[tuple[str, Stated]]:
    """What a label says of it: the list, and the shares if anything is stressed."""
    declaration = found.declaration
    if declaration.entries:
        yield "ingredients", Stated(declaration.marked, declaration.held)
    if found.quid or found.quid_held:
        yield "quid", Stated(found.quid, found.quid_held)
