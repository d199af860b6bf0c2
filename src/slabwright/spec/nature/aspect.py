"""One side of what a layer is like: figures, words with their band, and curves."""

from dataclasses import dataclass

from slabwright.figure import Figure, Standing
from slabwright.finding import Finding
from slabwright.source import Source


@dataclass(frozen=True, slots=True)
class Named:
    """A figure with the name that programs know it by, and what people read.

    The name holds the unit, as `boiling_point_C`; a plain share or ratio has none.
    """

    name: str
    label: str
    figure: Figure


@dataclass(frozen=True, slots=True)
class Classed:
    """What isn't known well enough for a number: a word, with the rule that gave it."""

    name: str
    label: str
    word: str
    """The class: `chewy`, `grains`, `assess`."""
    why: str
    """The rule and its numbers, in one line."""
    words: tuple[str, ...] = ()
    """Every class there is, in order, so that a person sees where this one stands."""
    standing: Standing = Standing.WORKED_OUT
    sources: tuple[Source, ...] = ()


@dataclass(frozen=True, slots=True)
class Curve:
    """One line of a drawing, with its band."""

    label: str
    x: tuple[float, ...]
    y: tuple[float, ...]
    low: tuple[float, ...] = ()
    high: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Mark:
    """A point on a drawing: you are here."""

    label: str
    x: float
    y: float


@dataclass(frozen=True, slots=True)
class Chart:
    """Something that one would rather look at than read."""

    name: str
    title: str
    x_label: str
    """With its unit."""
    y_label: str
    curves: tuple[Curve, ...]
    marks: tuple[Mark, ...] = ()
    words: str = ""
    """The same in words, for who can't see it."""


@dataclass(frozen=True, slots=True)
class Aspect:
    """One side of a layer."""

    name: str
    title: str
    figures: tuple[Named, ...] = ()
    classes: tuple[Classed, ...] = ()
    notes: tuple[str, ...] = ()
    charts: tuple[Chart, ...] = ()
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True, slots=True)
class LayerNature:
    """What one layer is like."""

    layer: str
    number: int | None
    """From the bottom, from 0; None for a component that lies in no slab."""
    aspects: tuple[Aspect, ...]

    def aspect(self, name: str) -> Aspect | None:
        """The aspect of this name, if the layer has it."""
        return next((one for one in self.aspects if one.name == name), None)

    def figure(self, name: str) -> Figure | None:
        """The figure of this name, whichever aspect it belongs to."""
        for aspect in self.aspects:
            for one in aspect.figures:
                if one.name == name:
                    return one.figure
        return None


@dataclass(frozen=True, slots=True)
class Touching:
    """What happens where two layers touch."""

    lower: str
    upper: str
    figures: tuple[Named, ...] = ()
    classes: tuple[Classed, ...] = ()
    findings: tuple[Finding, ...] = ()
