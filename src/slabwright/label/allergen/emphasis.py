"""Which words of a declaration stand out, and what must be added beside them."""

import re
from collections.abc import Iterable
from dataclasses import dataclass

from slabwright.label.allergen.annex import listed, plain_name


@dataclass(frozen=True, slots=True)
class Emphasis:
    """An ingredient's name on a declaration: where it is set apart, and what follows.

    Reg (EU) No 1169/2011, Article 21(1)(b).
    """

    text: str
    spans: tuple[tuple[int, int], ...]
    """Stretches of `text` to set apart: first and behind last character."""
    beside: tuple[str, ...]
    """Allergens that the name does not say, for brackets behind it; set apart too."""

    @property
    def marked(self) -> str:
        """In capitals, for a terminal.

        >>> emphasis("butter", ["milk"]).marked
        'butter (MILK)'
        """
        out, last = [], 0
        for start, end in self.spans:
            out += [self.text[last:start], self.text[start:end].upper()]
            last = end
        text = "".join((*out, self.text[last:]))
        added = ", ".join(name.upper() for name in self.beside)
        return f"{text} ({added})" if added else text


def emphasis(text: str, allergens: Iterable[str]) -> Emphasis:
    """Where this name says these allergens.

    >>> emphasis("plain wheat flour", ["gluten:wheat"]).marked
    'plain WHEAT flour'
    """
    spans: list[tuple[int, int]] = []
    beside: list[str] = []
    for allergen in dict.fromkeys(allergens):
        words = sorted(listed()[allergen].words, key=len, reverse=True)
        pattern = "|".join(re.escape(word) for word in words)
        found = [
            match.span()
            for match in re.finditer(rf"\b(?:{pattern})\b", text, re.IGNORECASE)
        ]
        spans += found
        if not found:
            beside.append(plain_name(allergen))
    return Emphasis(text, tuple(_joined(spans)), tuple(beside))


def _joined(spans: list[tuple[int, int]]) -> list[tuple[int, int]]:
    """In order, those that touch made one."""
    joined: list[tuple[int, int]] = []
    for start, end in sorted(spans):
        if joined and start <= joined[-1][1]:
            joined[-1] = (joined[-1][0], max(end, joined[-1][1]))
        else:
            joined.append((start, end))
    return joined
