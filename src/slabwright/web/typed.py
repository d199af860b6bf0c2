"""Text that came through a form, with the line ends that its card had before."""

from collections import Counter
from collections.abc import Iterator
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
    bare = [text for text, _ in old]
    kept: dict[int, str] = {}
    for i, j, size in SequenceMatcher(None, bare, new, False).get_matching_blocks():
        kept.update({j + n: old[i + n][1] for n in range(size)})
    for number, text in enumerate(new):
        yield text
        if number < len(new) - 1:
            yield kept.get(number) or usual


def _split(text: str) -> list[tuple[str, str]]:
    """Lines and their ends; the last one has none."""
    return list(zip(LINE_END.split(text), [*LINE_END.findall(text), ""], strict=True))
