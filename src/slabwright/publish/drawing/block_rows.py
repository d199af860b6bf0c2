"""How a slab falls into the rows and columns of a terminal."""

from dataclasses import dataclass
from math import ceil, floor

from slabwright.publish.drawing.drawn import DrawnSlab, Standing, standing

_ROWS_MM = ((12, 1, 5), (60, 2, 10), (160, 4, 20), (400, 10, 50), (800, 20, 100))
"""Up to which height a row is so many mm, and the ruler says every so many."""
_COLUMNS_MM = (0.5, 0.75, 1, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 40, 50)


@dataclass(frozen=True, slots=True)
class Plan:
    """How a slab falls into rows and columns."""

    slab: DrawnSlab
    layers: tuple[Standing, ...]
    row_mm: float
    ruler_mm: int
    column_mm: float
    wide: int
    """Columns of the body."""
    whole: bool
    edges: tuple[int, ...]
    """The row above each layer."""
    half: bool
    """Whether the top row is filled to about a half."""

    @property
    def rows(self) -> int:
        """Rows that the slab fills."""
        return self.edges[-1] if self.edges else 0

    def layer_at(self, row: int) -> int:
        """Which layer fills this row."""
        return next(i for i, edge in enumerate(self.edges) if row < edge)

    def rows_of(self, layer: int) -> range:
        """The rows that a layer fills; none if it is too thin."""
        return range(self.edges[layer - 1] if layer else 0, self.edges[layer])


def planned(slab: DrawnSlab, columns: int, *, halves: bool) -> Plan:
    """The plan of a slab with layers.

    Args:
        slab: what to draw.
        columns: of the whole text.
        halves: whether a row may be half filled.
    """
    layers = standing(slab.layers)
    top_mm = layers[-1].top_mm
    row_mm, ruler_mm = next(
        ((row, ruler) for up_to, row, ruler in _ROWS_MM if top_mm <= up_to),
        (50 * ceil(top_mm / 2000), 200 * ceil(top_mm / 2000)),
    )
    wide = 10 if columns < 50 else min(60, columns * 2 // 5)
    column_mm = _column_mm(slab, row_mm, wide)
    whole = (slab.tin_length_mm or wide * column_mm * 2) <= wide * column_mm
    if whole and slab.tin_length_mm:
        wide = max(3, round(slab.tin_length_mm / column_mm))
    edges, half = _edges(layers, row_mm, halves=halves)
    return Plan(slab, layers, row_mm, ruler_mm, column_mm, wide, whole, edges, half)


def _column_mm(slab: DrawnSlab, row_mm: float, wide: int) -> float:
    """So many mm a column that one piece is seen; at best half of those of a row."""
    first_mm = 0.0
    if slab.piece_mm is not None:
        first_mm = slab.trim_mm + slab.piece_mm + slab.knife_mm
    least_mm = max(row_mm / 2, first_mm / (wide - 4))
    return next((size for size in _COLUMNS_MM if size >= least_mm), ceil(least_mm))


def _edges(
    layers: tuple[Standing, ...], row_mm: float, *, halves: bool
) -> tuple[tuple[int, ...], bool]:
    """The row above each layer, and whether the top row is half filled."""
    rows = layers[-1].top_mm / row_mm
    full, rest = floor(rows), rows - floor(rows)
    half = halves and 0.25 <= rest < 0.75
    rows_in_all = max(1, full + (half or rest >= (0.75 if halves else 0.5)))
    edges = [min(round(it.top_mm / row_mm), rows_in_all) for it in layers]
    edges[-1] = rows_in_all
    alone = len(edges) > 1 and edges[-2] >= rows_in_all - 1
    return tuple(edges), half and not alone and full > 0


def cut_columns(plan: Plan) -> list[int]:
    """Columns that the knife takes, never the first or the last."""
    slab = plan.slab
    if slab.piece_mm is None:
        return []
    end_mm = plan.wide * plan.column_mm
    if slab.tin_length_mm is not None:
        end_mm = min(end_mm, slab.tin_length_mm - slab.trim_mm + 0.05)
    at_mm = slab.trim_mm
    columns: list[int] = []
    step_mm = slab.piece_mm + slab.knife_mm
    while at_mm <= end_mm and len(columns) < plan.wide:
        columns.append(round(at_mm / plan.column_mm))
        at_mm += step_mm
    # pieces of a column or two would all be cuts
    if step_mm < 3 * plan.column_mm:
        columns = columns[:1]
    return [at for at in columns if 0 < at < plan.wide - 1]


def label_rows(plan: Plan) -> list[int]:
    """The row of each label, bottom first: its layer's middle, or the next free one."""
    places: list[int] = []
    for it in plan.layers:
        wanted = min(floor(it.middle_mm / plan.row_mm), plan.rows - 1)
        places.append(max(wanted, places[-1] + 1 if places else 0))
    highest = max(plan.rows, len(places)) - 1
    for i in range(len(places) - 1, -1, -1):
        places[i] = min(places[i], highest)
        highest = places[i] - 1
    return places
