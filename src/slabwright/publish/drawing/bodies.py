"""The body of a slab: layers between two faces, filled, textured and parted.

Here a point is in millimetres, across and up from the corner of the tin's base.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import ceil, floor, sin

from slabwright.publish.drawing.drawn import Standing
from slabwright.publish.drawing.palette import colour_key
from slabwright.publish.drawing.style import LINE_WIDTH
from slabwright.publish.drawing.svg import Point, element, line, number, onwards
from slabwright.publish.drawing.textures import (
    TEXTURES,
    texture_name,
    tile_paths,
    tile_reach,
)

Side = Callable[[float, float], Sequence[Point]]
"""A face: its points from one height up to another [mm], both ends included."""

BARE_UNITS = 6.0
"""A layer thinner than this keeps its fill and loses its texture."""
_SHALLOW = 0.15
"""Share of a layer's depth by which its faces may waver: thin ones stay apart."""
_JOINT_UNITS = 3.6
"""Width of a joint's ink and the paper rim on both sides of it."""
_MOST_INK = 0.16
"""Width of a line as a share of the layer's depth, at most."""


@dataclass(frozen=True, slots=True)
class View:
    """How a body is looked at."""

    units_per_mm: float
    left: Side
    right: Side
    prefix: str
    """Begins every id of the drawing."""
    weave: float = 1.0
    """Size of the textures: 1 at the desk's scale."""
    on_paper: bool = False


def upright(x_mm: float) -> Side:
    """A straight cut face."""

    def side(low_mm: float, high_mm: float) -> Sequence[Point]:
        return ((x_mm, low_mm), (x_mm, high_mm))

    return side


def body(layers: Sequence[Standing], view: View) -> str:
    """The layers, bottom first, as definitions and drawing."""
    faces = _faces(layers, view)
    defs, fills, edges = [], [], []
    for i, it in enumerate(layers):
        shape = f"{view.prefix}-layer-{i}"
        path = _outline(it, faces[i], faces[i + 1], view)
        defs.append(element("path", id=shape, d=path))
        if not it.known:
            edges.append(_use(shape, class_="unknown", data_layer=i))
            continue
        key = colour_key(it.layer.texture, it.layer.fill)
        fills.append(_use(shape, class_=f"f-{key}"))
        if it.deep_mm * view.units_per_mm >= BARE_UNITS:
            clip = f"{view.prefix}-clip-{i}"
            defs.append(element("clipPath", _use(shape), id=clip))
            tiles = _woven(i, it, view, _extent(it, faces[i + 1], view))
            behind = {"class_": f"i-{key}", "clip_path": f"url(#{clip})"}
            fills.append(element("g", tiles, **behind))
        edges.append(
            _use(shape, class_="edge", stroke_width=_ink(it, view), data_layer=i)
        )
        if i and layers[i - 1].known:
            edges.append(_joint(faces[i], layers[i - 1], it, view))
    for face, ends in ((faces[0], layers[:1]), (faces[-1], layers[-1:])):
        if any(it.known for it in ends):
            edges.append(element("path", d=_face(face, view), class_="edge"))
    defs += _tiles(layers, view)
    return element("defs", "".join(defs)) + "".join(fills + edges)


def _use(id_: str, **attributes: float | str) -> str:
    return element("use", href=f"#{id_}", **attributes)


def _faces(layers: Sequence[Standing], view: View) -> list[list[Point]]:
    """The floor and the upper face of every layer, from left to right [mm]."""
    start, end = view.left(0, 0)[0], view.right(0, 0)[0]
    faces = [[start, end]]
    for i, it in enumerate(layers):
        wobble_mm = TEXTURES[texture_name(it.layer.texture)].wobble_mm
        around = layers[i : i + 2]
        swing_mm = min(wobble_mm, *(_SHALLOW * other.deep_mm for other in around))
        left_mm, right_mm = (
            side(it.floor_mm, it.top_mm)[-1][0] for side in (view.left, view.right)
        )
        step_mm = max(2.0, 14 / view.units_per_mm)
        count = max(2, round((right_mm - left_mm) / step_mm))
        across = (left_mm + (right_mm - left_mm) * j / count for j in range(count + 1))
        faces.append([(x, it.top_mm + swing_mm * _waver(x, i)) for x in across])
    return faces


def _waver(x_mm: float, layer: int) -> float:
    """Up to about 1.3 either way: nearly level, never as from a ruler."""
    seed = layer + 1
    slow = sin(x_mm * 0.43 + seed * 1.7)
    quick = 0.7 * sin(x_mm * 1.13 + seed * 4.1) + 0.4 * sin(x_mm * 2.3 + seed)
    return (slow + quick) / 1.6


def _outline(it: Standing, low: list[Point], high: list[Point], view: View) -> str:
    below = [_at(p, view) for p in low]
    above = [_at(p, view) for p in reversed(high)]
    right = [_at(p, view) for p in view.right(it.floor_mm, it.top_mm)[1:-1]]
    left = [_at(p, view) for p in view.left(it.floor_mm, it.top_mm)[-2:0:-1]]
    up = line([*right, above[0]]).replace("M", "L")
    down = line(left).replace("M", "L") if left else ""
    return line(below[:1]) + onwards(below) + up + onwards(above) + down + "z"


def _at(point_mm: Point, view: View) -> Point:
    k = view.units_per_mm
    return point_mm[0] * k, -point_mm[1] * k


def _woven(i: int, it: Standing, view: View, extent_mm: tuple[float, float]) -> str:
    """The texture laid as tiles: pattern fills print as coarse pictures."""
    name = texture_name(it.layer.texture)
    k = view.units_per_mm
    width, height = (size * view.weave for size in TEXTURES[name].size)
    # neighbours of one texture would show one pattern running through both
    shift = (-(i * 41) % width, -(i * 23) % height)
    reach = tile_reach(name) * view.weave
    x0, x1 = (x * k - shift[0] for x in extent_mm)
    y0, y1 = (-h * k - shift[1] for h in (it.top_mm + 0.4, it.floor_mm - 0.4))
    tiles = "".join(
        _use(
            f"{view.prefix}-{name}",
            x=column * width / view.weave,
            y=row * height / view.weave,
        )
        for row in range(floor((y0 - reach) / height), ceil((y1 + reach) / height))
        for column in range(floor((x0 - reach) / width), ceil((x1 + reach) / width))
    )
    place = f"translate({number(shift[0])} {number(shift[1])})"
    if view.weave != 1:
        place += f" scale({number(view.weave)})"
    return element("g", tiles, transform=place)


def _extent(it: Standing, face: list[Point], view: View) -> tuple[float, float]:
    lefts = [x for x, _ in view.left(it.floor_mm, it.top_mm)]
    rights = [x for x, _ in view.right(it.floor_mm, it.top_mm)]
    return min(*lefts, face[0][0]), max(*rights, face[-1][0])


def _ink(it: Standing, view: View) -> float:
    """Width of a layer's lines: thin layers must not drown in ink."""
    return min(LINE_WIDTH, _MOST_INK * it.deep_mm * view.units_per_mm)


def _joint(face: list[Point], below: Standing, above: Standing, view: View) -> str:
    """Ink inside a paper rim: two darks or two pales still part."""
    ink = min(_ink(below, view), _ink(above, view))
    rim = ink / LINE_WIDTH * _JOINT_UNITS * min(1, 0.5 + view.weave / 2)
    path = _face(face, view)
    return element("path", d=path, class_="rim", stroke_width=rim) + element(
        "path", d=path, class_="edge", stroke_width=ink
    )


def _face(face: list[Point], view: View) -> str:
    points = [_at(p, view) for p in face]
    return line(points[:1]) + onwards(points)


def _tiles(layers: Sequence[Standing], view: View) -> list[str]:
    used = {
        texture_name(it.layer.texture)
        for it in layers
        if it.known and it.deep_mm * view.units_per_mm >= BARE_UNITS
    }
    return [
        element(
            "g",
            tile_paths(name, on_paper=view.on_paper),
            id=f"{view.prefix}-{name}",
            # no class: rules that name an ancestor don't reach into a used element
            fill="none",
            stroke_linecap="round",
            stroke_linejoin="round",
        )
        for name in sorted(used)
    ]
