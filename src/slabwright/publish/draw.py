"""From a specification to what is drawn of it."""

from slabwright.figure import Standing
from slabwright.publish.drawing.drawn import DrawnLayer, DrawnSlab, Mark
from slabwright.spec.specification import LayerFigures, Specification

_FILLS = (
    ("rye", ("rye", "wholemeal")),
    ("semolina", ("semolina", "polenta", "maize")),
    ("sunflower", ("sunflower", "pumpkin")),
    ("cocoa", ("cocoa-powder",)),
    ("pistachio", ("pistachio",)),
    ("almond", ("almond", "cashew", "marzipan")),
    ("white-chocolate", ("white-chocolate",)),
    ("milk-chocolate", ("milk-chocolate",)),
    ("coffee", ("espresso",)),
    ("raspberry", ("raspberr", "cherr", "redcurrant", "cranberr")),
    ("strawberry", ("strawberr", "rhubarb")),
    ("apricot", ("apricot", "peach")),
    ("orange", ("orange", "passion", "mango")),
    ("lime", ("lime",)),
    ("apple", ("apple",)),
)
"""Which ingredient gives a layer which of the food's colours."""
_TAKES = {
    "crumb": {"rye", "semolina", "cocoa", "almond"},
    "sponge": {"cocoa", "almond", "pistachio"},
    "nut": {"sunflower", "almond", "pistachio"},
    "seed": {"sunflower"},
    "ganache": {"white-chocolate", "milk-chocolate"},
    "glaze": {"white-chocolate", "milk-chocolate"},
    "curd": {"lime", "orange", "raspberry"},
    "jelly": {"raspberry", "strawberry", "apricot", "orange", "lime", "apple"},
    "cream": {"coffee", "raspberry", "strawberry", "pistachio"},
    "foam": {"raspberry", "strawberry"},
}
"""Which colours a texture takes; otherwise it keeps its own."""


def drawn(spec: Specification) -> DrawnSlab:
    """The slab as it is drawn in section, with the numbers of its findings."""
    cut = spec.cut.cutting if spec.cut else None
    tin = spec.tin
    marks = tuple(
        Mark(finding.layer, finding.severity, one.number)
        for one in spec.told
        for finding in one.every
        if finding.layer is not None
    )
    slope_mm = (tin.rim.length_mm - tin.base.length_mm) / 2 if tin else 0.0
    request = spec.cut.said.request if spec.cut else None
    return DrawnSlab(
        spec.name,
        tuple(_layer(layer) for layer in spec.layers),
        tin.depth_mm if tin else None,
        slope_mm if tin and tin.depth_mm else 0.0,
        tin.length_mm if tin else None,
        request.trim_mm if request and cut and cut.shape == "grid" else 0.0,
        cut.piece_length_mm if cut else None,
        request.knife_mm if request else 0.0,
        marks,
    )


def _layer(layer: LayerFigures) -> DrawnLayer:
    depth = layer.depth_mm
    return DrawnLayer(
        layer.name,
        layer.texture,
        depth.number if depth.known else None,
        depth.low,
        depth.high,
        _fill(layer),
        depth.known and depth.standing is Standing.ASSUMED,
    )


def _fill(layer: LayerFigures) -> str | None:
    ids = [line.larder_id for line in layer.lines if line.larder_id]
    takes = _TAKES.get(layer.texture, set())
    for fill, signs in _FILLS:
        if fill in takes and any(sign in id for id in ids for sign in signs):
            return fill
    return None
