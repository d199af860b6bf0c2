"""Units that hands type where another is asked: told what they come to, never taken."""

import re
from typing import Final

from slabwright.spec.calc.typed import number_typed

SUFFIX: Final = {
    "°C": "C", "K": "K", "m": "m", "mm": "mm", "kPa": "kPa", "g": "g", "kW": "kW",
    "g/ml": "g_ml", "%": "percent", "min": "min", "share": "share",
}  # fmt: skip
"""How the name of an input ends that is asked in a unit."""

_LENGTHS_M: Final = {
    "mm": 0.001, "cm": 0.01, "m": 1.0, "km": 1000.0, "in": 0.0254, "inch": 0.0254,
    "inches": 0.0254, "ft": 0.3048, "feet": 0.3048, "foot": 0.3048, "yd": 0.9144,
    "mi": 1609.344, "miles": 1609.344,
}  # fmt: skip
_MASSES_G: Final = {
    "mg": 0.001, "g": 1.0, "kg": 1000.0, "oz": 28.349523125, "lb": 453.59237,
    "lbs": 453.59237, "pounds": 453.59237, "ounces": 28.349523125,
}  # fmt: skip
_PRESSURES_KPA: Final = {
    "pa": 0.001, "hpa": 0.1, "mbar": 0.1, "kpa": 1.0, "bar": 100.0, "atm": 101.325,
    "mmhg": 0.133322, "torr": 0.133322, "inhg": 3.38639, "psi": 6.894757,
}  # fmt: skip
_POWERS_KW: Final = {"w": 0.001, "watt": 0.001, "watts": 0.001, "kw": 1.0}
_SHARES: Final = {"share": 1.0, "percent": 0.01, "pct": 0.01, "%": 0.01}
_MINUTES: Final = {"s": 1 / 60, "sec": 1 / 60, "min": 1.0, "h": 60.0, "hours": 60.0}
_DENSITIES: Final = {"g_ml": 1.0, "kg_m3": 0.001, "g/ml": 1.0, "kg/m3": 0.001,
                     "kg/m³": 0.001, "kg_l": 1.0, "kg/l": 1.0}  # fmt: skip
_ALIKE: Final = {
    "m": _LENGTHS_M, "mm": _LENGTHS_M, "g": _MASSES_G, "kPa": _PRESSURES_KPA,
    "kW": _POWERS_KW, "share": _SHARES, "%": _SHARES, "min": _MINUTES,
    "g/ml": _DENSITIES,
}  # fmt: skip
"""Units of one kind, each in one of them. By definition; mmHg and inHg as rounded."""
_TEMPERATURES: Final = {
    "c": (1.0, 0.0), "f": (5 / 9, -160 / 9), "fahrenheit": (5 / 9, -160 / 9),
    "degf": (5 / 9, -160 / 9), "k": (1.0, -273.15), "kelvin": (1.0, -273.15),
}  # fmt: skip
"""Slope and start [°C]."""
_SHOWN: Final = {
    "f": "°F", "fahrenheit": "°F", "degf": "°F", "k": "K", "kelvin": "K", "c": "°C",
    "percent": "%", "pct": "%", "hpa": "hPa", "kpa": "kPa", "pa": "Pa", "mmhg": "mmHg",
    "inhg": "inHg", "w": "W", "kw": "kW", "kg_m3": "kg/m³", "kg/m3": "kg/m³",
    "g_ml": "g/ml", "kg_l": "kg/l",
}  # fmt: skip
_SAME: Final = {"%": "percent", "g/ml": "g_ml", "grams": "g", "gram": "g"}
_VALUE: Final = re.compile(r"(?P<number>[^°%a-zA-Z]*\d)\s*°?\s*(?P<unit>[a-zA-Z%/³3]+)")


def unit_of(name: str, unit: str) -> str:
    """The unit of an input, `share` for one that has none but runs from 0 to 1."""
    return "share" if not unit and name.endswith("_share") else unit


def stem_of(name: str, unit: str) -> str:
    """The name of an input without its unit, in small letters: `altitude`."""
    suffix = SUFFIX.get(unit_of(name, unit), "")
    return name.removesuffix(f"_{suffix}").casefold() if suffix else name.casefold()


def split_unit(key: str) -> tuple[str, str]:
    """A key in small letters as its stem and the unit that it ends in, or none.

    >>> split_unit("altitude_ft"), split_unit("density_kg_m3"), split_unit("brix")
    (('altitude', 'ft'), ('density', 'kg_m3'), ('brix', ''))
    """
    for cut in (2, 1):
        words = key.rsplit("_", cut)
        stem, unit = words[0], "_".join(words[1:])
        if unit and stem and _is_unit(_SAME.get(unit, unit)):
            return stem, _SAME.get(unit, unit)
    return key, ""


def _is_unit(word: str) -> bool:
    return word in _TEMPERATURES or any(word in units for units in _ALIKE.values())


def is_other_unit(word: str, unit: str) -> bool:
    """Whether a word is a unit of the same kind as the one asked, but not that one."""
    if unit == "°C":
        return word in _TEMPERATURES and word != "c"
    asked = SUFFIX.get(unit, "").casefold()
    return word in _ALIKE.get(unit, {}) and word not in {asked, unit.casefold()}


def comes_to(text: str, typed: str, unit: str) -> tuple[str, float] | None:
    """What a number in another unit comes to in the one that is asked.

    Args:
        text: the number as typed, its unit behind it or not.
        typed: its unit, if that stood in the key; else empty.
        unit: the unit that is asked.

    Returns:
        The number with its unit in words, and what it comes to; None if it is no
        number of another unit of the same kind.

    >>> comes_to("3000", "ft", "m"), comes_to("68 °F", "", "°C")
    (('3000 ft', 914.4), ('68 °F', 20.0))
    """
    number, word = text.strip(), typed
    if not typed:
        found = _VALUE.fullmatch(text.strip())
        if found is None:
            return None
        number, word = found["number"], found["unit"].casefold()
    value = number_typed(number, "")
    if value is None or not is_other_unit(word, unit):
        return None
    if unit == "°C":
        slope, start = _TEMPERATURES[word]
        there = value * slope + start
    else:
        units = _ALIKE[unit]
        there = value * units[word] / units[SUFFIX[unit].casefold()]
    return f"{value:g} {_SHOWN.get(word, word)}", float(f"{there:.5g}")
