"""The style sheet of a page with drawings: they follow its theme, screen or paper.

A strict page forbids style inside a drawing, so the rules stand here, once, and the
colours are the page's own variables.
"""

from functools import cache

from slabwright.publish.drawing.chart import chart_css
from slabwright.publish.drawing.cut_plan import plan_css
from slabwright.publish.drawing.palette import TOKENS, Theme, colour_keys, food
from slabwright.publish.drawing.style import drawing_css

_NAMES = {"paper": "paper", "ink": "ink", "ink_2": "ink-2", "ink_3": "ink-3",
          "steel": "steel", "stop": "stop"}  # fmt: skip


@cache
def page_css() -> str:
    """Variables for light, dark and paper, then the rules of every drawing."""
    dark = _variables("dark")
    return (
        f":root{{{_variables('light')}}}\n"
        f":root[data-theme=dark]{{{dark}}}\n"
        "@media (prefers-color-scheme:dark){"
        f":root:not([data-theme=light]){{{dark}}}}}\n"
        f"@media print{{:root:root:root{{{_variables('paper')}}}}}\n"
        f"{drawing_css('page', '.drawing', colour_keys())}\n"
        f"{plan_css('page', '.drawing')}\n"
        f"{chart_css('page', '.drawing')}\n"
    )


def _variables(theme: Theme) -> str:
    tokens = TOKENS[theme]
    said = [f"--{name}:{getattr(tokens, field)}" for field, name in _NAMES.items()]
    for key in colour_keys():
        colour = food(key, theme)
        said += [f"--f-{key}:{colour.fill}", f"--i-{key}:{colour.ink}"]
    return ";".join(said)
