"""What the drawing room is handed: the layers, tin and cut of a slab as plain sizes."""

from collections.abc import Iterator
from dataclasses import dataclass, fields
from math import inf

from slabwright.errors import GeometryError, Mistake
from slabwright.finding import Severity

NOMINAL_MM = 10.0
"""A layer whose depth is not known is drawn this deep, in broken lines."""


@dataclass(frozen=True, slots=True)
class Mark:
    """The number of a finding, drawn on the layer that it is about."""

    layer: int
    """From the bottom, from 0."""
    severity: Severity
    number: int


@dataclass(frozen=True, slots=True)
class DrawnLayer:
    """One layer as it is to be drawn."""

    name: str
    texture: str
    """A name in `textures.TEXTURES`; any other is drawn plain."""
    depth_mm: float | None
    """None where it is not known: a broken outline, and the words."""
    low_mm: float | None = None
    """Likely range of the depth, drawn as a thin bar where both ends are given."""
    high_mm: float | None = None
    fill: str | None = None
    """A colour of `colours.csv`; the texture's own if None or not there."""
    assumed: bool = False
    """Whether the depth is assumed: it gets the mark of an assumed figure."""

    def __post_init__(self) -> None:
        _check(self, f"layer '{self.name}'", ("depth_mm", "low_mm", "high_mm"))

    @property
    def range_mm(self) -> tuple[float, float] | None:
        """Likely range of the depth, low and high [mm], if there is one."""
        if self.depth_mm is None or self.low_mm is None or self.high_mm is None:
            return None
        return min(self.low_mm, self.high_mm), max(self.low_mm, self.high_mm)


@dataclass(frozen=True, slots=True)
class DrawnSlab:
    """A slab in its tin, seen from the side along which pieces are counted."""

    name: str
    layers: tuple[DrawnLayer, ...]
    """Bottom first."""
    tin_depth_mm: float | None
    """None where it was not given: no rim is drawn."""
    wall_slope_mm: float = 0.0
    """How much wider the tin is at the rim than at the base, on one side [mm]."""
    tin_length_mm: float | None = None
    """Inner length at the base; None draws the slab as broken off."""
    trim_mm: float = 0.0
    piece_mm: float | None = None
    """Width of a piece along the drawn side; None where it is not cut."""
    knife_mm: float = 0.0
    """Width that the knife takes from each inside cut [mm]."""
    marks: tuple[Mark, ...] = ()

    def __post_init__(self) -> None:
        sizes = tuple(f.name for f in fields(self) if f.name.endswith("_mm"))
        above_0 = ("tin_depth_mm", "tin_length_mm", "piece_mm")
        _check(self, f"slab '{self.name}'", sizes, above_0)
        for mark in self.marks:
            if not 0 <= mark.layer < len(self.layers):
                raise GeometryError(
                    Mistake(
                        f"Finding {mark.number} is on layer {mark.layer} of "
                        f"{len(self.layers)}.",
                        "Count layers from the bottom, from 0.",
                    )
                )

    @property
    def height_mm(self) -> float | None:
        """Height of all layers [mm]; None if one of them is not known."""
        depths = [layer.depth_mm for layer in self.layers]
        known = [depth for depth in depths if depth is not None]
        return sum(known) if len(known) == len(depths) else None


@dataclass(frozen=True, slots=True)
class Standing:
    """A layer and where it stands in the drawing, above the tin's floor."""

    layer: DrawnLayer
    floor_mm: float
    top_mm: float

    @property
    def middle_mm(self) -> float:
        """Height of its middle [mm]."""
        return (self.floor_mm + self.top_mm) / 2

    @property
    def deep_mm(self) -> float:
        """Depth as drawn [mm]."""
        return self.top_mm - self.floor_mm

    @property
    def known(self) -> bool:
        """Whether its depth is known, and not only drawn."""
        return self.layer.depth_mm is not None


def standing(layers: tuple[DrawnLayer, ...]) -> tuple[Standing, ...]:
    """The layers on top of one another, bottom first; unknown depths are nominal."""
    out = []
    floor_mm = 0.0
    for layer in layers:
        deep_mm = NOMINAL_MM if layer.depth_mm is None else layer.depth_mm
        out.append(Standing(layer, floor_mm, floor_mm + deep_mm))
        floor_mm += deep_mm
    return tuple(out)


def mm(size_mm: float) -> str:
    """A size as a ruler shows it: 11.4, 5.0, 120.

    >>> mm(11.44), mm(5), mm(1204.6)
    ('11.4', '5.0', '1,205')
    """
    return f"{size_mm:.1f}" if size_mm < 99.95 else f"{size_mm:,.0f}"


def mark_mm(size_mm: float) -> str:
    """A place on the ruler: 63, 52.5.

    >>> mark_mm(63.0), mark_mm(52.52)
    ('63', '52.5')
    """
    return f"{size_mm:,.1f}".removesuffix(".0")


def _check(
    value: object, of: str, sizes: tuple[str, ...], above_0: tuple[str, ...] = ()
) -> None:
    mistakes = tuple(_mistakes(value, of, sizes, above_0))
    if mistakes:
        raise GeometryError(*mistakes)


def _mistakes(
    value: object, of: str, sizes: tuple[str, ...], above_0: tuple[str, ...]
) -> Iterator[Mistake]:
    for name in sizes:
        size = getattr(value, name)
        said = name.removesuffix("_mm").replace("_", " ")
        if size is None or (0 < size < inf) or (size == 0 and name not in above_0):
            continue
        least = "above 0 mm" if name in above_0 else "0 mm or more"
        yield Mistake(f"The {said} of {of} is {size:g} mm.", f"Give {least}.")
