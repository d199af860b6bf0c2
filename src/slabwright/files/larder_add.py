"""Adding an ingredient to the user's own larder file, at its end."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from io import StringIO
from pathlib import Path
from textwrap import indent
from typing import Final

from pydantic import ValidationError
from ruamel.yaml import YAML
from ruamel.yaml.comments import CommentedMap

from slabwright.errors import FileError, Mistake, Span, Where
from slabwright.files.larder_file import ADAPTER, OwnIngredient, read_own_larder
from slabwright.files.raw import Text, read_text
from slabwright.files.supplier import Specification
from slabwright.files.yaml_file import read_yaml
from slabwright.formula.book import slug
from slabwright.larder.ingredient import Ingredient, closes_to
from slabwright.larder.load import built_in
from slabwright.larder.lookup import Larder

_MAINS: Final = (
    "water", "fat", "fibre", "protein", "alcohol", "minerals", "organic_acids",
)  # fmt: skip
"""What stands beside carbohydrate and salt in 100 g."""
_ENOUGH: Final = ("fat", "carbohydrate", "protein")
"""Where these are said, what is left is water."""
_ITEM: Final = re.compile(r"^(?P<indent> *)- ", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class Addition:
    """An ingredient as it will stand in the file, and what it comes to."""

    entry: str
    ingredient: Ingredient
    covers: tuple[str, ...]
    """Ingredients that it will lie over: our 'butter', your own 'brown butter'."""
    unknown_g: float
    """What nobody has named [g per 100 g]; 0 if it is like another."""
    water_g: float | None = None
    """Water taken as what is left [g per 100 g], where the specification gives none."""

    @property
    def closes_to_g(self) -> float:
        """What its composition adds up to [g per 100 g]."""
        return closes_to(self.ingredient.values)

    @property
    def messages(self) -> tuple[str, ...]:
        """What the user should know of it, a line each."""
        found = [f"Look: it lies over {whose} from now on." for whose in self.covers]
        if self.water_g:
            found.append(
                f"Look: it gives no water; what is left of 100 g, {self.water_g:.1f} g,"
                " is taken for it."
            )
        rest = f", {self.unknown_g:.1f} g of it unknown" if self.unknown_g > 1 else ""
        if rest:
            found.append(
                f"Look: {self.unknown_g:.1f} g of 100 g is not known: nothing names it."
            )
        found.append(f"# closes to {self.closes_to_g:.1f} g per 100 g{rest}")
        return tuple(found)


@dataclass(frozen=True, slots=True)
class Wanted:
    """What the user says of an ingredient beside its specification."""

    name: str
    like: str = ""
    contains: tuple[str, ...] = ()
    """`none` alone says that none of the 14 is in it."""
    may_contain: tuple[str, ...] = ()
    source: str = ""


def addition(
    wanted: Wanted, said: Specification, larder: Larder, country: str
) -> Addition:
    """The ingredient that these say, checked as the larder file would be.

    Args:
        wanted: its name, and what it is like.
        said: its specification.
        larder: ours with the user's own over it, to see what the name covers.
        country: whose names hold.

    Raises:
        FileError: if nothing was understood, or the larder file would refuse it.
    """
    if not said.per_100g and (not wanted.like or said.unread or said.energy_kJ):
        what = "The specification names no constituent with a figure."
        do = "Write such as 'fat 30 g, protein 5 g', or a file that is there."
        raise FileError(Mistake(what, do))
    per_100g = dict(said.per_100g)
    words = {name: f"stated: {text}" for name, text in said.stated.items()}
    unknown = 0.0 if wanted.like else max(100 - _named_g(per_100g), 0.0)
    water: float | None = None
    if unknown and "water" not in per_100g and set(_ENOUGH) <= set(per_100g):
        water, unknown = round(unknown, 3), 0.0
        per_100g["water"] = water
        words["water"] = "not stated: what is left of 100 g"
    fields = {
        "name": wanted.name,
        "like": wanted.like,
        "per_100g": per_100g,
        "contains": list(wanted.contains),
        "may_contain": list(wanted.may_contain),
        "source": wanted.source,
    }
    given = {key: value for key, value in fields.items() if value}
    if [name.casefold().strip() for name in wanted.contains] == ["none"]:
        given["contains"] = []
    _check(given)
    if per_100g:
        given["per_100g"] = _with_comments(per_100g, words)
    entry = _yaml([given])
    (made,) = read_own_larder(Text(entry, "the new entry"), built_in(), country)
    covers: tuple[str, ...] = ()
    match = larder.find(wanted.name, country)
    if match and match.how == "name":
        whose = "your own" if match.ingredient.own else "our"
        covers = (f"{whose} '{match.ingredient.name}'",)
    return Addition(entry, made, covers, unknown, water)


def _named_g(per_100g: Mapping[str, float]) -> float:
    """Grams in 100 g that figures are given for; a part counts within its whole."""
    sugars = sum(per_100g.get(name, 0.0) for name in ("sugars", "starch", "polyols"))
    salt = per_100g.get("salt", per_100g.get("sodium", 0.0) * 2.5)
    return (
        sum(per_100g.get(name, 0.0) for name in _MAINS)
        + per_100g.get("carbohydrate", sugars)
        + salt
    )


def _check(given: Mapping[str, object]) -> None:
    try:
        OwnIngredient.model_validate(given)
    except ValidationError as error:
        raise FileError(
            *(
                Mistake(
                    f"{e['msg']}.",
                    "Mend it.",
                    Where(field=".".join(map(str, e["loc"]))),
                )
                for e in error.errors(include_url=False, include_context=False)
            )
        ) from error


def refuse_double(text: Text, name: str) -> None:
    """See that no ingredient in the user's larder file bears this name.

    Raises:
        FileError: with the line of the one that does; or if the file can't be read.
    """
    entries = read_yaml(text, ADAPTER, [])
    for number, entry in enumerate(entries):
        if slug(name) not in {slug(called) for called in (entry.name, *entry.also)}:
            continue
        line, column = YAML(typ="rt").load(text.text).lc.item(number)
        span = Span(line + 1, column + 1, column + 2)
        what = f"Your own '{entry.name}' is called '{name}' already."
        do = "Mend that entry, or take another name."
        raise FileError(Mistake(what, do, Where(text.file, span)))


def appended(before: Text, entry: str, country: str) -> str:
    """What to write at the end of the file, so that the entry stands in it.

    Raises:
        FileError: if the file would not read any more.
    """
    joint = "" if not before.text or before.text.endswith("\n") else "\n"
    first = _ITEM.search(before.text)
    added = joint + indent(entry, first["indent"] if first else "")
    try:
        read_own_larder(Text(before.text + added, before.file), built_in(), country)
    except FileError as error:
        what = "The entry can't stand at the end of this file."
        do = "Mend the file, or write the entry into it by hand."
        mistake = Mistake(what, do, Where(before.file))
        raise FileError(mistake, *error.mistakes) from error
    return added


def larder_text(path: Path) -> Text:
    """The user's larder file; empty if there is none.

    Raises:
        FileError: if it can't be read.
    """
    return read_text(path) if path.exists() else Text("", str(path))


def append(path: Path, entry: str, country: str) -> None:
    """Write the entry at the end of the file; all that stands there stays as it is.

    Raises:
        FileError: if the file can't be read or written, or would not read any more.
    """
    added = appended(larder_text(path), entry, country)
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with path.open("a", encoding="utf-8", newline="") as file:
            file.write(added)
    except OSError as error:
        what = f"'{path}' can't be written: {error.strerror}."
        raise FileError(Mistake(what, "Name another kitchen folder.")) from error


def _with_comments(
    per_100g: Mapping[str, float], words: Mapping[str, str]
) -> CommentedMap:
    """The figures, each with what was stated where that is no exact figure."""
    marked = CommentedMap(per_100g)
    for name, comment in words.items():
        marked.yaml_add_eol_comment(comment, name, 0)
    return marked


def _yaml(value: object) -> str:
    stream = StringIO()
    writer = YAML()
    writer.default_flow_style = False
    writer.indent(mapping=2, sequence=2, offset=0)
    writer.dump(value, stream)
    return stream.getvalue()
