"""The textures that tell a layer's kind: strokes on clear ground, the same every time.

The fill beneath says which one of its kind a layer is (see `palette`). On paper the
strokes alone must do: there the dark kinds are drawn with a heavier pen.
"""

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache

from slabwright.publish.drawing import texture_grains as grains
from slabwright.publish.drawing import texture_pours as pours
from slabwright.publish.drawing.svg import Point, element
from slabwright.publish.drawing.texture_tiles import Pen, Stroke, Tile

PEN_WIDTHS: dict[Pen, float] = {"line": 1.25, "thin": 0.8, "ring": 0.9, "dot": 1.7}
"""Width of each pen [units of a tile]."""


@dataclass(frozen=True, slots=True)
class Texture:
    """How one kind of layer is drawn."""

    draw: Callable[[Tile], None]
    size: Point
    """Width and height of its tile [units]."""
    seed: int
    wobble_mm: float
    """How much its upper face wavers; the peaks are a third higher [mm]."""
    heavy: float = 1.0
    """How many times thicker its pens are on paper, so that dark stays dark."""


TEXTURES: dict[str, Texture] = {
    "crumb": Texture(grains.crumb, (96, 72), 4, 0.28),
    "oats": Texture(grains.oats, (120, 72), 7, 0.28),
    "brittle": Texture(grains.brittle, (112, 84), 3, 0.10),
    "caramel": Texture(pours.caramel, (128, 60), 5, 0.14),
    "ganache": Texture(pours.ganache, (120, 56), 11, 0.05, heavy=2.0),
    "curd": Texture(pours.curd, (104, 72), 6, 0.16),
    "jelly": Texture(pours.jelly, (112, 80), 7, 0.03, heavy=1.2),
    "crisp": Texture(grains.crisp, (96, 72), 8, 0.28),
    "nut": Texture(grains.nut, (112, 84), 13, 0.25),
    "cream": Texture(pours.cream, (112, 80), 2, 0.22),
    "sponge": Texture(grains.sponge, (108, 84), 12, 0.20),
    "glaze": Texture(pours.glaze, (96, 48), 1, 0.08, heavy=1.9),
    "seed": Texture(grains.seed, (96, 72), 14, 0.12),
    "fudge": Texture(grains.fudge, (104, 65), 15, 0.12),
    "foam": Texture(pours.foam, (96, 72), 16, 0.20),
    "plain": Texture(pours.plain, (104, 72), 17, 0.10),
}
"""By the name that a layer gives; `plain` is for a layer of no known kind."""


def texture_name(wanted: str) -> str:
    """The name of a texture that there is: the wanted one, or plain."""
    return wanted if wanted in TEXTURES else "plain"


def strokes(name: str) -> tuple[Stroke, ...]:
    """All strokes of one tile."""
    return tuple(_drawn(name).strokes)


def tile_reach(name: str) -> float:
    """How far strokes of a tile stick out over its edges, at most [units]."""
    return _drawn(name).reach


@cache
def tile_paths(name: str, *, on_paper: bool = False) -> str:
    """The strokes of one tile as SVG paths, one for each pen that it uses."""
    heavy = TEXTURES[name].heavy if on_paper else 1.0
    return "".join(
        element("path", d="".join(paths), stroke_width=width * heavy)
        for pen, width in PEN_WIDTHS.items()
        if (paths := [path for used, path in strokes(name) if used == pen])
    )


@cache
def _drawn(name: str) -> Tile:
    texture = TEXTURES[name]
    tile = Tile(*texture.size, texture.seed)
    texture.draw(tile)
    return tile
