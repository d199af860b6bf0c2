"""What a calculator leans on at a desk: kitchen, larder, and who reads a tin."""

from slabwright.files.card.sizes import read_tin
from slabwright.files.folder import Folder
from slabwright.spec.calc.calculator import Around


def around_of(folder: Folder) -> Around:
    """A kitchen, as calculators lean on it."""
    return Around(folder.kitchen, folder.larder, read_tin)
