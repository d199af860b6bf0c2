"""The specification as text for a terminal: fine to read at 80 columns, and wide."""

import textwrap
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from slabwright.figure import Standing
from slabwright.finding import Finding, Severity
from slabwright.publish import words
from slabwright.publish.drawing.blocks import blocks
from slabwright.publish.drawing.drawn import DrawnSlab
from slabwright.publish.nature_words import brief
from slabwright.spec.specification import (
    CutFigures,
    LayerFigures,
    LineFigures,
    Specification,
)
from slabwright.spec.told import told
from slabwright.spec.vessel_use import VesselUse

NARROWEST, WIDEST = 40, 200


@dataclass(frozen=True, slots=True)
class Manner:
    """How the text is set."""

    columns: int = 80
    plain: bool = False
    """Letters in place of block characters."""
    full: bool = False
    """What every layer is made of, too."""
    bold: Callable[[str], str] = str
    """How a heading is made to stand out; as it is, without colour."""


def spec_text(spec: Specification, drawn: DrawnSlab, manner: Manner) -> str:
    """Everything that was worked out, as text."""
    parts = [
        *_head(spec, manner),
        *_drawing(spec, drawn, manner),
        *_weigh(spec, manner),
        *(_made_of(spec, manner) if manner.full else ()),
        *_natures(spec, manner),
        *_after(spec, manner),
        *watch_text(spec.findings, manner, layers=spec.layer_names),
        *_asks(spec, manner),
        *_foot(spec),
    ]
    return "\n".join(line.rstrip() for line in parts) + "\n"


def _head(spec: Specification, manner: Manner) -> Iterator[str]:
    proved = f"proved {spec.card.proved}" if spec.card.proved else "not proved"
    if spec.card.is_pasted:
        proved = "as pasted"
    gap = max(2, manner.columns - len(spec.name) - len(proved))
    yield manner.bold(spec.name) + " " * gap + proved
    facts = [f"tin {spec.tin.describe()}" if spec.tin else "no tin"]
    if spec.mass_g.known:
        facts.append(f"slab {words.grams(spec.mass_g.number)} g")
    if spec.height_mm.known:
        facts.append(f"{words.mm(spec.height_mm.number)} mm tall")
    if spec.head_room_mm.known:
        facts.append(f"head room {words.mm(spec.head_room_mm.number)} mm")
    yield from textwrap.wrap("   ".join(facts), manner.columns)
    for note in spec.card.notes:
        yield from textwrap.wrap(note, manner.columns)


def _drawing(spec: Specification, drawn: DrawnSlab, manner: Manner) -> Iterator[str]:
    if not spec.layers:
        return
    yield ""
    columns = min(max(manner.columns, NARROWEST), WIDEST)
    yield blocks(drawn, columns=columns, plain=manner.plain).rstrip("\n")


def _weigh(spec: Specification, manner: Manner) -> Iterator[str]:
    shown = [*spec.layers, *spec.components]
    if not any(layer.lines for layer in shown):
        return
    has_cost = spec.cost is not None
    name_width = max(16, manner.columns - 50)
    sign = words.sign_of(spec.kitchen.currency)
    yield ""
    yield (
        f"{manner.bold('Weigh')}{'':<{name_width - 3}}{'g':>8}{'scale reads':>15}"
        f"{'share':>10}{(sign if has_cost else ''):>10}"
    )
    for layer in shown:
        yield f"  {manner.bold(layer.name)}"
        yield from textwrap.wrap(
            _balance(layer), manner.columns, initial_indent="    ",
            subsequent_indent="    ",
        )  # fmt: skip
        vessel = ""
        for line in layer.lines:
            if line.vessel != vessel:
                vessel = line.vessel
                yield f"    into {vessel}"
            yield from _line(line, name_width)


def _balance(layer: LayerFigures) -> str:
    into = f"{words.grams(layer.mass_in_g.number)} g in"
    if layer.batch_out_g.known:
        out = f"{words.grams(layer.batch_out_g.number)} g out"
        if layer.lost_g.known:
            out += f" ({words.grams(layer.lost_g.number)} g goes)"
    else:
        out = f"what comes out is withheld: {layer.batch_out_g.sum}"
    base = f"; shares on {layer.percent_base}" if layer.percent_base else ""
    return f"{into}, {out}{base}"


def _line(line: LineFigures, width: int) -> Iterator[str]:
    name = textwrap.shorten(line.name, width - 1, placeholder="…")
    mass = words.grams(line.mass_g.number) if line.mass_g.known else "-"
    reads = words.grams(line.running_g) if line.running_g is not None else "-"
    reads = "small scale" if line.small_scale else reads
    share = line.bakers_share or line.share_of_total
    shown = words.percent(share.number, 1) if share.known else "-"
    cost = ""
    if line.cost is not None and line.cost.known:
        cost = words.bare_money(line.cost.value)
    lean = line.mass_g.standing is Standing.ASSUMED and line.mass_g.known
    tail = " ?" if lean else "  "
    yield f"    {name:<{width}}{mass:>8}{tail}{reads:>13}{shown:>10}{cost:>10}"


def _made_of(spec: Specification, manner: Manner) -> Iterator[str]:
    yield ""
    yield manner.bold("Made of") + ", after cooking"
    for layer in (*spec.layers, *spec.components):
        if layer.composition:
            parts = (
                f"{name.replace('_', ' ')} {words.percent(figure.number, 1)}"
                for name, figure in layer.composition.items()
            )
            text = f"{layer.name}: {', '.join(parts)}"
        else:
            text = f"{layer.name}: withheld, since {layer.water_share.sum}"
        yield from textwrap.wrap(
            text, manner.columns, initial_indent="  ", subsequent_indent="    "
        )


def _natures(spec: Specification, manner: Manner) -> Iterator[str]:
    """What matters most of each layer, in a line."""
    told = [(one.layer, said) for one in spec.natures if (said := brief(one))]
    if not told:
        return
    yield ""
    yield manner.bold("What each layer will be") + "; more: slabwright layers CARD"
    for name, said in told:
        yield from textwrap.wrap(
            f"{name}: {said}", manner.columns, initial_indent="  ",
            subsequent_indent="    ",
        )  # fmt: skip


def _after(spec: Specification, manner: Manner) -> Iterator[str]:
    rows: list[tuple[str, str]] = []
    for cut in (spec.cut, *spec.other_cuts):
        if cut is not None:
            rows.extend(_cut_rows(cut))
    rows.extend(("Kit", _kit(use)) for use in spec.kit if use.mix != "plain")
    rows.extend(
        ("Kit", f"{one.tins} tins in {one.loads.number:g} loads of the {one.place}")
        for one in spec.places
        if one.loads.known and one.loads.number > 1
    )
    if spec.cost is not None:
        rows.append(("Costs", _cost(spec)))
    if spec.card.sold is not None:
        price = spec.card.sold.price
        asked = f", {words.money(price, spec.kitchen.currency)}" if price else ""
        rows.append(("Sold", f"{spec.card.sold.how}{asked}"))
    rows.extend(("Keeps", f"{keep.text}, says the card") for keep in spec.card.keeps)
    if rows:
        yield ""
    last = ""
    for head, text in rows:
        shown = head if head != last else ""
        last = head
        lines = textwrap.wrap(text, max(30, manner.columns - 8))
        for number, line in enumerate(lines):
            title = shown if number == 0 else ""
            yield f"{manner.bold(title) if title else ''}{'':<{8 - len(title)}}{line}"


def _kit(use: VesselUse) -> str:
    """How far a boil or a foam rises in its vessel."""
    filled, rises = use.filled_ml.number / 1000, use.rises_to_ml.number / 1000
    said = f"{use.layer}: {filled:.1f} l in the {use.vessel}, may rise to {rises:.1f} l"
    if use.holds_ml.known:
        said += f" of {use.holds_ml.number / 1000:g} l"
    if use.mixings.known and use.mixings.number > 1:
        said += f"; in {use.mixings.number:g} goes"
    return said


def _cut_rows(cut: CutFigures) -> Iterator[tuple[str, str]]:
    made = cut.cutting
    where = f" in {cut.tin_name}" if cut.tin_name else ""
    size = f"{made.summary}{where}"
    trim = f"; trim {words.grams(cut.trim_g.number)} g" if cut.trim_g.known else ""
    yield "Cut", size + trim
    if made.cuts_along_mm:
        along = "  ".join(words.length(at) for at in made.cuts_along_mm)
        yield "Cut", f"along   {along}"
    if made.cuts_across_mm:
        across = "  ".join(words.length(at) for at in made.cuts_across_mm)
        yield "Cut", f"across  {across}"
    if made.more:
        yield "Cut", made.more
    if cut.piece_mass_g.known:
        piece = words.grams(cut.piece_mass_g.number)
        yield "Piece", words.short(cut.piece_mass_g, f"{piece} g") + where


def _cost(spec: Specification) -> str:
    cost = spec.cost
    if cost is None:
        return ""
    text = f"ingredients {words.money(cost.ingredients.value, cost.currency)}"
    if cost.ingredients_per_piece is not None:
        each = words.money(cost.ingredients_per_piece.value, cost.currency)
        text += f", {each} a piece with its share of the trim"
    if cost.missing:
        text += f"; without {', '.join(cost.missing)}: no price"
    return text


def watch_text(
    findings: Sequence[Finding],
    manner: Manner,
    numbers: Sequence[int] = (),
    layers: Sequence[str] = (),
) -> Iterator[str]:
    """What to watch, numbered; what to do about it where it is no mere note.

    Args:
        findings: in the order in which they stand.
        manner: how the text is set.
        numbers: of each, where they are some of many; from 1 if none are said.
        layers: names of the slab's layers; what holds for several is told once.
    """
    if not findings:
        return
    yield ""
    yield manner.bold("Watch")
    counted = {id(f): n for f, n in zip(findings, numbers, strict=bool(numbers))}
    for one in told(findings, layers):
        finding, number = one.finding, counted.get(id(one.finding), one.number)
        word = finding.severity.value
        word = word.upper() if finding.severity is not Severity.NOTE else word
        head = f"  {word:<5} {number:>2}  "
        lines = textwrap.wrap(
            f"{one.where}: {finding.what}", max(30, manner.columns - len(head))
        )
        yield head + lines[0]
        yield from (f"{'':<{len(head)}}{line}" for line in lines[1:])
        if finding.severity is not Severity.NOTE:
            for line in textwrap.wrap(finding.do, max(30, manner.columns - 13)):
                yield f"{'':<{len(head)}}{line}"


def _asks(spec: Specification, manner: Manner) -> Iterator[str]:
    if not spec.asks:
        return
    yield ""
    yield manner.bold("Asks")
    for ask in spec.asks:
        readings = "; or ".join(f"{r.text} ({r.does})" for r in ask.readings)
        text = f"{ask.where}: {ask.question}" + (f" {readings}." if readings else "")
        yield from textwrap.wrap(
            text, manner.columns, initial_indent="  ", subsequent_indent="    "
        )


def _foot(spec: Specification) -> Iterator[str]:
    figures = [f for layer in spec.layers for f in (layer.depth_mm, layer.mass_out_g)]
    known = [figure.standing for figure in figures if figure.known]
    yield ""
    yield "[?] assumed   [ ] worked out   [=] measured   ? after a weight: assumed"
    if known and len(set(known)) == 1:
        yield f"Depths and weights here are {words.mark(known[0])} {known[0].value}."
    yield "Any figure opens:  slabwright why CARD FIGURE"
