"""Friendly amounts side by side, as text."""

import textwrap
from collections.abc import Callable, Iterator, Sequence

from slabwright.publish import words
from slabwright.publish.terminal import Manner
from slabwright.spec.friendly import FriendlyLine
from slabwright.spec.scaled_choices import Offer, Offers
from slabwright.spec.specification import Specification

_COLUMN = 10


def offers_text(making: Specification, found: Offers, manner: Manner) -> str:
    """What to weigh: exactly, and in the best few ways that a person can."""
    parts = [
        *_weigh(making, found.offers, manner),
        *_does(making, found.offers, manner),
        *_named(found.offers, manner),
        *_unmet(found, manner),
    ]
    return "\n".join(line.rstrip() for line in parts) + "\n"


def _row(name: str, cells: Sequence[str], width: int, inset: str = "  ") -> str:
    short = textwrap.shorten(name, width - len(inset) - 1, placeholder="…")
    return f"{inset}{short:<{width - len(inset)}}" + "".join(
        f"{cell:>{_COLUMN}}" for cell in cells
    )


def _width(offers: Sequence[Offer], manner: Manner) -> int:
    return max(24, manner.columns - _COLUMN * (len(offers) + 1))


def _weigh(
    making: Specification, offers: Sequence[Offer], manner: Manner
) -> Iterator[str]:
    width = _width(offers, manner)
    heads = ["exact", *(offer.letter for offer in offers)]
    yield ""
    yield manner.bold("Weigh, g") + _row("", heads, width - 8, "")
    by_line = [
        {
            (one.asked.block, one.asked.line.line.name_span): one
            for one in offer.choice.lines
        }
        for offer in offers
    ]
    for block in (*making.layers, *making.components):
        if block.from_component:
            continue
        yield f"  {manner.bold(block.name)}"
        for line in block.lines:
            if not line.mass_g.known:
                continue
            key = (block.name, line.weighed.line.name_span)
            chosen = [found.get(key) for found in by_line]
            exact = _exact(line.mass_g.number)
            cells = [exact, *(_cell(one, exact) for one in chosen)]
            yield _row(line.name, cells, width, "    ")


def _exact(grams: float) -> str:
    return f"{grams:,.1f}" if grams >= 10 else f"{grams:.2f}"


def _cell(line: FriendlyLine | None, exact: str) -> str:
    if line is None:
        return exact
    if line.count is not None:
        return f"{line.count} = {line.grams:g}"
    return f"{line.grams:,g}"


def _does(
    making: Specification, offers: Sequence[Offer], manner: Manner
) -> Iterator[str]:
    """What each choice does to depth, piece, cost and egg."""
    width = _width(offers, manner)
    specs = [making, *(offer.spec for offer in offers)]
    yield ""
    yield manner.bold("What it does")
    for number in reversed(range(len(making.layers))):
        depths = [spec.layers[number].depth_mm for spec in specs]
        if all(depth.known for depth in depths):
            cells = [words.mm(depth.number) for depth in depths]
            yield _row(f"{making.layers[number].name}, mm", cells, width)
    rows: tuple[tuple[str, Callable[[Specification], str]], ...] = (
        ("slab, mm", lambda spec: _known(spec, "height_mm", words.mm)),
        ("finished, g", lambda spec: _known(spec, "mass_g", words.grams)),
        ("a piece, g", _piece),
        (f"ingredients, {words.sign_of(making.kitchen.currency)}", _cost),
    )
    for name, cell in rows:
        cells = [cell(spec) for spec in specs]
        if any(cells):
            yield _row(name, cells, width)
    eggs = [offer.choice.egg_change for offer in offers]
    if any(eggs):
        shown = [f"{egg.number:+.1%}" if egg else "" for egg in eggs]
        yield _row("egg", ["", *shown], width)
    off = [f"{offer.choice.distortion.number:.1%}" for offer in offers]
    yield _row("off the formula", ["", *off], width)


def _known(spec: Specification, name: str, shown: Callable[[float], str]) -> str:
    figure = getattr(spec, name)
    return shown(figure.number) if figure.known else ""


def _piece(spec: Specification) -> str:
    if spec.cut is None or not spec.cut.piece_mass_g.known:
        return ""
    return f"{spec.cut.piece_mass_g.number:.1f}"


def _cost(spec: Specification) -> str:
    return words.bare_money(spec.cost.ingredients.value) if spec.cost else ""


def _named(offers: Sequence[Offer], manner: Manner) -> Iterator[str]:
    yield ""
    for offer in offers:
        choice = offer.choice
        text = f"{offer.letter}  {choice.name}"
        left = [
            f"{one.count:.3g} "
            f"{one.what.removesuffix('s') if f'{one.count:.3g}' == '1' else one.what} "
            f"(about {words.grams(one.grams.number)} g)"
            for one in choice.left_over
        ]
        text += f"; left over: {', '.join(left)}" if left else ""
        yield from textwrap.wrap(text, manner.columns, initial_indent="  ",
                                 subsequent_indent="     ")  # fmt: skip
    if offers:
        text = (
            "Off the formula: grams off a layer's own proportions, as a share of the "
            "layer; salt, setting and raising agents five times over; and its change "
            "of depth. Layers are added up."
        )
        yield from textwrap.wrap(text, manner.columns, initial_indent="  ",
                                 subsequent_indent="  ")  # fmt: skip


def _unmet(found: Offers, manner: Manner) -> Iterator[str]:
    for finding in found.findings:
        yield from textwrap.wrap(
            f"{finding.where}: {finding.what} {finding.do}", manner.columns
        )
