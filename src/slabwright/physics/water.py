"""Where water boils: the pressure of the air by altitude, and what boils by it."""

from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from slabwright.physics.species import Array
from slabwright.source import relation, sources

TRADE_M_PER_C: Final = 305.0
"""The trade's rule: a degree lower for each 305 m. A rough check, used in no sum."""

_KELVIN: Final = 273.15
_N: Final = (
    0.11670521452767e4,
    -0.72421316703206e6,
    -0.17073846940092e2,
    0.12020824702470e5,
    -0.32325550322333e7,
    0.14915108613530e2,
    -0.48232657361591e4,
    0.40511340542057e6,
    -0.23855557567849e0,
    0.65017534844798e3,
)


@relation(sources()["icao-atmosphere"], altitude_m=(-500.0, 11_000.0))
def air_pressure(altitude_m: float) -> float:
    """Pressure of the standard atmosphere [kPa]; the weather moves it by 3 % or so.

    Args:
        altitude_m: height above the sea [m].

    Source: ICAO standard atmosphere, lowest layer: 288.15 K and 101.325 kPa at the
    sea, 6.5 K less for each kilometre.
    """
    return float(101.325 * (1 - 0.0065 * altitude_m / 288.15) ** 5.25588)


@relation(sources()["iapws-r7-97"], pressure_kPa=(0.611213, 22_064.0))
def boiling_point(pressure_kPa: ArrayLike) -> Array:
    """Temperature at which pure water boils [°C].

    Args:
        pressure_kPa: pressure of the air [kPa], of any shape.

    Source: IAPWS R7-97, region 4, backward equation for the saturation temperature.
    """
    beta = np.sqrt(np.sqrt(np.asarray(pressure_kPa, float) / 1000))
    n1, n2, n3, n4, n5, n6, n7, n8, n9, n10 = _N
    e = beta**2 + n3 * beta + n6
    f = n1 * beta**2 + n4 * beta + n7
    g = n2 * beta**2 + n5 * beta + n8
    d = 2 * g / (-f - np.sqrt(f**2 - 4 * e * g))
    kelvin = (n10 + d - np.sqrt((n10 + d) ** 2 - 4 * (n9 + n10 * d))) / 2
    value: Array = kelvin - _KELVIN
    return value


@relation(sources()["iapws-r7-97"], temperature_C=(0.0, 373.946))
def saturation_pressure(temperature_C: ArrayLike) -> Array:
    """Pressure at which pure water boils at this temperature [kPa].

    Args:
        temperature_C: of any shape [°C].

    Source: IAPWS R7-97, region 4, basic equation; `boiling_point` turned round.
    """
    n1, n2, n3, n4, n5, n6, n7, n8, n9, n10 = _N
    kelvin = np.asarray(temperature_C, float) + _KELVIN
    theta = kelvin + n9 / (kelvin - n10)
    a = theta**2 + n1 * theta + n2
    b = n3 * theta**2 + n4 * theta + n5
    c = n6 * theta**2 + n7 * theta + n8
    value: Array = 1000 * (2 * c / (-b + np.sqrt(b**2 - 4 * a * c))) ** 4
    return value
