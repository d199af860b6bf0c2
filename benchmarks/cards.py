"""Cards to measure with: four layers, taken from the demonstration's slabs."""

import re
from pathlib import Path
from typing import Final

DEMO: Final = Path(__file__).parents[1] / "demo"
_LAYERS: Final = (
    ("two-tides", "Lemon semolina shortbread"),
    ("two-tides", "Baked lemon curd"),
    ("harbour-lamp", "Coffee dark ganache"),
    ("two-tides", "Blackcurrant jelly"),
)
_GRAMS: Final = re.compile(r"^(  )(\d+)( g )", re.MULTILINE)


def card(number: int = 0) -> str:
    """The text of a four-layer card.

    Args:
        number: cards of other numbers weigh a little otherwise, so that nothing can
            be remembered by its text.
    """
    layers = "\n\n".join(_layer(slab, name) for slab, name in _LAYERS)
    weighed = _GRAMS.sub(
        lambda found: f"{found[1]}{int(found[2]) + number % 97 / 100:g}{found[3]}",
        layers,
    )
    head = f"slab Measured {number}\ntin 30 x 20 x 7 cm\ncut 5 x 4, trim 5 mm\n"
    return f"{head}\n{weighed}\n"


def _layer(slab: str, name: str) -> str:
    text = (DEMO / "slabs" / f"{slab}.card").read_text("utf-8")
    blocks = text.split("\n\n")
    return next(b for b in blocks if b.startswith(f"layer {name}\n")).rstrip()
