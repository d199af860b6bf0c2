"""Changes of a kitchen's own YAML files: all that is not changed stays as it was typed.

A file is loaded with its comments, changed, and written out. The writer has ways of its
own (indents, quotes, folds), so that every line which the change leaves alone is put
back as it stood; what then does not read as what was meant is written plainly.
"""

import re
from collections.abc import Callable, Mapping, Sequence
from datetime import date
from io import StringIO
from typing import Any, Final

from ruamel.yaml import YAML
from ruamel.yaml.comments import CommentedMap, CommentedSeq
from ruamel.yaml.error import YAMLError

from slabwright.errors import FileError, Mistake, Where
from slabwright.files.raw import Text
from slabwright.files.two_texts import is_aside, put_back
from slabwright.files.yaml_file import plain_of, plain_tree

Row = Mapping[str, object]
"""Fields by name; an empty one is left out of the file, but for an empty tuple."""

_LINE_END: Final = re.compile(r"\r\n?")
_LISTED: Final = re.compile(
    r"^( *)[\w]+:[ ]*(?:#.*)?\n(?:\s*#.*\n)*( *)- ", re.MULTILINE
)
_NUMBER: Final = re.compile(r"[+-]?\d+(?:\.\d+)?")
_COMMA: Final = re.compile(r"([+-]?\d+),(\d{1,2}|\d{4,})$")


def number_as_typed(typed: str) -> object:
    """A number with the digits that it was typed with: prices keep their pennies.

    What is no plain number is given back as text, for the schema to refuse.

    >>> number_as_typed("15.20"), number_as_typed(" 7,5 "), number_as_typed("1,500")
    (15.2, 7.5, '1,500')
    """
    said = _COMMA.sub(r"\1.\2", typed.strip(), count=1)
    if not _NUMBER.fullmatch(said):
        return typed.strip()
    return YAML(typ="rt").load(said.lstrip("+"))


def with_fields(text: Text, fields: Row, order: Sequence[str] = ()) -> str:
    """The file with these fields in it; new ones stand where `order` has them.

    Raises:
        FileError: if the file can't be read, or holds a list.
    """

    def change(root: Any) -> Any:
        root = CommentedMap() if root is None else root
        if not isinstance(root, CommentedMap):
            raise _wrong(text, "The file is a list, not fields.")
        _set(root, fields, order)
        return root

    return _changed(text, change)


def with_rows(
    text: Text, key: str, rows: Sequence[tuple[int | None, Row]], order: Sequence[str]
) -> str:
    """The file with these rows in one of its lists.

    Args:
        text: the file.
        key: under which the list stands; empty if the file is the list.
        rows: each with its number in the file from 0, or None if it is new. Rows of
            the file that are not among them are taken out.
        order: fields of the file, for a list that is new in it.

    Raises:
        FileError: if the file can't be read, has no such row, or no list there.
    """

    def change(root: Any) -> Any:
        root = (CommentedMap() if key else CommentedSeq()) if root is None else root
        kept = _list_at(text, root, key)
        for number, row in rows:
            if number is not None:
                _set(_row_at(text, kept, number), row)
        gone = set(range(len(kept))) - {n for n, _ in rows if n is not None}
        like = kept[-1] if kept else None
        for number in sorted(gone, reverse=True):
            del kept[number]
        for number, row in rows:
            if number is None:
                kept.append(_new_row(row, like))
        if key and key not in root and kept:
            _insert(root, key, kept, order)
        elif key and key in root and not kept:
            del root[key]
        return root

    return _changed(text, change)


def with_row(text: Text, number: int | None, row: Row) -> str:
    """The list with one of its rows changed, or with one more if `number` is None.

    Raises:
        FileError: if the file can't be read, or has no such row.
    """
    others: list[tuple[int | None, Row]] = [
        (i, {}) for i in range(_count(text)) if i != number
    ]
    return with_rows(text, "", [*others, (number, row)], ())


def without_row(text: Text, number: int) -> str:
    """The list without one of its rows.

    Raises:
        FileError: if the file can't be read, or has no such row.
    """
    count = _count(text)
    if not 0 <= number < count:
        raise _wrong(text, f"The file has no row {number + 1}.")
    return with_rows(text, "", [(i, {}) for i in range(count) if i != number], ())


def _changed(text: Text, change: Callable[[Any], Any]) -> str:
    """The text with a change made to what it holds; line ends become plain.

    Raises:
        FileError: if the text can't be read, as `plain_of` says it.
    """
    plain_of(text)
    plain = _LINE_END.sub("\n", text.text)
    writer = _writer(plain)
    before = writer.load(plain)
    root = change(_writer(plain).load(plain))
    if before is None:
        joint = "" if not plain or plain.endswith("\n") else "\n"
        return plain + joint + _dumped(writer, root)
    if not root:
        return "".join(
            line for line in plain.splitlines(keepends=True) if is_aside(line)
        )
    wanted = _dumped(writer, root)
    merged = put_back(plain, _dumped(writer, before), wanted)
    return merged if _holds(merged) == plain_tree(root) else wanted


def _holds(text: str) -> object:
    try:
        return plain_tree(_writer(text).load(text))
    except (YAMLError, ValueError):
        return None


def _writer(text: str) -> YAML:
    """A round-trip loader and writer with the indents of this text."""
    writer = YAML(typ="rt")
    writer.preserve_quotes = True
    writer.width = 1_000_000
    found = _LISTED.search(text)
    offset = len(found[2]) - len(found[1]) if found else 0
    writer.indent(mapping=2, sequence=max(offset, 0) + 2, offset=max(offset, 0))
    writer.constructor.add_constructor("tag:yaml.org,2002:timestamp", _day)
    return writer


def _day(_: object, node: Any) -> object:
    """A day; what is none stays as it was written, for the schema to refuse."""
    try:
        return date.fromisoformat(node.value)
    except ValueError:
        return node.value


def _dumped(writer: YAML, root: Any) -> str:
    out = StringIO()
    writer.dump(root, out)
    return out.getvalue()


def _count(text: Text) -> int:
    root = plain_of(text)
    return len(root) if isinstance(root, list) else 0


def _list_at(text: Text, root: Any, key: str) -> CommentedSeq:
    found = root.get(key) if key and isinstance(root, CommentedMap) else root
    if found is None:
        return CommentedSeq()
    if not isinstance(found, CommentedSeq):
        raise _wrong(text, f"'{key or 'the file'}' is no list.")
    return found


def _row_at(text: Text, rows: CommentedSeq, number: int) -> CommentedMap:
    if not 0 <= number < len(rows) or not isinstance(rows[number], CommentedMap):
        raise _wrong(text, f"The file has no row {number + 1}.")
    row: CommentedMap = rows[number]
    return row


def _wrong(text: Text, what: str) -> FileError:
    return FileError(Mistake(what, "Change the file's own text.", Where(text.file)))


def _set(row: CommentedMap, fields: Row, order: Sequence[str] = ()) -> None:
    """Change what differs; a map inside keeps the comments of what stays in it."""
    for name, value in fields.items():
        held = row.get(name)
        if value is None or value in ("", [], {}):
            row.pop(name, None)
        elif isinstance(value, Mapping) and isinstance(held, CommentedMap):
            gone = dict.fromkeys(key for key in held if key not in value)
            _set(held, {**gone, **value})
        elif name not in row:
            _insert(row, name, _styled(value), order)
        elif plain_tree(held) != plain_tree(value):
            row[name] = _styled(value)


def _insert(row: CommentedMap, name: str, value: object, order: Sequence[str]) -> None:
    """A new field, before the first that comes after it in `order`."""
    later = set(order[list(order).index(name) + 1 :]) if name in order else set()
    places = [i for i, key in enumerate(row) if key in later]
    row.insert(min(places, default=len(row)), name, value)


def _new_row(row: Row, like: object) -> CommentedMap:
    """A new row, on one line if the others are."""
    made = CommentedMap()
    _set(made, row)
    if isinstance(like, CommentedMap) and like.fa.flow_style():
        made.fa.set_flow_style()
    return made


def _styled(value: object) -> object:
    """A value in the form that it has in such files: small lists and maps on a line."""
    if isinstance(value, Mapping):
        inner = CommentedMap({key: _styled(one) for key, one in value.items()})
        inner.fa.set_flow_style()
        return inner
    if isinstance(value, list | tuple):
        items = CommentedSeq([_styled(one) for one in value])
        items.fa.set_flow_style()
        return items
    return value
