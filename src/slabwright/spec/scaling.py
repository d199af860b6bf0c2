"""A slab in other tins, for more pieces, to a mass or a depth: what to weigh there."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import ceil

from slabwright.cut.request import CutRequest
from slabwright.errors import GeometryError, Mistake, Span
from slabwright.figure import Figure, Standing, weakest
from slabwright.finding import Finding
from slabwright.formula.book import slug
from slabwright.slab.ground import Ground, bands_mm3, depths_mm
from slabwright.slab.tin import MOST_TINS
from slabwright.spec.card import Card, SaidCut, SaidTin
from slabwright.spec.scaled_card import Factors, scaled_card
from slabwright.spec.scaling_findings import findings
from slabwright.spec.specification import Specification
from slabwright.spec.usage import taken
from slabwright.spec.wanted import LARGEST_FACTOR, NamedTin, ScalingError, Wanted
from slabwright.spec.work_out import Order, work_out

_NOWHERE = Span(1, 1, 1)


@dataclass(frozen=True, slots=True)
class InTin:
    """The slab as it stands in one kind of tin; its masses are of all such tins."""

    named: NamedTin
    factors: tuple[float, ...]
    """What each layer is multiplied by for these tins, bottom first."""
    spec: Specification


@dataclass(frozen=True, slots=True)
class Scaled:
    """A slab scaled: what to weigh in all, and how it stands in each kind of tin."""

    of: Specification
    wanted: Wanted
    multiplier: Figure
    """Of everything that goes in."""
    multipliers: tuple[Figure, ...]
    """Of each layer, bottom first: they part in tins with sloping walls."""
    tins: tuple[InTin, ...]
    making: Specification
    """Everything that is weighed, for all tins together."""
    findings: tuple[Finding, ...]


def scale(spec: Specification, wanted: Wanted, order: Order) -> Scaled:
    """Work out a slab for other tins, pieces, masses or depths.

    Args:
        spec: the slab as its card says, worked out.
        wanted: what is asked for.
        order: kitchen, names and prices, as for the slab itself.

    Raises:
        ScalingError: if something that the answer needs is not known.
    """
    tins = _tins(spec, wanted)
    if wanted.pieces is not None:
        tins = _for_pieces(spec, wanted, tins, order)
    factors = _factors(spec, wanted, tins)
    for factor in factors.total:
        if not 0 < factor < LARGEST_FACTOR:
            what = f"That is {factor:.4g} times a layer of this card."
            raise ScalingError(Mistake(what, "Look at the unit of what you ask for."))
    return _made(spec, wanted, tins, factors, order)


@dataclass(frozen=True, slots=True)
class _Factors:
    """What each layer is multiplied by, in each kind of tin."""

    by_tin: tuple[tuple[float, ...], ...]
    depths: tuple[float, ...]

    @property
    def total(self) -> tuple[float, ...]:
        """For all tins together."""
        return tuple(map(sum, zip(*self.by_tin, strict=True)))


def _tins(spec: Specification, wanted: Wanted) -> tuple[NamedTin, ...]:
    own = spec.card.tin
    tins = wanted.tins or ((NamedTin(own.text, own.tin),) if own else ())
    if not tins and not wanted.factor_only:
        what = "The card names no tin, so no depth is known."
        do = "Give it one (tin 30 x 20 x 5 cm), or ask for a mass or a multiple."
        raise ScalingError(Mistake(what, do))
    if wanted.trays is None:
        return tins
    return tuple(_times(named, wanted.trays) for named in tins)


def _times(named: NamedTin, count: int) -> NamedTin:
    try:
        return replace(named, tin=named.tin.times(named.tin.count * count))
    except GeometryError as error:
        raise ScalingError(*error.mistakes) from error


def _for_pieces(
    spec: Specification, wanted: Wanted, tins: Sequence[NamedTin], order: Order
) -> tuple[NamedTin, ...]:
    """As many whole trays as so many pieces need, cut as the card would be there."""
    one = tuple(replace(named, tin=named.tin.one) for named in tins)
    alone = replace(wanted, pieces=None, trays=None)
    if wanted.mass_g is not None:
        what = "A mass and a number of pieces leave the size of a piece open."
        raise ScalingError(Mistake(what, "Ask for one of them."))
    cut = _made(spec, alone, one, _factors(spec, alone, one), order).tins[0].spec.cut
    if cut is None:
        what = "How many pieces a tray gives is not known: the card has no cut."
        do = "Write one on it (cut 5 x 4), or ask for trays."
        raise ScalingError(Mistake(what, do))
    trays = ceil((wanted.pieces or 1) / cut.pieces.number)
    if trays > MOST_TINS:
        what = f"{wanted.pieces:,} pieces would be {trays:,} trays."
        raise ScalingError(Mistake(what, f"Make {MOST_TINS:,} trays at most."))
    return tuple(_times(named, trays) for named in one)


def _factors(spec: Specification, wanted: Wanted, tins: Sequence[NamedTin]) -> _Factors:
    """What each layer is multiplied by for each kind of tin."""
    if wanted.factor_only:
        return _proportional(spec, wanted, tins)
    grounds = [Ground((named.tin,)) for named in tins]
    old = Ground((spec.tin,)) if spec.tin else Ground(())
    known = [layer.depth_mm for layer in spec.layers]
    if any(not depth.known for depth in known):
        return _by_area(spec, wanted, tins)
    depths = [depth.number for depth in known]
    there = bands_mm3(old, depths)
    new = _depths(spec, wanted, depths, tins)
    by_tin = tuple(
        tuple(
            band / was if was > 0 else 1.0
            for band, was in zip(bands_mm3(ground, new), there, strict=True)
        )
        for ground in grounds
    )
    deeper = tuple(n / d if d > 0 else 1.0 for n, d in zip(new, depths, strict=True))
    return _Factors(by_tin, deeper)


def _depths(
    spec: Specification,
    wanted: Wanted,
    depths: Sequence[float],
    tins: Sequence[NamedTin],
) -> list[float]:
    """How deep each layer is to stand."""
    height = sum(depths)
    if wanted.layers_mm:
        said = {_layer_called(spec, name): mm for name, mm in wanted.layers_mm}
        return [said.get(number, depth) for number, depth in enumerate(depths)]
    goal = wanted.height_mm
    if wanted.head_room_mm is not None:
        rims = [named.tin.depth_mm for named in tins if named.tin.depth_mm is not None]
        if len(rims) < len(tins):
            what = "How deep a tin is was not said, so where its rim is isn't known."
            raise ScalingError(Mistake(what, "Give its depth: 30 x 20 x 5 cm."))
        goal = min(rims) - wanted.head_room_mm
        if goal <= 0:
            what = f"{wanted.head_room_mm:g} mm of head room leave nothing to fill."
            raise ScalingError(Mistake(what, f"The rim is {min(rims):g} mm high."))
    return [depth * goal / height if goal and height else depth for depth in depths]


def _layer_called(spec: Specification, name: str) -> int:
    """The number of the layer that is meant; a part of its name will do."""
    plain = name.casefold().strip()
    names = [layer.name for layer in spec.layers]
    exact = [n for n, one in enumerate(names) if one.casefold() == plain]
    found = exact or [n for n, one in enumerate(names) if plain in one.casefold()]
    if len(found) == 1 and plain:
        return found[0]
    what = f"{'Several layers are' if found else 'No layer is'} called '{name}'."
    raise ScalingError(Mistake(what, f"The layers are: {', '.join(names)}."))


def _proportional(
    spec: Specification, wanted: Wanted, tins: Sequence[NamedTin]
) -> _Factors:
    """Everything alike; several kinds of tin share it so that all stand as deep."""
    by = 1.0 if wanted.by is None else wanted.by
    if wanted.mass_g is not None:
        if not spec.mass_g.known or not spec.mass_g.number > 0:
            what = f"What the slab weighs is not known: {spec.mass_g.sum}."
            raise ScalingError(Mistake(what, "Give what is missing, or ask for trays."))
        by = wanted.mass_g / spec.mass_g.number
    count = len(spec.layers)
    if len(tins) <= 1:
        return _Factors(((by,) * count,), _deeper(spec, tins, by))
    masses = [layer.mass_out_g for layer in spec.layers]
    if any(not mass.known for mass in masses):
        return _by_area(spec, replace(wanted, by=by), tins)
    volumes = [
        layer.mass_out_g.number * by / layer.density_g_ml.number * 1000
        for layer in spec.layers
    ]
    deep = depths_mm(Ground(tuple(named.tin for named in tins)), volumes)
    by_tin = []
    for named in tins:
        bands = bands_mm3(Ground((named.tin,)), deep)
        by_tin.append(
            tuple(
                by * band / volume if volume > 0 else by / len(tins)
                for band, volume in zip(bands, volumes, strict=True)
            )
        )
    return _Factors(tuple(by_tin), _deeper(spec, tins, by))


def _deeper(
    spec: Specification, tins: Sequence[NamedTin], by: float
) -> tuple[float, ...]:
    """How much deeper each layer stands, for layers that wish for a depth."""
    if spec.tin is None or not tins or any(not la.depth_mm.known for la in spec.layers):
        return (by,) * len(spec.layers)
    was = [layer.depth_mm.number for layer in spec.layers]
    volumes = [band * by for band in bands_mm3(Ground((spec.tin,)), was)]
    now = depths_mm(Ground(tuple(named.tin for named in tins)), volumes)
    return tuple(n / d if d > 0 else 1.0 for n, d in zip(now, was, strict=True))


def _by_area(spec: Specification, wanted: Wanted, tins: Sequence[NamedTin]) -> _Factors:
    """Where a depth is not known: the areas say it all, if no wall slopes."""
    own = spec.tin
    asks_depth = wanted.height_mm or wanted.layers_mm or wanted.head_room_mm is not None
    slopes = any(named.tin.sloping for named in tins) or (own and own.sloping)
    if own is None:
        what = "The card names no tin, so how deep its layers should be isn't known."
        do = "Give it one (tin 30 x 20 x 5 cm), or add --whole-batch: how deep is it?"
        raise ScalingError(Mistake(what, do))
    if asks_depth or slopes:
        layer = next(la for la in spec.layers if not la.depth_mm.known)
        what = f"How deep {layer.name} stands is not known: {layer.depth_mm.sum}."
        do = "Give what is missing, or ask for a multiple."
        raise ScalingError(Mistake(what, do))
    whole = sum(named.tin.area_mm2() for named in tins)
    share = 1.0 if wanted.by is None else wanted.by * own.area_mm2() / whole
    count = len(spec.layers)
    by_tin = tuple(
        (share * named.tin.area_mm2() / own.area_mm2(),) * count for named in tins
    )
    return _Factors(by_tin, (share,) * count)


def _made(
    spec: Specification,
    wanted: Wanted,
    tins: Sequence[NamedTin],
    factors: _Factors,
    order: Order,
) -> Scaled:
    """The card in each kind of tin, worked out, and what all of them take."""

    def card_of(layers: tuple[float, ...], named: NamedTin | None) -> Card:
        whole = Factors(layers, factors.depths, _components(spec, layers))
        span = spec.card.tin.span if spec.card.tin else _NOWHERE
        tin = SaidTin(named.tin.describe(), named.tin, span) if named else None
        return scaled_card(spec, whole, tin, _cuts(spec, named) if named else ())

    places = tuple(
        InTin(named, layers, work_out(card_of(layers, named), order, ()))
        for named, layers in zip(tins, factors.by_tin, strict=False)
    )
    total = factors.total
    making = (
        places[0].spec if len(places) == 1 else _together(card_of(total, None), order)
    )
    return Scaled(
        of=spec,
        wanted=wanted,
        multiplier=_multiplier(spec, total, tins, wanted),
        multipliers=tuple(
            Figure(factor, "×", f"{factor:.5g} times {layer.name} as the card has it")
            for layer, factor in zip(spec.layers, total, strict=True)
        ),
        tins=places,
        making=making,
        findings=tuple(findings(spec, places[0].spec if places else making, total)),
    )


def _together(card: Card, order: Order) -> Specification:
    """What several kinds of tin take together; no tin of its own is no fault of it."""
    made = work_out(card, order, ())
    return replace(
        made, findings=tuple(one for one in made.findings if one.code != "no_tin")
    )


def _components(spec: Specification, layers: Sequence[float]) -> dict[str, float]:
    """What the card's own components are multiplied by: so that as much is left."""
    was = _used(spec, [1.0] * len(layers))
    now = _used(spec, layers)
    mean = sum(layers) / len(layers) if layers else 1.0
    return {
        slug(one.name): now[slug(one.name)] / was[slug(one.name)]
        if was.get(slug(one.name))
        else mean
        for one in spec.card.components
    }


def _used(spec: Specification, layers: Sequence[float]) -> dict[str, float]:
    """Grams of each component that layers of so many times their size take."""
    made = []
    used: dict[str, float] = {}
    for layer, factor in zip(spec.layers, layers, strict=True):
        out, batch = layer.mass_out_g, layer.batch
        batches = 1.0
        if layer.from_component and out.known and layer.batch_out_g.known:
            batches = out.number / (layer.batch_out_g.number or 1.0)
            name = slug(batch.component.name)
            used[name] = used.get(name, 0.0) + out.number * factor
            if slug(layer.from_component) != name:
                source = slug(layer.from_component)
                used[source] = used.get(source, 0.0) + out.number * factor
        made.append((batch, batches * factor))
    for name, (_, grams) in taken(made).items():
        used[slug(name)] = used.get(slug(name), 0.0) + grams
    return used


def _multiplier(
    spec: Specification,
    total: Sequence[float],
    tins: Sequence[NamedTin],
    wanted: Wanted,
) -> Figure:
    """Of everything that goes in, weighted by the mass of each layer."""
    masses = [layer.mass_in_g.number for layer in spec.layers]
    whole = sum(masses)
    if not whole > 0:
        return Figure(total[0] if total else 1.0, "×", "nothing goes in")
    value = sum(m * f for m, f in zip(masses, total, strict=True)) / whole
    same = max(total) - min(total) < 1e-9 * value
    if same and spec.tin and not wanted.factor_only and not _asks_depth(wanted):
        areas = " + ".join(f"{t.tin.area_mm2() / 100:.6g}" for t in tins)
        said = f"{areas} cm² ÷ {spec.area_cm2.number:.6g} cm² = {value:.4g}"
    else:
        said = f"{whole * value:.5g} g ÷ {whole:.5g} g of the card = {value:.4g}"
    depths = [la.depth_mm.standing for la in spec.layers if la.depth_mm.known]
    standing = Standing.WORKED_OUT if same else weakest([*depths, "given"])
    return Figure(value, "×", said, standing)


def _asks_depth(wanted: Wanted) -> bool:
    return bool(wanted.layers_mm or wanted.height_mm or wanted.head_room_mm is not None)


def _without_tin(cut: SaidCut) -> str:
    """The cut's words without `in shop frame`: it is the slab's own tin now."""
    before, _, after = cut.text.rpartition(cut.tin_name)
    kept = before.rstrip().removesuffix("in").rstrip(" ,")
    return f"{kept}{after}".strip()


def _cuts(spec: Specification, named: NamedTin) -> tuple[SaidCut, ...]:
    """How it is cut in that tin: as the card says of it, or into like pieces."""
    own, tin = spec.tin, named.tin.one
    if own is not None and own.one == tin:
        return tuple(cut for cut in spec.card.cuts if not cut.tin_name)
    for cut in spec.card.cuts:
        if cut.tin is not None and cut.tin.one == tin:
            return (replace(cut, text=_without_tin(cut), tin_name="", tin=None),)
    cut_there = spec.cut
    if cut_there is None or not cut_there.piece_mass_g.known:
        return ()
    each_g = cut_there.piece_mass_g.number
    old = cut_there.said.request
    sizes = (old.piece_mm, old.strip_mm, old.diamond_mm)
    if any(sizes) and own is not None and own.shape == tin.shape:
        return (cut_there.said,)  # pieces of a size are as large everywhere
    request = CutRequest(piece_g=each_g, trim_mm=old.trim_mm, knife_mm=old.knife_mm)
    words = f"{each_g:.0f} g pieces"
    if old.trim_mm:
        words += f", trim {old.trim_mm:g} mm"
    return (replace(cut_there.said, text=words, request=request),)
