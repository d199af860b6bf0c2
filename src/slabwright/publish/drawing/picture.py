"""A drawing as a whole SVG document, named and described, styled for itself alone."""

from collections.abc import Sequence
from dataclasses import dataclass
from hashlib import blake2s

from slabwright.publish.drawing.drawn import DrawnSlab
from slabwright.publish.drawing.palette import Theme, colour_key
from slabwright.publish.drawing.style import LINE_WIDTH, drawing_css
from slabwright.publish.drawing.svg import box, element, escaped, number


@dataclass(frozen=True, slots=True)
class Box:
    """What is seen of a drawing [units]."""

    left: float
    top: float
    right: float
    bottom: float

    @property
    def size(self) -> tuple[float, float]:
        """Width and height."""
        return self.right - self.left, self.bottom - self.top


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing and all that a document needs besides."""

    id_: str
    title: str
    desc: str
    """One sentence for those who cannot see it."""
    style: str
    """Rules for its classes, each for this id alone; empty where the page has them."""
    view: Box
    size: tuple[str, str]
    """Width and height with their unit."""
    drawing: str


def fingerprint(kind: str, slab: DrawnSlab, theme: Theme, size: float = 0.0) -> str:
    """A prefix for ids: the same drawing gives the same, another gives another."""
    seen = repr((slab, theme, size)).encode()
    return f"{kind}-{blake2s(seen, digest_size=6).hexdigest()}"


def document(picture: Picture) -> str:
    """The SVG document."""
    id_, view = picture.id_, picture.view
    title = element("title", escaped(picture.title), id=f"{id_}-title")
    desc = element("desc", escaped(picture.desc), id=f"{id_}-desc")
    style = element("style", picture.style) if picture.style else ""
    ground = element("path", d=box(view.left, view.top, *view.size), class_="ground")
    return element(
        "svg",
        title + desc + style + ground + picture.drawing,
        xmlns="http://www.w3.org/2000/svg",
        id=id_,
        viewBox=" ".join(map(number, (view.left, view.top, *view.size))),
        width=picture.size[0],
        height=picture.size[1],
        stroke_width=LINE_WIDTH,
        role="img",
        aria_labelledby=f"{id_}-title {id_}-desc",
        **({} if picture.style else {"class_": "drawing"}),
    )


def style_of(slab: DrawnSlab, theme: Theme, id_: str) -> str:
    """Rules for the classes of a drawing of this slab; none on a page of ours."""
    if theme == "page":
        return ""
    return drawing_css(theme, f"#{id_}", colours_of((slab,)))


def colours_of(slabs: Sequence[DrawnSlab]) -> set[str]:
    """Keys of the colours that the layers of these slabs have."""
    return {
        colour_key(layer.texture, layer.fill) for slab in slabs for layer in slab.layers
    }
