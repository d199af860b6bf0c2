"""What each layer will be, as its page shows it: figures that open, scales, charts."""

import json
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import Any, Final

from markupsafe import Markup

from slabwright.publish.draw import drawn
from slabwright.publish.drawing.chart import chart_svg
from slabwright.publish.drawing.section import section_svg
from slabwright.publish.drawing.strips import Guide, Strip, strips_svg
from slabwright.publish.nature_words import brief, likely_words
from slabwright.spec.nature.aspect import Aspect, Chart, Classed, Named, Touching
from slabwright.spec.nature.sheet import LayerSheet, Natured
from slabwright.spec.told import told
from slabwright.web.desk_rows import Watched, watched
from slabwright.web.shown import drawing, figure_markup, standing_markup

GUIDES: Final = (Guide("fridge", 4.0), Guide("room", 20.0), Guide("mouth", 35.0))
"""How warm a layer is in each, °C. Common practice, no source."""
_BUTTON: Final = Markup(
    '<button type="button" class="fig word-b" aria-haspopup="dialog"'
    ' data-figure="{}">{}{}</button>'
)


@dataclass(frozen=True, slots=True)
class FigureRow:
    """A figure of a layer, and the same of the layer that it is held against."""

    label: str
    figure: Markup
    likely: str
    why_not: str
    """Why it is not known; empty if it is."""
    beside: Markup | None


@dataclass(frozen=True, slots=True)
class ClassRow:
    """A class, with the scale on which it stands."""

    one: Classed
    name: str
    beside: str

    @property
    def opens(self) -> Markup:
        """The word as a button: its rule, its sources."""
        form: dict[str, Any] = {
            "name": self.name,
            "value": self.one.word,
            "unit": "",
            "sum": self.one.why,
            "standing": str(self.one.standing),
            "known": True,
            "sources": [f"{s.text} ({s.seen.value})" for s in self.one.sources],
        }
        if self.one.words:
            form["words"] = ", ".join(self.one.words)
        opened = json.dumps(form, ensure_ascii=False)
        mark = standing_markup(self.one.standing)
        return _BUTTON.format(opened, self.one.word, mark)

    @property
    def bands(self) -> tuple[tuple[str, bool], ...]:
        """Every class in order, and whether it is this one; empty without an order."""
        words = self.one.words
        if self.one.word not in words or len(words) < 2:
            return ()
        return tuple((word, word == self.one.word) for word in words)


@dataclass(frozen=True, slots=True)
class ChartView:
    """A chart, drawn."""

    title: str
    drawing: Markup


@dataclass(frozen=True, slots=True)
class AspectView:
    """One side of a layer."""

    title: str
    figures: tuple[FigureRow, ...]
    classes: tuple[ClassRow, ...]
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Block:
    """A layer with all its sides, and how it lies on the one below."""

    key: str
    name: str
    kind: str
    brief: str
    beside: str
    """The layer that it is held against."""
    is_apart: bool
    """Whether it is a component that lies in no slab by itself."""
    aspects: tuple[AspectView, ...]
    charts: tuple[ChartView, ...]
    silent: tuple[str, ...]
    """Sides that only say why they tell nothing, with their titles."""
    below: str
    """The layer that it lies on; empty for the lowest."""
    touching: tuple[AspectView, ...]


@dataclass(frozen=True)
class LayersView:
    """All that was asked of a slab's layers."""

    sheet: LayerSheet

    @property
    def section(self) -> Markup | None:
        """The section, as the key to the page."""
        if not self.sheet.spec.layers:
            return None
        slab = drawn(self.sheet.spec)
        return drawing(section_svg(slab, theme="page", prefix="section", compact=True))

    @cached_property
    def blocks(self) -> tuple[Block, ...]:
        """Layers as they lie, top first, then components."""
        lying = [one for one in self.sheet.natured if one.nature.number is not None]
        apart = [one for one in self.sheet.natured if one.nature.number is None]
        return tuple(
            self._block(one, f"layer-{at}")
            for at, one in enumerate([*reversed(lying), *apart])
        )

    @cached_property
    def together(self) -> tuple[ChartView, ...]:
        """Charts that several layers have: strips over one axis, top first."""
        return tuple(
            ChartView(
                strips[0].chart.title,
                drawing(
                    strips_svg(
                        strips,
                        prefix=f"strips-{at}",
                        title=f"{strips[0].chart.title}, layer by layer",
                        guides=GUIDES if "°C" in strips[0].chart.x_label else (),
                    )
                ),
            )
            for at, strips in enumerate(self._shared.values())
        )

    @cached_property
    def watch(self) -> tuple[tuple[int, Watched], ...]:
        """What to watch of the layers, by the numbers that the drawing has."""
        numbers = {id(finding): number for number, finding in self.sheet.findings}
        findings = [finding for _, finding in self.sheet.findings]
        every = told(findings, self.sheet.spec.layer_names)
        at = (numbers[id(one.finding)] for one in every)
        return tuple(zip(at, watched(every), strict=True))

    @cached_property
    def _shared(self) -> dict[str, list[Strip]]:
        """Charts without marks that two layers or more of the slab have alike."""
        found: dict[str, list[Strip]] = {}
        marked: set[str] = set()
        for one in reversed(self.sheet.natured):
            if one.nature.number is None:
                continue
            for chart in _charts(one):
                found.setdefault(chart.name, []).append(Strip(one.name, chart))
                if chart.marks or chart.x_label != found[chart.name][0].chart.x_label:
                    marked.add(chart.name)
        return {
            name: strips
            for name, strips in found.items()
            if len(strips) > 1 and name not in marked
        }

    def _block(self, one: Natured, key: str) -> Block:
        twin = self.sheet.twin(one)
        number = one.nature.number
        below = ""
        pairs: list[Touching] = []
        if number:
            below = self.sheet.spec.layers[number - 1].name
            pairs = [
                pair
                for pair in self.sheet.touching
                if pair.upper == one.name and pair.lower == below
            ]
        return Block(
            key, one.name, one.layer.kind, brief(one.nature), twin.name if twin else "",
            number is None,
            tuple(
                self._aspect(
                    aspect, twin.nature.aspect(aspect.name) if twin else None, one.name
                )
                for aspect in one.nature.aspects
                if aspect.figures or aspect.classes
            ),
            tuple(self._charts(one, key)),
            tuple(
                f"{aspect.title}: {note}"
                for aspect in one.nature.aspects
                if not (aspect.figures or aspect.classes)
                for note in self._own(aspect)
            ),
            below,
            tuple(
                AspectView(
                    "",
                    tuple(_figures(pair.figures, {}, f"{one.name} on {below}")),
                    tuple(_classes(pair.classes, {}, f"{one.name} on {below}")),
                    (),
                )
                for pair in pairs
            ),
        )  # fmt: skip

    def _aspect(self, aspect: Aspect, other: Aspect | None, layer: str) -> AspectView:
        figures = {one.name: one for one in other.figures} if other else {}
        classes = {one.name: one for one in other.classes} if other else {}
        return AspectView(
            aspect.title,
            tuple(_figures(aspect.figures, figures, layer)),
            tuple(_classes(aspect.classes, classes, layer)),
            self._own(aspect),
        )

    def _own(self, aspect: Aspect) -> tuple[str, ...]:
        """Notes of one layer alone; what several have is told once."""
        return tuple(note for note in aspect.notes if note not in self.sheet.common)

    def _charts(self, one: Natured, key: str) -> Iterator[ChartView]:
        """Charts of this layer alone; those that others have too are drawn below."""
        for at, chart in enumerate(_charts(one)):
            if one.nature.number is None or chart.name not in self._shared:
                svg = chart_svg(chart, prefix=f"{key}-{at}")
                yield ChartView(chart.title, drawing(svg))


def _charts(one: Natured) -> Iterator[Chart]:
    for aspect in one.nature.aspects:
        yield from aspect.charts


def _figures(
    named: tuple[Named, ...], others: dict[str, Named], layer: str
) -> Iterator[FigureRow]:
    for one in named:
        other = others.get(one.name)
        yield FigureRow(
            one.label,
            figure_markup(one.figure, f"{one.label}, {layer}"),
            likely_words(one.figure),
            "" if one.figure.known else one.figure.sum,
            figure_markup(other.figure, f"{one.label}, beside", quiet=True)
            if other
            else None,
        )


def _classes(
    classes: tuple[Classed, ...], others: dict[str, Classed], layer: str
) -> Iterator[ClassRow]:
    for one in classes:
        other = others.get(one.name)
        yield ClassRow(one, f"{one.label}, {layer}", other.word if other else "")
