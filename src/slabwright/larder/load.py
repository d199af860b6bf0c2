"""The larder that comes with the program, read once from its tables."""

from collections import defaultdict
from collections.abc import Iterator, Mapping
from functools import cache
from typing import Literal, cast

from slabwright.larder.eggs import egg_measures
from slabwright.larder.ingredient import (
    ALLERGENS,
    Allergen,
    Cited,
    Energy,
    Ingredient,
    Measure,
    Name,
    Pack,
    Part,
)
from slabwright.larder.lookup import Larder
from slabwright.larder.table import Values, grouped, table
from slabwright.source import Source, sources


@cache
def built_in() -> Larder:
    """The larder as it comes.

    Raises:
        ValueError: if one of its tables is damaged; it names table and row.
    """
    return Larder(_ingredients())


def _ingredients() -> Iterator[Ingredient]:
    known = sources()
    rows = grouped("composition.csv", lambda row: (row,))
    energies = {row[0]: _energy(row, known) for row in table("energy.csv")}
    names = grouped("names.csv", _names)
    measures = grouped("measures.csv", lambda row: (_measure(row, known),))
    allergens = grouped("allergens.csv", lambda row: (_allergen(row, known),))
    parts = grouped("contents.csv", lambda row: (_part(row, known),))
    packs = grouped("packs.csv", lambda row: (_pack(row, known),))
    lacks = _lacking(known)
    for id, name, group, edible_share, rest_is, note in table("ingredients.csv"):
        yield Ingredient(
            id,
            name,
            group,
            Values(rows[id], lacks[group], known),
            energies.get(id),
            (*measures.get(id, ()), *egg_measures(id)),
            (Name(name, "", "same"), *names.get(id, ())),
            allergens.get(id, ()),
            parts.get(id, ()),
            packs.get(id, ()),
            float(edible_share),
            rest_is,
            note,
        )


def _lacking(known: Mapping[str, Source]) -> dict[str, dict[str, Cited]]:
    """What no food of a group holds, each with its reason."""
    found: dict[str, dict[str, Cited]] = defaultdict(dict)
    for group, constituents, source, why in table("none.csv"):
        none = Cited(0.0, known[source], "", why)
        found[group].update(dict.fromkeys(constituents.split(), none))
    return found


def _energy(row: list[str], known: Mapping[str, Source]) -> Energy:
    _, kcal, kJ, how, protein, fat, carbohydrate, rest, n625, source, record, note = row
    return Energy(
        float(kcal),
        float(kJ),
        cast("Literal['eu-1169', 'atwater-specific']", how),
        float(protein),
        float(fat),
        float(carbohydrate),
        float(rest),
        float(n625) if n625 else None,
        known[source],
        record,
        note,
    )


def _names(row: list[str]) -> list[Name]:
    _, text, countries, sense, rank, _ = row
    kind = cast("Literal['same', 'usual']", sense)
    order = int(rank or 0)
    return [Name(text, place, kind, order) for place in countries.split(" ")]


def _measure(row: list[str], known: Mapping[str, Source]) -> Measure:
    _, name, grams, low, high, what, source, record, _ = row
    return Measure(
        name, float(grams), float(low), float(high), what, known[source], record
    )


def _allergen(row: list[str], known: Mapping[str, Source]) -> Allergen:
    id, name, how, note, source = row
    if name not in ALLERGENS:
        message = f"allergens.csv: {id} names '{name}', which is not on the list"
        raise ValueError(message)
    return Allergen(
        name, cast("Literal['contains', 'may hide']", how), note, known[source]
    )


def _part(row: list[str], known: Mapping[str, Source]) -> Part:
    _, _, name, share, source = row
    return Part(name, float(share) if share else None, known[source])


def _pack(row: list[str], known: Mapping[str, Source]) -> Pack:
    _, what, grams, country, source = row
    return Pack(what, float(grams), country, known[source])
