"""A scaled slab as the page shows it: tins drawn at one scale, and what to weigh."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import Final

from markupsafe import Markup

from slabwright.desk.scaling import chosen
from slabwright.figure import Figure
from slabwright.finding import Finding
from slabwright.publish import words
from slabwright.publish.draw import drawn
from slabwright.publish.drawing.tins import tins_svg
from slabwright.publish.scaling import findings_of
from slabwright.spec.friendly import FriendlyLine
from slabwright.spec.scaled_choices import Offer, Offers
from slabwright.spec.scaling import InTin, Scaled
from slabwright.spec.specification import LayerFigures, LineFigures, Specification
from slabwright.web.shown import drawing

EXACT: Final = "exact"


@dataclass(frozen=True, slots=True)
class LayerRow:
    """A layer in a tin: by how much, how deep before and after, what goes in."""

    name: str
    by: str
    before: Figure
    after: Figure
    into: Figure
    out: Figure


@dataclass(frozen=True, slots=True)
class TinView:
    """The slab in one kind of tin."""

    place: InTin
    face: Markup
    rows: tuple[LayerRow, ...]
    """The top one first, as they stand."""

    @property
    def spec(self) -> Specification:
        """The slab there."""
        return self.place.spec

    @property
    def said(self) -> str:
        """Its sizes."""
        return self.place.named.tin.describe()

    @property
    def title(self) -> str:
        """What it was asked for as."""
        return self.place.named.words

    @property
    def is_named(self) -> bool:
        """Whether its name says more than its sizes do."""
        plain = self.title.replace("×", "x").split()
        return plain != self.said.replace("×", "x").split()

    @property
    def cut_words(self) -> str:
        """Number and size of the pieces."""
        cut = self.spec.cut
        if cut is None:
            return ""
        made = cut.cutting
        said = words.counted(int(cut.pieces.number), "piece")
        if made.piece_length_mm is None or made.piece_width_mm is None:
            return said
        length, width = made.piece_length_mm, made.piece_width_mm
        return f"{said} of {words.length(length)} × {words.length(width)} mm"


@dataclass(frozen=True, slots=True)
class Cell:
    """What one choice weighs of a line."""

    count: str
    grams: str
    change: str
    """Against its exact grams, in words; empty where it is as good as exact."""
    is_exact: bool = False


@dataclass(frozen=True, slots=True)
class WeighRow:
    """A line to weigh: exactly, and in each choice."""

    name: str
    exact: Figure
    cells: tuple[Cell, ...]
    small_scale: bool


@dataclass(frozen=True, slots=True)
class Block:
    """A layer or component with its lines."""

    name: str
    rows: tuple[WeighRow, ...]


@dataclass(frozen=True, slots=True)
class DoesRow:
    """A figure as each choice has it; the first is the exact one's."""

    name: str
    figures: tuple[Figure | None, ...]
    places: int | None = None
    is_change: bool = False
    """Whether it is more or less than exactly, and says which."""


@dataclass(frozen=True, slots=True)
class Told:
    """A choice in a few words."""

    offer: Offer
    left: tuple[tuple[str, Figure], ...]
    """What is left over, and its grams."""

    @property
    def name(self) -> str:
        """What is counted."""
        return self.offer.choice.name


@dataclass(frozen=True)
class ScaleView:
    """The answer of "Scale and cut"; parts are made when they are asked for."""

    scaled: Scaled
    found: Offers
    choice: str
    """Which amounts are meant: a letter, or `exact`."""

    def __post_init__(self) -> None:
        """Refuse a letter that no choice has: FileError."""
        chosen(self.scaled.making, self.found, self.choice)

    @property
    def letters(self) -> tuple[str, ...]:
        """Every choice, the exact one first."""
        return (EXACT, *(offer.letter for offer in self.found.offers))

    @property
    def letter(self) -> str:
        """The choice that is meant, as `letters` has it."""
        plain = self.choice.strip()
        is_exact = plain.casefold() == EXACT or not self.found.offers
        return EXACT if is_exact else plain.upper()

    @property
    def multiplier(self) -> str:
        """Of everything that goes in."""
        return f"× {self.scaled.multiplier.number:.4g}"

    @property
    def made_for(self) -> str:
        """How it came about, in a few words."""
        tins = " and ".join(one.named.words for one in self.scaled.tins)
        said = f"card {self.multiplier}"
        return f"{said} for {tins}" if self.scaled.wanted.tins and tins else said

    @cached_property
    def tins(self) -> tuple[TinView, ...]:
        """The slab in each kind of tin, all drawn to one scale."""
        places = self.scaled.tins
        was = self.scaled.of.height_mm
        faces = tins_svg(
            [drawn(place.spec) for place in places],
            prefix="tin",
            was_mm=was.number if was.known else None,
        )
        return tuple(
            TinView(place, drawing(face), tuple(_layers(self.scaled, place)))
            for place, face in zip(places, faces, strict=True)
        )

    @property
    def watch(self) -> tuple[Finding, ...]:
        """What scaling brought up."""
        return findings_of(self.scaled)

    @cached_property
    def blocks(self) -> tuple[Block, ...]:
        """What to weigh."""
        by_line = [
            {(x.asked.block, x.asked.line.line.name_span): x for x in o.choice.lines}
            for o in self.found.offers
        ]

        def rows(block: LayerFigures) -> Iterator[WeighRow]:
            for line in block.lines:
                if line.mass_g.known:
                    key = (block.name, line.weighed.line.name_span)
                    cells = tuple(_cell(line, one.get(key)) for one in by_line)
                    yield WeighRow(line.name, line.mass_g, cells, line.small_scale)

        making = self.scaled.making
        return tuple(
            Block(block.name, tuple(rows(block)))
            for block in (*making.layers, *making.components)
            if not block.from_component
        )

    @cached_property
    def does(self) -> tuple[DoesRow, ...]:
        """What each choice does to depth, piece, cost, egg and the formula."""
        return tuple(_does(self.scaled.making, self.found.offers))

    @cached_property
    def told(self) -> tuple[Told, ...]:
        """The choices in words, with what each leaves over."""
        return tuple(
            Told(
                offer,
                tuple(
                    (f"{one.count:.3g} {_one_or_more(one.what, one.count)}", one.grams)
                    for one in offer.choice.left_over
                ),
            )
            for offer in self.found.offers
        )

    @property
    def sentence(self) -> str:
        """What a screen reader is told after a rest."""
        said = [f"{self.multiplier.replace('×', 'Times')}."]
        for one in self.tins:
            height = one.spec.height_mm
            if height.known:
                said.append(f"{one.title}: {words.mm(height.number)} mm tall.")
        return " ".join(said)


def _one_or_more(what: str, count: float) -> str:
    return what.removesuffix("s") if f"{count:.3g}" == "1" else what


def _layers(scaled: Scaled, place: InTin) -> Iterator[LayerRow]:
    rows = zip(scaled.of.layers, place.spec.layers, place.factors, strict=True)
    for was, now, factor in reversed(list(rows)):
        yield LayerRow(
            now.name, f"{factor:.4g}", was.depth_mm, now.depth_mm, now.mass_in_g,
            now.mass_out_g,
        )  # fmt: skip


def _cell(line: LineFigures, one: FriendlyLine | None) -> Cell:
    if one is None:
        return Cell("", _exact(line.mass_g.number), "", is_exact=True)
    change = f"{one.change:+.1%}" if abs(one.change) >= 0.0005 else ""
    count = "" if one.count is None else str(one.count)
    grams = f"{one.grams:g}" if count else f"{one.grams:,g}"
    return Cell(count, grams, change)


def _exact(grams: float) -> str:
    """Grams as exactly as the terminal gives them.

    >>> _exact(1234.56), _exact(5.764)
    ('1,234.6', '5.76')
    """
    return f"{grams:,.1f}" if grams >= 10 else f"{grams:.2f}"


def _does(making: Specification, offers: tuple[Offer, ...]) -> Iterator[DoesRow]:
    specs = (making, *(offer.spec for offer in offers))
    for number in reversed(range(len(making.layers))):
        depths = tuple(spec.layers[number].depth_mm for spec in specs)
        if all(depth.known for depth in depths):
            yield DoesRow(making.layers[number].name, depths)
    rows: tuple[tuple[str, Callable[[Specification], Figure | None], int | None], ...]
    rows = (
        ("slab", lambda spec: spec.height_mm, None),
        ("finished", lambda spec: spec.mass_g, None),
        ("a piece", lambda spec: spec.cut.piece_mass_g if spec.cut else None, 1),
        ("ingredients", lambda spec: spec.cost.ingredients if spec.cost else None,
         None),
    )  # fmt: skip
    for name, figure, places in rows:
        found = tuple(_known(figure(spec)) for spec in specs)
        if any(found):
            yield DoesRow(name, found, places)
    eggs = tuple(offer.choice.egg_change for offer in offers)
    if any(eggs):
        yield DoesRow("egg", (None, *eggs), is_change=True)
    if offers:
        off = tuple(offer.choice.distortion for offer in offers)
        yield DoesRow("off the formula", (None, *off))


def _known(figure: Figure | None) -> Figure | None:
    return figure if figure is not None and figure.known else None
