"""What a line of a card comes to, in the few words that stand beside it."""

import re
from collections.abc import Iterator
from typing import Final

from slabwright.figure import Ranged, Standing
from slabwright.formula.component import Component, Ends, Into, Loses
from slabwright.formula.pot import Happening
from slabwright.formula.step import Band, Step
from slabwright.formula.weighed import WeighedLine
from slabwright.publish import words
from slabwright.slab.tin import Tin
from slabwright.spec.card import Keep
from slabwright.spec.specification import (
    CutFigures,
    LayerFigures,
    LineFigures,
    Specification,
)

_PIECE: Final = re.compile(
    r"(?:1|an?|one) (?P<what>.+) as (?P<each>[\d.,]+ (?:g|ml).*)"
)
_GOES: Final = (
    ("bakes off", re.compile(r"\b(?:bak|roast|toast)", re.IGNORECASE)),
    ("boils off", re.compile(r"\b(?:boil|simmer|cook|reduc|caramel)", re.IGNORECASE)),
    ("steams off", re.compile(r"\b(?:heat|stir|warm|melt|whisk)", re.IGNORECASE)),
)
"""Where water goes, by what was done last."""
_FLAT: Final = frozenset(
    "sheet tray paper tools whisk spoon spatula sieve beater knife".split()
)
"""What mix stays on, and not in."""


def tin_words(tin: Tin) -> str:
    """`600 cm², 50 mm deep`: what the drawing is made on."""
    area = f"{tin.area_mm2() / 100:,.4g} cm²"
    if tin.sloping:
        area += " at the base"
    if tin.count > 1:
        area += f" in {tin.count}"
    return area if tin.depth_mm is None else f"{area}, {tin.depth_mm:.4g} mm deep"


def cut_words(cut: CutFigures) -> str:
    """`20 of 58 × 47.5 mm, 75 g`."""
    made = cut.cutting
    said = made.summary
    if made.piece_length_mm is not None and made.piece_width_mm is not None:
        long, wide = (
            words.length(made.piece_length_mm),
            words.length(made.piece_width_mm),
        )
        said = f"{made.pieces} of {long} × {wide} mm"
    mass = cut.piece_mass_g
    return f"{said}, {words.grams(mass.number)} g" if mass.known else said


def keep_words(keep: Keep, raw: str) -> str:
    """How many days, where the card says weeks or months."""
    if keep.days is None:
        return "no number of days"
    days = f"{keep.days:g} day{'' if keep.days == 1 else 's'}"
    return "" if days in raw else days


def layer_words(layer: LayerFigures) -> str:
    """`10.0 mm, 451 g, 32% of the height`; why not, where the depth is not known."""
    depth, mass, share = layer.depth_mm, layer.mass_out_g, layer.share_of_height
    said = [f"{words.mm(depth.number)} mm"] if depth.known else []
    if mass.known:
        said.append(f"{words.grams(mass.number)} g")
    if share.known:
        said.append(f"{words.percent(share.number)} of the height")
    if not depth.known:
        said.append(f"depth not known: {depth.sum}")
    return ", ".join(said)


def slab_words(spec: Specification) -> str:
    """`30.9 mm tall, 1,866 g`, as far as it is known."""
    height, mass = spec.height_mm, spec.mass_g
    said = [f"{words.mm(height.number)} mm tall"] if height.known else []
    said += [f"{words.grams(mass.number)} g"] if mass.known else []
    return ", ".join(said)


def component_words(component: LayerFigures) -> str:
    """What one batch of it gives."""
    out = component.batch_out_g
    return f"{words.grams(out.number)} g a batch" if out.known else out.sum


def line_words(line: LineFigures) -> str:
    """`190 g`, `170 g, taken as unsalted`, `306 g, 51 g each`."""
    weighed, mass = line.weighed, line.mass_g
    if weighed.grams is None:
        return f"not in the slab: {weighed.line.aside}"
    said = [f"{words.grams(mass.number)} g"] if mass.known else ["no weight"]
    same = f" as {said[0]}"  # a pinch as 0.4 g, which is all of it
    assumed = (part for part in _assumed(weighed) if not part.endswith(same))
    said += [*_taken(weighed), *assumed]
    if not mass.known:
        said.append(mass.sum)
    return ", ".join(dict.fromkeys(said))


def _taken(weighed: WeighedLine) -> Iterator[str]:
    """What it was taken for, as far as the line does not say that itself."""
    if weighed.is_unknown and not weighed.line.aside:
        yield "not in the larder"
    taken = weighed.match.taken if weighed.match else ""
    for part in taken.split("; "):
        if not part.startswith("taken as "):
            if part.startswith("read as "):
                yield part
            continue
        name, *rest = part.removeprefix("taken as ").split(", ")
        typed = set(re.findall(r"\w+", weighed.line.name.casefold()))
        new = [w for w in name.split() if w.casefold().strip("(),") not in typed]
        if new:
            yield f"taken as {' '.join(new)}"
        yield from (other for other in rest if not other.startswith("without"))


def _assumed(weighed: WeighedLine) -> Iterator[str]:
    """What a piece, a spoon or a millilitre was taken to weigh."""
    said = weighed.grams.assumed if isinstance(weighed.grams, Ranged) else ""
    for part in filter(None, re.split(r"; |, (?=(?:1|an?|one) )", said)):
        piece = _PIECE.fullmatch(part)
        yield f"{piece['each']} each" if piece and part.startswith("1 ") else part


def is_assumed(line: LineFigures) -> bool:
    """Whether its grams lean on something that nobody has weighed."""
    return line.mass_g.known and line.mass_g.standing is Standing.ASSUMED


def loss_words(happening: Happening, block: Component, event: Ends | Loses) -> str:
    """`54 g bakes off`, `4 g stays in the bowl`."""
    lost = f"{words.grams(happening.lost_g)} g"
    if happening.of == "mix":
        place = (event.place if isinstance(event, Loses) else "") or "bowl"
        lies = "on" if place.casefold().split()[-1] in _FLAT else "in"
        return f"{lost} stays {lies} the {place}"
    done = [s.does for s in block.steps if s.span.line < event.span.line]
    for does in reversed(done):
        for goes, verb in _GOES:
            if verb.search(does):
                return f"{lost} {goes}"
    return f"{lost} of water goes"


def into_words(line: Into, running_g: float | None) -> str:
    """What is in a vessel when the last of its lines has gone in."""
    return (
        "" if running_g is None else f"{words.grams(running_g)} g in the {line.vessel}"
    )


def step_words(step: Step) -> str:
    """`160 °C fan, 20 to 23 min`: figures that were understood, no words again."""
    return ", ".join((*_heat(step), *_time(step), *step.places))


def _heat(step: Step) -> Iterator[str]:
    if step.fan_C is not None:
        yield f"{_band(step.fan_C)} °C fan"
    if step.at_C is not None:
        fan = " fan" if step.fan else ""
        or_ = "or " if step.fan_C is not None else ""
        yield f"{or_}{_band(step.at_C)} °C{fan}"
    if step.to_C is not None:
        low, high = step.to_C.low, step.to_C.high
        yield f"to {low:g} °C" if low == high else f"to {low:g}-{high:g} °C"
    if step.over_C is not None:
        yield f"over {step.over_C:g} °C"
    if step.under_C is not None:
        yield f"under {step.under_C:g} °C"


def _time(step: Step) -> Iterator[str]:
    if step.minutes is not None:
        yield _span_of_time(step.minutes)
    if step.hands_minutes is not None:
        tray = step.hands_a_tray_minutes
        more = f" and {tray:g} a tray" if tray is not None else ""
        yield f"{_band(step.hands_minutes)} min of hands{more}"
    if step.within is not None:
        name, layer = step.within.step, step.within.layer
        after = "".join(f" of {one}" for one in (name, layer) if one)
        yield f"within {step.within.minutes:g} min{after}"
    if step.when is not None:
        layer = step.when.layer or "it"
        yield f"when {layer} is {step.when.side} {step.when.temperature_C:g} °C"


def _span_of_time(minutes: Band) -> str:
    hours = minutes.low >= 120 and minutes.low % 60 == minutes.high % 60 == 0
    if hours:
        return f"{_band(Band(minutes.low / 60, minutes.high / 60))} h"
    return f"{_band(minutes)} min"


def _band(band: Band) -> str:
    if band.low == band.high:
        return f"{band.low:g}"
    return f"{band.low:g} to {band.high:g}"
