"""Lines of a card on a page, with what the program understood of each beside them."""

import re
from pathlib import Path
from typing import Final

from slabwright.spec.understood import understood
from tests.docs.bench import work_out_text

_BAR: Final = "  |  "
_OPENS: Final = re.compile(r"(layer|component|finish)\b")


def beside(lines: list[str], what: str) -> list[str]:
    """The same lines, what was understood of each written anew.

    Args:
        lines: as they stand on the page, with a bar or without.
        what: `card-top`, each line read on its own above Two Tides' layers, or
            `card-layer`, all of them read as one layer.

    Raises:
        AssertionError: if a line has a mistake.
    """
    own = [line.split(_BAR)[0].rstrip() for line in lines]
    said = _tops(own) if what == "card-top" else _layer(own)
    width = max(len(line) for line in own)
    return [
        f"{line:<{width}}{_BAR}{words}" if words else line
        for line, words in zip(own, said, strict=True)
    ]


def _tops(lines: list[str]) -> list[str]:
    card = Path("demo/slabs/two-tides.card").read_text("utf-8")
    layers = card[card.index("\nlayer ") :]
    found = []
    for line in lines:
        above = ["slab Example"]
        if not line.startswith("tin "):
            above.append("tin 30 x 20 x 5 cm")
        text = "\n".join((*above, line)) + layers
        found.append(_understood(text).get(len(above) + 1, ""))
    return found


def _layer(lines: list[str]) -> list[str]:
    above = ["slab Example", "tin 30 x 20 x 5 cm"]
    if not any(_OPENS.match(line) for line in lines):
        above.append("layer Example")
    said = _understood("\n".join((*above, *lines)))
    return [said.get(len(above) + i, "") for i in range(1, len(lines) + 1)]


def _understood(text: str) -> dict[int, str]:
    spec = work_out_text(text)
    assert not spec.errors, [str(mistake) for mistake in spec.errors]
    return understood(spec)
