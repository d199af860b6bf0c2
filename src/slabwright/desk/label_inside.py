"""What a label declares of a slab's inside, by particular."""

from collections.abc import Mapping
from datetime import date

from slabwright.desk.declaration import list_of, stated
from slabwright.files.folder import Folder
from slabwright.label.ingredients.declared import Nation
from slabwright.label.nutrition.rules import panel_of
from slabwright.label.particulars import Stated
from slabwright.publish.nutrition import label_words
from slabwright.spec.declaration import ListOrder
from slabwright.spec.nutrition import nutrition_of
from slabwright.spec.specification import Specification


def inside_of(
    spec: Specification, folder: Folder, nation: str, on: date
) -> Mapping[str, Stated]:
    """What is declared of this slab's inside: each particular, and what it waits for.

    Args:
        spec: the slab, worked out.
        folder: its kitchen.
        nation: where it is sold, one of those that there is a table for.
        on: the day whose rules hold.
    """
    found: dict[str, Stated] = {}
    if panel_of(nation, on):
        nutrition = nutrition_of(spec, folder.larder, nation, on)
        held = "; ".join(nutrition.held)
        found["nutrition"] = Stated(label_words(nutrition), held)
    order = ListOrder(Nation(nation, on))
    found.update(stated(list_of(spec, folder, order)))
    return found
