"""Sweet, rich, salt: of a layer, and of a whole slab."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from slabwright.composition import Masses, amount, fat, total
from slabwright.figure import Figure, Leans, Standing, weakest, withheld
from slabwright.physics.raising import raisers
from slabwright.physics.species import AT, parts_of
from slabwright.physics.sweetness import sucrose_equivalent, used
from slabwright.spec.nature.aspect import Aspect, Named
from slabwright.spec.nature.emulsion import ingredients
from slabwright.spec.nature.subject import Subject
from slabwright.spec.specification import Specification

_HOLDS: Final = "sugars in water; fat, acid, salt, cold and crystals are not in it"
_SALT_TOLD: Final = 0.001
"""A tenth of a per cent of salt is the least that anybody tastes. Our own."""
_NOTE: Final = (
    "Sweetness is what its sugars would be as sucrose, by tables that differ. Acid and "
    "cold make it taste less sweet, a pinch of salt more: that is not worked out, so "
    "hold it against a layer of its kind."
)


@dataclass(frozen=True, slots=True)
class Taste:
    """What the tongue is given, as shares of the mass."""

    sweetness: Figure
    """Sucrose that would be as sweet, in a gram."""
    fat_share: Figure
    salt_share: Figure


def taste_of(subject: Subject) -> Aspect | None:
    """How sweet, rich and salt a layer is; None where there is nothing to taste."""
    rows = subject.finished
    if subject.unknown:
        taste = _withheld(subject.unknown)
    elif not (total(rows) > 0).all():
        return None
    else:
        leans: Sequence[Leans] = ("worked out", *subject.batch.composition_leans)
        taste = tasted(rows, weakest(leans))
    return Aspect(
        "taste",
        "Sweet, rich, salt",
        (
            Named("sweetness", "as sweet as so much sucrose", taste.sweetness),
            Named("fat_share", "fat", taste.fat_share),
            Named("salt_share", "salt", taste.salt_share),
        ),
        notes=tuple(_notes(subject, taste)),
    )


def _notes(subject: Subject, taste: Taste) -> Iterator[str]:
    if taste.sweetness.known:
        yield _NOTE
    known = {one.id: one.composition for one in ingredients(subject)}
    raising = {one.ingredient for one in raisers().values() if one.ingredient}
    counted = sum(
        one.grams * float(amount(row, "salt"))
        for one in subject.inside
        if one.ingredient in raising
        and one.grams is not None
        and (row := known.get(one.ingredient)) is not None
    )
    if counted >= _SALT_TOLD * float(total(subject.finished)[0]):
        yield (
            f"{counted:.2g} g of its salt are the sodium of what raises it, counted as "
            "a label counts it: that hardly tastes of salt."
        )


def tasted(rows: Masses, standing: Standing) -> Taste:
    """The taste of finished masses, shape (3, len(ROW)) [g]."""
    whole = total(rows)
    return Taste(
        _sweet(rows, standing),
        _share(fat(rows) / whole, float(fat(rows)[0]), float(whole[0]), standing),
        _share(
            rows[:, AT["salt"]] / whole, float(rows[0, AT["salt"]]), float(whole[0]),
            standing,
        ),
    )  # fmt: skip


def slab_masses(spec: Specification) -> tuple[Masses, str]:
    """What a whole slab is made of, shape (3, len(ROW)) [g], and why that is not known.

    Each layer counts by its own finished mass, also where it takes part of a batch.
    """
    whole = np.zeros_like(spec.layers[0].batch.after) if spec.layers else np.zeros(0)
    if not spec.layers:
        return whole, "there is no layer"
    for layer in spec.layers:
        batch = layer.batch
        why = batch.composition_withheld or batch.withheld
        if not why and not layer.mass_out_g.known:
            why = layer.mass_out_g.sum
        made = total(batch.after)
        if not why and not (made > 0).all():
            why = "nothing is weighed"
        if why:
            return whole, f"{layer.name}: {why}"
        whole = whole + batch.after * (layer.mass_out_g.number / made[0])
    return whole, ""


def taste_of_slab(spec: Specification) -> Taste:
    """The taste of all its layers eaten together; withheld with the reason."""
    rows, why = slab_masses(spec)
    if why:
        return _withheld(why)
    leans: list[Leans] = ["worked out"]
    for layer in spec.layers:
        leans += layer.batch.composition_leans
    return tasted(rows, weakest(leans))


def _withheld(why: str) -> Taste:
    figure = withheld("share", why)
    return Taste(figure, figure, figure)


def _sweet(rows: Masses, standing: Standing) -> Figure:
    parts, whole = parts_of(rows), total(rows)
    each = sucrose_equivalent(parts)  # ends of the table first, then of the make-up
    shares = each / whole
    grams, mass = float(each[0, 0]), float(whole[0])
    value = grams / mass
    said = f"as sweet as {grams:.4g} g of sucrose ÷ {mass:.4g} g = {100 * value:.1f} %"
    low, high = float(shares.min()), float(shares.max())
    wide = high - low > 1e-9
    return Figure(
        value, "share", said, standing, low if wide else None, high if wide else None,
        used(parts[0]), _HOLDS,
    )  # fmt: skip


def _share(row: Masses, grams: float, mass: float, standing: Standing) -> Figure:
    low, value, high = float(row.min()), float(row[0]), float(row.max())
    said = f"{grams:.3g} g ÷ {mass:.4g} g = {100 * value:.2g} %"
    wide = high - low > 1e-9
    return Figure(
        value, "share", said, standing, low if wide else None, high if wide else None
    )
