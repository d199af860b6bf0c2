"""The score of a slab in the British nutrient profiling model, from its nutrition."""

from collections.abc import Sequence
from datetime import date
from typing import Final

from slabwright.label.nutrition.nutrient_profile import Ends, Profile, profile
from slabwright.larder.lookup import Larder
from slabwright.spec.costing import uses_of_slab
from slabwright.spec.nutrition_rows import Row
from slabwright.spec.specification import Specification

_NUTRIENTS: Final = {
    "energy_kj": "energy_kj",
    "saturates": "saturates_g",
    "sugars": "sugars_g",
    "fibre": "fibre_aoac_g",
    "protein": "protein_g",
}
"""Rows of a declaration that the model takes as they are."""
_SODIUM_MG_PER_SALT_G: Final = 400.0
"""Salt is sodium times 2.5; Regulation (EU) No 1169/2011, Annex I(11)."""
_FRESH: Final = frozenset(["fruit", "nut"])
_DRIED: Final = frozenset(["dried fruit"])


def profile_of(
    spec: Specification, rows: Sequence[Row], larder: Larder, nation: str, on: date
) -> Profile | None:
    """The score of a slab, from its best to its worst likely figures.

    Args:
        spec: the slab, worked out.
        rows: of its nutrition declaration.
        larder: what each ingredient is.
        nation: where it is sold.
        on: the day whose rows hold.
    """
    found: dict[str, Ends] = {}
    for row in rows:
        if not row.per_100g.known:
            continue
        value = row.per_100g.number
        low = value if row.per_100g.low is None else row.per_100g.low
        high = value if row.per_100g.high is None else row.per_100g.high
        if row.nutrient == "salt":
            found["sodium_mg"] = (
                low * _SODIUM_MG_PER_SALT_G,
                high * _SODIUM_MG_PER_SALT_G,
            )
        elif row.nutrient in _NUTRIENTS:
            found[_NUTRIENTS[row.nutrient]] = low, high
    most = most_fruit(spec, larder)
    if most is None:
        return None
    found["fruit_veg_nuts_percent"] = 0.0, most
    return profile(found, nation, on)


def most_fruit(spec: Specification, larder: Larder) -> float | None:
    """How much of it may count as fruit, vegetables and nuts, at most [%].

    By the guidance, from memory: nuts count, dried fruit counts twice. What is ground,
    sweetened or made into juice may not count, so that this is an upper end alone.
    Gives None where the mass is not known.
    """
    whole = spec.mass_g if spec.layers else None
    if whole is None or not whole.known or not whole.number > 0:
        return None
    fresh = dried = 0.0
    for use in uses_of_slab(spec):
        one = larder.by_id(use.larder_id)
        group = one.group if one is not None else ""
        if one is not None and one.like:
            like = larder.by_id(one.like)
            group = like.group if like is not None else group
        fresh += use.grams if group in _FRESH else 0.0
        dried += use.grams if group in _DRIED else 0.0
    rest = max(whole.number - fresh - dried, 0.0)
    weighted = fresh + 2 * dried
    return 100 * weighted / (weighted + rest) if weighted else 0.0
