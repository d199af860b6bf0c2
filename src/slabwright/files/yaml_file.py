"""YAML at the border: hostile files refused, every mistake with its line and field."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from typing import Any, Final, TypeVar

from pydantic import TypeAdapter, ValidationError
from ruamel.yaml import YAML
from ruamel.yaml.comments import CommentedMap, CommentedSeq
from ruamel.yaml.error import MarkedYAMLError, YAMLError
from ruamel.yaml.events import (
    AliasEvent,
    MappingEndEvent,
    MappingStartEvent,
    SequenceEndEvent,
    SequenceStartEvent,
)
from ruamel.yaml.scalarint import ScalarInt

from slabwright.errors import FileError, Mistake, Span, Where
from slabwright.files.field_words import wrong_words
from slabwright.files.raw import Text

T = TypeVar("T")

DEEPEST: Final = 20
"""Nesting beyond this is no kitchen's."""

_GONE: Final = object()
"""Stands in a tree where something was left out."""


def read_yaml(text: Text, model: TypeAdapter[T], empty: T) -> T:
    """The value in this text, checked; `empty` where it holds comments at most.

    Raises:
        FileError: with every mistake in the file.
    """
    found, wrong = read_sound(text, model, empty)
    if wrong:
        raise FileError(*wrong)
    return found


def read_sound(
    text: Text, model: TypeAdapter[T], empty: T
) -> tuple[T, tuple[Mistake, ...]]:
    """The value in this text as far as it is sound, and every mistake in the rest.

    Of a list a wrong row is left out whole, elsewhere a wrong field.

    Raises:
        FileError: if it is no YAML, or nothing of it is sound.
    """
    loaded = _loaded(text)
    if loaded is None:
        return empty, ()
    tree = plain_tree(loaded)
    wrong: tuple[Mistake, ...] = ()
    while True:
        try:
            return model.validate_python(tree), wrong
        except ValidationError as error:
            wrong = wrong or tuple(_mistakes(error, loaded, text.file))
            tree = _without(tree, [one["loc"] for one in error.errors()])
            if tree is _GONE:
                raise FileError(*wrong) from error


def joined(unread: Sequence[Mistake], beyond: Sequence[Mistake]) -> tuple[Mistake, ...]:
    """What could not be read, and what is wrong beyond that with what could.

    Rows count on without those that were left out: then no row's number is said.
    """
    if not unread:
        return tuple(beyond)
    found = list(unread)
    for one in beyond:
        parts = (part for part in one.where.field.split(".") if not part.isdecimal())
        found.append(replace(one, where=replace(one.where, field=".".join(parts))))
    return tuple(found)


def _without(tree: Any, places: Iterable[Sequence[int | str]]) -> Any:
    """A tree without what stands at these places; a row of a list goes whole."""
    for place in places:
        node, above, key = tree, None, None
        for part in place:
            if node is _GONE or not _has(node, part):
                break  # what is missing takes with it what it is missing from
            node, above, key = node[part], node, part
            if isinstance(part, int):
                break
        if above is None:
            return _GONE
        above[key] = _GONE
    return _swept(tree)


def _has(node: Any, part: int | str) -> bool:
    return part in node if isinstance(node, dict) else isinstance(node, list)


def _swept(tree: Any) -> Any:
    if isinstance(tree, dict):
        return {key: _swept(one) for key, one in tree.items() if one is not _GONE}
    if isinstance(tree, list):
        return [_swept(one) for one in tree if one is not _GONE]
    return tree


def plain_of(text: Text) -> Any:
    """All that the file holds, in plain types and against no schema; None if nothing.

    Raises:
        FileError: if it can't be read.
    """
    return plain_tree(_loaded(text))


def placed(text: Text, mistake: Mistake) -> Mistake:
    """The mistake with the line of its field, where only the field was named."""
    if mistake.where.span is not None or not mistake.where.field:
        return mistake
    try:
        loaded = _loaded(text)
    except FileError:
        return mistake
    parts = mistake.where.field.split(".")
    place = [int(part) if part.isdecimal() else part for part in parts]
    return replace(mistake, where=replace(mistake.where, span=_span(loaded, place)))


def _loaded(text: Text) -> Any:
    """The tree in this text, with the places of all that is in it; None if empty."""
    _refuse_bombs(text)
    try:
        return _loader().load(text.text)
    except MarkedYAMLError as error:
        mark = error.problem_mark or error.context_mark
        span = Span(mark.line + 1, mark.column + 1, mark.column + 2) if mark else None
        what = f"The YAML can't be read: {error.problem or error.context}."
        raise FileError(
            Mistake(what, "Mend this line.", Where(text.file, span))
        ) from error
    except (YAMLError, ValueError) as error:
        what = f"The YAML can't be read: {error}."
        raise FileError(Mistake(what, "Mend it.", Where(text.file))) from error


def _loader() -> YAML:
    """A round-trip loader that leaves dates to the schema, which says where one is."""
    loader = YAML(typ="rt")
    loader.constructor.add_constructor(
        "tag:yaml.org,2002:timestamp", lambda _, node: node.value
    )
    return loader


def _refuse_bombs(text: Text) -> None:
    """No aliases, no nesting without end: seen before anything is built."""
    depth = 0
    try:
        for event in YAML(typ="rt").parse(text.text):
            if isinstance(event, AliasEvent):
                mark = event.start_mark
                span = Span(mark.line + 1, mark.column + 1, mark.column + 2)
                what = "The file uses an alias (*)."
                do = "Write the values out."
                raise FileError(Mistake(what, do, Where(text.file, span)))
            if isinstance(event, MappingStartEvent | SequenceStartEvent):
                depth += 1
            elif isinstance(event, MappingEndEvent | SequenceEndEvent):
                depth -= 1
            if depth > DEEPEST:
                what = f"The file is nested over {DEEPEST} deep."
                raise FileError(Mistake(what, "Flatten it.", Where(text.file)))
    except MarkedYAMLError:
        return  # said better, with its place, when it is loaded


def plain_tree(value: Any) -> Any:
    """A loaded tree in plain types; a round-trip loader's scalars are subclasses."""
    if isinstance(value, Mapping):
        return {str(key): plain_tree(inner) for key, inner in value.items()}
    if isinstance(value, list):
        return [plain_tree(inner) for inner in value]
    if isinstance(value, bool) or value is None:
        return value
    if isinstance(value, ScalarInt) and len(digits := _as_written(value)) > 1:
        return digits  # 02: a code keeps its zero; a number is read from it too
    for plain in (int, float, str):
        if isinstance(value, plain):
            return plain(value)
    return value


def _as_written(value: ScalarInt) -> str:
    """The digits of a number that was written with zeros before it; else nothing."""
    width = getattr(value, "_width", None)
    is_plain = type(value) is ScalarInt and isinstance(width, int) and value >= 0
    return f"{int(value):0{width}}" if is_plain else ""


def _mistakes(error: ValidationError, loaded: Any, file: str) -> list[Mistake]:
    found: list[Mistake] = []
    for one in error.errors(include_url=False):
        place = tuple(part for part in one["loc"])
        name = ".".join(str(part) for part in place) or "the file"
        what, do = wrong_words(one)
        where = Where(file, _span(loaded, place), name)
        found.append(Mistake(f"'{_called(place)}' {what}", do, where))
    return found


def _called(place: Sequence[int | str]) -> str:
    """A field as its writer knows it; which row of a list it is in says its line."""
    words = [str(part) for part in place if isinstance(part, str)]
    return ".".join(words) or "the file"


def _span(loaded: Any, place: Sequence[int | str]) -> Span | None:
    """Where the field stands, as far down as it exists."""
    line, column, node = 0, 0, loaded
    for part in place:
        try:
            if isinstance(node, CommentedMap):
                line, column = node.lc.key(part)
            elif isinstance(node, CommentedSeq) and isinstance(part, int):
                line, column = node.lc.item(part)
            node = node[part]
        except (KeyError, IndexError, AttributeError, TypeError):
            break
    return Span(line + 1, column + 1, column + 2)
