"""What each bought thing is called in a list of ingredients, and what is in it.

The maker's own larder wins: its list, and the name that it gives. A name that the
law would want and nobody gave is asked for, never guessed.
"""

import csv
from dataclasses import dataclass
from datetime import date
from functools import cache
from importlib.resources import files
from typing import Final, Literal, cast

from slabwright.label.ingredients.rules import additives, fortificants
from slabwright.larder.ingredient import Ingredient
from slabwright.larder.load import built_in
from slabwright.larder.words import parse
from slabwright.source import Source, sources

Kind = Literal[
    "single", "flour", "exempt", "known", "compound", "law", "spices", "additive",
    "flavouring", "origin", "water", "own", "unknown",
]  # fmt: skip
"""How it is listed: alone, as flour with what the law adds, without a list of its own
(Article 19), with a list that is sure, with one that the pack must tell, as a compound
whose composition is law, as spices, by category, as flavouring, by a plant that must be
named, as water; or as the maker's own entry, or as what no larder knows."""
_ASKS: Final[dict[str, str]] = {
    "origin": "of which plants it is, and whether it is hydrogenated",
    "unknown": "what it is called by law",
}
NEEDS_LIST: Final = frozenset(["known", "compound", "law", "spices", "own"])


@dataclass(frozen=True, slots=True)
class Nation:
    """Where and when it is sold."""

    name: str
    on: date


@dataclass(frozen=True, slots=True)
class Declared:
    """A bought thing as a list of ingredients has it."""

    name: str
    kind: Kind
    parts: tuple[str, ...]
    """In descending order; empty if it has none or nobody told."""
    is_said: bool
    """Whether the parts are its maker's own, or sure; else they are the usual ones."""
    rule: str
    """Id of the rule that names it so."""
    source: Source
    ask: str = ""
    """What must be asked about its name; empty if nothing."""


@dataclass(frozen=True, slots=True)
class _Row:
    name: str
    kind: Kind
    parts: tuple[str, ...]
    e_number: str
    rule: str
    source: Source


def declared(one: Ingredient, where: Nation, *, numbers: bool = False) -> Declared:
    """What this ingredient is called in a list, and what is in it.

    Args:
        one: an ingredient of the larder.
        where: the nation and the day whose rules hold.
        numbers: additives by their E number.
    """
    row = _table().get(our_id(one))
    parts = tuple(part.name for part in one.parts)
    if one.own and (one.declared_as or row is None):
        return _own(one, parts)
    if row is None:
        row = _Row(one.name, "unknown", (), "", "ING-02", sources()["memory"])
    if one.own and parts:
        return Declared(row.name, "own", parts, True, "ING-15", one.parts[0].source)
    if row.kind == "flour":
        added = tuple(f.substance for f in fortificants(where.name, where.on))
        inside = (row.name, *added) if added else ()
        name, rule = ("flour", "ING-28") if added else (row.name, row.rule)
        return Declared(name, "flour", inside, True, rule, row.source)
    if row.kind == "additive":
        name = _by_category(row.e_number, row.name, numbers=numbers)
        more = ", ".join(parts)
        blend = f"what else its pack lists; usually {more}, from memory" if more else ""
        return Declared(name, row.kind, (), True, row.rule, row.source, blend)
    ask = _ASKS.get(row.kind, "")
    if row.kind not in NEEDS_LIST:
        return Declared(row.name, row.kind, (), True, row.rule, row.source, ask)
    is_said = row.kind == "known"
    inside = row.parts or parts
    return Declared(row.name, row.kind, inside, is_said, row.rule, row.source, ask)


def our_id(one: Ingredient) -> str:
    """The id of ours that it is by its name; its own where it is none of ours.

    The maker's own entry is one of ours if a name of it is that very thing's, or if
    it is like one of ours and says what a list calls that: `farm double cream`.
    """
    if not one.own:
        return one.id
    ours = built_in()
    for called in one.names:
        match = ours.find(called.text)
        if match is not None and match.how == "name":
            return match.ingredient.id
    row = _table().get(one.like)
    if row is not None:
        wanted = set(parse(row.name).words)
        if any(wanted <= set(parse(called.text).words) for called in one.names):
            return one.like
    return ""


def _own(one: Ingredient, parts: tuple[str, ...]) -> Declared:
    """The maker's own entry, by its own words."""
    source = one.parts[0].source if parts else _own_source(one)
    if one.declared_as:
        kind: Kind = "own" if parts else "single"
        rule = "ING-15" if parts else "ING-02"
        return Declared(one.declared_as, kind, parts, True, rule, source)
    if len(parts) == 1:  # what is made of one thing is that thing
        return Declared(parts[0], "single", (), True, "ING-02", source)
    name = one.name.partition(",")[0].strip() or one.name
    return Declared(name, "own", parts, True, "ING-02", source, _ASKS["unknown"])


def _own_source(one: Ingredient) -> Source:
    own = [said.source for said in one.allergens if said.source.key.startswith("own-")]
    return own[0] if own else sources()["trade"]


def _by_category(e_number: str, name: str, *, numbers: bool) -> str:
    """Category and name, or category and number."""
    known = {one.e_number: one for one in additives()}
    category = known[e_number].categories[0]
    return f"{category} ({e_number if numbers else name})"


@cache
def _table() -> dict[str, _Row]:
    data = files("slabwright.label").joinpath("data", "declared.csv")
    return {
        row["ingredient"]: _Row(
            row["name"],
            cast("Kind", row["kind"]),
            tuple(filter(None, row["parts"].split(";"))),
            row["e_number"],
            row["rule"],
            sources()[row["source"]],
        )
        for row in csv.DictReader(data.read_text("utf-8").splitlines())
    }
