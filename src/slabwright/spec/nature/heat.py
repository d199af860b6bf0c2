"""How a layer takes up heat, holds air and freezes: figures for cooling and keeping."""

from collections.abc import Iterator
from typing import Final

import numpy as np

from slabwright.composition import fat, total
from slabwright.figure import Figure, Standing, weakest, withheld
from slabwright.finding import Finding, Severity
from slabwright.formula.heating import first_word, hottest
from slabwright.formula.step import Band
from slabwright.physics.freezing import freezing_point, heat_between, ice_share
from slabwright.physics.species import Array, parts_of
from slabwright.physics.thermal import (
    DENSE_ERROR,
    POROUS_ERROR,
    air_share,
    conductivity,
    density,
    specific_heat,
)
from slabwright.source import Source, sources
from slabwright.spec.nature.aspect import Aspect, Named
from slabwright.spec.nature.subject import Keeping, Subject

_ROOM_C: Final = 20.0
_HOLDS: Final = "-40 to 150 °C; volumes add up"
_HEAVIER: Final = 0.03
"""A measured density so far over that of the mix can't be: Choi and Okos with sugar
err by up to 1.5 %, a kitchen's measure by 2. Our own."""
_SET_FAT_DENSER: Final = 0.09
"""Fat that has set takes up so much less room than oil: tempered chocolate, a third of
it fat, shrinks by about 3 %. From memory; Choi and Okos measured no hard fat."""
_SETS_KJ_KG: Final = 100.0
"""Heat that fat gives off when all of it sets [kJ/kg]: 80 for milk fat to 150 for cocoa
butter, from memory. The low end is that none does."""
_ICE_ERROR: Final = 0.04
"""Of the water. Two rules for foods lie so far apart."""
_FREEZES_K: Final = 0.06
"""Share of the depression by which a freezing point may lie off: salt and alcohol."""
_LABELS: Final = {
    "density_without_air_g_ml": ("density without air", "g/ml"),
    "air_share": ("air in it", "share"),
    "specific_heat_kJ_kg_K": ("specific heat at 20 °C", "kJ/(kg K)"),
    "conductivity_W_m_K": ("conducts at 20 °C", "W/(m K)"),
    "freezing_point_C": ("ice begins at", "°C"),
}


def heat_of(subject: Subject) -> Aspect | None:
    """How a layer takes up heat; None for one that weighs nothing."""
    unknown = subject.unknown
    rows = subject.finished
    if not unknown and bool((rows[:, -2] > 0).any()):
        unknown = "nobody here knows what all of it is made of"
    if unknown:
        return Aspect(
            "heat", "Heat and air",
            tuple(
                Named(name, label, withheld(unit, unknown))
                for name, (label, unit) in _LABELS.items()
            ),
        )  # fmt: skip
    if not bool((total(rows) > 0).all()):
        return None
    standing = weakest(["worked out", *subject.batch.composition_leans])
    kg_m3, set_kg_m3 = _densities(rows)
    bulk, told = _bulk(subject)
    air = air_share(bulk * 1000, (kg_m3 + set_kg_m3) / 2)
    parts = parts_of(rows)
    begins = freezing_point(parts)
    figures = [
        _dense(kg_m3, set_kg_m3, standing),
        _air(bulk, kg_m3, set_kg_m3, told),
        _named(
            "specific_heat_kJ_kg_K", specific_heat(rows, _ROOM_C), standing,
            "each constituent by its mass; what melts meanwhile is not in it",
            (sources()["choi-okos-1986"],),
        ),
        _conducts(rows, np.clip(air, 0.0, 0.95), standing),
        _freezes(begins, standing),
    ]  # fmt: skip
    if not np.isnan(begins[0]):
        figures += _ice(subject, parts, standing)
    figures += _cooling(subject, standing)
    return Aspect(
        "heat",
        "Heat and air",
        tuple(figures),
        notes=tuple(_notes(subject, float(air[0]))),
        findings=tuple(_too_heavy(subject, set_kg_m3)),
    )


def _named(
    name: str, rows: Array, standing: Standing, said: str, cited: tuple[Source, ...]
) -> Named:
    label, unit = _LABELS[name]
    value, low, high = float(rows[0]), float(rows.min()), float(rows.max())
    wide = high - low > 1e-6 * abs(value)
    figure = Figure(
        value, unit, f"{said}: {value:.4g} {unit}", standing, low if wide else None,
        high if wide else None, cited, _HOLDS,
    )  # fmt: skip
    return Named(name, label, figure)


def _bulk(subject: Subject) -> tuple[float, str]:
    """What a millilitre of the layer weighs, and how that is known."""
    given = subject.batch.density
    if given is not None:
        return given.g_ml, "measured" if given.is_measured else "given"
    return subject.batch.kind.density_g_ml.value, "usual for its kind"


def _densities(rows: Array) -> tuple[Array, Array]:
    """Density without air, its fat as oil and its fat all set [kg/m³]."""
    oil = density(rows, _ROOM_C)
    share = fat(rows) / total(rows)
    volume = 1 / oil - share * _SET_FAT_DENSER / 1000
    return oil, 1 / volume


def _dense(oil: Array, hard: Array, standing: Standing) -> Named:
    label, unit = _LABELS["density_without_air_g_ml"]
    value = float(oil[0]) / 1000
    said = f"volumes of all that is in it at 20 °C, added up: {value:.4g} g/ml"
    low, high = float(oil.min()) / 1000, float(hard.max()) / 1000
    wide = high - low > 1e-3
    if wide:
        said += f"; up to {high:.3g} where its fat has set"
    return Named(
        "density_without_air_g_ml", label,
        Figure(
            value, unit, said, standing, low if wide else None, high if wide else None,
            (sources()["choi-okos-1986"],), _HOLDS,
        ),
    )  # fmt: skip


def _air(bulk: float, oil: Array, hard: Array, told: str) -> Named:
    label, unit = _LABELS["air_share"]
    dense = float(oil[0] + hard[0]) / 2000
    most = float(hard.max()) / 1000
    if bulk > most * (1 + _HEAVIER):
        why = (
            f"{bulk:g} g/ml, {told}, is more than the {most:.3g} g/ml of the mix "
            "without any air"
        )
        return Named("air_share", label, withheld(unit, why))
    value = max(1 - bulk / dense, 0.0)
    low = max(1 - bulk * (1 + _HEAVIER) / (float(oil.min()) / 1000), 0.0)
    high = max(1 - bulk * (1 - _HEAVIER) / most, value)
    lean = {"measured": Standing.MEASURED, "given": Standing.WORKED_OUT}
    said = f"1 − {bulk:g} ÷ {dense:.4g} g/ml = {100 * value:.0f} %; density {told}"
    if value <= 0:
        said = f"{bulk:g} g/ml, {told}, is all that {dense:.3g} g/ml can weigh: none"
    standing = weakest(["worked out", lean.get(told, Standing.ASSUMED)])
    return Named(
        "air_share", label,
        Figure(
            value, unit, said, standing, low, high, (sources()["choi-okos-1986"],),
        ),
    )  # fmt: skip


def _conducts(rows: Array, air: Array, standing: Standing) -> Named:
    label, unit = _LABELS["conductivity_W_m_K"]
    value = float(conductivity(rows[:1], _ROOM_C, air[:1])[0])
    error = POROUS_ERROR if air[0] > 0.02 else DENSE_ERROR
    said = (
        f"constituents side by side, {100 * float(air[0]):.0f} % of air strewn among "
        f"them: {value:.3g} {unit}, to {100 * error:.0f} %"
    )
    return Named(
        "conductivity_W_m_K", label,
        Figure(
            value, unit, said, standing, value * (1 - error), value * (1 + error),
            (sources()["carson-2016"], sources()["choi-okos-1986"]), _HOLDS,
        ),
    )  # fmt: skip


def _freezes(begins: Array, standing: Standing) -> Named:
    label, unit = _LABELS["freezing_point_C"]
    value = float(begins[0])
    cited = (sources()["murphy-koop-2005"], sources()["stokes-robinson-1966"])
    if np.isnan(value):
        why = "it holds no water that would freeze over -40 °C"
        return Named("freezing_point_C", label, withheld(unit, why))
    said = (
        f"its water activity equals that of ice at {value:.1f} °C; what is dissolved "
        "counts"
    )
    known = begins[~np.isnan(begins)]
    low = float(known.min()) * (1 + _FREEZES_K)
    high = float(known.max()) * (1 - _FREEZES_K)
    return Named(
        "freezing_point_C", label,
        Figure(value, unit, said, standing, low, high, cited, "0 to -40 °C"),
    )  # fmt: skip


def _ice(subject: Subject, parts: Array, standing: Standing) -> Iterator[Named]:
    frozen = [one for one in subject.keepings if one.temperature_C.high < -1.0]
    for number, place in enumerate(frozen[:1], start=1):
        band = place.temperature_C
        share = ice_share(parts, band.middle)
        value = float(share[0])
        said = (
            f"at {band.middle:g} °C ({place.text}) what is not frozen is so strong "
            f"that it holds {100 * (1 - value):.0f} % of the water"
        )
        low = max(float(np.nanmin(share)) - _ICE_ERROR, 0.0)
        high = min(float(np.nanmax(share)) + _ICE_ERROR, 1.0)
        yield Named(
            f"ice_share_{number}", f"of its water is ice, kept {place.text}",
            Figure(
                value, "share", said, standing, low, high,
                (sources()["murphy-koop-2005"], sources()["stokes-robinson-1966"]),
                "0 to -30 °C",
            ),
        )  # fmt: skip


def _cooling(subject: Subject, standing: Standing) -> Iterator[Named]:
    """Heat that must leave it from pouring, or its last heat, to where it is kept."""
    if not subject.keepings:
        return
    place: Keeping = subject.keepings[0]
    label = f"heat to take out until it is kept {place.text}"
    hot = _poured(subject)
    if hot is None:
        return
    cold = place.temperature_C.middle
    rows = subject.finished / 1000
    out = -heat_between(rows, hot.middle, cold)
    if not out[0] > 0:
        return
    sets = _SETS_KJ_KG * float(fat(rows)[0])
    value = float(out[0])
    said = (
        f"{1000 * float(total(rows)[0]):.4g} g from {hot.middle:g} to {cold:g} °C, ice "
        f"counted: {value:.3g} kJ; up to {sets:.2g} kJ more if all its fat sets"
    )
    yield Named(
        "heat_out_kJ", label,
        Figure(
            value, "kJ", said, standing, float(out.min()), float(out.max()) + sets,
            (sources()["choi-okos-1986"],), _HOLDS,
        ),
    )  # fmt: skip


def _poured(subject: Subject) -> Band | None:
    """How hot it goes on: its pour, else the hottest that it was."""
    hot: Band | None = None
    for step in subject.batch.component.steps:
        if first_word(step) == "pour":
            if step.at_C is not None:
                return step.at_C
            if step.over_C is not None:
                return Band(step.over_C, step.over_C)
        top = hottest(step)
        cooled = first_word(step) == "cool" and step.to_C is not None
        if cooled and step.to_C is not None:
            hot = step.to_C
        elif top is not None and (hot is None or top > hot.high):
            hot = Band(top, top)
    return hot


def _notes(subject: Subject, air: float) -> Iterator[str]:
    if subject.batch.density is None:
        yield "Its air follows from the usual density of its kind: weigh a piece."
    elif air > 0.5:
        yield "More than half of it is air: it warms and cools slowly for its height."


def _too_heavy(subject: Subject, hard: Array) -> Iterator[Finding]:
    given = subject.batch.density
    if given is None:
        return
    most = float(hard.max()) / 1000
    if given.g_ml <= most * (1 + _HEAVIER):
        return
    yield Finding(
        "denser_than_its_mix", Severity.LOOK, subject.name,
        f"Its density of {given.g_ml:g} g/ml can't be.",
        f"Without any air, what it is made of weighs {most:.3g} g/ml: fat, water and "
        "sugar take up so much room.",
        f"Weigh again: 100 ml come to {100 * most:.0f} g at most. Or its weight at the "
        "end is not what the card says.",
        sources()["choi-okos-1986"].text, given.span, subject.number,
    )  # fmt: skip
