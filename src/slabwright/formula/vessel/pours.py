"""What a step says is poured: the words of what, and of where it goes.

Nothing is looked up here: `contents` knows what the words mean in its vessels.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from typing import Final

LAYS: Final = frozenset({"pour", "tip", "press", "spread"})
"""Said of nothing else, these lay the mix in the tin."""
MOVES: Final = LAYS | frozenset(
    "scrape strain sieve transfer return empty decant ladle stream trickle "
    "drizzle".split()
)
"""What moves all that is at hand, whatever it is called."""
ADDS: Final = frozenset("add put".split())
MIXES: Final = frozenset("whisk beat whip stir fold mix blend".split())
_VERBS: Final = MOVES | ADDS | MIXES
_PLACES: Final = frozenset("into onto over on in".split())
_FILLER: Final = frozenset("the a an to top of back it all".split())
_ENDS: Final = frozenset("with while at until for when as from within so still".split())
_NOT_POURED: Final = re.compile(
    r"\b(?:off|away|down|sides?|film|cling|through|dry)\b|\bon (?:a|the) scales?\b"
)
_THEN_OVER: Final = re.compile(r"\bthen\s+(?=(?:into|onto|over|on to|in to)\b)")
_PARTS: Final = re.compile(r"[,;:]|\.(?!\d)|\bthen\b|\s{2,}")
_JOINTS: Final = frozenset("and while whilst by before after".split())
_SHARES: Final = {
    "half": 1 / 2, "a third": 1 / 3, "one third": 1 / 3, "two thirds": 2 / 3,
    "a quarter": 1 / 4, "three quarters": 3 / 4,
}  # fmt: skip
_SHARE: Final = re.compile(rf"\b(?:{'|'.join(_SHARES)})\b(?! an? (?:hour|minute))")
_SOME: Final = re.compile(
    r"\b(?:some|part|a little|a bit|a splash|a spoonful|a ladleful)\b"
    r"(?! (?:at a time|by little|by bit))"
)
_WORD: Final = re.compile(r"[a-z]+")


@dataclass(frozen=True, slots=True)
class Pour:
    """One pour of a step, in its maker's words."""

    verb: str
    what: tuple[str, ...] = ()
    """What is poured; empty where that is not said."""
    places: tuple[tuple[str, tuple[str, ...]], ...] = ()
    """`into`, `over`, `in` and the like, each with the words after it."""
    share: float = 1.0


@lru_cache(maxsize=2048)
def pours(text: str) -> tuple[Pour, ...]:
    """Everything that a step may pour, in its order; a part that is not told is none.

    >>> pours("heat to 80 C, then over the chocolate in three goes")[0].places
    (('over', ('chocolate',)), ('in', ('three', 'goes')))
    >>> pours("pour half the syrup onto the whites")[0].share
    0.5
    >>> pours("scrape down the sides"), pours("boil 5 min")
    ((), ())
    """
    plain = _THEN_OVER.sub(", pour ", text.casefold())
    return tuple(
        pour
        for part in _PARTS.split(plain)
        for clause in _clauses(part)
        if (pour := _pour(clause)) is not None
    )


def base_of(word: str) -> str:
    """The verb of a word: `pouring`, `whisked` and `tipping` are pour, whisk and tip.

    >>> base_of("pouring"), base_of("tipping"), base_of("scraping"), base_of("syrup")
    ('pour', 'tip', 'scrape', 'syrup')
    """
    for end in ("ing", "ed"):
        stem = word.removesuffix(end)
        if stem != word:
            for one in (stem, f"{stem}e", stem[:-1]):
                if one in _VERBS:
                    return one
    return word


def _clauses(part: str) -> Iterator[str]:
    """Parts of a sentence, each with a verb of its own: `stir and pour into …`."""
    at = 0
    words = list(_WORD.finditer(part))
    for joint, verb in pairwise(words):
        if joint.group() in _JOINTS and base_of(verb.group()) in _VERBS:
            yield part[at : joint.start()]
            at = verb.start()
    yield part[at:]


def _pour(clause: str) -> Pour | None:
    words = _WORD.findall(clause)
    bases = [base_of(word) for word in words]
    at = next((n for n, base in enumerate(bases) if base in _VERBS), None)
    if at is None or _NOT_POURED.search(clause) or _SOME.search(clause):
        return None
    verb, rest = bases[at], words[at + 1 :]
    share = _SHARE.search(clause)
    preps = _PLACES | {"to"} if verb in {"add", "return", "transfer"} else _PLACES
    what: list[str] = []
    places: list[tuple[str, list[str]]] = []
    kept = what
    for word in rest:
        if word in preps and not (word == "to" and kept is not what and not kept):
            kept = []
            places.append((word, kept))
        elif word in _ENDS:
            kept = []
        elif word not in _FILLER:
            kept.append(word)
    named = [w for w in what if not share or w not in share.group().split()]
    return Pour(
        verb,
        tuple(named),
        tuple((prep, tuple(said)) for prep, said in places),
        _SHARES[share.group()] if share else 1.0,
    )
