"""What raises a layer: gas, soda set against acid, and what is left over."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from slabwright.figure import Figure, Standing
from slabwright.finding import Finding, Severity
from slabwright.physics.acid import acids
from slabwright.physics.raising import (
    GAS_BY_HEAT,
    GAS_PER_SODA,
    Raiser,
    gas_ml,
    left_over,
    raisers,
)
from slabwright.source import Source, sources
from slabwright.spec.nature.aspect import Aspect, Classed, Named
from slabwright.spec.nature.inside import Thing
from slabwright.spec.nature.subject import Subject

_WORDS: Final = ("acid left", "balanced", "soda left")
_SPARE: Final = 0.25
"""A balance within this share of the soda is even enough. Common practice."""
_BY_HEAT_KINDS: Final = frozenset({"brittle", "caramel", "nougat"})
"""Where soda is meant to meet hot sugar and foam by heat alone."""
_TARTAR: Final = "cream-of-tartar"


@dataclass(frozen=True, slots=True)
class _Raised:
    """What raises a layer."""

    alone_g: float
    """Soda that its maker did not balance."""
    balanced_g: tuple[float, float]
    """Soda in powders that bring their own acid, low and high."""
    takes_g: tuple[float, float]
    """Soda that all acid takes up, low and high."""
    sours: tuple[str, ...]
    sources: tuple[Source, ...]
    agents: tuple[tuple[Raiser, float], ...]


def raising_of(subject: Subject) -> Aspect | None:
    """What raises this layer; None if no raising agent is in it."""
    found = subject.inside
    raised = _raised(found)
    if raised is None:
        return None
    left = left_over(raised.alone_g, *raised.takes_g)
    low, high = float(left.low), float(left.high)
    classes: tuple[Classed, ...] = ()
    if raised.alone_g > 0:
        classes = (_classed(raised, low, high),)
    figures = [_gas(raised)]
    if raised.alone_g > 0:
        figures.append(_left(raised, low, high))
    return Aspect(
        "raising",
        "What raises it",
        tuple(figures),
        classes,
        tuple(f"{agent.name} acts {agent.acts}." for agent, _ in raised.agents),
        findings=tuple(_findings(subject, raised, low)),
    )


def _raised(found: Sequence[Thing]) -> _Raised | None:
    by_name = {one.ingredient: one for one in raisers().values() if one.ingredient}
    alone = 0.0
    balanced = [0.0, 0.0]
    takes = [0.0, 0.0]
    sours: list[str] = []
    cited: list[Source] = []
    agents: list[tuple[Raiser, float]] = []
    for thing in found:
        grams = thing.grams or 0.0
        if not grams > 0:
            continue
        agent = by_name.get(thing.ingredient)
        if agent is not None and not agent.is_acid:
            agents.append((agent, grams))
            cited.append(agent.source)
            if agent.agent == "bicarbonate-of-soda":
                alone += grams
            else:
                for end, share in enumerate(agent.soda_share):
                    balanced[end] += grams * share
        elif agent is not None:
            takes[0] += grams * agent.neutralises[0]
            takes[1] += grams * agent.neutralises[2]
            cited.append(agent.source)
            sours.append(f"{grams:.3g} g {thing.name}")
        elif thing.ingredient in acids():
            acid = acids()[thing.ingredient]
            takes[0] += grams * acid.soda_g_per_g[0]
            takes[1] += grams * acid.soda_g_per_g[1]
            cited.append(acid.acid_source)
            sours.append(f"{grams:.3g} g {thing.name}")
    if not agents:
        return None
    return _Raised(
        alone, (balanced[0], balanced[1]), (takes[0], takes[1]), tuple(sours),
        tuple(dict.fromkeys(cited)), tuple(agents),
    )  # fmt: skip


def _gas(raised: _Raised) -> Named:
    met = [min(raised.alone_g, takes) for takes in raised.takes_g]
    ends = [
        (powder + one) * GAS_PER_SODA + (raised.alone_g - one) * GAS_BY_HEAT
        for powder, one in zip(raised.balanced_g, met, strict=True)
    ]
    middle = sum(ends) / 2
    what = " and ".join(f"{grams:.3g} g {one.name}" for one, grams in raised.agents)
    said = (
        f"{what}: {middle:.2g} g of carbon dioxide, {float(gas_ml(middle)):.0f} ml at "
        "20 °C, once it is hot"
    )
    wide = ends[1] - ends[0] > 1e-9
    return Named(
        "raising_gas_g", "gas that raises it",
        Figure(
            middle, "g", said, Standing.WORKED_OUT, ends[0] if wide else None,
            ends[1] if wide else None, raised.sources,
        ),
    )  # fmt: skip


def _left(raised: _Raised, low: float, high: float) -> Named:
    takes = sum(raised.takes_g) / 2
    what = ", ".join(raised.sours) or "no acid that is known here"
    said = (
        f"{raised.alone_g:.3g} g of soda − {takes:.2g} g taken up by {what} = "
        f"{raised.alone_g - takes:.2g} g"
    )
    wide = high - low > 1e-9
    return Named(
        "soda_left_g", "soda left over; under 0 it is acid",
        Figure(
            raised.alone_g - takes, "g", said, Standing.WORKED_OUT,
            low if wide else None, high if wide else None, raised.sources,
        ),
    )  # fmt: skip


def _classed(raised: _Raised, low: float, high: float) -> Classed:
    spare = _SPARE * raised.alone_g
    word = _WORDS[1]
    if low > spare:
        word = _WORDS[2]
    elif high < -spare:
        word = _WORDS[0]
    why = (
        f"{raised.alone_g:.3g} g of soda; its acids take up {raised.takes_g[0]:.2g} to "
        f"{raised.takes_g[1]:.2g} g; within a quarter it is even"
    )
    return Classed(
        "soda_balance", "soda against acid", word, why, _WORDS, Standing.WORKED_OUT,
        raised.sources,
    )  # fmt: skip


def _findings(subject: Subject, raised: _Raised, low: float) -> Iterator[Finding]:
    if subject.batch.kind.name in _BY_HEAT_KINDS:
        return
    if not low > _SPARE * raised.alone_g:
        return
    tartar = low / raisers()[_TARTAR].neutralises[1]
    yield Finding(
        "soda_left", Severity.NOTE, subject.name,
        f"Soda is left over: {low:.1f} g at the least.",
        f"Its acids take up {raised.takes_g[1]:.2g} g at the most of "
        f"{raised.alone_g:.3g} g; the rest tastes of soap and darkens, which some "
        "gingerbreads and cocoa cakes want.",
        f"Take {low:.1f} g of soda out, or add {tartar:.1f} g of cream of tartar.",
        sources()["leavening-table"].text, subject.span, subject.number,
    )  # fmt: skip
