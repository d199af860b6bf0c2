"""The slab from above: trim, pieces, and where the knife goes in which order."""

from hashlib import blake2s
from math import ceil, floor

from slabwright.publish.drawing.cut_plan_marks import Marks, marks, room_for
from slabwright.publish.drawing.lettering import cleaned
from slabwright.publish.drawing.palette import TOKENS, Theme, colour_key
from slabwright.publish.drawing.picture import Box, Picture, document
from slabwright.publish.drawing.plan import DrawnPlan, Outline
from slabwright.publish.drawing.style import drawing_css
from slabwright.publish.drawing.svg import element, line, number, text
from slabwright.publish.drawing.textures import (
    TEXTURES,
    texture_name,
    tile_paths,
    tile_reach,
)

_MARGIN = 6.0
_TALLEST = 1.2
"""Height of a slab in plan, at most, over the width of the drawing."""
_HATCH = 7.0
"""Between two strokes of the hatching on trim [units]."""
_WEAVE = 0.5
"""Size of the texture on the one piece that shows it."""


def cut_plan_svg(
    plan: DrawnPlan,
    *,
    width_px: float = 640,
    theme: Theme = "light",
    prefix: str | None = None,
) -> str:
    """The cutting plan as a whole SVG document.

    Distances stand where a ruler shows them: from the left edge below, from the near
    edge at the left. Ringed numbers are the knife's order. Where marks would overlap
    they move apart in rows; what has no room is left to the list beside the drawing.

    Args:
        plan: the slab from above.
        width_px: width of the drawing, at most; its height follows.
        theme: colours for a light or dark screen, or black on white for paper.
        prefix: its id and the beginning of every id in it; made from all the above
            if None.
    """
    seed = repr((plan, theme, width_px)).encode()
    id_ = prefix or f"plan-{blake2s(seed, digest_size=6).hexdigest()}"
    room = room_for(plan)
    free = width_px - room.left - room.right - 2 * _MARGIN
    k = free / max(plan.length_mm, plan.width_mm / _TALLEST)
    made = marks(plan, k)
    seen = Box(
        -made.room.left - _MARGIN,
        -plan.width_mm * k - made.room.top - _MARGIN,
        plan.length_mm * k + made.room.right + _MARGIN,
        made.room.bottom + _MARGIN,
    )
    wide, high = seen.size
    return document(
        Picture(
            id_,
            title=f"{cleaned(plan.name)}, cut",
            desc=cleaned(plan.words),
            style=_style(plan, theme, id_),
            view=seen,
            size=(number(wide), number(high)),
            drawing=_slab(plan, k, id_, theme)
            + _knife(plan, k, made)
            + _unit(plan, made),
        )
    )


def _style(plan: DrawnPlan, theme: Theme, id_: str) -> str:
    if theme == "page":
        return ""
    colours = [colour_key(plan.texture, plan.fill)]
    return drawing_css(theme, f"#{id_}", colours) + plan_css(theme, f"#{id_}")


def plan_css(theme: Theme, scope: str) -> str:
    """Rules for the classes that only a plan has.

    Args:
        theme: whose colours.
        scope: selector that every rule begins with.
    """
    t = TOKENS[theme]
    rules = {
        ".tray": f"fill:none;stroke:{t.ink_2};stroke-width:1.4",
        ".trimmed": f"fill:none;stroke:{t.ink_3};stroke-width:.9",
        ".piece": f"fill:{t.paper};stroke:{t.ink};stroke-width:1",
        ".stroke": f"fill:none;stroke:{t.ink};stroke-width:1.1",
        ".stroke-trim": f"fill:none;stroke:{t.ink};stroke-width:1.1;"
        "stroke-dasharray:6 3",
        ".turn": f"fill:{t.paper};stroke:{t.ink};stroke-width:1.2",
        ".turn-word": f"font-size:12px;font-weight:600;fill:{t.ink}",
        ".unit": f"font-size:13px;fill:{t.ink_2}",
        ".at": f"font-size:13px;font-weight:600;fill:{t.ink}",
    }
    return "".join(f"{scope} {name}{{{rule}}}" for name, rule in rules.items())


def _slab(plan: DrawnPlan, k: float, id_: str, theme: Theme) -> str:
    """Tin, hatched trim, and every piece on it; the nearest one shows its top."""
    whole = _path(plan.slab, k)
    clip = element("clipPath", element("path", d=whole), id=f"{id_}-slab")
    within = {"clip_path": f"url(#{id_}-slab)"}
    hatch = element("path", d=_hatch(plan, k), class_="trimmed", **within)
    pieces = element(
        "path", d="".join(_path(p, k) for p in plan.pieces), class_="piece"
    )
    defs, top = _top(plan, k, id_, theme)
    laid = element("g", pieces + top, **within)  # a rounded corner is theirs too
    edge = element("path", d=whole, class_="tray")
    return element("defs", clip + defs) + hatch + laid + edge


def _path(outline: Outline, k: float) -> str:
    return line([(x * k, -y * k) for x, y in outline]) + "z"


def _hatch(plan: DrawnPlan, k: float) -> str:
    """Slanted strokes over the whole slab: what lies on it covers the rest."""
    length, width = plan.length_mm * k, plan.width_mm * k
    count = ceil((length + width) / _HATCH)
    strokes = []
    for turn in range(1, count):
        along = turn * _HATCH
        start = (min(along, length), -max(0.0, along - length))
        end = (max(0.0, along - width), -min(along, width))
        strokes.append(line([start, end]))
    return "".join(strokes)


def _top(plan: DrawnPlan, k: float, id_: str, theme: Theme) -> tuple[str, str]:
    """The first piece with the texture of the layer on top: definitions, drawing."""
    if not plan.pieces:
        return "", ""
    piece = plan.pieces[0]
    name, key = texture_name(plan.texture), colour_key(plan.texture, plan.fill)
    path = _path(piece, k)
    defs = element("clipPath", element("path", d=path), id=f"{id_}-piece")
    defs += element(
        "g",
        tile_paths(name, on_paper=theme == "paper"),
        id=f"{id_}-{name}",
        fill="none",
        stroke_linecap="round",
        stroke_linejoin="round",
    )
    width, height = (size * _WEAVE for size in TEXTURES[name].size)
    reach = tile_reach(name) * _WEAVE
    xs, ys = [x * k for x, _ in piece], [-y * k for _, y in piece]
    tiles = "".join(
        element(
            "use",
            href=f"#{id_}-{name}",
            x=column * width / _WEAVE,
            y=row * height / _WEAVE,
        )
        for row in _steps(min(ys) - reach, max(ys) + reach, height)
        for column in _steps(min(xs) - reach, max(xs) + reach, width)
    )
    woven = element("g", tiles, transform=f"scale({number(_WEAVE)})")
    behind = {"class_": f"i-{key}", "clip_path": f"url(#{id_}-piece)"}
    drawn = element("path", d=path, class_=f"f-{key}") + element("g", woven, **behind)
    return defs, drawn + element("path", d=path, class_="edge")


def _unit(plan: DrawnPlan, made: Marks) -> str:
    """What the figures around are in."""
    if not plan.strokes or made.room.bottom <= 0:
        return ""
    return text((-made.room.left + 2, made.room.bottom), "mm", "unit")


def _steps(low: float, high: float, size: float) -> range:
    return range(floor(low / size), ceil(high / size))


def _knife(plan: DrawnPlan, k: float, made: Marks) -> str:
    """Every stroke, and its marks."""
    strokes = "".join(
        element(
            "path",
            d=line([(x * k, -y * k) for x, y in (one.start_mm, one.end_mm)]),
            class_="stroke-trim" if one.trims else "stroke",
        )
        for one in plan.strokes
    )
    return strokes + made.drawing
