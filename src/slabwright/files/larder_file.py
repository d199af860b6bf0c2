"""larder.yaml: the user's own ingredients, which lie over ours."""

from dataclasses import replace
from typing import Annotated, Final

from pydantic import Field, TypeAdapter

from slabwright.composition import CONSTITUENTS, FATS, SATURATES, SUGARS
from slabwright.errors import FileError, Mistake, Where
from slabwright.files.kitchen_file import Name, Strict
from slabwright.files.raw import Text
from slabwright.files.yaml_file import joined, read_sound
from slabwright.formula.book import slug
from slabwright.label.allergen.annex import listed
from slabwright.larder.ingredient import (
    ALLERGENS,
    Allergen,
    AllergensBy,
    Cited,
    Ingredient,
    Measure,
    Part,
)
from slabwright.larder.ingredient import Name as Called
from slabwright.larder.lookup import Larder
from slabwright.source import Seen, Source

_GROUPS: Final = {
    "fat": FATS,
    "sugars": SUGARS,
    "carbohydrate": (*SUGARS, "higher_saccharides", "starch", "polyols"),
}
"""What a specification gives as one figure, and the constituents that it covers."""
_ALONE: Final = {"fat": "fat_other", "sugars": "sucrose", "carbohydrate": "rest"}
"""Where such a figure goes when nothing tells how it splits."""
_SALT_PER_SODIUM: Final = 2.5
"""Regulation (EU) No 1169/2011, Annex I(11)."""
_CLOSES: Final = 1.0
"""Grams per 100 g that a composition may miss."""
PER_100G: Final = (*CONSTITUENTS, SATURATES, *_GROUPS, "sodium")
"""What `per_100g` may say."""

Share = Annotated[float, Field(ge=0, le=100)]


class OwnIngredient(Strict):
    """One ingredient as the user's larder file says it."""

    name: Name
    also: list[Name] = Field(default_factory=list, max_length=50)
    like: str = Field("", max_length=120)
    per_100g: dict[str, Share] = Field(default_factory=dict)
    measures: dict[str, Annotated[float, Field(gt=0, le=1e5)]] = Field(
        default_factory=dict
    )
    contains: list[str] = Field(default_factory=list)
    may_contain: list[str] = Field(default_factory=list)
    so2_mg_kg: float | None = Field(None, ge=0, le=1e6)
    made_of: list[Name] = Field(default_factory=list, max_length=100)
    declared_as: str = Field("", max_length=200)
    edible_share: float = Field(1.0, gt=0, le=1)
    source: str = Field("", max_length=500)


ADAPTER: TypeAdapter[list[OwnIngredient]] = TypeAdapter(list[OwnIngredient])


def read_own_larder(text: Text, ours: Larder, country: str) -> tuple[Ingredient, ...]:
    """The user's own ingredients.

    Raises:
        FileError: with every mistake in the file.
    """
    made, wrong = sound_larder(text, ours, country)
    if wrong:
        raise FileError(*wrong)
    return made


def sound_larder(
    text: Text, ours: Larder, country: str
) -> tuple[tuple[Ingredient, ...], tuple[Mistake, ...]]:
    """The user's own ingredients in the rows that are sound, and what is wrong.

    Raises:
        FileError: if nothing of it can be read.
    """
    mistakes: list[Mistake] = []
    made: list[Ingredient] = []
    entries, unread = read_sound(text, ADAPTER, [])
    for number, said in enumerate(entries):
        found = _ingredient(said, ours, country)
        if isinstance(found, Ingredient):
            made.append(found)
        else:
            field = f"{number}.{found.where.field}"
            mistakes.append(replace(found, where=Where(text.file, field=field)))
    return tuple(made), joined(unread, mistakes)


def _ingredient(
    said: OwnIngredient, ours: Larder, country: str
) -> Ingredient | Mistake:
    like = None
    if said.like:
        match = ours.find(said.like, country)
        if match is None:
            near = ours.nearest(said.like, country)
            what = f"The larder has no '{said.like}' for {said.name} to be like."
            do = f"Write {' or '.join(near)}."
            return Mistake(what, do, Where(field="like"), near)
        like = match.ingredient
    for key in said.per_100g:
        if key not in PER_100G:
            what = f"'{key}' is no part of a composition."
            do = f"Write one of: {', '.join(PER_100G)}."
            return Mistake(what, do, Where(field=f"per_100g.{key}"))
    source = Source(
        f"own-{slug(said.name)}", said.source or "your own larder", Seen.FULL
    )
    values = _values(said, like, source)
    if isinstance(values, Mistake):
        return values
    allergens = _allergens(said, like, source)
    if isinstance(allergens, Mistake):
        return allergens
    own = tuple(
        Measure(name, grams, grams, grams, f"a {name} of {said.name}", source)
        for name, grams in said.measures.items()
    )
    named = {measure.name for measure in own}
    inherited = [m for m in (like.measures if like else ()) if m.name not in named]
    if "each" in named:  # its own piece wins over every class of what it is like
        inherited = [m for m in inherited if not m.name.startswith("each_")]
    measures = (*own, *inherited)
    return Ingredient(
        slug(said.name),
        said.name,
        like.group if like else "own",
        values,
        None,
        measures,
        tuple(Called(name, "", "same") for name in (said.name, *said.also)),
        allergens,
        tuple(Part(name, None, source) for name in said.made_of),
        edible_share=said.edible_share,
        rest_is=like.rest_is if like else "not said",
        note=f"like {like.name} where nothing else is said" if like else "",
        own=True,
        like=like.id if like else "",
        allergens_by=_allergens_by(said),
        allergen_answer=said.source if "contains" in said.model_fields_set else "",
        so2_mg_kg=said.so2_mg_kg,
        declared=dict(said.per_100g),
        declared_as=" ".join(said.declared_as.split()),
    )


def _values(
    said: OwnIngredient, like: Ingredient | None, source: Source
) -> dict[str, Cited] | Mistake:
    """What was said, and the rest as in the ingredient that it is like, to 100 g."""
    base = dict(like.values) if like else {}
    if not said.per_100g:
        note = f"as {like.name}" if like else ""
        return {name: replace(cited, note=note) for name, cited in base.items()}
    fixed = _fixed(said.per_100g, base, source)
    sum_fixed = sum(c.value for name, c in fixed.items() if name != SATURATES)
    if sum_fixed > 100 + _CLOSES:
        what = f"{said.name} comes to {sum_fixed:.4g} g per 100 g."
        return Mistake(what, "Mend its figures.", Where(field="per_100g"))
    others = {n: c for n, c in base.items() if n not in fixed and n != SATURATES}
    left, there = max(100 - sum_fixed, 0.0), sum(c.value for c in others.values())
    if there > 0:
        for name, cited in others.items():
            note = f"as {like.name}, scaled to 100 g" if like else ""
            fixed[name] = replace(cited, value=cited.value * left / there, note=note)
    elif left > _CLOSES:
        note = "what its specification does not name"
        known = fixed["rest"].value if "rest" in fixed else 0.0
        fixed["rest"] = Cited(known + left, source, note=note)
    if SATURATES in base and SATURATES not in fixed:
        fixed[SATURATES] = base[SATURATES]
    return fixed


def _fixed(
    per_100g: dict[str, float], base: dict[str, Cited], source: Source
) -> dict[str, Cited]:
    """Figures as said; a figure for a group splits as in the ingredient it is like."""
    fixed = {
        name: Cited(value, source)
        for name, value in per_100g.items()
        if name in CONSTITUENTS or name == SATURATES
    }
    if "sodium" in per_100g:
        salt = per_100g["sodium"] * _SALT_PER_SODIUM
        fixed["salt"] = Cited(salt, source, note="sodium × 2.5")
    for group in ("fat", "sugars", "carbohydrate"):
        if group not in per_100g:
            continue
        free = [name for name in _GROUPS[group] if name not in fixed]
        taken = sum(fixed[n].value for n in _GROUPS[group] if n in fixed)
        left = max(per_100g[group] - taken, 0.0)
        there = sum(base[name].value for name in free if name in base)
        if there > 0:
            for name in free:
                part = base[name].value / there * left if name in base else 0.0
                fixed[name] = Cited(part, source, note=f"its {group}, split as in kind")
        else:
            fixed.update({name: Cited(0.0, source) for name in free})
            known = fixed[_ALONE[group]].value if _ALONE[group] in fixed else 0.0
            note = f"its {group}; how they split is not said"
            fixed[_ALONE[group]] = Cited(known + left, source, note=note)
    return fixed


def _allergens(
    said: OwnIngredient, like: Ingredient | None, source: Source
) -> tuple[Allergen, ...] | Mistake:
    """What its row says, `contains: []` too; where it does not, as what it is like."""
    found: dict[str, Allergen] = {}
    for name in said.contains:
        if (group := _allergen(name)) is None:
            return _no_allergen(name, "contains")
        found[group] = Allergen(group, "contains", "", source)
    for name in said.may_contain:
        if (group := _allergen(name)) is None:
            return _no_allergen(name, "may_contain")
        note = "by its specification"
        found.setdefault(group, Allergen(group, "may contain", note, source))
    if "contains" in said.model_fields_set or like is None:
        return tuple(found.values())
    kept = {one.name: one for one in like.allergens if one.how == "contains"}
    more = {one.name: one for one in like.allergens}
    return tuple({**more, **found, **kept}.values())


def _allergens_by(said: OwnIngredient) -> AllergensBy:
    if "contains" in said.model_fields_set:
        return "answer" if said.source else "row"
    return "like" if said.like else "nobody"


def _no_allergen(name: str, field: str) -> Mistake:
    what = f"'{name}' is none of the 14 allergens."
    return Mistake(what, f"Write one of: {', '.join(ALLERGENS)}.", Where(field=field))


def _allergen(name: str) -> str | None:
    """The allergen of this name, ours or the law's: `hazelnut`, `Brazil nuts`."""
    plain = " ".join(name.casefold().split())
    singular = plain.removesuffix("s")
    for known in ALLERGENS:
        if plain == known or known.split(":")[-1] in {plain, singular}:
            return known
    for known, one in listed().items():
        if plain in {word.casefold() for word in (one.in_law, *one.words)}:
            return known
    return None
