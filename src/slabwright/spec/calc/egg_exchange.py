"""The calculator of eggs: whole, yolks, whites, dried or fluid, and other sizes."""

import re
from typing import Final

from slabwright.composition import amount, fat, water
from slabwright.figure import Figure, Standing
from slabwright.larder.eggs import PARTS, EggClass, egg_classes, regime_of
from slabwright.source import sources
from slabwright.spec.calc.calculator import (
    Answer,
    Asked,
    Calculator,
    Input,
    Shown,
    wrong,
)
from slabwright.spec.calc.stuffs import plain

_IDS: Final = {"whole": "whole-egg", "yolk": "egg-yolk", "white": "egg-white"}
_HOLDS: Final = "hens' eggs within their class, whatever their age"
_POWDER: Final = {"whole": 0.25, "yolk": 0.45, "white": 0.12}
"""Dried egg in a gram of what it makes fluid again. Source: "egg-powders"."""
_SIZES: Final = tuple(dict.fromkeys(one.size for one in egg_classes()))
_SAME: Final = {"s": "small", "m": "medium", "l": "large", "xl": "very_large",
                "extra_large": "very_large"}  # fmt: skip
"""Other words that boxes print."""
_MOST: Final = 100_000.0
_CODE: Final = re.compile("[A-Za-z]{2}")
"""A country's code as ISO 3166 writes it."""
_NOTES: Final = (
    "Fluid egg from a pack takes the place of shelled egg gram for gram; look on the "
    "pack for added sugar or salt, which yolk often has.",
    "Dried and heat-treated white whips less and later than fresh. Common practice, no "
    "source.",
    "By make-up alone: what sets, binds or raises is the protein.",
)


def _answer(asked: Asked) -> Answer:
    part = asked.word("part")
    egg, said = _grams(asked, part)
    value, low, high = egg
    leans = (sources()["eu-589-2008"], sources()["usda-egg-classes"],
             sources()["egg-sizes-reprint"])  # fmt: skip
    wide = high - low > 1e-9
    first = Shown(
        "egg_g", f"{_called(part)}, out of the shell",
        Figure(value, "g", said,
               Standing.ASSUMED if wide else Standing.WORKED_OUT,
               low if wide else None, high if wide else None,
               leans if wide else (), _HOLDS if wide else ""),
    )  # fmt: skip
    also = [
        *_eggs(asked, part, value),
        *_whole(part, value),
        *_dried(part, value),
        _plain("fluid_g", f"fluid {_called(part)} from a pack", value, "gram for gram"),
        *_made_of(part, value),
    ]
    return Answer(first, tuple(also), _NOTES)


def _grams(asked: Asked, part: str) -> tuple[tuple[float, float, float], str]:
    """Grams out of the shell: as worked out, least, most."""
    grams, count = asked.optional("grams"), asked.optional("count")
    if grams is not None and count is None:
        return (grams, grams, grams), f"{grams:g} g as weighed"
    if count is None or grams is not None:
        raise wrong(
            "Give either grams or count.", "Give it so: count=6 size=medium.", "count"
        )
    one = _class(asked.word("size"), _country(asked, "country"), "size")
    _, share, least, most = PARTS[_IDS[part]]
    said = (
        f"{count:g} × {one.middle_g:g} g in the shell ({one.label}, {one.min_g:g} to "
        f"{one.max_g:g}) × {share:g} = {count * one.middle_g * share:.4g} g"
    )
    return (
        count * one.middle_g * share,
        count * one.min_g * least,
        count * one.max_g * most,
    ), said


def _country(asked: Asked, name: str) -> str:
    """A country's code; empty if none is given."""
    country = asked.word(name)
    if country and not _CODE.fullmatch(country):
        what = f"'{country}' is no code of a country."
        raise wrong(what, "Give its two letters: GB, US, AU.", name)
    return country


def _class(size: str, country: str, name: str) -> EggClass:
    regime = regime_of(country)
    here = [one for one in egg_classes() if one.regime == regime]
    found = next((one for one in here if one.size == size), None)
    if found is None:
        sizes = tuple(one.size for one in here)
        do = f"Give one of {', '.join(sizes)}."
        raise wrong(f"There are no {size} eggs in {country}.", do, name)
    return found


def _eggs(asked: Asked, part: str, grams: float) -> list[Shown]:
    """How many eggs of another size or country give as much."""
    size = asked.word("to_size") or asked.word("size")
    country = _country(asked, "to_country") or _country(asked, "country")
    one = _class(size, country, "to_size")
    _, share, least, most = PARTS[_IDS[part]]
    each = one.middle_g * share
    said = f"{grams:.4g} g ÷ ({one.middle_g:g} g × {share:g}) = {grams / each:.2f}"
    label = "eggs" if part == "whole" else f"eggs, for their {part}s"
    return [
        Shown(
            "eggs", f"{label}, {one.label}",
            Figure(grams / each, "eggs", said, Standing.ASSUMED,
                   grams / (one.max_g * most), grams / (one.min_g * least),
                   (one.source,), _HOLDS),
        )
    ]  # fmt: skip


def _whole(part: str, grams: float) -> list[Shown]:
    """What whole egg is of yolk and white, or what is left over of the other part."""
    yolk, white = PARTS["egg-yolk"][1], PARTS["egg-white"][1]
    if part == "whole":
        of_yolk = grams * yolk / (yolk + white)
        fatty, leaner = (float(fat(plain(id).composition)) for id in
                         ("egg-yolk", "whole-egg"))  # fmt: skip
        alone = grams * leaner / fatty
        return [
            _plain("yolk_g", "as yolk", of_yolk,
                   f"{grams:.4g} g × {yolk:g} ÷ ({yolk:g} + {white:g})"),
            _plain("white_g", "and white", grams - of_yolk,
                   f"{grams:.4g} g − {of_yolk:.4g} g"),
            _plain("yolk_alone_g", "or yolk alone, for as much fat", alone,
                   f"{grams:.4g} g × {leaner:.3f} ÷ {fatty:.3f}"),
            _plain("water_with_yolk_g", "with water, for as much weight",
                   grams - alone, f"{grams:.4g} g − {alone:.4g} g; it has less "
                   "protein and sets softer"),
        ]  # fmt: skip
    mine, other = (yolk, white) if part == "yolk" else (white, yolk)
    name = "white" if part == "yolk" else "yolk"
    return [
        _plain(f"{name}_left_g", f"{name} left over of those eggs",
               grams * other / mine, f"{grams:.4g} g × {other:g} ÷ {mine:g}")
    ]  # fmt: skip


def _dried(part: str, grams: float) -> list[Shown]:
    share = _POWDER[part]
    source = (sources()["egg-powders"],)
    return [
        Shown("powder_g", f"dried {_called(part)}",
              Figure(grams * share, "g",
                     f"{grams:.4g} g × {share:g} = {grams * share:.4g} g",
                     sources=source)),
        Shown("water_g", "and water to it",
              Figure(grams * (1 - share), "g",
                     f"{grams:.4g} g × {1 - share:.2f} = {grams * (1 - share):.4g} g",
                     sources=source)),
    ]  # fmt: skip


def _made_of(part: str, grams: float) -> list[Shown]:
    row = plain(_IDS[part]).composition
    found = {
        "fat_g": float(fat(row)), "egg_water_g": float(water(row)),
        "protein_g": float(amount(row, "protein")),
    }  # fmt: skip
    return [
        _plain(name, f"{name.removesuffix('_g').removeprefix('egg_')} in it",
               grams * share, f"{grams:.4g} g × {share:.3f}")
        for name, share in found.items()
    ]  # fmt: skip


def _plain(name: str, label: str, grams: float, said: str) -> Shown:
    return Shown(name, label, Figure(grams, "g", f"{said} = {grams:.4g} g"))


def _called(part: str) -> str:
    return "whole egg" if part == "whole" else f"egg {part}"


EGG_EXCHANGE: Final = Calculator(
    name="egg-exchange",
    title="Eggs for other eggs",
    what="What takes the place of eggs: other sizes, yolks and whites, dried, fluid.",
    answer=_answer,
    inputs=(
        Input("count", "eggs", "how many", low=0.1, high=10_000.0, is_optional=True,
              also=("eggs", "number")),
        Input("grams", "g", "or how much out of the shell", low=0.1, high=_MOST,
              is_optional=True, also=("mass_g", "weight_g")),
        Input("part", "", "what of them", kind="word", default="whole",
              choices=tuple(_IDS)),
        Input("size", "", "their size", kind="word", default="medium", choices=_SIZES,
              same=_SAME, also=("from_size",)),
        Input("country", "", "whose sizes", kind="word", of_kitchen="country",
              also=("from_country",)),
        Input("to_size", "", "the size that is there", kind="word", choices=_SIZES,
              same=_SAME, is_optional=True),
        Input("to_country", "", "and whose sizes those are", kind="word",
              is_optional=True),
    ),
    example="calc egg-exchange count=6 size=medium to_size=large to_country=US",
    sources=(sources()["egg-powders"],),
    python="slabwright.larder.eggs.egg_measures",
)  # fmt: skip
