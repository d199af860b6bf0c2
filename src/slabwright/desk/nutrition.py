"""The nutrition of a kitchen's slab, asked from the terminal or the app."""

from datetime import date

from slabwright.desk.label import nation_for
from slabwright.files.folder import Folder
from slabwright.spec.nutrition import Nutrition, nutrition_of
from slabwright.spec.specification import Specification


def nutrition_for(
    spec: Specification, folder: Folder, on: date, nation: str = ""
) -> Nutrition:
    """The nutrition declaration of a slab.

    Args:
        spec: the slab, worked out.
        folder: its kitchen, for its larder and where it sells.
        on: the day whose rules hold.
        nation: where it is sold, as it was typed; empty for the kitchen's own.

    Raises:
        FileError: for a nation or a day that there is no table for.
    """
    return nutrition_of(spec, folder.larder, nation_for(folder, nation), on)
