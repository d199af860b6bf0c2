"""The kitchen's probe: what it shows where the mix truly has a temperature."""

from dataclasses import dataclass
from typing import Final

from slabwright.figure import Figure, Standing, withheld
from slabwright.formula.step import Band
from slabwright.kitchen import Kitchen
from slabwright.physics.water import air_pressure, boiling_point

FROM_C: Final = 60.0
"""A reading in boiling water says little of the cold. Common practice, no source."""
HIGH_C: Final = 0.5
"""Where water boils so much under 100 °C, a sugar boil of another place ends lower."""
NOT_CHECKED: Final = "probe not checked"


@dataclass(frozen=True, slots=True)
class Reading:
    """A temperature of the mix, and what the probe shows there [°C]."""

    true_C: Band
    probe_C: Band | None
    """None where the probe was never held in boiling water, or it is too cold."""
    figure: Figure | None
    says: str = ""
    """Why nothing is corrected, in words; empty if it is or nobody asks."""


def water_boils(kitchen: Kitchen) -> Figure:
    """Where water boils in this kitchen, by its altitude [°C]."""
    height = kitchen.altitude_m
    if air_pressure.outside(height):
        low, high = air_pressure.valid["altitude_m"]
        return withheld("°C", f"{height:g} m is beyond {low:,.0f} to {high:,.0f} m")
    pressure = air_pressure(height)
    value = float(boiling_point(pressure))
    said = f"{height:,.0f} m: {pressure:.1f} kPa of air, so {value:.1f} °C"
    cited = (air_pressure.source, boiling_point.source)
    return Figure(value, "°C", said, Standing.WORKED_OUT, sources=cited)


def probe_error(kitchen: Kitchen) -> Figure:
    """How much too high the kitchen's probe reads [°C]."""
    read = kitchen.probe_in_boiling_water_C
    boils = water_boils(kitchen)
    if read is None:
        return withheld("°C", "nobody held the probe in boiling water")
    if not boils.known:
        return boils
    error = read - boils.number
    said = f"{read:g} in boiling water - {boils.number:.1f} = {error:+.1f} °C"
    return Figure(error, "°C", said, Standing.WORKED_OUT, sources=boils.sources)


def reading(true_C: Band, kitchen: Kitchen) -> Reading:
    """What the probe shows when the mix truly is at this temperature.

    One error is taken for all that is over 60 °C; below it nothing is corrected.
    """
    if true_C.low < FROM_C:
        return Reading(true_C, None, None)
    error = probe_error(kitchen)
    if not error.known:
        return Reading(true_C, None, None, NOT_CHECKED)
    shown = Band(true_C.low + error.number, true_C.high + error.number)
    sign = "-" if error.number < 0 else "+"
    off = f"{sign} {abs(error.number):.1f}"
    said = f"{true_C.middle:g} {off} ({error.sum}) = {shown.middle:.1f}"
    figure = Figure(
        shown.middle, "°C", f"{said} °C", error.standing, sources=error.sources
    )
    return Reading(true_C, shown, figure)


def lower_here(kitchen: Kitchen) -> Figure | None:
    """How much lower a sugar boil ends here than at the sea; None if that is little."""
    boils = water_boils(kitchen)
    if not boils.known or 100 - boils.number < HIGH_C:
        return None
    lower = 100 - boils.number
    said = f"100 - {boils.number:.1f} ({boils.sum}) = {lower:.1f} °C"
    return Figure(lower, "°C", said, Standing.WORKED_OUT, sources=boils.sources)
