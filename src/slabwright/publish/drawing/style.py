"""The style of drawings: classes only, for a strict page forbids style attributes."""

from collections.abc import Iterable

from slabwright.publish.drawing.palette import TOKENS, Theme, food

_NAMES = "Besley,Rockwell,'Roboto Slab',Georgia,serif"
_READ = "'Atkinson Hyperlegible Next',Arial,'Liberation Sans',sans-serif"

NAME_SIZE = 16.0
FIGURE_SIZE = 16.0
LINE_WIDTH = 1.3
"""Of every line whose class says no other: an attribute, so that one can be thinner."""
SMALL_SIZE = 13.0
"""Ticks, cuts, ranges, notes: the least size."""


def drawing_css(theme: Theme, scope: str, colours: Iterable[str]) -> str:
    """Rules for every class of a drawing.

    Args:
        theme: whose colours.
        scope: selector that every rule begins with, such as `#id`, so that several
            drawings on one page keep to themselves.
        colours: keys of the layers' colours that are used.
    """
    t = TOKENS[theme]
    line = f"fill:none;stroke:{t.ink}"
    rules = {
        "text": f"font-family:{_READ};font-size:{SMALL_SIZE:g}px;fill:{t.ink_2};"
        "font-variant-numeric:tabular-nums",
        ".name": f"font-family:{_NAMES};font-size:{NAME_SIZE:g}px;font-weight:500;"
        f"fill:{t.ink}",
        ".figure": f"font-size:{FIGURE_SIZE:g}px;font-weight:600;fill:{t.ink}",
        ".over": f"font-weight:600;fill:{t.stop}",
        ".ground,.gap": f"fill:{t.paper}",
        ".faded": f"fill:{t.paper};fill-opacity:.5",
        ".edge": f"{line};stroke-linejoin:round",
        ".thin": f"fill:none;stroke:{t.ink_3};stroke-width:1",
        ".dim": f"fill:none;stroke:{t.ink_2};stroke-width:1.1",
        ".rim": f"fill:none;stroke:{t.paper}",
        ".unknown": f"{line};stroke-dasharray:6 4",
        ".tin": f"fill:{t.steel};stroke:{t.ink};stroke-linejoin:round",
        ".lining": f"fill:none;stroke:{t.ink_3};stroke-width:1.2;stroke-dasharray:7 4",
        ".level": f"fill:none;stroke:{t.ink_3};stroke-width:1;stroke-dasharray:1 4;"
        "stroke-linecap:round",
        ".level-over": f"fill:none;stroke:{t.stop};stroke-width:1.5;"
        "stroke-dasharray:6 4",
        ".dim-over": f"fill:none;stroke:{t.stop};stroke-width:1.5",
        ".knife": f"fill:{t.ink}",
        ".likely": f"fill:{t.paper};stroke:{t.ink};stroke-width:1",
        ".guess": f"fill:{t.paper};stroke:{t.ink};stroke-width:1;"
        "stroke-dasharray:2.4 1.8",
        ".m-stop": f"fill:{t.stop};stroke:{t.paper};stroke-width:2",
        ".m-look": f"fill:{t.ink};stroke:{t.paper};stroke-width:2",
        ".m-note": f"fill:{t.paper};stroke:{t.ink};stroke-width:1.6",
        ".mark": f"font-size:14px;font-weight:600;fill:{t.paper}",
        ".mark-note": f"font-size:14px;font-weight:600;fill:{t.ink}",
    }
    for key in sorted(set(colours)):
        colour = food(key, theme)
        rules[f".f-{key}"] = f"fill:{colour.fill}"
        rules[f".i-{key}"] = f"stroke:{colour.ink}"
    return "".join(
        f"{','.join(f'{scope} {one}' for one in which.split(','))}{{{rule}}}"
        for which, rule in rules.items()
    )
