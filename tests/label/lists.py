"""A kitchen whose lists of ingredients are tried."""

from tests.label.kitchen import DAY, folder, worked

from slabwright.files.folder import Folder
from slabwright.label.allergen.contents import Contents
from slabwright.label.ingredients.declaration import Declaration
from slabwright.label.ingredients.declared import Nation
from slabwright.spec.allergens import allergens_of
from slabwright.spec.declaration import (
    IngredientList,
    ListOrder,
    declaration_of,
    ingredient_list,
)
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
        worked(home, text),
        home,
        ListOrder(where, by_layer, sugars_together, numbers),
    )


def declare_spec(
    spec: Specification, home: Folder, order: ListOrder | None = None
) -> Declaration:
    """The list of a slab that is worked out."""
    contents = Contents(home.larder, home.kitchen.country)
    allergens = allergens_of(spec, contents)
    return declaration_of(spec, contents, allergens, order or ListOrder(UK))


def full(text: str, larder: str = "", order: ListOrder | None = None) -> IngredientList:
    """The list of this card with its shares and findings."""
    home = folder(larder)
    contents = Contents(home.larder, home.kitchen.country)
    spec = worked(home, text)
    allergens = allergens_of(spec, contents)
    return ingredient_list(spec, contents, allergens, order or ListOrder(UK))


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
