"""Text that came through a form, with the line ends that its card had before."""

from collections import Counter
from collections.abc import Iterator, Sequence
from difflib import SequenceMatcher

from slabwright.files.card.lines import LINE_END


def shown(text: str) -> str:
    """A card as a page shows it: one kind of line end."""
    return LINE_END.sub("\n", text)


def as_typed(sent: str, like: str = "") -> str:
    r"""A card as its maker typed it: a browser makes every line end its own.

    Args:
        sent: what the form sent.
        like: the card that was changed. Lines that are as they were keep their ends;
            the others get those that most of it has.

    >>> as_typed("slab A\r\nlayer B\r\n")
    'slab A\nlayer B\n'
    >>> as_typed("slab A\nlayer C\n", "slab A\r\nlayer B\r\n")
    'slab A\r\nlayer C\r\n'
    """
    plain = shown(sent)
    if plain == shown(like):
        return like
    ends = Counter(LINE_END.findall(like))
    if set(ends) <= {"\n"}:
        return plain
    usual = ends.most_common(1)[0][0]
    return "".join(_lines(plain, like, usual))


def _lines(plain: str, like: str, usual: str) -> Iterator[str]:
    old, new = _split(like), plain.split("\n")
    kept = _same([text for text, _ in old], new)
    for number, text in enumerate(new):
        yield text
        if number < len(new) - 1:
            was = kept.get(number)
            yield (old[was][1] if was is not None else "") or usual


def _same(old: Sequence[str], new: Sequence[str]) -> dict[int, int]:
    """Which old line each new one was: by place, where as many lines are left."""
    if len(old) == len(new):
        return {number: number for number in range(len(new))}
    found: dict[int, int] = {}
    for i, j, size in SequenceMatcher(None, old, new, False).get_matching_blocks():
        found.update({j + n: i + n for n in range(size)})
    return found


def _split(text: str) -> list[tuple[str, str]]:
    """Lines and their ends; the last one has none."""
    return list(zip(LINE_END.split(text), [*LINE_END.findall(text), ""], strict=True))
