"""What a name, a picture or a description of a slab stresses, found in its list.

How words are taken is a matter of reading: common practice, no source.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from slabwright.label.allergen.contents import Contents
from slabwright.label.ingredients.declaration import Declaration, Entry
from slabwright.larder.ingredient import Ingredient
from slabwright.larder.note import HANDLING
from slabwright.larder.words import parse, plain_word

_PLAIN: Final = HANDLING | frozenset(
    plain_word(word)
    for word in (
        "dark light white plain fine whole with and of a an the in on slice bar square "
        "tray bake cake top base layer fresh raw baked pressed sweet sweetened "
        "unsweetened soft home made style slab piece box our no free from golden brown "
        "pale double single half for"
    ).split()
)
"""Words that stress nothing on their own."""
_FORMS: Final = frozenset(
    plain_word(word)
    for word in (
        "juice zest puree pulp powder paste flakes extract flour syrup seeds kernels "
        "nuts pieces chips peel liqueur drink yolk white malt oil jam mass germ bran "
        "semolina groats butter"
    ).split()
)
"""What may follow a thing's name and still be that thing: lemon juice is of lemon."""
_OF_MILK: Final = frozenset(["butter", "milk", "cream", "yoghurt", "cheese"])
"""Unless something before it says otherwise: cocoa butter, coconut milk."""
_GROUPS: Final = {
    "fruit": frozenset(["fruit", "dried fruit"]),
    "berry": frozenset(["fruit", "dried fruit"]),
    "nut": frozenset(["nut"]),
    "seed": frozenset(["seed"]),
    "spice": frozenset(["spice"]),
    "biscuit": frozenset(["biscuit"]),
}
"""Words for a whole group of the larder."""
_LONGEST: Final = 3


@dataclass(frozen=True, slots=True)
class Stressed:
    """Something stressed, and what of the slab it is."""

    term: str
    by: str
    is_pictured: bool
    entries: tuple[Entry, ...] = ()
    layer: int | None = None
    """Number of the layer, where it is a layer as a whole."""


@dataclass(frozen=True, slots=True)
class Told:
    """Words that may stress something."""

    text: str
    by: str
    is_pictured: bool = False


@dataclass(frozen=True, slots=True)
class Missed:
    """Something that is named, and that no line of the slab brings."""

    told: Told
    name: str


def stressed(
    found: Declaration, told: Sequence[Told], contents: Contents
) -> tuple[tuple[Stressed, ...], tuple[Missed, ...]]:
    """What these words stress, and what they name that isn't in it."""
    out: dict[tuple[str, int | None], Stressed] = {}
    missed: dict[str, Missed] = {}
    for one in told:
        words = parse(one.text).words
        hit: set[str] = set()
        for layer in _layers(found, words):
            name = found.poured[layer].name
            hit |= set(parse(name).words)
            out.setdefault(
                (name, layer), Stressed(name, one.by, one.is_pictured, (), layer)
            )
        for term, entries in _entries(found, words, contents):
            hit |= set(term.split())
            key = (term, None)
            out.setdefault(key, Stressed(term, one.by, one.is_pictured, entries))
        for name in _missing(found, one, hit, contents):
            missed.setdefault(name, Missed(one, name))
    return tuple(out.values()), tuple(missed.values())


def _layers(found: Declaration, words: Sequence[str]) -> Iterator[int]:
    """Layers whose own noun is among the words: `curd` of `Baked lemon curd`."""
    for number, one in enumerate(found.poured):
        bare = one.name.partition("(")[0].partition(",")[0]
        noun = _noun(parse(bare).words)
        if noun and noun in words:
            yield number


def _noun(words: Sequence[str]) -> str:
    """The last word before a `with`; empty if it stresses nothing."""
    head = list(words)
    for link in ("with", "of", "in"):
        if link in head[1:]:
            head = head[: head.index(link, 1)]
    if head[-1:] == ["layer"]:
        head.pop()
    return head[-1] if head and head[-1] not in _PLAIN else ""


def _entries(
    found: Declaration, words: Sequence[str], contents: Contents
) -> Iterator[tuple[str, tuple[Entry, ...]]]:
    """The longest phrases of these words that name something in the list."""
    names = [(one, tuple(_names(one))) for one in found.bought]
    at = 0
    while at < len(words):
        for length in range(min(_LONGEST, len(words) - at), 0, -1):
            phrase = tuple(words[at : at + length])
            if length == 1 and phrase[0] in _PLAIN:
                continue
            hits = tuple(
                one
                for one, called in names
                if any(_is_of(phrase, name) for name in called)
                and _is_real(phrase, one, contents)
            )
            if length == 1:
                hits = hits or _group(found, phrase[0])
            if hits:
                yield " ".join(phrase), hits
                at += length - 1
                break
        at += 1


def _names(one: Entry) -> Iterator[tuple[str, ...]]:
    """All that an entry is called: in the list, on the card, in the larder."""
    texts = [one.named.text]
    for line in one.lines:
        texts.append(line.name)
        if line.ingredient is not None:
            texts.append(line.ingredient.name)
            if line.ingredient.own:
                texts += [called.text for called in line.ingredient.names]
    for text in dict.fromkeys(texts):
        yield parse(text).words


def _is_of(phrase: tuple[str, ...], name: tuple[str, ...]) -> bool:
    """Whether a name is of this: the phrase, and behind it no more than a form."""
    for start in range(len(name) - len(phrase) + 1):
        if name[start : start + len(phrase)] == phrase:
            rest = name[start + len(phrase) :]
            if all(word in _FORMS or word in _PLAIN for word in rest):
                return phrase[-1] != "cocoa" or rest != ("butter",)
    return False


def _is_real(phrase: tuple[str, ...], one: Entry, contents: Contents) -> bool:
    """Whether butter, milk and cream are of milk, as a bare word says."""
    if len(phrase) > 1 or phrase[0] not in _OF_MILK:
        return True
    known = [line.ingredient for line in one.lines if line.ingredient is not None]
    return any("milk" in contents.of(each).in_it for each in known)


def _group(found: Declaration, word: str) -> tuple[Entry, ...]:
    groups = _GROUPS.get(word, frozenset())
    return tuple(
        one
        for one in found.bought
        if any(
            line.ingredient and line.ingredient.group in groups for line in one.lines
        )
    )


def _missing(
    found: Declaration, told: Told, hit: set[str], contents: Contents
) -> Iterator[str]:
    """Bought things that the words name and no line brings."""
    there = {id for one in found.bought for id in one.larder_ids}
    for one in contents.named_in(told.text):
        if one.id not in there and not _is_hit(one, told.text, hit):
            yield one.name


def _is_hit(one: Ingredient, text: str, hit: set[str]) -> bool:
    """Whether the words that name it have already been found in the slab."""
    said = set(parse(text).words) - _PLAIN
    own = {word for called in one.names for word in parse(called.text).words}
    return bool(said & own & hit) or not said & own
