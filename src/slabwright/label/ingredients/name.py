"""A name in a list of ingredients: what stands out in it, and what is in brackets."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from slabwright.label.allergen.emphasis import emphasis
from slabwright.label.paper.face import Run, Runs


@dataclass(frozen=True, slots=True)
class Named:
    """A name as it is declared, with all that stands behind it."""

    text: str
    spans: tuple[tuple[int, int], ...] = ()
    """Stretches of `text` to set apart: first and behind last character."""
    beside: tuple[str, ...] = ()
    """Allergens that neither the name nor the brackets say; set apart too."""
    inside: tuple["Named", ...] = ()
    """What it is made of, in its order."""
    tail: str = ""
    """Words behind the brackets: `in varying proportions`."""
    share: str = ""
    """Its share, where it is told beside it: `15 %`."""
    allergens: frozenset[str] = frozenset()
    """All that it shows, brackets and all."""

    @property
    def runs(self) -> Runs:
        """Its words, those that stand out marked."""
        return joined(self.stretches())

    @property
    def plain(self) -> str:
        """Its words alone."""
        return "".join(run.text for run in self.runs)

    def with_share(self, words: str) -> "Named":
        """The same with its share behind the name."""
        return replace(self, share=words)

    def stretches(self) -> Iterator[Run]:
        """Its words piece by piece, some of them empty."""
        last = 0
        for start, end in self.spans:
            yield Run(self.text[last:start])
            yield Run(self.text[start:end], True)
            last = end
        yield Run(self.text[last:])
        if self.share:
            yield Run(f" {self.share}")
        if self.inside or self.beside:
            yield Run(" (")
            yield from self._brackets()
            yield Run(")")
        if self.tail:
            yield Run(f" {self.tail}")

    def _brackets(self) -> Iterator[Run]:
        for number, one in enumerate(self.inside):
            yield Run(", " if number else "")
            yield from one.stretches()
        if self.inside and self.beside:
            yield Run(", contains ")
        for number, name in enumerate(self.beside):
            yield Run(", " if number else "")
            yield Run(name, True)


def named(
    text: str,
    allergens: Iterable[str],
    inside: Iterable[Named] = (),
    tail: str = "",
) -> Named:
    """A name with its allergens set apart, but for those that its brackets show.

    >>> "".join(run.text.upper() if run.is_emphasised else run.text
    ...         for run in named("butter", ["milk"]).runs)
    'butter (MILK)'
    """
    within = tuple(inside)
    shown = frozenset(a for one in within for a in one.allergens)
    wanted = list(dict.fromkeys(allergens))
    found = emphasis(text, wanted)
    said = emphasis(text, [a for a in wanted if a not in shown])
    return Named(
        text, found.spans, said.beside, within, tail,
        allergens=shown | frozenset(wanted),
    )  # fmt: skip


def joined(runs: Iterable[Run]) -> Runs:
    """The same stretches, neighbours of one kind made one, none empty.

    >>> joined([Run("a"), Run(""), Run("b"), Run("c", True)])
    (Run(text='ab', is_emphasised=False), Run(text='c', is_emphasised=True))
    """
    found: list[Run] = []
    for run in runs:
        if not run.text:
            continue
        if found and found[-1].is_emphasised == run.is_emphasised:
            found[-1] = Run(found[-1].text + run.text, run.is_emphasised)
        else:
            found.append(run)
    return tuple(found)


def capitals(runs: Iterable[Run]) -> str:
    """With what stands out in capitals, for a terminal."""
    return "".join(run.text.upper() if run.is_emphasised else run.text for run in runs)
