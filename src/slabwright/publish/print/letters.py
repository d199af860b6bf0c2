"""How large letters must be set, so that they stand as high as the law asks."""

from typing import Final

PT_MM: Final = 25.4 / 72
"""A typesetter's point [mm]."""
X_EM: Final = 0.496
"""A small x of Atkinson Hyperlegible Next, plain and bold [em]; measured in the font's
own outlines, and Besley's is higher (0.52)."""
FIGURE_EM: Final = 0.668
"""Its lowest figure [em]."""
_STEP_MM: Final = 0.05


def size_pt(x_mm: float) -> float:
    """The size at which a small x stands so high [pt].

    >>> round(size_pt(1.2), 2)
    6.86
    """
    return x_mm / X_EM / PT_MM


def figures_pt(high_mm: float) -> float:
    """The size at which figures stand so high [pt].

    >>> round(figures_pt(3.0), 2)
    12.73
    """
    return high_mm / FIGURE_EM / PT_MM


def x_mm(size: float) -> float:
    """How high a small x stands at a size in points [mm]."""
    return size * X_EM * PT_MM


def heights_mm(least_mm: float, most_mm: float) -> list[float]:
    """Heights of a small x to try, the least first, in steps of 0.05 mm."""
    count = max(round((most_mm - least_mm) / _STEP_MM), 0)
    return [round(least_mm + n * _STEP_MM, 3) for n in range(count + 1)]
