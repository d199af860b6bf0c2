"""A kitchen whose lists of ingredients are tried."""

from tests.label.kitchen import DAY, folder, worked

from slabwright.files.folder import Folder
from slabwright.label.contents import Contents
from slabwright.label.declaration import Declaration
from slabwright.label.declared import Nation
from slabwright.label.declaring import Asked
from slabwright.spec.allergens import allergens_of
from slabwright.spec.declaration import declaration_of
from slabwright.spec.specification import Specification

UK = Nation("United Kingdom", DAY)
EU = Nation("EU", DAY)


def declare(
    text: str,
    larder: str = "",
    where: Nation = UK,
    home: Folder | None = None,
    numbers: bool = False,
    by_layer: bool = False,
    sugars_together: bool = False,
) -> Declaration:
    """The list of this card, in a kitchen with this larder file."""
    home = home or folder(larder)
    return declare_spec(
        worked(home, text), home, where, numbers=numbers,
        asked=Asked(by_layer, sugars_together),
    )  # fmt: skip


def declare_spec(
    spec: Specification,
    home: Folder,
    where: Nation = UK,
    asked: Asked | None = None,
    *,
    numbers: bool = False,
) -> Declaration:
    """The list of a slab that is worked out."""
    contents = Contents(home.larder, home.kitchen.country)
    allergens = allergens_of(spec, contents)
    return declaration_of(spec, contents, allergens, where, asked, numbers=numbers)


def card(*layers: str) -> str:
    """A slab of these layers, each its lines apart by `;`, its name before `:`."""
    text = "slab Tried\ntin 20 x 20 x 5 cm\n"
    for one in layers:
        name, _, lines = one.partition(":")
        text += f"layer {name}\n"
        text += "".join(f"  {line.strip()}\n" for line in lines.split(";"))
    return text


def names(found: Declaration) -> list[str]:
    """Its top names, in order."""
    return [one.named.text for one in found.entries]
