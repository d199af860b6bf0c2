"""The house's fonts for the typesetter, and no other, whatever the machine has."""

from functools import cache
from importlib.resources import as_file, files

import typst


@cache
def house_fonts() -> typst.Fonts:
    """Besley and Atkinson Hyperlegible, with DejaVu for what they lack."""
    with as_file(files("slabwright.publish.drawing").joinpath("fonts/ttf")) as folder:
        return typst.Fonts(
            include_system_fonts=False,
            include_embedded_fonts=False,
            font_paths=[str(folder)],
        )
