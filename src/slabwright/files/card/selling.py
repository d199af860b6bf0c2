"""The card words sold, called, pictured and dated: what a label leans on."""

import re
from datetime import date
from decimal import Decimal
from typing import Final

from slabwright.errors import Mistake, Where
from slabwright.files.card.lines import CardLine
from slabwright.label.ways import way_of
from slabwright.spec.card import Dated, DateKind, Pictured, Sold

_MONEY: Final = re.compile(
    r"(?:[£€$]|[A-Z]{3}\s?)?\s*(\d+(?:[.,]\d{1,2})?)\s*(?:[A-Z]{3})?"
)
_PIECES: Final = re.compile(
    r"(?:(?:in\s+)?(?:an?\s+)?(?:box|pack|bag|tub)(?:es|s)? of|.*\bin (?:boxes|packs"
    r"|bags|tubs) of)\s+(?P<n>\d+)|(?P<p>\d+)\s+pieces?(?:\s+(?:in )?(?:a|each) \w+)?",
    re.IGNORECASE,
)
_FROM: Final = re.compile(r"from\s+(?P<day>\d\S*)", re.IGNORECASE)
_NET: Final = re.compile(r"net\s+(?P<g>\d+(?:[.,]\d+)?)\s*(?P<u>g|kg)", re.IGNORECASE)
_WHOLE: Final = re.compile(r"(?:an?\s+|the\s+)?whole tray", re.IGNORECASE)
_MOST_PIECES: Final = 10_000
_KINDS: Final[tuple[DateKind, ...]] = ("best before", "use by", "none")
_DAY: Final = r"(?:the )?(?:bak(?:e|ing)|mak(?:e|ing)) day"
_COUNTED: Final = re.compile(
    rf"(?:{_DAY}|day (?:it is )?(?:made|baked)) (?:is )?(?P<not>not )?counted"
    rf"|(?P<with>counting|with|including) {_DAY}|(?P<after>after) {_DAY}",
    re.IGNORECASE,
)
_LASTS: Final = re.compile(
    r"(?<![\d.,-])(?P<n>\d+)\s*(?P<u>days?|weeks?|months?)\b", re.IGNORECASE
)
MOST_DAYS: Final = 3660
LONGEST_CALLED: Final = 300
_SAYS: Final = {
    "price": "price", "from_day": "first day", "pieces": "number of pieces",
    "net_g": "net weight", "whole_tray": "whole tray",
}  # fmt: skip
_SOLD_SO: Final = (
    "Write it so: sold packed here, box of 2, 6.40, from 2026-10-01. The price stands "
    "after a comma: 3.20."
)
_DATED_SO: Final = (
    "Write dated best before, 4 days, bake day counted; dated use by, 3 days after the "
    "bake day; or dated none."
)


def read_sold(line: CardLine, value: str) -> Sold | Mistake:
    """How it is sold, in packs of how many, for how much, from which day on."""
    how: list[str] = []
    said: dict[str, object] = {}
    doubtful = ""
    where = Where(span=line.span(), field="sold")
    parts = [part.strip() for part in re.split(r",(?!\d)", value)]
    for at, part in enumerate(parts):
        one = _clause(part)
        if isinstance(one, str):
            return Mistake(one, _SOLD_SO, where)
        for name, read in one.items():
            if name in said:
                what = f"This line says its {_SAYS[name]} twice."
                return Mistake(what, "Keep one.", where)
            said[name] = read
        if not one.keys() & {"price", "from_day", "net_g"}:
            how.append(part)
        is_only_words = not one and (at > 0 or len(parts) == 1)
        if is_only_words and re.search(r"\d", part):
            doubtful = part
    if doubtful and (doubtful == parts[-1] or "price" not in said):
        return Mistake(f"'{doubtful:.60}' is no price.", _SOLD_SO, where)
    words = ", ".join(part for part in how if part)
    price, from_day = said.get("price"), said.get("from_day")
    pieces, net_g = said.get("pieces"), said.get("net_g")
    return Sold(
        words,
        price if isinstance(price, Decimal) else None,
        line.span(),
        way_of(words),
        pieces if isinstance(pieces, int) else None,
        "whole_tray" in said,
        from_day if isinstance(from_day, date) else None,
        net_g if isinstance(net_g, float) else None,
    )


def _clause(part: str) -> dict[str, object] | str:
    """What one part between commas says; what is wrong with it, in words."""
    if day := _FROM.fullmatch(part):
        try:
            return {"from_day": date.fromisoformat(day["day"])}
        except ValueError:
            return f"'{day['day']:.40}' is no date."
    if net := _NET.fullmatch(part):
        grams = float(net["g"].replace(",", ".")) * (1000 if net["u"] != "g" else 1)
        return {"net_g": grams} if grams > 0 else "A net weight of nothing is none."
    if _WHOLE.fullmatch(part):
        return {"whole_tray": True}
    if pieces := _PIECES.fullmatch(part):
        number = int(pieces["n"] or pieces["p"])
        if 1 <= number <= _MOST_PIECES:
            return {"pieces": number}
        return f"'{part:.40}' is no number of pieces: 1 to {_MOST_PIECES:,}."
    if money := _MONEY.fullmatch(part):
        return {"price": Decimal(money.group(1).replace(",", "."))}
    return {"whole_tray": True} if re.search(r"\bwhole tray\b", part) else {}


def read_called(line: CardLine, value: str) -> str | Mistake:
    """The name of the food: what it is, in words that anybody understands."""
    if len(value) > LONGEST_CALLED:
        what = f"The name of the food has {len(value)} characters."
        do = f"Say it in {LONGEST_CALLED}, as it would stand on a label."
        return Mistake(what, do, Where(span=line.span(), field="called"))
    return " ".join(value.split())


def read_pictured(line: CardLine, value: str) -> Pictured | Mistake:
    """What words or pictures on the pack stress, one after each comma."""
    what = tuple(dict.fromkeys(p.strip() for p in value.split(",") if p.strip()))
    if not what:
        where = Where(span=line.span(), field="pictured")
        return Mistake(
            "Nothing is pictured.", "Write pictured hazelnuts, coffee.", where
        )
    return Pictured(what, line.span())


def read_dated(line: CardLine, value: str) -> Dated | Mistake:
    """Best before, use by or none, and how its days are counted."""
    where = Where(span=line.span(len(line.text) - len(value)), field="dated")
    text = " ".join(value.casefold().split())
    kind = next((one for one in _KINDS if re.match(rf"{one}\b", text)), None)
    if kind is None:
        what = f"'{value:.60}' doesn't say best before, use by or none."
        return Mistake(what, _DATED_SO, where, _KINDS)
    rest = text.removeprefix(kind).strip(" ,:")
    if kind == "none":
        if rest:
            return Mistake(f"'{rest:.60}' stands behind none.", _DATED_SO, where)
        return Dated(kind, line.span(), value)
    lasts, counted = _LASTS.search(rest), _COUNTED.search(rest)
    left = _COUNTED.sub("", _LASTS.sub("", rest, count=1), count=1).strip(" ,")
    if lasts is None or left:
        told = f"'{left:.60}' is not understood" if lasts else "It says no whole days"
        return Mistake(f"{told}: {value:.60}.", _DATED_SO, where)
    number, unit = int(lasts["n"]), lasts["u"][0]
    days = number * {"d": 1, "w": 7, "m": 31}[unit]
    is_counted = None
    if counted is not None:
        is_counted = not (counted["not"] or counted["after"])
    if days > MOST_DAYS or (number == 0 and is_counted is not False):
        what = f"'{lasts.group()}' is no time that a slab keeps."
        return Mistake(what, "Give 1 day or more, and no more than 10 years.", where)
    months = number if unit == "m" else 0
    return Dated(kind, line.span(), value, 0 if months else days, months, is_counted)
