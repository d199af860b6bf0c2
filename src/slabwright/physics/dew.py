"""Will it sweat: the dew point of a room, and how long a cold slab stays under it."""

from typing import Final, NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from slabwright.physics.species import Array
from slabwright.source import relation, sources

_A, _B_C = 17.625, 243.04

BARE_W_M2_K: Final = (7.0, 12.0)
"""Still air and radiation on the face of a bare slab. From memory of heating
engineers' tables: 2 to 5 by air, 4.5 to 6 by radiation."""
BOX_M2_K_W: Final = (0.08, 0.25)
"""What a closed card box with its layer of still air adds. Common practice has no
figure: 1 to 2 mm of board and 5 to 40 mm of air, worked out from their conductivity."""
FACES: Final = (1.2, 2.0)
"""Faces through which heat comes in: the top, and what the board lets through below."""


class Wait(NamedTuple):
    """How long a slab stays boxed, with its likely range [min]."""

    value: Array
    low: Array
    high: Array


@relation(
    sources()["alduchov-eskridge-1996"],
    temperature_C=(-40.0, 50.0),
    humidity_share=(0.01, 1.0),
)
def dew_point(temperature_C: ArrayLike, humidity_share: ArrayLike) -> Array:
    """Temperature under which a surface in this air grows wet [°C].

    Args:
        temperature_C: of the air [°C].
        humidity_share: its relative humidity, 0 to 1.

    Source: the Magnus formula with the coefficients of Alduchov and Eskridge (1996),
    true to 0.4 % of the pressure over water.
    """
    air = np.asarray(temperature_C, float)
    wet = np.log(np.asarray(humidity_share, float)) + _A * air / (_B_C + air)
    value: Array = _B_C * wet / (_A - wet)
    return value


@relation(
    sources()["alduchov-eskridge-1996"],
    face_C=(-40.0, 50.0),
    temperature_C=(-40.0, 50.0),
)
def sweats_from(face_C: ArrayLike, temperature_C: ArrayLike) -> Array:
    """Relative humidity from which on a cold face grows wet, 0 to 1.

    `dew_point` turned round; over 1 where the face is warmer than the air.

    Args:
        face_C: of the slab [°C].
        temperature_C: of the air [°C].

    Source: as `dew_point`.
    """
    face, air = np.asarray(face_C, float), np.asarray(temperature_C, float)
    value: Array = np.exp(_A * face / (_B_C + face) - _A * air / (_B_C + air))
    return value


def pass_minutes(
    height_mm: ArrayLike,
    from_C: ArrayLike,
    to_C: ArrayLike,
    room_C: ArrayLike,
    face_W_m2_K: ArrayLike,
    heat_kJ_m3_K: ArrayLike,
    conducts_W_m_K: ArrayLike,
) -> Array:
    """When the face of a cold slab passes a temperature in a warmer room [min].

    A flat slab that warms through both faces alike, by the first term of its series.
    Half as high a slab stands for one that warms through a single face.

    Args:
        height_mm: from face to face [mm].
        from_C: of the slab, all through [°C].
        to_C: that its face must pass [°C].
        room_C: of the air [°C].
        face_W_m2_K: heat that comes through each face, with box and air [W/(m² K)].
        heat_kJ_m3_K: heat that the layer takes up, by volume [kJ/(m³ K)].
        conducts_W_m_K: its conductivity [W/(m K)].

    Returns:
        Broadcast of all; 0 where it has passed, infinite where the room is not warmer.

    Source: heat conduction in a slab (Carslaw and Jaeger), from memory; its first root
    by ζ² = 3 Bi/(3 + Bi), held against an exact series in the tests for Bi under 1.
    """
    half = np.asarray(height_mm, float) / 2000
    face = np.asarray(face_W_m2_K, float)
    biot = face * half / np.asarray(conducts_W_m_K, float)
    begin, end = np.asarray(from_C, float), np.asarray(to_C, float)
    room = np.asarray(room_C, float)
    cold = (end >= room) & (begin < end)
    is_through = begin >= end
    left = np.where(cold | is_through, 1.0, (room - end))
    whole = np.where(cold | is_through, 1.0, (room - begin))
    # what the slab takes up over what comes in, slowed by the way from core to face
    seconds = np.asarray(heat_kJ_m3_K, float) * 1000 * half / face * (1 + biot / 3)
    late = np.log(whole / left / (1 + biot / 3))
    minutes = np.maximum(seconds * late, 0.0) / 60
    value: Array = np.where(is_through, 0.0, np.where(cold, np.inf, minutes))
    return value


def boxed_minutes(
    height_mm: ArrayLike,
    from_C: ArrayLike,
    to_C: ArrayLike,
    room_C: ArrayLike,
    heat_kJ_m3_K: tuple[ArrayLike, ArrayLike],
    conducts_W_m_K: ArrayLike,
) -> Wait:
    """How long a slab stays in its closed box until its face passes a temperature.

    Args:
        height_mm: of the slab [mm].
        from_C: of the slab [°C].
        to_C: the dew point of the room [°C].
        room_C: of the room [°C].
        heat_kJ_m3_K: least and most that it takes up, by volume [kJ/(m³ K)].
        conducts_W_m_K: its conductivity [W/(m K)].
    """
    usual = [sum(band) / 2 for band in (BARE_W_M2_K, BOX_M2_K_W, FACES)]
    least, most = (np.asarray(one, float) for one in heat_kJ_m3_K)
    high = np.asarray(height_mm, float)

    def wait(air: float, card: float, sides: float, takes: Array) -> Array:
        face = 1 / (1 / air + card)
        across = high * 2 / sides
        return pass_minutes(across, from_C, to_C, room_C, face, takes, conducts_W_m_K)

    bare, box, faces = usual
    heat = (least + most) / 2
    middle = wait(bare, box, faces, heat)
    # what is not known varies on its own: spreads add up as squares
    ends = [
        (
            wait(BARE_W_M2_K[1], box, faces, heat),
            wait(BARE_W_M2_K[0], box, faces, heat),
        ),
        (
            wait(bare, BOX_M2_K_W[0], faces, heat),
            wait(bare, BOX_M2_K_W[1], faces, heat),
        ),
        (wait(bare, box, FACES[1], heat), wait(bare, box, FACES[0], heat)),
        (wait(bare, box, faces, least), wait(bare, box, faces, most)),
    ]
    is_plain = np.isfinite(middle)
    known = np.where(is_plain, middle, 0.0)
    low = sum((known - np.where(is_plain, end[0], 0.0)) ** 2 for end in ends)
    top = sum((np.where(is_plain, end[1], 0.0) - known) ** 2 for end in ends)
    return Wait(
        middle,
        np.where(is_plain, np.maximum(known - np.sqrt(low), 0.0), np.inf),
        np.where(is_plain, known + np.sqrt(top), np.inf),
    )
