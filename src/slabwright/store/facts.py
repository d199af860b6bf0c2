"""The small files of a history: flat lines of `key: value`, which YAML reads too."""

import json
import re
from collections.abc import Mapping
from datetime import UTC, datetime
from typing import Final

from slabwright.errors import Mistake, Span, Where
from slabwright.store.errors import StoreError

Fact = str | int | bool | None

_LINE: Final = re.compile(r"([a-z_]+): (\S.*)")
_MOST_CHARACTERS: Final = 200_000
_LARGEST: Final = 2**31 - 1
"""What every engine's whole numbers hold."""
_NOT_PRINTED: Final = re.compile("[\x7f-\x9f\u2028\u2029\ufeff\ufffe\uffff]")
"""Characters that JSON lets stand in a string and YAML does not."""


def written(facts: Mapping[str, Fact]) -> bytes:
    """These facts as a file, one a line."""
    lines = (f"{key}: {_value(fact)}\n" for key, fact in facts.items())
    return "".join(lines).encode("utf-8")


def read(
    data: bytes, file: str, kinds: Mapping[str, tuple[type, ...]]
) -> dict[str, Fact]:
    """The facts in this file.

    Args:
        data: what is in it.
        file: its path, for naming it.
        kinds: every key that it must have, with what its value may be.

    Raises:
        StoreError: with every line that is not as `written` writes it.
    """
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as error:
        raise StoreError(_mistake("The file is not in UTF-8.", file)) from error
    if len(text) > _MOST_CHARACTERS:
        raise StoreError(_mistake("The file is too long for what it is.", file))
    found: dict[str, Fact] = {}
    mistakes = []
    for number, line in enumerate(text.replace("\r\n", "\n").split("\n")[:-1], 1):
        what = _take(line, kinds, found)
        if what:
            mistakes.append(_mistake(what, file, number))
    if text and not text.endswith("\n"):
        mistakes.append(_mistake("The last line has no end.", file))
    missing = [key for key in kinds if key not in found]
    if missing and not mistakes:
        mistakes.append(_mistake(f"It lacks {', '.join(missing)}.", file))
    if mistakes:
        raise StoreError(*mistakes)
    return found


def moment(value: Fact, file: str) -> datetime:
    """A time that was written by `isoformat`, in UTC.

    Raises:
        StoreError: if it is none, or has no zone.
    """
    odd = StoreError(_mistake(f"{value!r} is no time.", file))
    try:
        found = datetime.fromisoformat(str(value))
        moved = found.astimezone(UTC)
    except (ValueError, OverflowError) as error:
        raise odd from error
    if found.tzinfo is None:
        raise odd
    return moved


def _value(fact: Fact) -> str:
    text = json.dumps(fact, ensure_ascii=False)
    return _NOT_PRINTED.sub(lambda found: f"\\u{ord(found[0]):04x}", text)


def _take(
    line: str, kinds: Mapping[str, tuple[type, ...]], found: dict[str, Fact]
) -> str:
    """Put a line's fact among those found, or say what is wrong with it."""
    match = _LINE.fullmatch(line)
    if not match:
        return "The line is not `key: value`."
    key, written_value = match.groups()
    if key not in kinds:
        return f"'{key}' is not known here."
    if key in found:
        return f"'{key}' stands here twice."
    try:
        # what opens a list could be nested deeper than any reader goes
        value: Fact = None if written_value[0] in "[{" else json.loads(written_value)
    except ValueError:
        return f"'{key}' has a value that can't be read."
    is_huge = isinstance(value, int) and not 0 <= value <= _LARGEST
    if type(value) not in kinds[key] or is_huge:
        return f"'{key}' has a value that doesn't belong there."
    found[key] = value
    return ""


def _mistake(what: str, file: str, line: int = 0) -> Mistake:
    where = Where(file, Span(line, 1, 1) if line else None)
    return Mistake(what, "Put the file back as it was exported.", where)
