"""What sets a layer, whether there is enough of it, and what it needs."""

from collections.abc import Iterator
from typing import Final

from slabwright.figure import Figure, Standing, withheld
from slabwright.formula.step import Band
from slabwright.physics.gel import DOSES, WEEPS_UNDER_PCT, Agent
from slabwright.source import sources
from slabwright.spec.nature.aspect import Aspect, Classed, Named
from slabwright.spec.nature.gel_findings import gel_findings
from slabwright.spec.nature.gel_mix import Dose, GelMix, gel_mix, least
from slabwright.spec.nature.subject import Subject

_HOLDS: Final = "a working range, not a firmness: set a spoonful before a tray"
_MELTS: Final = ("melts", "softens", "holds", "does not melt")
_WEEPS: Final = ("hardly", "may", "weeps")
_SOURNESS: Final = ("assess", "too sharp", "in range", "not sharp enough")


def gel_of(subject: Subject) -> Aspect | None:
    """What sets this layer; None where no gelling agent is in it."""
    mix = gel_mix(subject)
    if mix is None:
        return None
    figures: list[Named] = []
    classes: list[Classed] = []
    for dose in mix.doses:
        figures += _figures(dose)
        classes += _classes(dose, mix, subject)
    figures.append(Named("pH", "pH, assessed from its acid ingredients", _ph(mix)))
    if needs_solids(mix):
        figures.append(
            Named("soluble_solids_share", "dry matter, fat left out", _solids(mix))
        )
    return Aspect(
        "gel",
        "What sets it",
        tuple(figures),
        tuple(classes),
        tuple(_notes(mix)),
        findings=tuple(gel_findings(subject, mix)),
    )


def needs_solids(mix: GelMix) -> bool:
    """Whether what sets it asks for dry matter."""
    return any(one.agent.agent.startswith(("pectin", "agar")) for one in mix.doses)


def _figures(dose: Dose) -> Iterator[Named]:
    agent = dose.agent
    key = agent.agent.replace("-", "_")
    value, low, high = dose.shares
    worth = ""
    if abs(dose.worth_g[0] - dose.grams) > 1e-9:
        worth = f" ({dose.grams:.3g} g as weighed)"
    said = (
        f"{dose.worth_g[0]:.3g} g{worth} of {dose.base_g:.4g} g, {dose.base}: "
        f"{100 * value:.2g} %; usual {100 * agent.low:g} to {100 * agent.high:g} %"
    )
    wide = high - low > 1e-9
    yield Named(
        f"{key}_share", f"dose of {agent.name}",
        Figure(
            value, "share", said, Standing.WORKED_OUT, low if wide else None,
            high if wide else None, (agent.source,), _HOLDS,
        ),
    )  # fmt: skip
    if agent.melts_C is None:
        return
    low_C, high_C = agent.melts_C
    yield Named(
        f"{key}_melts_C", f"{agent.name} melts",
        Figure(
            (low_C + high_C) / 2, "°C",
            f"{agent.name} melts {_where(agent)}: the middle is "
            f"{(low_C + high_C) / 2:g} °C",
            Standing.ASSUMED, low_C, high_C, (agent.melt_source,),
        ),
    )  # fmt: skip


def _where(agent: Agent) -> str:
    """Where it melts, in words."""
    low, high = agent.melts_C or (0.0, 0.0)
    if agent.melts_C == agent.sets_C:
        return f"no lower than it sets, which is at {low:g} to {high:g} °C"
    return f"between {low:g} and {high:g} °C"


def _classes(dose: Dose, mix: GelMix, subject: Subject) -> Iterator[Classed]:
    agent = dose.agent
    key = agent.agent.replace("-", "_")
    share = dose.shares[0]
    floor = least(dose, subject)
    eased = agent.low / floor if floor else 1.0
    word = agent.dose(share * eased) if share < agent.low else agent.dose(share)
    why = (
        f"{100 * share:.2g} % where {100 * floor:.2g} to {100 * agent.high:g} % of "
        f"{dose.base} is usual"
    )
    yield Classed(
        f"{key}_dose", f"{agent.name}: dose", word, why, DOSES, Standing.WORKED_OUT,
        (agent.source,),
    )  # fmt: skip
    yield _melting(agent, key, subject.eaten_C)
    if agent.agent.startswith("pectin") or agent.agent == "agar":
        yield _sourness(agent, key, mix.ph)
    if agent.agent == "agar":
        yield _weeping(mix.solids)


def _melting(agent: Agent, key: str, eaten: Band) -> Classed:
    label = f"{agent.name} in a warm room"
    if agent.melts_C is None:
        why = f"{agent.name} once set does not melt again"
        return Classed(
            f"{key}_warm", label, _MELTS[3], why, _MELTS, Standing.ASSUMED,
            (agent.melt_source,),
        )  # fmt: skip
    low, high = agent.melts_C
    word = _MELTS[2]
    if eaten.high >= high:
        word = _MELTS[0]
    elif eaten.high >= low - 5:
        word = _MELTS[1]
    why = f"it melts {_where(agent)} and is eaten at up to {eaten.high:g} °C"
    return Classed(
        f"{key}_warm", label, word, why, _MELTS, Standing.ASSUMED, (agent.melt_source,)
    )


def _sourness(agent: Agent, key: str, ph: tuple[float, float] | None) -> Classed:
    low, high = agent.ph
    label = f"acid for {agent.name}"
    asks = f"{agent.name} works best at pH {low:g} to {high:g}"
    word = _SOURNESS[0]
    if ph is None:
        why = f"{asks}; nothing on the card tells its pH: measure it"
    else:
        why = f"{asks}; assessed at {ph[0]:.1f} to {ph[1]:.1f}: measure it"
        if low <= ph[0] and ph[1] <= high:
            word = _SOURNESS[2]
        elif ph[1] < low:
            word = _SOURNESS[1]
        elif ph[0] > high:
            word = _SOURNESS[3]
    return Classed(
        f"{key}_acid", label, word, why, _SOURNESS, Standing.ASSUMED,
        (agent.source, sources()["ph-lists"]),
    )  # fmt: skip


def _weeping(solids: tuple[float, float, float] | None) -> Classed:
    if solids is None:
        why = "nobody knows how much dry matter is in it"
        return Classed("agar_weeps", "weeping", "assess", why, (*_WEEPS, "assess"))
    value, low, high = solids
    edge = WEEPS_UNDER_PCT / 100
    word = _WEEPS[1]
    if high < edge:
        word = _WEEPS[2]
    elif low >= edge + 0.1:
        word = _WEEPS[0]
    why = (
        f"an agar gel with under {WEEPS_UNDER_PCT:g} % dry matter gives up water in a "
        f"day or two; this has {100 * value:.0f} %"
    )
    return Classed(
        "agar_weeps", "weeping", word, why, _WEEPS, Standing.ASSUMED,
        (sources()["agar-pages"],),
    )  # fmt: skip


def _ph(mix: GelMix) -> Figure:
    if mix.ph is None:
        return withheld("", "nothing acid that is known here is in it: measure it")
    low, high = mix.ph
    said = (
        f"acid ingredients by what they bring, thinned by water and taken up by "
        f"protein: {low:.1f} to {high:.1f}, the middle {(low + high) / 2:.2f}; an "
        "assessment, measure it where it matters"
    )
    return Figure(
        (low + high) / 2, "", said, Standing.ASSUMED, low, high,
        (sources()["ph-lists"], sources()["memory"]),
    )  # fmt: skip


def _solids(mix: GelMix) -> Figure:
    if mix.solids is None:
        return withheld("share", "nobody knows what all of it is made of")
    value, low, high = mix.solids
    wide = high - low > 1e-6
    return Figure(
        value, "share", f"what dissolves, of all that is not fat: {100 * value:.1f} %",
        Standing.WORKED_OUT, low if wide else None, high if wide else None,
    )  # fmt: skip


def _notes(mix: GelMix) -> Iterator[str]:
    for dose in mix.doses:
        agent = dose.agent
        if agent.sets_C is not None:
            low, high = agent.sets_C
            yield (
                f"{agent.name[0].upper()}{agent.name[1:]} sets on cooling through "
                f"{high:g} to {low:g} °C: pour before."
                if agent.agent != "egg"
                else f"Egg sets at a core of {low:g} to {high:g} °C."
            )
        if agent.agent.startswith("gelatine") and dose.strength_is_open:
            yield "Its strength is not told: the dose is a range, by both rules."
        if dose.is_untried:
            yield "Beyond 50 to 300 bloom neither rule of exchange was tried."
    if len(mix.doses) > 1:
        names = " and ".join(one.agent.name for one in mix.doses)
        yield f"{names} set it together: each dose alone says too little."
