"""Lines that open a layer: its name, where it comes from, how much of it."""

import re
from collections.abc import Iterable
from typing import Final

from slabwright.errors import Mistake, Where
from slabwright.files.card.draft import Block
from slabwright.files.card.lines import CardLine
from slabwright.files.card.names import Names
from slabwright.files.card.sizes import MM
from slabwright.formula.book import slug
from slabwright.quantity.numbers import Hostile, number_at
from slabwright.quantity.units import unit_named
from slabwright.spec.card import Take

_FROM: Final = re.compile(r"\s+from\s+", re.IGNORECASE)
_COMPONENT: Final = re.compile(r"^component\s+(\S.*)$", re.IGNORECASE)
_COMMA: Final = r"\s*(?:(?<!\d),|,(?!\d{3}(?!\d)))\s*"
_TAKES: Final = re.compile(
    _COMMA + r"(?P<take>(?:[^,]|,(?=\d))*\d[^,]*|[^,]*[½¼¾⅓⅔][^,]*|half an? batch"
    r"|nan[^,]*|inf[^,]*|all|the whole batch)$",
    re.IGNORECASE,
)


def names_on(lines: Iterable[CardLine]) -> tuple[str, ...]:
    """Names of the components that stand on this card."""
    found = (_COMPONENT.match(line.text) for line in lines)
    return tuple(match.group(1).strip() for match in found if match)


def read_layer(line: CardLine, value: str, names: Names) -> Block | Mistake:
    """The layer that this line opens."""
    offset = len(line.text) - len(value)
    takes = _TAKES.search(value)
    take: Take | Mistake | None = None
    if takes:
        take = _take(line, offset + takes.start("take"), takes["take"])
    if isinstance(take, Mistake):
        return take
    head = value[: takes.start()] if takes and take is not None else value
    joint = _FROM.search(head)
    if joint is None:
        return Block("layer", head.strip(), line.span(offset), take or Take())
    source = head[joint.end() :].strip()
    span = line.span(offset + joint.end(), offset + len(head))
    if slug(source) not in names.components:
        what = f"No component is called '{source}'."
        near = tuple(n for n in sorted(names.components) if n[:3] == slug(source)[:3])
        do = (
            f"Write {' or '.join(near)}."
            if near
            else (f"Write a block: component {source}, or a card of it in components/.")
        )
        return Mistake(what, do, Where(span=span), near)
    return Block(
        "layer", head[: joint.start()].strip(), line.span(offset), take or Take(),
        source, span,
    )  # fmt: skip


def _take(line: CardLine, at: int, text: str) -> Take | Mistake | None:
    """How much is taken: grams, a depth or batches; None if the words say neither."""
    plain = text.strip().casefold()
    span = line.span(at, at + len(text))
    if plain in {"all", "the whole batch"}:
        return Take(span, batches=1.0)
    number = number_at(text.strip())
    where = Where(span=span)
    if isinstance(number, Hostile):
        what = f"The layer takes {number.text}."
        return Mistake(what, "Write 400 g, 6 mm or 0.5 batch.", where)
    if number is None:
        return None
    unit = text.strip()[number.end :].strip().casefold()
    unit = re.sub(r"\s+(?:deep|of it|of the batch)$", "", unit).strip("- ")
    if number.value <= 0 or number.value > 1e6:
        what = f"The layer takes {number.value:g} {unit}."
        return Mistake(what, "Write 400 g, 6 mm or 0.5 batch.", where)
    if unit in MM:
        return Take(span, depth_mm=number.value * MM[unit])
    if unit in {"batch", "batches", "a batch", "of a batch"}:
        return Take(span, batches=number.value)
    mass = unit_named(unit)
    if mass is not None and mass.kind == "mass":
        return Take(span, grams=number.value * mass.sizes["metric"].value)
    return None
