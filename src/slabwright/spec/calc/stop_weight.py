"""The calculator of stop weights: what the scale reads when a boil is done."""

from dataclasses import dataclass
from typing import Final

from slabwright.figure import Figure
from slabwright.physics.activity import sources_of
from slabwright.physics.boiling import water_left, water_left_range
from slabwright.physics.solubility import DISSOLVED
from slabwright.physics.species import AT, Parts
from slabwright.source import Source
from slabwright.spec.calc.air import AIR, BURNS, Air, air_of, browning, hot_of
from slabwright.spec.calc.calculator import (
    Answer,
    Asked,
    Calculator,
    Input,
    Shown,
    wrong,
)
from slabwright.spec.calc.make_up import notes_of, parts_asked
from slabwright.spec.calc.water_left import HOT, brine_at

_AIMS: Final = ("boils_at_C", "probe_C", "water_share", "brix")
_HOLDS: Final = "down to 3 % of water, 5 to 300 kPa of air"


@dataclass(frozen=True, slots=True)
class _Aim:
    """Water that is to stay in the pan [g], and why."""

    water: float
    low: float
    high: float
    said: str
    sources: tuple[Source, ...] = ()
    holds: str = ""
    notes: tuple[str, ...] = ()


def _answer(asked: Asked) -> Answer:
    air = air_of(asked)
    parts = parts_asked(asked, needs_water=True)
    given, alcohol = float(parts[AT["water"]]), float(parts[AT["alcohol"]])
    start = float(parts.sum())
    dry, pan = start - given - alcohol, asked.number("pan_g")
    if not dry > 0:
        raise wrong("It is water alone.", "Give what is boiled in it: sucrose=300.")
    aim = _aim(asked, air, parts, dry)
    if not aim.water <= given:
        raise wrong(
            f"It holds {given:.4g} g of water, less than the {aim.water:.4g} g for "
            f"{aim.said}.",
            f"Add {aim.water - given:.3g} g of water or more, or aim further.", "water",
        )  # fmt: skip
    low, high = aim.low, min(aim.high, given)
    end = dry + aim.water
    is_range = aim.low < aim.high

    def figure(value: float, said: str, least: float, most: float) -> Figure:
        ends = (least, most) if is_range else (None, None)
        return Figure(value, "g", said, low=ends[0], high=ends[1], sources=aim.sources,
                      holds=aim.holds)  # fmt: skip

    reads = figure(
        pan + end,
        f"{dry:.5g} g dry + {aim.water:.4g} g of water ({aim.said}) + {pan:.5g} g of "
        f"pan = {pan + end:.5g} g",
        pan + dry + low,
        pan + dry + high,
    )
    off = start - end
    share = aim.water / end
    also = (
        Shown("end_mass_g", "all that is left",
              figure(end, f"{dry:.5g} g dry + {aim.water:.4g} g of water", dry + low,
                     dry + high)),
        Shown("loses_g", "to lose", figure(
            off, f"{start:.5g} − {end:.5g} = {off:.4g} g", start - dry - high,
            start - dry - low)),
        Shown("water_share", "water left, as a share", Figure(
            share, "share", f"{aim.water:.4g} g ÷ {end:.5g} g",
            low=low / (dry + low) if is_range else None,
            high=high / (dry + high) if is_range else None,
            sources=aim.sources, holds=aim.holds)),
        Shown("start_reads_g", "what it reads at first", Figure(
            pan + start, "g", f"{start:.5g} g + {pan:.5g} g of pan")),
    )  # fmt: skip
    notes = [*aim.notes, *notes_of(parts, boils=True)]
    if not pan > 0:
        notes.insert(0, "Without the pan: weigh it empty, or set the scale to 0 on it.")
    notes.append("What sticks to spoon and lid is missing on the scale: weigh it too.")
    if aim.sources:
        notes += air.notes()
    return Answer(
        Shown("reads_g", "the scale reads, pan included", reads), also, (*notes, BURNS)
    )


def _aim(asked: Asked, air: Air, parts: Parts, dry: float) -> _Aim:
    given = [one for one in _AIMS if asked.optional(one) is not None]
    if len(given) != 1:
        what = f"{' and '.join(given)} are given." if given else "No end is given."
        raise wrong(
            what, f"Give one of {', '.join(_AIMS)}.", given[-1] if given else ""
        )
    if given[0] == "water_share":
        share = asked.number("water_share")
        water = dry * share / (1 - share)
        return _Aim(water, water, water, f"{100 * share:g} % of water")
    if given[0] == "brix":
        return _by_brix(asked.number("brix"), parts)
    hot, said = hot_of(asked, air)
    brine, lying = brine_at(parts, hot, air.pressure_kPa)
    water = float(water_left(brine, hot, air.pressure_kPa))
    low, high = (float(one) for one in water_left_range(brine, hot, air.pressure_kPa))
    if not water >= 0:
        raise wrong(
            f"Nobody knows what stays in it at {hot:.4g} °C.",
            "Give a lower temperature.", given[0],
        )  # fmt: skip
    cited = (*sources_of(parts), *air.sources)
    told = f"boiling at {said}, {air.said}"
    return _Aim(water, low, high, told, cited, _HOLDS, (*lying, *browning(hot)))


def _by_brix(brix: float, parts: Parts) -> _Aim:
    sugar = float(parts[[AT[name] for name in DISSOLVED]].sum())
    if not sugar > 0:
        raise wrong("It has no sugar.", "Aim by water_share.", "brix")
    water = sugar * (100 - brix) / brix
    said = f"{sugar:.4g} g of sugars at {brix:g} °Bx"
    return _Aim(water, water, water, said)


STOP_WEIGHT: Final = Calculator(
    name="stop-weight",
    title="Stop weight of a boil",
    what="What the scale reads, pan included, when a boil is done.",
    answer=_answer,
    inputs=(
        Input("pan_g", "g", "the empty pan, with spoon", default=0.0, low=0.0,
              high=50_000.0, also=("pan_mass_g", "pan_weight_g", "tare_g")),
        *HOT,
        Input("water_share", "", "or its water at the end, as a share", low=0.001,
              high=0.99, is_optional=True),
        Input("brix", "°Bx", "or its sugars at the end, of them and water", low=1.0,
              high=99.0, is_optional=True),
        *AIR,
    ),
    takes_parts=True,
    parts_are_grams=True,
    example="calc stop-weight sucrose=300 glucose=60 water=150 pan_g=812 probe_C=118",
    sources=(water_left.source,),
    python="slabwright.physics.boiling.water_left",
)  # fmt: skip
