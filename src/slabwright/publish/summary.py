"""The counter at a glance: every slab in a few lines."""

import textwrap
from collections.abc import Callable, Iterator, Sequence

from slabwright.kitchen import Kitchen
from slabwright.publish import words
from slabwright.publish.draw import drawn
from slabwright.publish.drawing.blocks import blocks
from slabwright.spec.specification import LayerFigures, Specification


def summary_text(
    specs: Sequence[Specification],
    kitchen: Kitchen,
    columns: int = 80,
    bold: Callable[[str], str] = str,
) -> str:
    """Every slab: its cut face, its layers, its pieces, what to watch."""
    lines = [bold(kitchen.name or "Your slabs"), ""]
    for spec in specs:
        lines.extend(_slab(spec, columns, bold))
        lines.append("")
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _slab(
    spec: Specification, columns: int, bold: Callable[[str], str]
) -> Iterator[str]:
    facts = [spec.tin.describe() if spec.tin else "no tin"]
    if spec.height_mm.known:
        facts.append(f"{words.mm(spec.height_mm.number)} mm tall")
    if spec.mass_g.known:
        facts.append(f"{words.grams(spec.mass_g.number)} g")
    yield f"{bold(spec.name)}   {'   '.join(facts)}"
    yield from blocks(drawn(spec), columns=columns).rstrip("\n").split("\n")
    for layer in reversed(spec.layers):
        yield from textwrap.wrap(
            _layer(layer), columns, initial_indent="  ", subsequent_indent="    "
        )
    yield from textwrap.wrap(_pieces(spec), columns, initial_indent="  ",
                             subsequent_indent="    ")  # fmt: skip
    yield f"  Watch: {words.to_watch([one.finding for one in spec.told])}"


def _layer(layer: LayerFigures) -> str:
    facts = [f"{words.grams(layer.mass_in_g.number)} g in"]
    if layer.mass_out_g.known:
        facts.append(f"{words.grams(layer.mass_out_g.number)} g out")
    for name, figure in (
        ("water", layer.water_share),
        ("fat", layer.fat_share),
        ("sugars", layer.sugars_share),
    ):
        if figure.known:
            facts.append(f"{name} {words.percent(figure.number)}")
    return f"{layer.name}: {', '.join(facts)}"


def _pieces(spec: Specification) -> str:
    if spec.cut is None:
        return "not cut"
    cut = spec.cut
    parts = [f"{cut.cutting.pieces} pieces"]
    if cut.piece_mass_g.known:
        parts.append(f"of {words.grams(cut.piece_mass_g.number)} g")
    if cut.piece_length_mm and cut.piece_width_mm:
        length, width = cut.piece_length_mm.number, cut.piece_width_mm.number
        parts.append(f"({words.length(length)} × {words.length(width)} mm)")
    cost = spec.cost
    if cost and cost.ingredients_per_piece and cost.ingredients_per_piece.known:
        each = words.money(cost.ingredients_per_piece.value, cost.currency)
        parts.append(f"- ingredients {each} a piece")
    return " ".join(parts)
