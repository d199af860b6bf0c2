"""What to look out for in a slab's build."""

from collections.abc import Iterator, Sequence
from typing import Final

from slabwright.finding import Finding, Severity
from slabwright.slab.stack import Stacked
from slabwright.slab.tin import Tin

LEADS_SHARE: Final = 0.6
"""A layer over this share of the height is all that one tastes. Common practice."""
_PRACTICE: Final = "common practice, no source"
_ROUNDING_MM: Final = 0.05


def findings(
    name: str, layers: Sequence[Stacked], tin: Tin | None
) -> Iterator[Finding]:
    """Everything about this build that its maker should know."""
    depths = [layer.depth.value for layer in layers if layer.depth]
    height_mm = sum(depths)
    rim_mm = tin.depth_mm if tin else None
    if rim_mm is not None and height_mm > rim_mm + _ROUNDING_MM:
        over_mm = height_mm - rim_mm
        yield Finding(
            "over_rim", Severity.STOP, name,
            f"The slab stands {over_mm:.1f} mm above the tin's rim.",
            "Nothing holds the edge of a layer above the rim.",
            "Use a deeper tin or a frame, or make less of it.", "geometry",
        )  # fmt: skip
    for number, layer in enumerate(layers):
        yield from _thin(number, layer)
        yield from _density(number, layer)
    whole = len(depths) == len(layers) and len(layers) > 1
    for number, layer in enumerate(layers):
        if whole and layer.depth and layer.depth.value > LEADS_SHARE * height_mm:
            share = layer.depth.value / height_mm
            yield Finding(
                "one_layer_leads", Severity.NOTE, layer.name,
                f"{layer.name} is {share:.0%} of the height.",
                f"Over {LEADS_SHARE:.0%} one layer is most of every bite.",
                "Make less of it, or more of the others, unless it is meant to lead.",
                _PRACTICE, layer=number,
            )  # fmt: skip


def _thin(number: int, layer: Stacked) -> Iterator[Finding]:
    thin_mm = layer.batch.kind.thin_mm
    if layer.depth is None or layer.depth.value >= thin_mm:
        return
    yield Finding(
        "too_thin", Severity.LOOK, layer.name,
        f"The layer is {layer.depth.value:.1f} mm deep.",
        f"Under {thin_mm:g} mm a {layer.batch.kind.name} drags, tears or breaks.",
        "Make more of it, or take a smaller tin.", _PRACTICE, layer=number,
    )  # fmt: skip


def _density(number: int, layer: Stacked) -> Iterator[Finding]:
    said, batch = layer.batch.component, layer.batch
    if batch.lines and batch.density is None and batch.deep is None:
        low, high = layer.density.low, layer.density.high
        yield Finding(
            "density_assumed", Severity.NOTE, layer.name,
            f"Its density is assumed: {layer.density.sum}.",
            f"Likely {low:.3g} to {high:.3g} g/ml, and the depth with it.",
            "Measure the set layer once with a ruler and write: deep N mm.",
            "; ".join(source.text for source in layer.density.sources),
            span=said.span, layer=number,
        )  # fmt: skip
    if layer.said_density is not None:
        yield Finding(
            "density_differs", Severity.LOOK, layer.name,
            f"The measured depth gives {layer.density.value:.3g} g/ml, the card says "
            f"{layer.said_density:g} g/ml.",
            "They are over 5 % apart; the measured one is used.",
            "Measure again, or mend the density.",
            span=layer.batch.density.span if layer.batch.density else said.span,
            layer=number,
        )  # fmt: skip
