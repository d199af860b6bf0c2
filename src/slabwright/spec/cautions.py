"""Cautions: each once, at the step where the hand is about to do it.

They defer to local law and to the kitchen's own plan, and stand nowhere else.
"""

import csv
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cache
from importlib.resources import files
from typing import Final

from slabwright.formula.batch import Batch
from slabwright.formula.heating import first_word, hottest, is_boil, is_oven, says
from slabwright.formula.step import Step
from slabwright.source import Source, sources

HOT_SUGAR_C: Final = 110.0
"""From here sugar sticks and burns deep. Common practice, no source."""
COOKED_C: Final = 70.0
"""Egg under this at the core is not cooked through (`uk-cook-core`)."""
WET: Final = 0.25
"""Cream or milk in a layer with more water than this wants the cold. Our own limit."""
HEAVY_PAN_G: Final = 3000.0
HEAVY_TIN_G: Final = 4000.0
_SUGARS: Final = {"sugar", "syrup"}
_STARCHES: Final = {
    "cornflour", "potato-starch", "tapioca-starch", "arrowroot", "custard-powder",
    "ground-gluten",
}  # fmt: skip
_FRESH: Final = ("cream", "milk", "yoghurt", "mascarpone", "ricotta", "custard")
_BAKES: Final = {"crumb", "oats", "sponge", "crisp", "nut"}
_DRY: Final = ("powder", "condensed", "evaporated")


@dataclass(frozen=True, slots=True)
class Caution:
    """A few words at the right moment, and what they lean on."""

    key: str
    head: str
    text: str
    source: Source


@dataclass(frozen=True, slots=True)
class About:
    """What a layer is made of and how it is cooked, as far as cautions ask."""

    ids: frozenset[str]
    groups: frozenset[str]
    hottest_C: float
    is_cooked: bool
    is_foam: bool
    is_dry_bake: bool
    """A biscuit or a cake: what is wet in it goes in the oven."""
    water_share: float | None
    in_pan_g: float
    slab_g: float
    """One tin of the slab."""


@dataclass
class Said:
    """The cautions that a sheet has given already."""

    keys: set[str] = field(default_factory=set)

    def once(self, wanted: Iterator[str], **numbers: str) -> tuple[Caution, ...]:
        """Those of the wanted cautions that are new, in their order."""
        new = [key for key in dict.fromkeys(wanted) if key not in self.keys]
        self.keys.update(new)
        return tuple(_filled(cautions()[key], numbers) for key in new)


def _filled(caution: Caution, numbers: Mapping[str, str]) -> Caution:
    text = caution.text.format_map({"kg": "several", **numbers})
    return Caution(caution.key, caution.head, text, caution.source)


@cache
def cautions() -> Mapping[str, Caution]:
    """Every caution by its key, from `cautions.csv`."""
    text = files("slabwright.spec").joinpath("cautions.csv").read_text("utf-8")
    return {
        row["key"]: Caution(
            row["key"], row["head"], row["text"], sources()[row["source"]]
        )
        for row in csv.DictReader(text.splitlines())
    }


def about(batch: Batch, water_share: float | None, slab_g: float) -> About:
    """What cautions need to know of a block."""
    found = [line.ingredient for line in batch.lines if line.ingredient]
    steps = batch.component.steps
    top = max((hottest(step) or 0.0 for step in steps), default=0.0)
    plain_boil = any(is_boil(s) and hottest(s) is None for s in steps)
    return About(
        ids=frozenset(one.id for one in found),
        groups=frozenset(one.group for one in found),
        hottest_C=top,
        is_cooked=plain_boil or top >= COOKED_C or any(map(is_oven, steps)),
        is_foam=batch.kind.texture == "foam" and not any(map(is_oven, steps)),
        is_dry_bake=batch.kind.texture in _BAKES and any(map(is_oven, steps)),
        water_share=water_share,
        in_pan_g=batch.mass_in.value,
        slab_g=slab_g,
    )


def at_first(layer: About) -> Iterator[str]:
    """Cautions about a layer as a whole, for its first step."""
    if "egg" in layer.groups and (layer.is_foam or not layer.is_cooked):
        yield "raw_egg"
    if not layer.is_cooked and any(_is_raw_flour(one) for one in layer.ids):
        yield "raw_flour"


def at_step(step: Step, layer: About, *, is_after_syrup: bool) -> Iterator[str]:
    """Cautions for the hand that is about to do this step."""
    if is_hot_sugar(step) and layer.groups & _SUGARS:
        yield "hot_sugar"
    sets = {"egg-white", "egg-white-powder"} & layer.ids or any(
        "gelatine" in one for one in layer.ids
    )
    if is_after_syrup and sets and says(step, "whisk", "beat", "whip", "stream"):
        yield "hot_syrup_whisk"
    if is_after_syrup and first_word(step) == "pour" and layer.in_pan_g >= HEAVY_PAN_G:
        yield "heavy_pan"
    if is_oven(step) and layer.slab_g >= HEAVY_TIN_G:
        yield "lifting"
    if first_word(step) in {"cool", "chill"} and _wants_cold(layer):
        yield "cooling"
    if says(step, "torch", "blowtorch"):
        yield "hot_knife"


def is_cut(step: Step) -> bool:
    """Whether the slab is cut in this step."""
    return says(step, "cut", "slice", "portion")


def is_hot_sugar(step: Step) -> bool:
    """Whether this step leaves sugar that burns."""
    top = hottest(step) or 0.0
    return is_boil(step) and not is_oven(step) and top >= HOT_SUGAR_C


def _is_raw_flour(larder_id: str) -> bool:
    is_flour = "flour" in larder_id or "semolina" in larder_id
    return is_flour and larder_id not in _STARCHES


def _wants_cold(layer: About) -> bool:
    if layer.is_dry_bake:
        return False
    if "egg" in layer.groups:
        return True
    fresh = any(
        any(word in one for word in _FRESH) and not any(d in one for d in _DRY)
        for one in layer.ids
    )
    return fresh and layer.water_share is not None and layer.water_share >= WET
