"""A layer in the cold: where ice begins, heat to take out, and when it sweats."""

from collections.abc import Iterator
from typing import Final

import numpy as np

from slabwright.composition import fat, total
from slabwright.figure import Figure, Standing, withheld
from slabwright.formula.heating import first_word, hottest
from slabwright.formula.step import Band
from slabwright.physics.dew import sweats_from
from slabwright.physics.freezing import freezing_point, heat_between, ice_share
from slabwright.physics.species import Array, parts_of
from slabwright.source import sources
from slabwright.spec.nature.aspect import Named
from slabwright.spec.nature.subject import Keeping, Subject

FREEZING: Final = "freezing_point_C"
FREEZING_LABEL: Final = "ice begins at"
_ROOM_C: Final = 20.0
_HOLDS: Final = "-40 to 150 °C"
_COLD_C: Final = 12.0
"""What comes from a place colder than this may sweat in a shop. Common practice."""
_SETS_KJ_KG: Final = 157.0
"""Heat that cocoa butter gives off when all of it sets, the most of any fat here
[kJ/kg] (beckett-constants). The low end is that none does."""
_ICE_ERROR: Final = 0.04
"""Of the water. Two rules for foods lie so far apart."""
_FREEZES_K: Final = 0.06
"""Share of the depression by which a freezing point may lie off: salt and alcohol."""


def cold_figures(subject: Subject, standing: Standing) -> Iterator[Named]:
    """Figures of a layer whose composition is known, shape (3, len(ROW)) of rows."""
    parts = parts_of(subject.finished)
    begins = freezing_point(parts)
    yield _freezes(begins, standing)
    if not np.isnan(begins[0]):
        yield from _ice(subject, parts, standing)
    yield from _cooling(subject, standing)
    yield from _sweating(subject)


def _freezes(begins: Array, standing: Standing) -> Named:
    label, unit = FREEZING_LABEL, "°C"
    value = float(begins[0])
    cited = (sources()["murphy-koop-2005"], sources()["stokes-robinson-1966"])
    if np.isnan(value):
        why = "it holds no water that would freeze over -40 °C"
        return Named(FREEZING, label, withheld(unit, why))
    said = (
        f"its water activity equals that of ice at {value:.1f} °C; what is dissolved "
        "counts"
    )
    known = begins[~np.isnan(begins)]
    low = float(known.min()) * (1 + _FREEZES_K)
    high = float(known.max()) * (1 - _FREEZES_K)
    return Named(
        FREEZING, label,
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
            f"that it holds {100 * (1 - value):.0f} % of the water: "
            f"{100 * value:.0f} % is ice"
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
    hot = _poured(subject)
    if hot is None:
        return
    cold = place.temperature_C.middle
    label = f"heat to take out, from {hot.middle:g} to {cold:g} °C"
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
            (sources()["choi-okos-1986"], sources()["beckett-constants"]), _HOLDS,
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


def _sweating(subject: Subject) -> Iterator[Named]:
    """How damp a room must be for it to sweat, straight from where it is kept."""
    cold = [one for one in subject.keepings if one.temperature_C.high < _COLD_C]
    if not cold:
        return
    band = cold[0].temperature_C
    share, low, high = (
        float(sweats_from(face, _ROOM_C)) for face in (band.middle, band.low, band.high)
    )
    wide = high - low > 1e-9
    said = (
        f"a face at {band.middle:g} °C ({cold[0].text}) lies under the dew point of a "
        f"room at {_ROOM_C:g} °C from {100 * share:.0f} % relative humidity on"
    )
    yield Named(
        "sweats_from_humidity_share",
        f"sweats at {_ROOM_C:g} °C, straight from {cold[0].text}, from a humidity of",
        Figure(
            share, "share", said,
            Standing.ASSUMED if cold[0].is_assumed else Standing.WORKED_OUT,
            low if wide else None, high if wide else None, (sweats_from.source,),
        ),
    )  # fmt: skip
