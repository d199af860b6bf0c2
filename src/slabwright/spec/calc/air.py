"""The air over a pan and the probe in it: what every calculator of a boil asks."""

from dataclasses import dataclass
from typing import Final

from slabwright.figure import Figure, withheld
from slabwright.physics.water import air_pressure, boiling_point
from slabwright.source import Source
from slabwright.spec.calc.calculator import Asked, Input, wrong

BURNS: Final = (
    "Hot sugar burns: long sleeves, a deep pan, cold water at hand, nobody under foot."
)
HEIGHTS: Final = ("elevation_m", "alt_m", "height_above_sea_m")
"""Other names of an altitude."""
ENDS: Final = ("temperature_C", "temp_C", "boil_to_C", "end_C", "to_C")
"""Other names of a boil's end. True, or as the probe reads it: where nobody says that
the probe is off, they are one."""
WARMTHS: Final = ("temp_C", "t_C")
"""Other names of a calculator's one temperature."""
AIR: Final = (
    Input("altitude_m", "m", "height above the sea", low=-450.0, high=6000.0,
          of_kitchen="altitude_m", also=HEIGHTS),
    Input("pressure_kPa", "kPa", "the air's true pressure, if it is measured", low=5.0,
          high=300.0, is_optional=True, also=("air_pressure_kPa",)),
    Input("probe_in_boiling_water_C", "°C", "what this probe shows in boiling water",
          low=80.0, high=120.0, is_optional=True,
          of_kitchen="probe_in_boiling_water_C", also=("probe_in_water_C",)),
)  # fmt: skip
_ODD_K: Final = 3.0
"""A probe that is off by more is more likely misread. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Air:
    """The air of a boil, and how a probe in it reads."""

    pressure_kPa: float
    plain_C: float
    """Where water boils."""
    said: str
    """The pressure and where it comes from, in words."""
    error_K: float | None
    """By how much the probe reads too high; None where nobody knows."""
    error_said: str
    sources: tuple[Source, ...]

    def on_probe(self, true_C: float, low: float, high: float) -> Figure:
        """What the probe shows where the mix truly has a temperature."""
        if self.error_K is None:
            return withheld("°C", "nobody says what this probe shows in boiling water")
        off = self.error_K
        said = f"{true_C:.1f} {_signed(off)} ({self.error_said}) = {true_C + off:.1f}"
        return Figure(
            true_C + off, "°C", f"{said} °C", low=low + off, high=high + off,
            sources=self.sources, holds="a probe that is as far off when it is hotter",
        )  # fmt: skip

    def true(self, read_C: float) -> tuple[float, str]:
        """What is true where the probe reads so, and how that is said."""
        if self.error_K is None:
            return read_C, f"{read_C:g} °C, the probe taken to be right"
        true = read_C - self.error_K
        return true, f"{read_C:g} {_signed(-self.error_K)} = {true:.1f} °C in truth"

    def notes(self) -> list[str]:
        """What should be known of the probe."""
        if self.error_K is None:
            return [
                "The probe was not checked: hold it in boiling water and give what it "
                f"shows; here that should be {self.plain_C:.1f} °C."
            ]
        if abs(self.error_K) > _ODD_K:
            return [
                f"The probe seems to read {self.error_K:+.1f} K: check it again before "
                "you trust that."
            ]
        return []


def air_of(asked: Asked) -> Air:
    """The air that was asked about, and the error of the probe."""
    pressure = asked.optional("pressure_kPa")
    cited: tuple[Source, ...] = (air_pressure.source, boiling_point.source)
    if pressure is None:
        high = asked.number("altitude_m")
        pressure = float(air_pressure(high))
        said = f"{high:,.0f} m, {pressure:.1f} kPa of air"
    else:
        said = f"{pressure:g} kPa of air"
        cited = cited[1:]
    plain = float(boiling_point(pressure))
    read = asked.optional("probe_in_boiling_water_C")
    kitchen = asked.kitchen
    if read is None:
        return Air(pressure, plain, said, None, "", cited)
    boils = plain
    if read == kitchen.probe_in_boiling_water_C:
        # it was read where the kitchen stands, wherever this pan does
        boils = float(boiling_point(float(air_pressure(kitchen.altitude_m))))
    error = read - boils
    told = f"{read:g} in boiling water − {boils:.1f}"
    return Air(pressure, plain, said, error, told, cited)


def hot_of(asked: Asked, air: Air) -> tuple[float, str]:
    """The true temperature of a boil's end, given as such or as a probe's reading.

    Raises:
        CalcError: if neither or both are given, or nothing boils there.
    """
    given, read = asked.optional("boils_at_C"), asked.optional("probe_C")
    key = asked.said.get("boils_at_C", "")
    if key and air.error_K is not None and read is None:
        raise wrong(
            f"{key} may be true, or what this probe reads, {air.error_K:+.1f} K off.",
            f"Give boils_at_C={given:g} if it is true, else probe_C={given:g}.", key,
        )  # fmt: skip
    if given is not None and read is not None:
        raise wrong("Both boils_at_C and probe_C are given.", "Give one.", "probe_C")
    if given is not None:
        true, said, field = given, f"{given:g} °C", "boils_at_C"
    elif read is not None:
        (true, said), field = air.true(read), "probe_C"
    else:
        raise wrong(
            "Neither boils_at_C nor probe_C is given.",
            "Give where the boil ends: boils_at_C=118.", "boils_at_C",
        )  # fmt: skip
    if true <= air.plain_C + _LEAST_K:
        raise wrong(
            f"A mix does not boil at {said}: here water alone boils at "
            f"{air.plain_C:.1f} °C.",
            f"Give more than {air.plain_C + _LEAST_K:.2f} °C.", field,
        )  # fmt: skip
    return true, said


def browning(true_C: float) -> list[str]:
    """What should be known where sugar no longer boils down."""
    if true_C < _BROWNS_C:
        return []
    return [
        f"At {true_C:.0f} °C sugar browns and breaks up rather than boils: a rough "
        "figure. Or was that in °F?"
    ]


_BROWNS_C: Final = 165.0
"""Above it a syrup is over 99 % sugar (McGee); nothing of a boil was measured there."""
_LEAST_K: Final = 0.02
"""Above boiling water; nearer to it a probe tells nothing of a mix."""


def _signed(number: float) -> str:
    return f"{'−' if number < 0 else '+'} {abs(number):.1f}"
