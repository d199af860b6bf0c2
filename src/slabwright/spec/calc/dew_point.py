"""The calculator of sweating: dew point of a room, and how long a slab stays boxed."""

from typing import Final

from slabwright.figure import Figure, withheld
from slabwright.physics.dew import boxed_minutes, dew_point
from slabwright.spec.calc.calculator import Answer, Asked, Calculator, Input, Shown

_SPECIFIC: Final = (1.8, 3.2)
"""Specific heat of a layered slab, from dry and fatty to curd [kJ/(kg K)]: Choi and
Okos on the demonstration slabs."""
_CONDUCTS_W_M_K: Final = 0.35
"""Of such a slab. It hardly counts beside the box."""
_ICE_C: Final = -2.0
"""Colder than this a layer with much water holds ice."""
_HOLDS: Final = "air at -40 to 50 °C; a closed card box in still air"


def _answer(asked: Asked) -> Answer:
    room, humid = asked.number("room_C"), asked.number("relative_humidity")
    notes = []
    share = humid / 100
    if humid <= 1 and "relative_humidity" not in asked.with_unit:
        share = humid
        notes.append(f"{humid:g} is taken as {humid * 100:g} %.")
    dew = float(dew_point(room, share))
    said = (
        f"Magnus formula at {room:g} °C and {share * 100:g} %: water condenses on what "
        f"is under {dew:.1f} °C"
    )
    sources = (dew_point.source,)
    first = Shown(
        "dew_point_C", "dew point",
        Figure(dew, "°C", said, sources=sources, holds=_HOLDS),
    )  # fmt: skip
    notes += [
        f"{one.argument.replace('_', ' ')} lies outside the range of the formula."
        for one in dew_point.outside(room, share)
    ]
    cold = asked.optional("product_C")
    if cold is None:
        why = "how cold the slab is was not given: product_C"
        waits = withheld("min", why)
        under = withheld("K", why)
    else:
        under = Figure(
            dew - cold, "K", f"{dew:.1f} °C − {cold:g} °C = {dew - cold:.1f} K",
            sources=sources,
        )  # fmt: skip
        notes.insert(0, _sweats(dew, cold))
        waits = _wait(asked, room, dew, cold)
    also = (
        Shown("under_dew_point_K", "how far its face lies under it", under),
        Shown("minutes_boxed", "to wait boxed until its face is over it", waits),
    )
    if waits.known and waits.number > 0:
        notes.append(
            "Open the box when a probe laid on the top reads over the dew point; the "
            "minutes say when to look first."
        )
        if cold is not None and cold < _ICE_C:
            notes.append(
                "The ice in a frozen slab is not counted: a curd or a set cream, which "
                "hold much of it, take two to four times as long."
            )
    return Answer(first, also, tuple(notes))


def _sweats(dew: float, cold: float) -> str:
    if cold < dew:
        return f"It sweats: yes. Its face at {cold:g} °C lies under {dew:.1f} °C."
    return f"It sweats: no. Its face at {cold:g} °C lies over {dew:.1f} °C."


def _wait(asked: Asked, room: float, dew: float, cold: float) -> Figure:
    if cold < dew and not room > dew:
        return withheld("min", "the air is full: its face never passes the dew point")
    if cold >= dew:
        said = f"{cold:g} °C is over {dew:.1f} °C already"
        return Figure(0.0, "min", said)
    high, heavy = asked.number("height_mm"), asked.number("density_g_ml")
    heat = tuple(1000 * heavy * one for one in _SPECIFIC)
    wait = boxed_minutes(high, cold, dew, room, (heat[0], heat[1]), _CONDUCTS_W_M_K)
    said = (
        f"{high:g} mm at {heavy:g} g/ml, from {cold:g} to {dew:.1f} °C in a room at "
        f"{room:g} °C: {float(wait.low):.0f} to {float(wait.high):.0f} min, by "
        f"{_SPECIFIC[0]:g} to {_SPECIFIC[1]:g} kJ/(kg K) and by how well the box keeps "
        "warmth out"
    )
    return Figure(
        float(wait.value), "min", said, low=float(wait.low), high=float(wait.high),
        holds=_HOLDS,
    )  # fmt: skip


DEW_POINT: Final = Calculator(
    name="dew-point",
    title="Will it sweat",
    what="Whether a cold slab grows wet in this room, and how long it stays boxed.",
    answer=_answer,
    inputs=(
        Input("room_C", "°C", "the room", default=20.0, low=-10.0, high=50.0, also=(
            "room_temperature_C", "air_C", "air_temperature_C", "temperature_C",
            "temp_C",
        )),
        Input(
            "relative_humidity", "%", "its relative humidity", default=60.0, low=0.05,
            high=100.0, also=("humidity", "rh", "relative_humidity_percent",
                              "humidity_percent", "rh_percent"),
        ),
        Input(
            "product_C", "°C", "the slab, all through", low=-40.0, high=50.0,
            is_optional=True, also=(
                "product_temperature_C", "slab_C", "surface_C",
                "surface_temperature_C", "temperature_C", "temp_C",
            ),
        ),
        Input("height_mm", "mm", "its height", default=25.0, low=1.0, high=60.0),
        Input("density_g_ml", "g/ml", "its density", default=1.1, low=0.1, high=1.6),
    ),
    example="calc dew-point room_C=21 relative_humidity=60 product_C=4 height_mm=26",
    sources=(dew_point.source,),
    python="slabwright.physics.dew.dew_point",
)  # fmt: skip
