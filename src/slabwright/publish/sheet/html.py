"""The sheet as one HTML page that prints like the PDF: own style, nothing fetched."""

from base64 import b64encode
from collections.abc import Iterator
from functools import cache
from importlib.resources import files
from typing import Any, Final

from slabwright.publish.drawing.svg import element, escaped, number
from slabwright.publish.sheet.page import Drawings, content, drawings
from slabwright.publish.sheet.pdf import AsSet, as_set
from slabwright.spec.bench import BenchSheet

_FONTS: Final = (
    ("Sheet Read", "AtkinsonHyperlegibleNext-Regular", 400, "normal"),
    ("Sheet Read", "AtkinsonHyperlegibleNext-Bold", 700, "normal"),
    ("Sheet Name", "Besley-Medium", 500, "normal"),
    ("Sheet Name", "Besley-SemiBold", 600, "normal"),
    ("Sheet Name", "Besley-MediumItalic", 500, "italic"),
)
_PAGE_MM: Final = 282.0
"""What a page holds between its margins, which `sheet.css` sets."""


def sheet_html(sheet: BenchSheet, plan: str = "") -> str:
    """The sheet as an HTML document for the screen and the printer.

    Args:
        sheet: what stands on it.
        plan: an SVG document of the cut plan, if there is one.
    """
    came_out = as_set(sheet, plan)
    page_count = came_out.pages
    draw = drawings(sheet.spec, plan)
    said = content(sheet)
    head = (
        '<meta charset="utf-8"/>'
        '<meta name="viewport" content="width=device-width, initial-scale=1"/>'
        + element("title", escaped(said["title"]))
        + element("style", _style() + _sizes(draw, page_count))
    )
    body = _edges(draw, page_count) + element("main", _main(said, draw, came_out))
    page = element("head", head) + element("body", body)
    return f"<!DOCTYPE html>\n{element('html', page, lang='en-GB')}\n"


def _main(said: dict[str, Any], draw: Drawings, came_out: AsSet) -> str:
    parts = [_header(said, draw)]
    parts += [_job(job, said["cut"]) for job in said["jobs"]]
    if came_out.has_section:
        parts.append(element("div", draw.section, class_="section"))
    if came_out.has_plan:
        parts.append(element("div", draw.plan, class_="section plan"))
    parts.append(element("footer", escaped(" ".join(said["foot"]))))
    return "".join(parts)


def _header(said: dict[str, Any], draw: Drawings) -> str:
    title = said["title"]
    class_ = "longer" if len(title) > 60 else "long" if len(title) > 26 else "short"
    blanks = " ".join(_run("blank", word) for word in ("Day", "Who", "Batch"))
    layers = "; ".join(
        f"<b>{escaped(one['mm'])}</b> {escaped(one['name'])}" for one in said["layers"]
    )
    layers += "." if layers else ""
    whole = f" <b>{escaped(said['all'])}.</b>" if said["all"] else ""
    life = " Drawn life size." if draw.face else ""
    words = (
        element("h1", escaped(title), class_=class_)
        + element("p", escaped(said["for"]), class_="for")
        + element("p", escaped("; ".join(said["meta"])), class_="small")
        + element("p", blanks)
        + element("p", layers + whole + life, class_="small")
    )
    face = element("div", draw.face, class_="face") if draw.face else ""
    return element("header", element("div", words) + face)


def _job(job: dict[str, Any], cut: list[Any]) -> str:
    name = f"<b>{escaped(job['number'])}</b>{escaped(job['name'])}"
    head = element("h2", name)
    taken = element("p", escaped(job["takes"]), class_="takes") if job["takes"] else ""
    will = element("p", escaped(job["will"]), class_="will") if job["will"] else ""
    said = taken + "".join(map(_step, job["steps"])) + will
    steps = element("div", said, class_="steps")
    if job["groups"]:
        is_tall = " tall" if job["height"] == "tall" else ""
        left = element("div", head + _table(job["groups"]))
        return element("section", left + steps, class_=f"job{is_tall}")
    if job["is_finish"] and cut:
        words = element("div", "".join(map(_paragraph, cut)), class_="cut")
        return element("section", head + steps + words, class_="job finish")
    return element("section", head + steps, class_="job wide")


def _table(groups: list[dict[str, Any]]) -> str:
    columns = ("box", "name", "add", "reads", "wrote")
    rows = [element("colgroup", "".join(f'<col class="{one}"/>' for one in columns))]
    for i, group in enumerate(groups):
        rows.append(element("tbody", _group_head(group["head"], is_first=i == 0)
                            + "".join(map(_row, group["lines"]))))  # fmt: skip
    return element("table", "".join(rows))


def _group_head(head: str, *, is_first: bool) -> str:
    if not is_first:
        cell = element(
            "th", escaped(head), class_="vessel", scope="colgroup", colspan=4
        )
        return element("tr", "<td></td>" + cell)
    cells = [f'<th class="vessel" scope="colgroup">{escaped(head)}</th>']
    cells += [f'<th scope="col">{one}</th>' for one in _HEADS]
    return element("tr", "<td></td>" + "".join(cells))


_HEADS: Final = ("add, g", "scale reads", "weighed")


def _row(line: dict[str, str]) -> str:
    notes = f"<small>, {escaped(line['notes'])}</small>" if line["notes"] else ""
    says = f' <span class="says">{escaped(line["says"])}</span>' if line["says"] else ""
    reads = escaped(line["reads"]) or "–"
    return (
        '<tr><td><span class="tick"></span></td>'
        f'<td class="name">{escaped(line["name"])}{notes}{says}</td>'
        f'<td class="n">{escaped(line["add"])}</td>'
        f'<td class="n r">{reads}</td><td></td></tr>'
    )


def _step(step: dict[str, Any]) -> str:
    cautions = "".join(
        element("p", f"<b>{escaped(head)}.</b> {escaped(text)}", class_="caution")
        for head, text in step["cautions"]
    )
    said = "".join(map(_paragraph, step["paragraphs"]))
    return cautions + (element("div", said, class_="step") if said else "")


def _paragraph(runs: list[list[str]]) -> str:
    return element("p", "".join(_run(manner, text) for manner, text in runs))


def _run(manner: str, text: str) -> str:
    if manner == "blank":
        return f'<span class="blank">{escaped(text)}<i></i></span>'
    if manner == "blanks":
        each = " ".join(f"{escaped(word)}<i></i>" for word in text.split(", "))
        return f'<span class="blank">{each}</span>'
    if manner == "big":
        return element("b", escaped(text), class_="big")
    return element("b", escaped(text)) if manner == "b" else escaped(text)


# --- style --------------------


def _edges(draw: Drawings, page_count: int) -> str:
    """Rulers in the margins, page by page."""

    def found() -> Iterator[str]:
        for side, rulers in (("left", draw.left), ("right", draw.right)):
            for i, svg in enumerate(rulers[:page_count]):
                if svg:
                    yield element("div", svg, class_=f"edge {side} page-{i}")

    return "".join(found())


def _sizes(draw: Drawings, page_count: int) -> str:
    wide, high = map(number, draw.face_mm)
    face = f".face svg{{width:{wide}mm;height:{high}mm}}"
    tops = "".join(
        f".page-{i}{{top:{number(i * _PAGE_MM)}mm}}" for i in range(page_count)
    )
    return face + tops


@cache
def _style() -> str:
    css = files("slabwright.publish.sheet").joinpath("sheet.css")
    folder = files("slabwright.publish.drawing").joinpath("fonts/woff2")
    fonts = "".join(
        f'@font-face{{font-family:"{family}";font-weight:{weight};font-style:{slope};'
        "src:url(data:font/woff2;base64,"
        + b64encode(folder.joinpath(f"{name}.woff2").read_bytes()).decode()
        + ') format("woff2")}'
        for family, name, weight, slope in _FONTS
    )
    return fonts + css.read_text(encoding="utf-8")
