"""Figures, standings and words as they stand on a page."""

import json
from decimal import Decimal
from typing import Any, Final

from markupsafe import Markup, escape

from slabwright.figure import Figure, Standing
from slabwright.publish import words

_MARKS: Final = {
    standing: Markup(
        '<svg class="pv" width="14" height="14" role="img" aria-label="{}">'
        '<use href="#pv-{}"/></svg>'
    ).format(str(standing), key)
    for standing, key in (
        (Standing.ASSUMED, "assumed"),
        (Standing.WORKED_OUT, "worked"),
        (Standing.MEASURED, "measured"),
    )
}
_PLAIN: Final = {"share": "%", "pieces": "", "mixings": "", "loads": ""}


def value_text(figure: Figure, places: int | None = None) -> tuple[str, str]:
    """What is shown of a figure: the number, and its unit apart.

    >>> value_text(Figure(26.44, "mm", ""))
    ('26.4', 'mm')
    >>> value_text(Figure(1599.2, "g", "")), value_text(Figure(0.213, "share", ""))
    (('1,599', 'g'), ('21.3', '%'))
    """
    value, unit = figure.value, figure.unit
    if value is None:
        return words.NOT_KNOWN, ""
    if unit == "share":
        return f"{float(value) * 100:.{1 if places is None else places}f}", "%"
    if unit == "g":
        return _grams(float(value), places), "g"
    if unit == "mm":
        return f"{float(value):,.{1 if places is None else places}f}", "mm"
    if isinstance(value, Decimal):
        return words.money(value, unit, 2 if places is None else places), ""
    if unit in words.BARE and float(value) != 0:
        bare = float(value)
        digits = words.places_of(figure) if places is None else places
        small = 0 < abs(bare) < 0.095 and unit == ""
        said = f"{bare:.2g}" if small else f"{bare:,.{digits}f}"
        return said.replace("-", "−"), unit
    if float(value).is_integer():
        return f"{float(value):,.0f}", _PLAIN.get(unit, unit)
    plain = f"{float(value):,.{2 if places is None else places}f}"
    return plain, _PLAIN.get(unit, unit)


def _grams(value: float, places: int | None) -> str:
    return words.grams(value) if places is None else f"{value:,.{places}f}"


def figure_markup(
    figure: Figure | None,
    name: str,
    *,
    places: int | None = None,
    edits: tuple[dict[str, Any], ...] = (),
    quiet: bool = False,
) -> Markup:
    """A figure as a button that opens it: its sum, standing, range and sources.

    Args:
        figure: the figure; None gives a dash.
        name: what it is, in words: `depth of the Malt caramel`.
        places: decimals, if not those of its unit.
        edits: what may be typed to change it; see `static/opened.js`.
        quiet: leaves out the mark of an assumed figure, where the column says it.
    """
    if figure is None:
        return Markup("–")
    number, unit = value_text(figure, places)
    opened = json.dumps(opened_form(figure, name, edits), ensure_ascii=False)
    mark = "" if quiet or not figure.known else standing_markup(figure.standing)
    class_ = "fig" if figure.known else "fig withheld"
    glue = "" if unit == "%" else "\u2009"
    in_unit = f'<span class="u">{glue}{escape(unit)}</span>' if unit else ""
    # Put together by hand: a desk has dozens, and Markup.format takes longer.
    return Markup(
        f'<button type="button" class="{class_}" aria-haspopup="dialog"'
        f' data-figure="{escape(opened)}">{escape(number)}{in_unit}{mark}</button>'
    )


def opened_form(
    figure: Figure, name: str, edits: tuple[dict[str, Any], ...] = ()
) -> dict[str, Any]:
    """What an opened figure says, as plain values."""
    number, unit = value_text(figure)
    form: dict[str, Any] = {
        "name": name,
        "value": number,
        "unit": unit,
        "sum": figure.sum,
        "standing": str(figure.standing),
        "known": figure.known,
        "sources": [f"{one.text} ({one.seen.value})" for one in figure.sources],
    }
    if figure.low is not None and figure.high is not None:
        digits = words.places_of(figure) if unit in words.BARE else None
        ends = (Figure(end, figure.unit, "") for end in (figure.low, figure.high))
        low, high = (value_text(end, digits)[0] for end in ends)
        form["likely"] = f"{low} to {high} {unit}".rstrip()
    if figure.holds:
        form["holds"] = figure.holds
    if edits:
        form["edits"] = list(edits)
    return form


def standing_markup(standing: Standing, *, always: bool = False) -> Markup:
    """The mark of a standing; the usual one, worked out, goes without."""
    if standing is Standing.WORKED_OUT and not always:
        return Markup("")
    return _MARKS[standing]


def drawing(svg: str) -> Markup:
    """A drawing of ours: its words are escaped where it is made."""
    return Markup(svg)
