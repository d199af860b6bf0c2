"""A kitchen in which each of the 14 hides in every place where it can hide."""

from collections.abc import Iterable, Mapping
from datetime import date
from functools import cache

from slabwright.counter.allergen_matrix import AllergenMatrix
from slabwright.desk.allergens import allergens_of_counter
from slabwright.files.folder import Folder, folder_from
from slabwright.files.raw import Text
from slabwright.label.allergen.allergens import SlabAllergens
from slabwright.larder.ingredient import ALLERGENS
from slabwright.spec.specification import Specification
from slabwright.spec.work_out import Order, work_out

DAY = date(2026, 11, 25)
PLACES = (
    "line", "compound", "sub-compound", "brackets", "own overlay", "own like",
    "shared component", "component on a line", "greasing", "may contain", "unknown",
)  # fmt: skip
_WORDS = {
    "gluten:wheat": "wheat flour",
    "gluten:oats": "oat flour",
    "nuts:brazil": "Brazil nuts",
    "sulphites": "sodium metabisulphite",
}
"""What a supplier calls it among the parts, where not by our own name."""
_LIKE = {
    "gluten:wheat": "plain flour",
    "gluten:rye": "wholemeal rye flour",
    "gluten:barley": "barley malt extract",
    "gluten:oats": "porridge oats",
    "egg": "whole egg",
    "peanut": "peanut butter",
    "soya": "soya lecithin",
    "milk": "whole milk",
    "sesame": "tahini",
    "sulphites": "red wine",
    "nuts:almond": "almonds",
    "nuts:hazelnut": "hazelnuts",
}


def letters(allergen: str) -> str:
    """A name for things of the test that tells nothing of what they hold."""
    return "q" + "".join(
        chr(ord("b") + int(d)) for d in f"{ALLERGENS.index(allergen):02}"
    )


def like(allergen: str) -> str:
    """One of ours that holds it; empty if none does."""
    return _LIKE.get(allergen, "")


def larder_of(allergens: Iterable[str]) -> str:
    """A larder file in which each hides in everything."""
    rows: list[str] = []
    for one in allergens:
        q, word = letters(one), _WORDS.get(one, one.rpartition(":")[2])
        rows += [
            f"- {{name: {q} plain, contains: [{one}], source: spec}}",
            f"- {{name: {q} compound, made_of: [sugar, {q} plain]}}",
            f"- {{name: {q} deep, made_of: [salt, {q} compound]}}",
            f'- {{name: {q} bracket, made_of: ["coat (sugar, glaze ({word}))"]}}',
            f"- {{name: {q} warned, contains: [], may_contain: [{one}], source: spec}}",
            f"- {{name: {q} silent}}",
        ]
        if like(one):
            rows.append(f"- {{name: {q} alike, like: {like(one)}}}")
    return "\n".join(rows) + "\n"


def card(name: str, *lines: str) -> str:
    """A slab of sugar and these lines."""
    inside = "\n".join(f"  {line}" for line in ("200 g caster sugar", *lines))
    return f"slab {name}\ntin 20 x 20 x 5 cm\nlayer Base\n{inside}\n"


def cards_of(allergen: str) -> Mapping[str, str]:
    """A slab for each place in which this allergen hides."""
    q = letters(allergen)
    found = {
        "line": card(f"{q} line", f"20 g {q} plain"),
        "compound": card(f"{q} comp", f"20 g {q} compound"),
        "sub-compound": card(f"{q} sub", f"20 g {q} deep"),
        "brackets": card(f"{q} brackets", f"20 g {q} bracket"),
        "own overlay": card(f"{q} overlay", "20 g icing sugar"),
        "shared component": card(f"{q} shared") + f"layer Top from Shared {q}, 40 g\n",
        "component on a line": card(f"{q} inner", f"40 g Shared {q}"),
        "greasing": card(f"{q} grease", f"{q} plain for greasing"),
        "may contain": card(f"{q} may", f"20 g {q} warned"),
        "unknown": card(f"{q} unknown", f"20 g {q} silent"),
    }
    if like(allergen):
        found["own like"] = card(f"{q} like", f"20 g {q} alike")
    return found


def folder(larder: str, components: Iterable[str] = ()) -> Folder:
    """A kitchen with this larder file and these components."""
    cards = [(f"c{n}", Text(text, f"c{n}.card")) for n, text in enumerate(components)]
    return folder_from({"larder.yaml": Text(larder, "larder.yaml")}, cards)


@cache
def hiding_kitchen() -> Folder:
    """The kitchen of them all, but for what lies over one of ours."""
    shared = [
        f"component Shared {q}\n  80 g caster sugar\n  20 g {q} plain\n"
        for q in map(letters, ALLERGENS)
    ]
    return folder(larder_of(ALLERGENS), shared)


def worked(home: Folder, text: str) -> Specification:
    """A card of this kitchen, worked out."""
    read = home.read(Text(text, "test.card"))
    return work_out(read.card, Order(home.kitchen, home.book, None, DAY), read.mistakes)


def counter(home: Folder, *texts: str) -> AllergenMatrix:
    """The allergens of these cards."""
    return allergens_of_counter([worked(home, text) for text in texts], home, DAY)


def slab(larder: str, *lines: str) -> SlabAllergens:
    """The allergens of a slab of sugar and these lines."""
    (row,) = counter(folder(larder), card("Slab", *lines)).rows
    return row.found
