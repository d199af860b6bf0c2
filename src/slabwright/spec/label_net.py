"""The net weight of a slab's pieces: what the spread of the cut would keep."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from slabwright.cut.spread import Spread, spread
from slabwright.errors import GeometryError
from slabwright.figure import Figure, Standing, withheld
from slabwright.label.net_weight import (
    Proposal,
    Rule,
    Weighed,
    at_least,
    proposed,
    proposed_for_spread,
    rules_on,
    tolerable_error_g,
    weighed,
)
from slabwright.label.presentation import figures
from slabwright.source import sources
from slabwright.spec.cutting import evenness_of
from slabwright.spec.specification import Specification

NET_FOOT: Final = (
    "Worked out for the average system of the United Kingdom (SI 2006/659, as told on "
    "gov.uk; the 2.5 % from a stored trading standards page). Pieces are taken as "
    "normally spread. It certifies nothing, and no e-mark is claimed; local law "
    "decides."
)


@dataclass(frozen=True, slots=True)
class NetFigures:
    """Weighed pieces, and a nominal weight against them."""

    weighed: Weighed
    mean_g: Figure
    deviation_g: Figure
    lightest_g: Figure
    heaviest_g: Figure
    nominal_g: Figure
    """Proposed, in whole grams."""
    tolerable_error_g: Figure | None
    """Of the nominal that was asked about, else of the proposed one."""
    rules: tuple[Rule, ...]
    """Tried on these very pieces for that nominal."""
    figures_least_mm: float | None
    is_few: bool


def net_figures(
    weights_g: Sequence[float], *, step_g: float = 0.0, nominal_g: float | None = None
) -> NetFigures:
    """What weighed pieces tell of a net weight.

    Args:
        weights_g: contents of each piece [g].
        step_g: the scale's step [g].
        nominal_g: a net weight to try; without it, the one that is proposed.

    Raises:
        FileError: for weights or a nominal that can't be.
    """
    found = weighed(weights_g, step_g=step_g)
    proposal = proposed(found)
    tried = nominal_g if nominal_g is not None else proposal.nominal_g
    rules = rules_on(weights_g, tried) if tried is not None else ()
    count, measured = found.count, Standing.MEASURED
    step = f", with a scale of {step_g:g} g steps" if step_g else ""
    return NetFigures(
        found,
        Figure(
            found.mean_g, "g", f"{sum(weights_g):.1f} g ÷ {count}", measured,
            low=found.mean_at_least_g, sources=(sources()["tolerance-limit"],),
        ),
        Figure(
            found.deviation_g, "g",
            f"one standard deviation of {count} pieces{step}", measured,
        ),
        Figure(found.lightest_g, "g", f"the lightest of {count}", measured),
        Figure(found.heaviest_g, "g", f"the heaviest of {count}", measured),
        _proposed(proposal),
        _error(tried),
        rules,
        figures(tried).least_mm if tried is not None else None,
        proposal.is_few,
    )  # fmt: skip


def _proposed(proposal: Proposal) -> Figure:
    why = f"{proposal.why} ({proposal.decided_by})"
    if proposal.nominal_g is None:
        return withheld("g", f"no whole gram from 5 g to 25 kg keeps the rules: {why}")
    return Figure(
        proposal.nominal_g, "g",
        f"the largest whole gram that keeps all three rules; {why}",
        sources=(sources()["uk-average-quantity"], sources()["tolerance-limit"]),
    )  # fmt: skip


def _error(nominal_g: float | None) -> Figure | None:
    error_g = None if nominal_g is None else tolerable_error_g(nominal_g)
    if error_g is None:
        return None
    said = f"of {nominal_g:g} g, by the law's table, rounded up to 0.1 g (NET-04)"
    return Figure(error_g, "g", said, sources=(sources()["uk-average-quantity"],))


def nominal_of(spec: Specification, pieces: int = 1) -> Figure:
    """The largest nominal in whole grams that the computed spread keeps [g].

    Pieces of one pack are taken as all light together, which is the stricter way.

    Args:
        spec: the slab, worked out.
        pieces: how many lie in a pack.
    """
    cut = spec.cut
    if cut is None:
        return withheld("g", "the card says no cut")
    piece = cut.piece_mass_g
    if not cut.promised_g.known:
        return withheld("g", cut.promised_g.sum)
    found = _spread(spec)
    if found is None:
        return withheld("g", "how unlike its pieces come out is not known")
    least_g = piece.number if piece.low is None else min(piece.low, piece.number)
    slab_g = least_g / found.mean
    proposal = proposed_for_spread(
        least_g * pieces, lambda grams: found.below(grams / pieces / slab_g)
    )
    if proposal.nominal_g is None:
        return withheld("g", f"none from 5 g to 25 kg: {proposal.why}")
    return Figure(
        proposal.nominal_g,
        "g",
        _sum(proposal, least_g, pieces),
        cut.promised_g.standing,
        sources=(sources()["uk-average-quantity"],),
    )


def _spread(spec: Specification) -> Spread | None:
    cut = spec.cut
    if cut is None or not spec.height_mm.known:
        return None
    even = evenness_of(spec.kitchen)
    try:
        return spread(cut.cutting, cut.tin, spec.height_mm.number, even)
    except GeometryError:
        return None


def _sum(proposal: Proposal, least_g: float, pieces: int) -> str:
    nominal = proposal.nominal_g or 0.0
    error_g = tolerable_error_g(nominal) or 0.0
    each = at_least(least_g, 1)
    of = f"{pieces} × {each} g" if pieces > 1 else f"{each} g"
    return (
        f"{of} on average at least; tolerable error of {nominal:g} g is {error_g:g} g; "
        f"one gram more and {proposal.why or 'a rule breaks'} ({proposal.decided_by})"
    )
