"""What an ingredient does in a layer, where a little more or less of it matters much.

The table `roles.csv` goes by the larder's group, or by the one ingredient. A starch
sets a filling; in a dough it is flour like the rest.
"""

import csv
from collections.abc import Mapping, Sequence
from functools import cache
from importlib.resources import files
from typing import Final

from slabwright.formula.weighed import WeighedLine
from slabwright.larder.ingredient import Ingredient

DOUGH_SHARE: Final = 0.10
"""With more flour than this a starch is part of a dough. Common practice, no source."""


@cache
def _roles() -> Mapping[tuple[str, str], str]:
    text = files("slabwright.spec").joinpath("roles.csv").read_text("utf-8")
    rows = csv.DictReader(text.splitlines())
    return {(row["by"], row["name"]): row["role"] for row in rows}


def role_of(line: WeighedLine, lines: Sequence[WeighedLine]) -> str:
    """`salt`, `setting` or `raising`; empty for everything else.

    Args:
        line: the line that is asked about.
        lines: all lines of its batch.
    """
    found = line.ingredient
    if found is None:
        return ""
    roles = _roles()
    own = (roles.get(("id", name)) for name in (found.id, found.like) if name)
    role = next((one for one in own if one is not None), None)
    if role is None:
        role = roles.get(("group", found.group), "")
    if role != "starch":
        return role
    return "" if _is_dough(lines) else "setting"


def _is_dough(lines: Sequence[WeighedLine]) -> bool:
    whole_g = sum(line.mass_g or 0.0 for line in lines)
    flour_g = sum(
        line.mass_g or 0.0
        for line in lines
        if line.ingredient and _is_flour(line.ingredient)
    )
    return flour_g > DOUGH_SHARE * whole_g


def _is_flour(found: Ingredient) -> bool:
    is_starch = _roles().get(("id", found.id)) == "starch"
    return found.group == "flour" and not is_starch
