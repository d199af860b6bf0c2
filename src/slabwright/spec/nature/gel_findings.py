"""What a gelled layer's maker should look out for, and the grams that mend it."""

from collections.abc import Iterator
from typing import Final

from slabwright.finding import Finding, Severity
from slabwright.physics.acid import Acid, acids, mixed_ph
from slabwright.physics.gel import (
    AMYLASE_C,
    CURDLES_C,
    GELATINE_MOST_C,
    SOFT,
    WEEPS_UNDER_PCT,
    grams_to_share,
)
from slabwright.spec.nature.gel_mix import Dose, GelMix, is_rich, least
from slabwright.spec.nature.subject import Subject

_FROZEN_C: Final = -5.0
_ALCOHOL_MOST: Final = 0.20
"""Of water and alcohol: beyond this gelatine sets slack. From memory."""
_EGG_LEAST_C: Final = 75.0
"""A curd that stays under this has not thickened: 3 K under what books say."""
_ACID_FOR_GELATINE: Final = 3.5
"""Gelatine loses strength under pH 4; half a unit is left for the assessment."""


def gel_findings(subject: Subject, mix: GelMix) -> Iterator[Finding]:
    """Too little, wept, broken: each with its smallest change."""
    alone = len(mix.doses) == 1
    for dose in mix.doses:
        kind = dose.agent.agent
        if alone:
            yield from _too_little(subject, dose)
        yield from _not_hot_enough(subject, dose)
        if kind == "pectin-hm":
            yield from _hm_needs(subject, mix, dose)
        elif kind == "agar":
            yield from _agar(subject, mix, dose)
        elif kind.startswith("gelatine"):
            yield from _gelatine(subject, mix, dose)
    yield from _egg(subject, mix)
    yield from _thaws(subject, mix)


def _finding(
    subject: Subject, code: str, severity: Severity, what: str, why: str, do: str,
    source: str,
) -> Finding:  # fmt: skip
    return Finding(
        code, severity, subject.name, what, why, do, source, subject.span,
        subject.number,
    )  # fmt: skip


def _too_little(subject: Subject, dose: Dose) -> Iterator[Finding]:
    agent = dose.agent
    floor = least(dose, subject)
    share = dose.shares[2]
    if share >= floor or (agent.agent == "starch" and not _is_cut(subject)):
        return
    # the likeliest reading is what the grams are worked out for
    worth = float(grams_to_share(dose.worth_g[0], dose.base_g, floor))
    more = worth / dose.worth_per_gram
    # fruit brings pectin of its own, nobody knows how much
    slack = share >= SOFT * floor or agent.agent == "pectin-hm"
    if slack and agent.agent == "egg":  # milk that sours thickens beside it
        return
    yield _finding(
        subject, "wont_set", Severity.NOTE if slack else Severity.LOOK,
        f"{'It sets softly' if slack else 'It will not set'}: {agent.name} is "
        f"{100 * dose.shares[0]:.2g} % of {dose.base}.",
        f"{100 * floor:.2g} to {100 * agent.high:g} % is usual for a layer that is "
        f"cut; here {dose.grams:.3g} g stand against {dose.base_g:.4g} g.",
        f"Add {_grams(more)} of it, for {100 * floor:.2g} %.",
        agent.source.text,
    )  # fmt: skip


def _is_cut(subject: Subject) -> bool:
    """Whether the layer must stand by its gel, and is no filling that may run."""
    return subject.batch.kind.name in {"curd", "jelly", "gelatine jelly"}


def _not_hot_enough(subject: Subject, dose: Dose) -> Iterator[Finding]:
    agent = dose.agent
    if agent.agent == "egg" or dose.hot_C is None or dose.is_baked:
        return
    if dose.hot_C >= agent.dissolves_C - 3:
        return
    yield _finding(
        subject, "wont_set", Severity.LOOK,
        f"It will not set: {agent.name} is only brought to {dose.hot_C:g} °C.",
        f"It dissolves, or swells, from about {agent.dissolves_C:g} °C.",
        f"Heat the {_grams(dose.grams)} of it with what stands beside it to "
        f"{agent.dissolves_C:g} °C.",
        agent.source.text,
    )  # fmt: skip


def _hm_needs(subject: Subject, mix: GelMix, dose: Dose) -> Iterator[Finding]:
    least_solids = dose.agent.solids[0]
    if mix.solids is not None and mix.solids[2] < least_solids:
        lean = dose.base_g
        sugar = float(grams_to_share(mix.solids[0] * lean, lean, least_solids))
        off = lean - mix.solids[0] * lean / least_solids
        yield _finding(
            subject, "wont_set", Severity.LOOK,
            f"It will not set: {100 * mix.solids[0]:.0f} % dry matter is too little "
            f"for {dose.agent.name}.",
            f"It sets from {100 * least_solids:g} % on, and best over 60 %.",
            f"Boil off {_grams(off)} of water more, or add {_grams(sugar)} of sugar; "
            "or set it with pectin NH.",
            dose.agent.source.text,
        )  # fmt: skip
    most = dose.agent.ph[1]
    if mix.ph is not None and mix.ph[0] <= most:
        return
    if mix.ph is None and any(_may_be_sour(one.name) for one in mix.things):
        return
    juice = _juice_for(mix, most)
    add = f"Add {_grams(juice)} of lemon juice at the end" if juice else "Add acid"
    told = "no acid that is known here is in it"
    if mix.ph is not None:
        told = f"its pH is assessed at {mix.ph[0]:.1f} to {mix.ph[1]:.1f}"
    yield _finding(
        subject, "wont_set", Severity.LOOK,
        f"It will not set: not sharp enough for {dose.agent.name}.",
        f"It asks for pH {dose.agent.ph[0]:g} to {most:g}; {told}.",
        f"{add}, and measure.",
        dose.agent.source.text,
    )  # fmt: skip


def _may_be_sour(name: str) -> bool:
    plain = name.casefold()
    words = ("fruit", "berr", "juice", "puree", "purée", "wine", "currant", "acid")
    return any(word in plain for word in words)


def _juice_for(mix: GelMix, most: float) -> float | None:
    """Lemon juice that brings the middle of the assessed pH under a limit [g]."""
    lemon = acids()["lemon-juice"]
    wet = sum(one.water_g for one in mix.things)
    sour = sum(one.water_g for one in mix.things if one.ingredient in acids())
    protein = sum(one.protein_g for one in mix.things)
    known: list[tuple[Acid, float]] = [
        (acids()[one.ingredient], one.grams or 0.0)
        for one in mix.things
        if one.ingredient in acids()
    ]
    for step in range(1, 61):
        juice = mix.mass_g * step / 400
        share = (sour + 0.91 * juice) / (wet + 0.91 * juice)
        found = mixed_ph([*known, (lemon, juice)], share, protein)
        if found is not None and sum(found) / 2 <= most:
            return juice
    return None


def _agar(subject: Subject, mix: GelMix, dose: Dose) -> Iterator[Finding]:
    if mix.solids is not None and mix.solids[2] < WEEPS_UNDER_PCT / 100:
        gum = 0.15 * dose.grams
        yield _finding(
            subject, "weeps", Severity.NOTE,
            f"It weeps: an agar gel with {100 * mix.solids[0]:.0f} % dry matter.",
            f"Agar gels give up water; under {WEEPS_UNDER_PCT:g} % dry matter it shows "
            "in a day or two.",
            f"Put {_grams(gum)} of locust bean gum in place of as much agar, and build "
            "it on the day that it is sold.",
            dose.agent.source.text,
        )  # fmt: skip
    is_boiled = any(
        one.ingredient in acids() and (one.hot_C or 0) >= 90 for one in mix.things
    )
    if is_boiled and mix.ph is not None and mix.ph[1] < 4.0:
        yield _finding(
            subject, "gel_broken_by", Severity.LOOK,
            "Acid breaks its agar: both are boiled together.",
            f"Its pH is assessed at {mix.ph[0]:.1f} to {mix.ph[1]:.1f}; boiled under "
            "pH 4, agar loses a third to a half of its strength in 20 minutes.",
            "Boil the agar in water and sugar, and stir the sharp part in at 65 to "
            f"70 °C; or take {_grams(0.25 * dose.grams)} of agar more.",
            dose.agent.source.text,
        )  # fmt: skip


def _gelatine(subject: Subject, mix: GelMix, dose: Dose) -> Iterator[Finding]:
    source = "What harms gelatine, as a stored page lists it"
    for fruit in mix.raw_fruit:
        heated = "" if fruit.hot_C is None else f" (here {fruit.hot_C:g} °C)"
        yield _finding(
            subject, "gel_broken_by", Severity.LOOK,
            f"{fruit.name[0].upper()}{fruit.name[1:]} digests its gelatine.",
            f"Raw, it holds what cuts protein, until it has been at 75 °C{heated}.",
            f"Bring the {_grams(fruit.grams)} of it to 75 °C for some minutes first, "
            "take it tinned, or set the layer with pectin NH or agar.",
            source,
        )  # fmt: skip
    if dose.hot_C is not None and dose.hot_C >= GELATINE_MOST_C:
        yield _finding(
            subject, "gel_broken_by", Severity.LOOK,
            "Heat weakens its gelatine: it is boiled.",
            f"It is brought to {dose.hot_C:g} °C or so; at {GELATINE_MOST_C:g} °C and "
            "over it loses strength by the minute.",
            f"Stir the {_grams(dose.grams)} in after the boil, under 80 °C.",
            dose.agent.source.text,
        )  # fmt: skip
    if mix.ph is not None and mix.ph[1] < _ACID_FOR_GELATINE:
        yield _finding(
            subject, "gel_broken_by", Severity.NOTE,
            "Acid slackens its gelatine.",
            f"Its pH is assessed at {mix.ph[0]:.1f} to {mix.ph[1]:.1f}; under 4 "
            "gelatine sets slacker, and hot it falls apart.",
            f"Stir the sharp part in cool, and take {_grams(0.2 * dose.grams)} more.",
            source,
        )  # fmt: skip
    if mix.alcohol_share > _ALCOHOL_MOST:
        yield _finding(
            subject, "gel_broken_by", Severity.NOTE,
            "Alcohol slackens its gelatine.",
            f"{100 * mix.alcohol_share:.0f} % of what is wet is alcohol.",
            f"Take {_grams(0.2 * dose.grams)} of gelatine more, or less alcohol.",
            source,
        )  # fmt: skip


def _egg(subject: Subject, mix: GelMix) -> Iterator[Finding]:
    egg, starch = mix.dose("egg"), mix.dose("starch")
    if egg is None or egg.hot_C is None:
        return
    with_starch = starch is not None and starch.shares[0] >= 0.01
    if with_starch and starch is not None:
        if egg.hot_C < AMYLASE_C:
            yield _finding(
                subject, "gel_broken_by", Severity.LOOK,
                f"It may run again: its starch is only brought to {egg.hot_C:g} °C.",
                "Yolk holds what cuts starch, until it has come near the boil.",
                f"Bring it to 95 °C, stirred: {_grams(starch.grams)} of starch keeps "
                "the egg from curdling.",
                "Common practice of the trade; pastry books on stored pages",
            )  # fmt: skip
        return
    if mix.dose("gelatine") is not None:
        return
    if egg.hot_C < _EGG_LEAST_C:
        yield _finding(
            subject, "wont_set", Severity.LOOK,
            f"It will not set: its egg is only brought to {egg.hot_C:g} °C.",
            "Custards thicken at 78 to 80 °C and set at 79 to 83 °C.",
            f"Bring its core to 82 to 84 °C; nothing changes in the "
            f"{_grams(egg.grams)} of egg.",
            egg.agent.melt_source.text,
        )  # fmt: skip
    elif egg.hot_C > CURDLES_C:
        yield _finding(
            subject, "gel_broken_by", Severity.LOOK,
            f"Heat breaks it: egg without starch is brought to {egg.hot_C:g} °C.",
            f"Over {CURDLES_C:g} °C its egg squeezes out water and curdles.",
            "Stop at a core of 82 to 84 °C; or whisk in "
            f"{_grams(0.02 * subject.batch.mass_in.value)} of cornflour, and boil.",
            egg.agent.melt_source.text,
        )  # fmt: skip


def _thaws(subject: Subject, mix: GelMix) -> Iterator[Finding]:
    """Gels of starch and agar give up water when they thaw."""
    frozen = [one for one in subject.keepings if one.temperature_C.high <= _FROZEN_C]
    dose = mix.dose("starch") or mix.dose("agar")
    if not frozen or dose is None or is_rich(subject):
        return
    yield _finding(
        subject, "weeps", Severity.NOTE,
        f"It weeps when it thaws: {dose.agent.name} sets it.",
        f"The card keeps it {frozen[0].text}; ice squeezes such a gel.",
        f"Freeze the slab without this layer of {_grams(mix.mass_g)}, and build it "
        "after thawing; or set it with pectin NH.",
        "Common practice of the trade, no source",
    )  # fmt: skip


def _grams(grams: float | None) -> str:
    """Grams as one would weigh them, never less than is needed."""
    if grams is None:
        return "all"
    if grams < 10:
        return f"{grams + 0.049:.1f} g"
    return f"{grams + 0.49:.0f} g"
