"""Water with its vapour and with ice: pressures, heat of boiling and of melting."""

from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from slabwright.physics.species import Array
from slabwright.source import relation, sources

ZERO_K: Final = 273.15
"""Zero degrees Celsius [K]."""
MELTING_KJ_KG: Final = 333.6
"""Heat that ice takes up when it melts at 0 °C [kJ/kg]. From memory; checked in a test
against the slopes of both vapour pressures."""
_CRITICAL_K: Final = 647.096
_CRITICAL_KPA: Final = 22_064.0
_CRITICAL_KG_M3: Final = 322.0
# IAPWS SR1-86(1992): coefficient, exponent
_PRESSURE: Final = (
    (-7.85951783, 1.0),
    (1.84408259, 1.5),
    (-11.7866497, 3.0),
    (22.6807411, 3.5),
    (-15.9618719, 4.0),
    (1.80122502, 7.5),
)
_LIQUID: Final = (
    (1.99274064, 1 / 3),
    (1.09965342, 2 / 3),
    (-0.510839303, 5 / 3),
    (-1.75493479, 16 / 3),
    (-45.5170352, 43 / 3),
    (-6.74694450e5, 110 / 3),
)
_VAPOUR: Final = (
    (-2.03150240, 2 / 6),
    (-2.68302940, 4 / 6),
    (-5.38626492, 8 / 6),
    (-17.2991605, 18 / 6),
    (-44.7586581, 37 / 6),
    (-63.9201063, 71 / 6),
)
_ALPHA: Final = (
    (-5.65134998e-8, -19.0),
    (2690.66631, 1.0),
    (127.287297, 4.5),
    (-135.003439, 5.0),
    (0.981825814, 54.5),
)
_ALPHA_0: Final = -1135.905627715


@relation(sources()["iapws-sr1-86"], temperature_C=(0.01, 373.9))
def vapour_pressure(temperature_C: ArrayLike) -> Array:
    """Pressure of water's vapour over the liquid [kPa].

    Source: IAPWS SR1-86(1992), equation 1.
    """
    kelvin = np.asarray(temperature_C, float) + ZERO_K
    tau = 1 - kelvin / _CRITICAL_K
    value: Array = _CRITICAL_KPA * np.exp(_CRITICAL_K / kelvin * _sum(_PRESSURE, tau))
    return value


@relation(sources()["iapws-sr1-86"], temperature_C=(0.01, 373.9))
def steam_enthalpy(temperature_C: ArrayLike) -> Array:
    """Heat in saturated steam, counted from water at 0 °C [kJ/kg].

    Source: IAPWS SR1-86(1992), equations 1 to 4, 6 and 7.
    """
    liquid, latent = _heats(np.asarray(temperature_C, float) + ZERO_K)
    return liquid + latent


@relation(sources()["iapws-sr1-86"], temperature_C=(0.01, 373.9))
def latent_heat(temperature_C: ArrayLike) -> Array:
    """Heat that boils a mass of water off at this temperature [kJ/kg].

    Source: IAPWS SR1-86(1992): the difference of the enthalpies of both phases.
    """
    return _heats(np.asarray(temperature_C, float) + ZERO_K)[1]


@relation(sources()["murphy-koop-2005"], temperature_C=(-150.0, 0.01))
def ice_pressure(temperature_C: ArrayLike) -> Array:
    """Pressure of the vapour over ice [kPa].

    Source: Murphy and Koop (2005), equation 7.
    """
    kelvin = np.asarray(temperature_C, float) + ZERO_K
    logarithm = (
        9.550426 - 5723.265 / kelvin + 3.53068 * np.log(kelvin) - 0.00728332 * kelvin
    )
    value: Array = np.exp(logarithm) / 1000
    return value


@relation(sources()["murphy-koop-2005"], temperature_C=(-150.0, 59.0))
def cold_water_pressure(temperature_C: ArrayLike) -> Array:
    """Pressure of the vapour over liquid water, undercooled too [kPa].

    Source: Murphy and Koop (2005), equation 10.
    """
    kelvin = np.asarray(temperature_C, float) + ZERO_K
    logarithm = np.log(kelvin)
    main = 54.842763 - 6763.22 / kelvin - 4.210 * logarithm + 0.000367 * kelvin
    bend = 53.878 - 1331.22 / kelvin - 9.44523 * logarithm + 0.014025 * kelvin
    value: Array = np.exp(main + np.tanh(0.0415 * (kelvin - 218.8)) * bend) / 1000
    return value


@relation(sources()["murphy-koop-2005"], temperature_C=(-150.0, 0.01))
def activity_beside_ice(temperature_C: ArrayLike) -> Array:
    """Water activity of what stands in balance with ice [1]; 1 at 0 °C.

    Source: Murphy and Koop (2005): the ratio of both vapour pressures.
    """
    return ice_pressure(temperature_C) / cold_water_pressure(temperature_C)


def _heats(kelvin: Array) -> tuple[Array, Array]:
    """Enthalpy of saturated water, and what boils it [kJ/kg]."""
    theta = kelvin / _CRITICAL_K
    tau = 1 - theta
    total = _sum(_PRESSURE, tau)
    pressure = _CRITICAL_KPA * np.exp(total / theta)
    steep = sum(c * power * tau ** (power - 1) for c, power in _PRESSURE)
    slope = -pressure / kelvin * (total / theta + steep)
    liquid = _CRITICAL_KG_M3 * (1 + _sum(_LIQUID, tau))
    vapour = _CRITICAL_KG_M3 * np.exp(_sum(_VAPOUR, tau))
    alpha = _ALPHA_0 + _sum(_ALPHA, theta)
    return alpha + kelvin * slope / liquid, kelvin * slope * (1 / vapour - 1 / liquid)


def _sum(terms: tuple[tuple[float, float], ...], x: Array) -> Array:
    total: Array = np.zeros_like(x)
    for coefficient, power in terms:
        total = total + coefficient * x**power
    return total
