"""Bars as rectangles, their unit a millimetre."""

from slabwright.label.paper.bars import Bars, bar_size


def bars_svg(bars: Bars, module_mm: float, bars_mm: float) -> str:
    """Bars between their quiet zones; guard bars reach further down.

    Args:
        bars: which modules are black.
        module_mm: width of one [mm].
        bars_mm: height of the bars that are no guards [mm].
    """
    longer_mm = bar_size("guard_longer") * module_mm
    wide, high = bars.width_modules * module_mm, bars_mm + longer_mm
    strokes = "".join(
        f"M{_n((bars.quiet_left + start) * module_mm)} 0"
        f"h{_n(width * module_mm)}v{_n(high if is_guard else bars_mm)}"
        f"h-{_n(width * module_mm)}z"
        for start, width, is_guard in bars.stripes()
    )
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{_n(wide)}mm" '
        f'height="{_n(high)}mm" viewBox="0 0 {_n(wide)} {_n(high)}">'
        f'<path fill="#000" d="{strokes}"/></svg>'
    )


def figures_under(bars: Bars) -> list[tuple[int, int, str]]:
    """Digits under the bars: first module, how many modules wide, which digits."""
    left, digits = bars.quiet_left, bars.digits
    if len(digits) == 8:
        return [(left + 3, 28, digits[:4]), (left + 36, 28, digits[4:])]
    return [
        (left - 10, 7, digits[0]),
        (left + 3, 42, digits[1:7]),
        (left + 50, 42, digits[7:]),
    ]


def _n(value: float) -> str:
    return f"{value:.4f}".rstrip("0").rstrip(".")
