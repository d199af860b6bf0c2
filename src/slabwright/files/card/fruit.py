"""Parts of a fruit or an egg: only the juice, only the zest, only the whites."""

import re
from dataclasses import replace
from typing import Final

from slabwright.files.card.names import Names
from slabwright.formula.line import Line

OF: Final = re.compile(
    r"(?:the\s+)?(?:finely\s+|freshly\s+)?(?:grated\s+|squeezed\s+)?"
    r"(?P<part>juice\s+and\s+(?:finely\s+)?(?:grated\s+)?(?:zest|rind)"
    r"|(?:zest|rind)\s+and\s+juice|juice|zest|rind|whites?|yolks?)"
    r"\s+(?:of|from)\s+(?=[\w½¼¾])",
    re.IGNORECASE,
)
"""`juice of`, `zest and juice of`, `whites of`: what follows gives a part only."""
_NOTED: Final = re.compile(
    r"\b(?P<a>juice|zest|rind)(?:d|ed)?\b(?:\s*(?:and|&|\+)\s*(?:finely\s+)?"
    r"(?:grated\s+)?(?P<b>juice|zest|rind)(?:d|ed)?\b)?(?:\s+only)?",
    re.IGNORECASE,
)
_FRUIT: Final = re.compile(r"(?P<fruit>[^,(]+?)\s*[,(]\s*(?P<tail>.*)$")


def part_name(words: str) -> str:
    """juice, zest, whites, yolks, or two of them with + between."""
    plain = words.casefold().replace("rind", "zest")
    found = [part for part in ("juice", "zest", "white", "yolk") if part in plain]
    return "+".join(found)


def is_known_part(name: str, part: str, names: Names) -> bool:
    """Whether the larder has this part of this fruit or egg."""
    single = _single(name)
    return any(names.is_known(f"{single} {one}") for one in part.split("+") if one)


def whole_with_part(text: str, names: Names) -> str:
    """The fruit of `2 lemons, zest and juice`; empty where it is no such thing."""
    found = _FRUIT.match(text)
    if found is None or not _NOTED.search(found["tail"]):
        return ""
    part = _NOTED.search(found["tail"])
    known = part is not None and is_known_part(
        found["fruit"], part_name(part.group()), names
    )
    return found["fruit"] if known else ""


def parts_of(line: Line, names: Names) -> tuple[Line, ...]:
    """Only the part of a fruit that goes in; two lines for juice and zest."""
    part = line.part
    if not part and line.amounts and line.amounts[0].unit.name == "each":
        found = _NOTED.search(", ".join(line.notes))
        part = part_name(found.group()) if found else ""
    single = _single(line.name)
    if part in {"white", "yolk"}:
        return (replace(line, part="", name=f"{single} {part}s"),)
    parts = [
        one for one in part.split("+") if one and names.is_known(f"{single} {one}")
    ]
    if not parts:
        return (replace(line, part=""),)
    if line.stated_g is not None and len(parts) > 1:
        parts = parts[:1]  # one weight for both: it is the juice that weighs
    return tuple(replace(line, part=one) for one in parts)


def _single(name: str) -> str:
    plain = name.split(",", maxsplit=1)[0].strip()
    for handling in ("unwaxed ", "large ", "small ", "medium ", "whole "):
        plain = plain.removeprefix(handling)
    if plain.casefold().endswith("ies"):
        return f"{plain[:-3]}y"
    return plain.removesuffix("s")
