"""How a layer takes up heat and holds air, and a density that can't be."""

from collections.abc import Iterator
from typing import Final

import numpy as np

from slabwright.composition import total
from slabwright.figure import Figure, Standing, weakest, withheld
from slabwright.finding import Finding, Severity
from slabwright.formula.bulk import usual_density
from slabwright.physics.bulk import HEAVIER, ROOM_C, without_air
from slabwright.physics.species import Array
from slabwright.physics.thermal import (
    DENSE_ERROR,
    POROUS_ERROR,
    air_share,
    conductivity,
    specific_heat,
)
from slabwright.source import Source, sources
from slabwright.spec.nature.aspect import Aspect, Named
from slabwright.spec.nature.cold import FREEZING, FREEZING_LABEL, cold_figures
from slabwright.spec.nature.subject import Subject

_HOLDS: Final = "-40 to 150 °C; volumes add up"
_AS_ITS_MIX: Final = "taken as its mix without air"
_LABELS: Final = {
    "density_without_air_g_ml": ("density without air", "g/ml"),
    "air_share": ("air in it", "share"),
    "specific_heat_kJ_kg_K": ("specific heat at 20 °C", "kJ/(kg K)"),
    "conductivity_W_m_K": ("conducts at 20 °C", "W/(m K)"),
    FREEZING: (FREEZING_LABEL, "°C"),
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
    kg_m3, set_kg_m3 = without_air(rows)
    bulk, told = _bulk(subject)
    air = air_share(bulk * 1000, (kg_m3 + set_kg_m3) / 2)
    figures = [
        _dense(kg_m3, set_kg_m3, standing),
        _air(bulk, kg_m3, set_kg_m3, told),
        _named(
            "specific_heat_kJ_kg_K", specific_heat(rows, ROOM_C), standing,
            "each constituent by its mass; what melts meanwhile is not in it",
            (sources()["choi-okos-1986"],),
        ),
        _conducts(rows, np.clip(air, 0.0, 0.95), standing),
        *cold_figures(subject, standing),
    ]  # fmt: skip
    return Aspect(
        "heat",
        "Heat and air",
        tuple(figures),
        notes=tuple(_notes(told, float(air[0]))),
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
    found = usual_density(subject.batch)
    is_usual = "usual for" in found.assumed
    return found.value, "usual for its kind" if is_usual else _AS_ITS_MIX


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
            (sources()["choi-okos-1986"], sources()["beckett-constants"]), _HOLDS,
        ),
    )  # fmt: skip


def _air(bulk: float, oil: Array, hard: Array, told: str) -> Named:
    label, unit = _LABELS["air_share"]
    dense = float(oil[0] + hard[0]) / 2000
    most = float(hard.max()) / 1000
    if told == _AS_ITS_MIX:
        why = f"nobody weighed it, and {bulk:g} g/ml is {told}"
        return Named("air_share", label, withheld(unit, why))
    if bulk > most * (1 + HEAVIER):
        why = (
            f"{bulk:g} g/ml, {told}, is more than the {most:.3g} g/ml of the mix "
            "without any air"
        )
        return Named("air_share", label, withheld(unit, why))
    value = max(1 - bulk / dense, 0.0)
    low = max(1 - bulk * (1 + HEAVIER) / (float(oil.min()) / 1000), 0.0)
    high = max(1 - bulk * (1 - HEAVIER) / most, value)
    lean = {"measured": Standing.MEASURED, "given": Standing.WORKED_OUT}
    said = f"1 − {bulk:g} ÷ {dense:.4g} g/ml = {100 * value:.0f} %; density {told}"
    if value <= 0:
        said = f"{bulk:g} g/ml, {told}, is all that {dense:.3g} g/ml can weigh: 0 %"
    standing = weakest(["worked out", lean.get(told, Standing.ASSUMED)])
    return Named(
        "air_share", label,
        Figure(
            value, unit, said, standing, low, high, (sources()["choi-okos-1986"],),
        ),
    )  # fmt: skip


def _conducts(rows: Array, air: Array, standing: Standing) -> Named:
    label, unit = _LABELS["conductivity_W_m_K"]
    value = float(conductivity(rows[:1], ROOM_C, air[:1])[0])
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


def _notes(told: str, air: float) -> Iterator[str]:
    if told == "usual for its kind":
        yield "Its air follows from the usual density of its kind: weigh a piece."
    elif told != _AS_ITS_MIX and air > 0.5:
        yield "More than half of it is air: it warms and cools slowly for its height."


def _too_heavy(subject: Subject, hard: Array) -> Iterator[Finding]:
    given = subject.batch.density
    if given is None:
        return
    most = float(hard.max()) / 1000
    if given.g_ml <= most * (1 + HEAVIER):
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
