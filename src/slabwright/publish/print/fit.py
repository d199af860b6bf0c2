"""The largest letters with which a label fits its paper, or the paper that it needs."""

import json
import re
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from math import ceil
from typing import Any, Final

import typst

from slabwright.errors import FileError, Mistake, Where
from slabwright.label.paper.bars import bar_size, bars_of
from slabwright.label.paper.face import Face
from slabwright.label.paper.sheet import LARGEST_MM, Size
from slabwright.publish.drawing.lettering import width
from slabwright.publish.fonts import house_fonts
from slabwright.publish.print.bars_svg import bars_svg, figures_under
from slabwright.publish.print.letters import figures_pt, heights_mm, size_pt
from slabwright.publish.sheet.glyphs import all_shown, is_whole, shown_inside

INSET_MM: Final = {"label": 2.0, "ticket": 3.0}
"""White around what is printed; printers need about so much (common practice)."""
SMALL_PRINT_MM: Final = 0.7
"""A small x of what no law asks for; our own choice."""
LOWEST_BARS_MM: Final = 8.0
"""Bars are never cut lower; our own choice."""
_MOST_MM: Final = {"label": 3.5, "ticket": 7.0}
_COMFORT_MM: Final = {"label": 1.35, "ticket": 2.4}
"""A small x up to which larger letters come before a larger name."""
_UNBROKEN: Final = 24
"""Longer words of a text may be broken anywhere; of names never."""
_SHORT_NAME: Final = 16
"""A name no longer than this stands on one line, but in the closest manner."""
_LONGEST: Final = 12
"""So many of the widest words are measured."""
_ROOMY: Final = (0.5, 0.68)
_CLOSE: Final = (0.42, 0.52)
_CLOSEST: Final = (0.36, 0.44)
_MANNERS: Final[tuple[dict[str, Any], ...]] = tuple(
    {"ratio": ratio, "bars": bars, "table": table, "leading": lines[0],
     "spacing": lines[1], "slab": slab}
    for ratio, bars, table, lines, slab in (
        (2.1, 0, True, _ROOMY, True),
        (1.8, 1, True, _ROOMY, True),
        (1.6, 2, True, _CLOSE, True),
        (1.6, 2, False, _CLOSE, True),
        (1.5, 3, True, _CLOSE, False),
        (1.4, 3, False, _CLOSE, False),
        (1.1, 3, False, _CLOSEST, False),
    )
)  # fmt: skip
"""From the roomiest to the closest; ratio of the name's letters to the text's."""


@dataclass(frozen=True, slots=True)
class Fitted:
    """A face with the letters that it is set in."""

    face: Face
    size: Size
    x_mm: float
    """How high a small x of the text stands [mm]."""
    high_mm: float
    """What is printed takes so much of the height [mm]."""
    module_mm: float | None
    """Of the bars; None without bars."""
    bars_mm: float | None
    """Height of the bars; None without bars."""
    bars_usual_mm: float | None
    """How high they would be uncut."""
    task: dict[str, Any]
    """What the template is handed."""


@dataclass(frozen=True, slots=True)
class Refused:
    """A label that does not fit with letters of the least height."""

    size: Size
    least_x_mm: float
    would_fit: tuple[Size, ...]
    """As wide, as high, and of the same shape; empty if no paper takes it."""
    parts: tuple[tuple[str, float], ...]
    """What takes the room: part and its height at this width [mm], highest first."""

    @property
    def mistake(self) -> Mistake:
        """It in words."""
        takes = ", ".join(
            f"{name.replace('_', ' ')} {high:.0f} mm" for name, high in self.parts[:4]
        )
        what = (
            f"It doesn't fit {self.size.words} with a small x of "
            f"{self.least_x_mm:g} mm, the least. What takes the room, one below the "
            f"other: {takes}."
        )
        sizes = " or ".join(one.words for one in self.would_fit)
        do = f"It fits {sizes}." if sizes else "No label up to a metre takes it."
        return Mistake(what, do, Where(field="size"))


def fitted(face: Face, size: Size) -> Fitted | Refused:
    """Set a face in the largest letters that fit.

    Args:
        face: what it says.
        size: of the label, its edges.

    Raises:
        FileError: if it holds a character that can't be printed, or nothing at all.
    """
    inset_mm = INSET_MM[face.kind]
    inner = (size.width_mm - 2 * inset_mm, size.height_mm - 2 * inset_mm)
    if min(inner) <= 0:
        inner = (max(inner[0], 0.1), max(inner[1], 0.1))
    heights = heights_mm(face.least_x_mm, _MOST_MM[face.kind])
    data = _face_data(face)
    task: dict[str, Any] = {
        "title": f"{face.name or face.slab}, {face.kind}",
        "face": data,
        "inner_mm": inner,
        "sizes_pt": [size_pt(one) for one in heights],
        "manners": _MANNERS,
        "comfort": sum(one <= _COMFORT_MM[face.kind] for one in heights) - 1,
        "foot_pt": size_pt(SMALL_PRINT_MM),
    }
    found = _asked(task)
    if not found["fits"]:
        return _refused(face, size, inset_mm, found)
    number = int(found["manner"])
    manner = {
        **_MANNERS[number],
        "top_beside": found["top_beside"],
        "low_beside": found["low_beside"],
    }
    high_mm = heights[int(found["size"])]
    bars = data["bars"][int(found["bars"])] if data["bars"] else None
    data["bars"], manner["bars"] = [bars] if bars else [], 0
    return Fitted(
        face,
        size,
        high_mm,
        float(found["high_mm"]),
        bars["module_mm"] if bars else None,
        bars["bars_mm"] if bars else None,
        bars["usual_mm"] if bars else None,
        {
            "title": task["title"],
            "face": data,
            "foot_pt": task["foot_pt"],
            "size_mm": (size.width_mm, size.height_mm),
            "inset_mm": inset_mm,
            "size_pt": size_pt(high_mm),
            "manner": manner,
        },
    )


@cache
def template(*names: str) -> bytes:
    """Templates of this room, one behind the other."""
    home = files("slabwright.publish.print")
    return b"\n".join(home.joinpath(f"{name}.typ").read_bytes() for name in names)


def _asked(task: dict[str, Any]) -> dict[str, Any]:
    said = typst.query(
        template("face", "fit"),
        "<fit>",
        field="value",
        one=True,
        font_paths=house_fonts(),
        sys_inputs={"data": json.dumps(task, ensure_ascii=False)},
    )
    found: dict[str, Any] = json.loads(said)
    return found


def _refused(face: Face, size: Size, inset_mm: float, found: dict[str, Any]) -> Refused:
    around = 2 * inset_mm
    sizes: list[Size] = []
    if found["as_wide_mm"] is not None:
        high = ceil(found["as_wide_mm"] + around)
        sizes.append(Size(size.width_mm, float(high)))
    if found["as_high_mm"] is not None:
        sizes.append(Size(float(ceil(found["as_high_mm"] + around)), size.height_mm))
    if found["larger"] is not None:
        inner = (size.width_mm - around, size.height_mm - around)
        both = [ceil(one * found["larger"] + around) for one in inner]
        sizes.append(Size(float(both[0]), float(both[1])))
    if found["square_mm"] is not None:
        side = float(found["square_mm"] + around)
        sizes.append(Size(side, side))
    able = [one for one in sizes if max(one.width_mm, one.height_mm) <= LARGEST_MM]
    able = [one for one in able if not any(_is_within(o, one) for o in able)]
    able.sort(key=lambda one: one.width_mm * one.height_mm)
    parts = sorted(found["parts"], key=lambda part: -part[1])
    return Refused(
        size,
        face.least_x_mm,
        tuple(dict.fromkeys(able)),
        tuple((name, high) for name, high in parts if high > 0),
    )


def _is_within(small: Size, large: Size) -> bool:
    return (
        small != large
        and small.width_mm <= large.width_mm
        and small.height_mm <= large.height_mm
    )


# --- what the template is handed --------------------


def _face_data(face: Face) -> dict[str, Any]:
    lines = [("b", face.date), ("", face.lot)]
    lines += [("", _ended(one)) for one in face.storage]
    lines.append(("", face.business))
    _insist_printable([run.text for one in face.paragraphs for run in one.runs])
    slab = face.slab if face.slab.casefold() != face.name.casefold() else ""
    paragraphs = [
        {
            "name": one.name,
            "runs": [
                (_broken(shown_inside(run.text)), run.is_emphasised) for run in one.runs
            ],
        }
        for one in face.paragraphs
    ]
    nutrition = [
        {
            "name": row.name,
            "per_100_g": row.per_100_g,
            "per_piece": row.per_piece,
            "is_part": row.is_part,
        }
        for row in face.nutrition
    ]
    bars, alt = _bars(face.number)
    data: dict[str, Any] = {
        "kind": face.kind,
        "slab": slab,
        "name": face.name,
        "net": face.net,
        "price": face.price,
        "figures_pt": figures_pt(face.least_figures_mm or 0.0),
        "paragraphs": paragraphs,
        "nutrition": nutrition,
        "piece": face.piece,
        "lines": [(manner, _broken(said)) for manner, said in lines if said],
        "foot": face.foot,
    }
    _insist_printable(data)
    data = all_shown(data)
    data["paragraphs"] = paragraphs  # their blanks and their breaks stay as they are
    for row in data["nutrition"]:
        row |= {key: _broken(row[key]) for key in ("per_100_g", "per_piece")}
    data["lines"] = [(manner, _kept(said)) for manner, said in data["lines"]]
    data["foot"] = ", ".join(map(_unbroken, face.revisions))
    data["bars"], data["bars_alt"] = bars, alt
    text = " ".join(one.text for one in face.paragraphs)
    text += " ".join(("", face.date, face.lot, *face.storage, face.business))
    data["long"] = _widest(_broken(text))
    is_called = slab and face.kind == "ticket"
    name = slab if is_called else face.name or slab
    data["long_name"] = _widest(name)
    data["whole_name"] = [name] if len(name) <= _SHORT_NAME else []
    if is_called:
        data["long"] += _widest(face.name)
    return data


def _bars(digits: str) -> tuple[list[dict[str, Any]], str]:
    """The bars of each manner first, then others as high as there may be room for."""
    if not digits:
        return [], ""
    bars = bars_of(digits)
    usual, least = bar_size("module_usual"), bar_size("module_least")
    full_mm = bars.usual_height_mm
    forms = [
        (usual, full_mm), (usual, 0.6 * full_mm), (least, 0.5 * full_mm),
        (least, LOWEST_BARS_MM),
    ]  # fmt: skip
    for module_mm in (usual, least):
        most = full_mm * module_mm / usual
        count = int(most - LOWEST_BARS_MM)
        forms += [(module_mm, most - n) for n in range(count + 1)]
    found = [
        {
            "svg": bars_svg(bars, module_mm, high_mm),
            "module_mm": module_mm,
            "bars_mm": high_mm,
            "usual_mm": full_mm * module_mm / usual,
            "width_mm": bars.width_modules * module_mm,
            "figures": figures_under(bars),
        }
        for module_mm, high_mm in forms
    ]
    return found, f"{bars.name} {digits}"


def _widest(text: str) -> list[str]:
    """The widest words that can't be broken."""
    words = set(re.split(r"[\s\u200b]+|(?<=-)", text)) - {""}
    return sorted(words, key=lambda word: -width(word, 1.0, "bold"))[:_LONGEST]


def _broken(text: str) -> str:
    """Very long words may be broken, a number and its unit not."""
    whole = re.sub(r"(?<=\d) (?=(?:%|k?g|ml|kJ|kcal)(?!\w))", "\u00a0", text)
    return re.sub(rf"\S{{{_UNBROKEN}}}(?=\S)", "\\g<0>\u200b", whole)


def _kept(date: str) -> str:
    """A date that is broken behind its colon alone."""
    head, colon, day = date.partition(": ")
    return f"{head}{colon}{_unbroken(day)}" if colon else date


def _unbroken(text: str) -> str:
    return text.replace(" ", "\u00a0")


def _ended(text: str) -> str:
    return text if text.endswith(".") else f"{text}."


def _insist_printable(data: Any) -> None:
    """No box stands on a label in place of a letter.

    Raises:
        FileError: if a character is in none of the house's fonts.
    """
    if isinstance(data, str):
        bare = data.replace("\u200b", "")
        if not is_whole(bare):
            what = f"“{bare:.60}” holds a character that no font here can print."
            raise FileError(
                Mistake(what, "Write it in other letters.", Where(field="print"))
            )
    elif isinstance(data, dict):
        for one in data.values():
            _insist_printable(one)
    elif isinstance(data, list | tuple):
        for one in data:
            _insist_printable(one)
