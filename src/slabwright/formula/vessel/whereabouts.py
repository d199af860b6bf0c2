"""Which vessel a step means, by its name or by what stands in it."""

from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Final

from slabwright.formula.vessel.contents import Content, Portion
from slabwright.formula.weighed import WeighedLine

IN_TIN: Final = "\0tin"
"""Where a pour goes that leaves the vessels: the tin, a base, a layer."""
HOT_WORDS: Final = frozenset("hot boiling warm simmering".split())
_TIN_WORDS: Final = frozenset(
    "tin tins frame tray trays mould moulds mold layer base slab sheet mat marble "
    "paper crust".split()
)
_VESSEL_WORDS: Final = frozenset(
    "bowl pan saucepan pot mixer jug processor blender basin casserole kettle bucket "
    "tub beaker".split()
)
_OTHER: Final = frozenset("clean other another fresh second separate new".split())
_WHITES: Final = frozenset("white whites meringue foam".split())
SYRUPS: Final = frozenset("syrup caramel toffee sugar".split())
"""What a boil of sugar is called."""


def key_of(name: str) -> str:
    """The name of a vessel as it is compared.

    >>> key_of("the  Wide Pan")
    'wide pan'
    """
    return " ".join(name.casefold().removeprefix("the ").split())


def vessel_of(
    words: Sequence[str], opened: Iterable[str], owned: Iterable[str]
) -> str | None:
    """The key of the vessel that is called by these words; None if none or unsure.

    Args:
        words: the maker's.
        opened: keys of the vessels that the block opens.
        owned: keys of the kitchen's own.

    >>> vessel_of(["the", "mixer"], ["mixer bowl", "small pan"], ["mixer"])
    'mixer bowl'
    >>> vessel_of(["pan"], ["small pan", "wide pan"], [])
    >>> vessel_of(["clean", "bowl"], ["bowl"], [])
    'clean bowl'
    """
    said = set(words)
    kinds = said & _VESSEL_WORDS
    near = [key for key in opened if kinds & set(key.split())]
    is_other = bool(said & _OTHER)
    for keys in ([key for key in near if not is_other], owned):
        whole = [key for key in keys if key and set(key.split()) <= said]
        if whole:
            return max(whole, key=len)
        if keys is not owned and len(near) == 1 and not is_other:
            return near[0]
    if not kinds or (near and not is_other):
        return None
    return " ".join(word for word in words if word not in HOT_WORDS)


def is_tin(words: Iterable[str]) -> bool:
    """Whether these words are the tin, or something that lies in it."""
    return bool(_TIN_WORDS & set(words))


def holder_of(words: Sequence[str], contents: Mapping[str, Content]) -> str | None:
    """The vessel with the line that these words name best; None if two fit alike."""

    def best(score: Callable[[Portion], tuple[int, int]]) -> str | None:
        scores = {
            key: max(map(score, held.portions))
            for key, held in contents.items()
            if held.portions
        }
        most = max(scores.values(), default=(0, 0))
        keys = [key for key, value in scores.items() if value == most]
        return keys[0] if most > (0, 0) and len(keys) == 1 else None

    by_name = best(lambda one: overlap(words, one))
    return by_name or best(lambda one: (int(_is_called(words, one)), 0))


def named_by(words: Sequence[str], lines: Sequence[WeighedLine]) -> list[WeighedLine]:
    """The lines that these words name; not one that another is named beyond.

    `egg whites` names egg whites, and no yolks though both are eggs; `milk` names
    milk, and no milk chocolate; `condensed milk and milk` names both.
    """
    said = Counter(_single(word) for word in words)
    shared = [(one, said.keys() & set(_name_of(one))) for one in lines]
    ends = [own for one, own in shared if own and _name_of(one)[-1] in said]
    return [
        one
        for one, own in shared
        if own
        and sum(own < other for _, other in shared) < min(said[word] for word in own)
        and (own not in ends or _name_of(one)[-1] in said)
    ]


def overlap(words: Sequence[str], one: Portion) -> tuple[int, int]:
    """How many of the words the line's name has, and whether its last word is one."""
    name = _name_of(one.line)
    said = {_single(word) for word in words}
    return len(said & set(name)), int(bool(name) and name[-1] in said)


def _name_of(line: WeighedLine) -> list[str]:
    name = [_single(w) for w in line.line.name.casefold().split(",")[0].split()]
    return [word for word in name if word.isalpha() and len(word) > 2]


def _single(word: str) -> str:
    return word.removesuffix("s") if len(word) > 3 else word


def _is_called(words: Sequence[str], one: Portion) -> bool:
    """Whether these words are what the trade calls a mix with this line in it."""
    if one.line.ingredient is None:
        return False
    said, group = set(words), one.line.ingredient.group
    if said & _WHITES and one.line.ingredient.id.startswith("egg-white"):
        return True
    return bool(said & SYRUPS) and one.is_hot and group in {"sugar", "syrup"}
