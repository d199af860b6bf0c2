"""Adding an ingredient to the user's own larder file, at its end."""

from dataclasses import dataclass
from io import StringIO
from pathlib import Path

from pydantic import ValidationError
from ruamel.yaml import YAML

from slabwright.errors import FileError, Mistake, Where
from slabwright.files.larder_file import OwnIngredient, read_own_larder
from slabwright.files.raw import Text, read_text
from slabwright.files.supplier import Specification
from slabwright.larder.ingredient import Ingredient, closes_to
from slabwright.larder.lookup import Larder


@dataclass(frozen=True, slots=True)
class Addition:
    """An ingredient as it will stand in the file, and what it comes to."""

    entry: str
    ingredient: Ingredient
    covers: tuple[str, ...]
    """Names of ours that it will lie over."""

    @property
    def closes_to_g(self) -> float:
        """What its composition adds up to [g per 100 g]."""
        return closes_to(self.ingredient.values)


@dataclass(frozen=True, slots=True)
class Wanted:
    """What the user says of an ingredient beside its specification."""

    name: str
    like: str = ""
    contains: tuple[str, ...] = ()
    may_contain: tuple[str, ...] = ()
    source: str = ""


def addition(
    wanted: Wanted, said: Specification, ours: Larder, country: str
) -> Addition:
    """The ingredient that these say, checked as the larder file would be.

    Raises:
        FileError: if the larder file would refuse it.
    """
    per_100g = dict(said.per_100g)
    if "water" not in per_100g and not wanted.like and "carbohydrate" in per_100g:
        mains = ("fat", "carbohydrate", "fibre", "protein", "salt", "alcohol")
        rest = 100 - sum(per_100g.get(name, 0.0) for name in mains)
        per_100g["water"] = round(max(rest, 0.0), 3)
    fields = {
        "name": wanted.name,
        "like": wanted.like,
        "per_100g": per_100g,
        "contains": list(wanted.contains),
        "may_contain": list(wanted.may_contain),
        "source": wanted.source,
    }
    given = {key: value for key, value in fields.items() if value}
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
    entry = _yaml([given])
    (made,) = read_own_larder(Text(entry, "the new entry"), ours, country)
    match = ours.find(wanted.name, country)
    covers = (match.ingredient.name,) if match and match.how == "name" else ()
    return Addition(entry, made, covers)


def append(path: Path, entry: str) -> None:
    """Write the entry at the end of the file; all that stands there stays as it is.

    Raises:
        FileError: if the file can't be read or written, or would not read any more.
    """
    before = read_text(path).text if path.exists() else ""
    joint = "" if not before or before.endswith("\n") else "\n"
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with path.open("a", encoding="utf-8", newline="") as file:
            file.write(joint + entry)
    except OSError as error:
        what = f"'{path}' can't be written: {error.strerror}."
        raise FileError(Mistake(what, "Name another kitchen folder.")) from error


def _yaml(value: object) -> str:
    stream = StringIO()
    writer = YAML()
    writer.default_flow_style = False
    writer.indent(mapping=2, sequence=2, offset=0)
    writer.dump(value, stream)
    return stream.getvalue()
