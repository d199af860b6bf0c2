"""What a boil leaves: two witnesses, side by side with what the card says."""

from collections.abc import Iterator
from dataclasses import replace
from typing import Final

import numpy as np

from slabwright.composition import INDEX, total, water
from slabwright.figure import Figure, Standing, withheld
from slabwright.finding import Finding, Severity
from slabwright.formula.boil import READ_K, Boil
from slabwright.formula.step import Band, Step
from slabwright.kitchen import Place
from slabwright.physics.boil_off import (
    ANY_RING,
    RING_SOURCE,
    boil_heat,
    boil_minutes,
)
from slabwright.physics.boiling import boiling_point_of, water_left, water_left_range
from slabwright.physics.species import Array, parts_of
from slabwright.physics.water import boiling_point
from slabwright.source import sources
from slabwright.spec.bench_pan import PanWeight, pan_weights
from slabwright.spec.nature.aspect import (
    Aspect,
    Chart,
    Classed,
    Curve,
    Mark,
    Named,
)
from slabwright.spec.nature.boil_stage import stage_of
from slabwright.spec.nature.subject import Subject
from slabwright.spec.probe import reading

_POINTS: Final = 40
_WATER: Final = INDEX["water"]
_ALCOHOL: Final = INDEX["alcohol"]
_BOOZY: Final = "alcohol goes off first, and the heat that it takes is not worked out"
_HOTTEST_C: Final = 165.0
"""Above this a syrup browns and holds less than 1 % water. A textbook's table."""
_BLACK_C: Final = 210.0
"""Here sugar is black. The same table."""
_SPIRIT: Final = 0.05
"""Up to this share of what goes off alcohol takes heat as water does: 3 % out.
Our own."""
_DRY: Final = 0.01
"""Less water than this share is none to boil off. Our own."""
_MELTS_C: Final = 150.0
"""Sugar alone melts and browns from here on. Common practice, no source."""
_ROOM_C: Final = 20.0
_SOURCE: Final = "boiling point by the activity of water over the mix"


def boil_of(subject: Subject) -> Aspect | None:
    """Every boil to a temperature of a layer; None if it has none."""
    boils = subject.batch.boils
    if not boils:
        return None
    grams = [line.mass_g for line in subject.batch.lines]
    pans = pan_weights(subject.batch, grams, 1.0, subject.kitchen)
    events = subject.batch.component.events
    by_span = {events[at].span: pan for at, pan in pans.items()}
    figures: list[Named] = []
    classes: list[Classed] = []
    charts: list[Chart] = []
    notes: list[str] = []
    findings: list[Finding] = []
    for number, boil in enumerate(boils, start=1):
        pan = by_span.get(boil.span)
        more = f"_{number}" if number < len(boils) else ""
        words = f"boil {number}: " if len(boils) > 1 else ""
        figures += [
            Named(f"{one.name}{more}", f"{words}{one.label}", one.figure)
            for one in _figures(subject, boil, pan)
        ]
        findings += _fahrenheit(subject, boil)
        if boil.left is None:
            findings += _silent(subject, boil)
            continue
        stage = stage_of(boil)
        if stage is not None:
            label = f"{words}{stage.label}"
            classes.append(replace(stage, name=f"stage{more}", label=label))
        charts.append(_chart(boil, pan, f"boil{more}"))
        notes += _notes(boil)
        findings += _disagrees(subject, boil, pan)
    return Aspect(
        "boil", "Boil", tuple(figures), tuple(classes), tuple(notes), tuple(charts),
        tuple(findings),
    )  # fmt: skip


def _figures(subject: Subject, boil: Boil, pan: PanWeight | None) -> Iterator[Named]:
    at = boil.to_C
    said = f"{at.middle:g} °C, as the card says: {_step(subject, boil).text}"
    wide = at.high > at.low
    yield Named("boils_to_C", "it boils to", Figure(
        at.middle, "°C", said, Standing.WORKED_OUT,
        at.low if wide else None, at.high if wide else None,
    ))  # fmt: skip
    shown = reading(at, subject.kitchen)
    probe = shown.figure or withheld("°C", shown.says or "nothing is corrected")
    yield Named("probe_reads_C", "this probe shows", probe)
    if boil.left is None:
        yield Named("water_left_share", "water left", withheld("share", boil.silent))
        return
    yield Named("water_left_share", "water left, by the boil", _share(boil))
    if pan is None:
        return
    told = pan.contents_g if pan.contents_g is not pan.by_boiling_g else None
    if pan.by_boiling_g is not None:
        yield Named("pan_by_boiling_g", "in the pan, by the boil", pan.by_boiling_g)
    if told is not None:
        yield Named("pan_told_g", "in the pan, as the card says", told)
        yield Named("water_told_share", "water left, as the card says",
                    _told_share(boil, told))  # fmt: skip
    if pan.reads_g is not None:
        yield Named("pan_reads_g", "the scale reads, pan and all", pan.reads_g)
    off = [float(one) for one in boil.off_g]
    gone = f"{total(boil.mix)[0]:.6g} g - {boil.left_g[0]:.6g} g = {off[0]:.5g} g"
    yield Named("water_off_g", "water boiled off", Figure(
        off[0], "g", gone, Standing.WORKED_OUT, min(off), max(off),
        (boiling_point_of.source,),
    ))  # fmt: skip
    yield Named("boil_minutes", "minutes on this ring", _minutes(subject, boil))
    minutes = _step(subject, boil).minutes
    if minutes is not None and minutes.low > 0:
        useful = _useful(boil, minutes)
        yield Named("useful_kW", "heat that the card's minutes mean", useful)


def _minutes(subject: Subject, boil: Boil) -> Figure:
    """How long it takes on the ring that the step names."""
    ring = _ring(subject, boil)
    if ring is None or ring.power_kW is None:
        why = "no ring of this kitchen with its power_kW is named by the step"
        return withheld("min", why if ring is None else f"{ring.name} has no power_kW")
    if _is_boozy(boil):
        return withheld("min", _BOOZY)
    off, before = float(boil.off_g[0]), _as_water(boil)
    to_C = boil.to_C.middle
    found = boil_minutes(before, off, _ROOM_C, to_C, ring.power_kW)
    heat = float(boil_heat(before, off, _ROOM_C, to_C))
    low, high = ANY_RING
    minutes = float(found.value)
    said = (
        f"{heat:.0f} kJ (warm {total(boil.mix)[0]:.0f} g from {_ROOM_C:g} °C, drive "
        f"off {off:.0f} g) ÷ {ring.power_kW:g} kW of {ring.name}, {low:.0%} to "
        f"{high:.0%} of it in the pan, at full power all the time = {minutes:.1f} min"
    )
    return Figure(
        minutes, "min", said, Standing.ASSUMED, float(found.low),
        float(found.high), (boil_heat.source, RING_SOURCE),
    )  # fmt: skip


def _useful(boil: Boil, minutes: Band) -> Figure:
    """What a boil of so many minutes takes up [kW]."""
    if _is_boozy(boil):
        return withheld("kW", _BOOZY)
    off = float(boil.off_g[0])
    heat = float(boil_heat(_as_water(boil), off, _ROOM_C, boil.to_C.middle))
    value, low, high = (
        heat / one / 60 for one in (minutes.middle, minutes.high, minutes.low)
    )
    said = f"{heat:.0f} kJ ÷ {minutes.middle:g} min ÷ 60 = {value:.2f} kW"
    wide = high > low
    return Figure(
        value, "kW", said, Standing.WORKED_OUT, low if wide else None,
        high if wide else None, (boil_heat.source,),
    )  # fmt: skip


def _is_boozy(boil: Boil) -> bool:
    """Whether so much alcohol goes off that heat for water is wrong."""
    return float(boil.mix[0, _ALCOHOL]) > _SPIRIT * float(boil.off_g[0])


def _as_water(boil: Boil) -> Array:
    """What boils, its alcohol counted as water, shape (len(ROW),) [g]."""
    row: Array = boil.mix[0].copy()
    row[_WATER] += row[_ALCOHOL]
    row[_ALCOHOL] = 0.0
    return row


def _ring(subject: Subject, boil: Boil) -> Place | None:
    """The ring that the step names; else the only one there is."""
    rings = [one for one in subject.kitchen.places if one.what == "ring"]
    named = {word.casefold() for word in _step(subject, boil).places}
    found = [one for one in rings if one.name.casefold() in named]
    return found[0] if found else (rings[0] if len(rings) == 1 else None)


def _share(boil: Boil) -> Figure:
    left = boil.mix if boil.left is None else boil.left
    shares = water(left) / total(left)
    value = float(shares[0])
    said = (
        f"{water(left)[0]:.4g} g ÷ {total(left)[0]:.5g} g = {value:.2%} at "
        f"{boil.to_C.middle:g} °C and {boil.pressure_kPa:.1f} kPa"
    )
    return Figure(
        value, "share", said, Standing.WORKED_OUT,
        float(shares.min()), float(shares.max()), (boiling_point_of.source,),
        "up to 97 % of dissolved solids",
    )  # fmt: skip


def _told_g(boil: Boil, told: Figure) -> float:
    """Water in the pan by what the card says is in it [g]."""
    solids = total(boil.mix)[0] - boil.mix[0, _WATER] - boil.mix[0, _ALCOHOL]
    return told.number - float(solids)


def _told_share(boil: Boil, told: Figure) -> Figure:
    held = _told_g(boil, told)
    share = held / told.number
    said = f"{held:.4g} g ÷ {told.number:.5g} g = {share:.2%} ({told.sum})"
    return Figure(share, "share", said, told.standing)


def _notes(boil: Boil) -> Iterator[str]:
    if boil.learned is not None:
        much = boil.learned.bias_K
        side = "lower" if much > 0 else "higher"
        yield (
            f"Learned from {boil.learned.words}: it boils {abs(much):.1f} K {side} "
            "than the relation says, and every boil of it is corrected by that."
        )
        if not boil.counts:
            yield "What the card says is left still counts: take it out, and this does."
    if boil.mix[0, _ALCOHOL] > 0:
        yield "Its alcohol is taken as gone by the end of the boil."


def _disagrees(
    subject: Subject, boil: Boil, pan: PanWeight | None
) -> Iterator[Finding]:
    """What the card says is left, against what the boil leaves."""
    if pan is None or pan.by_boiling_g is None or pan.contents_g is pan.by_boiling_g:
        return
    by, told = pan.by_boiling_g, pan.contents_g
    low, high = by.low or by.number, by.high or by.number
    if low <= told.number <= high:
        return
    held = _told_g(boil, told)
    if held > 0:
        parts = parts_of(boil.mix[0])
        parts[_WATER], parts[_ALCOHOL] = held, 0.0
        bias = boil.learned.bias_K if boil.learned else 0.0
        ends_C = float(boiling_point_of(parts, boil.pressure_kPa)) - bias
        do = (
            f"Boil to {ends_C:.1f} °C for what the card says, or write that "
            f"{by.number:.0f} g are left; weigh the pan once and note it: "
            f"reads {by.number:.0f} g at {boil.to_C.middle:g} C."
        )
    else:
        do = f"Write that {by.number:.0f} g are left, or mend the lines."
    share = max(held, 0.0) / told.number
    yield Finding(
        "boil_disagrees", Severity.LOOK, subject.name,
        f"The card says {told.number:.0f} g are left in the pan ({share:.1%} water); "
        f"{boil.to_C.middle:g} °C leaves {by.number:.0f} g, likely {low:.0f} to "
        f"{high:.0f} g.",
        "What the card says counts; the two should agree within the range.",
        do, _SOURCE, boil.span, subject.number,
    )  # fmt: skip


def _fahrenheit(subject: Subject, boil: Boil) -> Iterator[Finding]:
    """A boil in °C that burns any sugar, and in °F would be a usual one."""
    asked = boil.to_C.middle
    meant = (asked - 32) / 1.8
    if not (asked > _BLACK_C and meant < _HOTTEST_C):
        return
    yield Finding(
        "boil_burns", Severity.LOOK, subject.name,
        f"A boil to {asked:g} °C burns it.",
        f"Sugar browns from about 160 °C on and is black by {_BLACK_C:g} °C; "
        f"{asked:g} °F would be {meant:.1f} °C.",
        f"If {asked:g} was read off a scale in °F, write {asked:g} F; no gram changes.",
        sources()["stages-textbook"].text, boil.span, subject.number,
    )  # fmt: skip


def _silent(subject: Subject, boil: Boil) -> Iterator[Finding]:
    is_dry = water(boil.mix)[0] <= _DRY * total(boil.mix)[0]
    if is_dry and boil.to_C.middle >= _MELTS_C:
        return  # sugar that is melted dry: there is nothing to work out
    yield Finding(
        "boil_tells_nothing", Severity.NOTE, subject.name,
        f"What the boil to {boil.to_C.middle:g} °C leaves is not worked out.",
        f"{boil.silent[:1].upper()}{boil.silent[1:]}.",
        "Write what goes in later below the boil, or say what is left: ends 671 g.",
        _SOURCE, boil.span, subject.number,
    )  # fmt: skip


def _chart(boil: Boil, pan: PanWeight | None, name: str) -> Chart:
    """Water left against the pan's temperature, with its band."""
    row = boil.mix[0]
    solids_g = float(total(row) - row[_WATER] - row[_ALCOHOL])
    plain_C = float(boiling_point(boil.pressure_kPa))
    end_C = max(min(boil.to_C.high + 20.0, _HOTTEST_C), boil.to_C.high + 5.0)
    at_C = np.linspace(plain_C + 2.0, end_C, _POINTS)
    bias = boil.learned.bias_K if boil.learned else 0.0
    parts = parts_of(row)

    def hot(off_K: float) -> Array:
        return np.maximum(at_C + off_K, plain_C + 0.2) + bias

    def shares(water_g: Array) -> tuple[float, ...]:
        return tuple(float(w / (w + solids_g)) * 100 for w in water_g)

    middle = shares(water_left(parts, hot(0.0), boil.pressure_kPa))
    if boil.learned:
        least = shares(water_left(parts, hot(READ_K), boil.pressure_kPa))
        most = shares(water_left(parts, hot(-READ_K), boil.pressure_kPa))
    else:
        least = shares(water_left_range(parts, hot(READ_K), boil.pressure_kPa)[0])
        most = shares(water_left_range(parts, hot(-READ_K), boil.pressure_kPa)[1])
    here = float(_share(boil).number) * 100
    marks = [Mark(f"you are here: {boil.to_C.middle:g} °C", boil.to_C.middle, here)]
    if pan is not None and pan.contents_g is not pan.by_boiling_g:
        told = _told_share(boil, pan.contents_g).number * 100
        marks.append(Mark("as the card says", boil.to_C.middle, told))
    words = (
        f"At {at_C[0]:.0f} °C {middle[0]:.0f} % of the mix is water, at "
        f"{boil.to_C.middle:g} °C {here:.1f} %, "
        f"at {at_C[-1]:.0f} °C {middle[-1]:.1f} %."
    )
    return Chart(
        name, "Water left against the pan's temperature", "in the pan, °C",
        "water left, %",
        (Curve("water left", tuple(map(float, at_C)), middle, least, most),),
        tuple(marks), words,
    )  # fmt: skip


def _step(subject: Subject, boil: Boil) -> Step:
    steps = subject.batch.component.steps
    return next(step for step in steps if step.span == boil.span)
