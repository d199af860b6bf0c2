"""The shop of kitchen.yaml: its line, how its prices end, what it bears, its tax."""

import re
from collections.abc import Sequence
from datetime import date
from decimal import Decimal
from fractions import Fraction
from typing import Annotated, Final, Literal

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field

from slabwright.errors import FileError, Mistake, Where
from slabwright.files.makers_line import LINE_SO, read_line
from slabwright.files.told import TOLD_SO, read_told
from slabwright.kitchen import MakersLine, Shop, TaxRule, Told
from slabwright.label.ways import nearest_ways, way_of

_RATE: Final = re.compile(r"(?P<n>\d{1,3}(?:[.,]\d{1,4})?)\s*(?:%|per\s*cent)?")
_NONE: Final = re.compile(r"not\s+registered|unregistered|none", re.IGNORECASE)
_RATE_SO: Final = "Write rate: 20 %, rate: 0 %, or rate: not registered."
_EATEN: Final = re.compile(
    r"(?P<here>(?:eaten )?(?:here|in)|on the premises)"
    r"|(?P<away>(?:eaten |taken )?(?:away|out))",
    re.IGNORECASE,
)


def _text(value: object) -> object:
    """A number as the text that it stood as."""
    is_number = isinstance(value, int | float) and not isinstance(value, bool)
    return str(value) if is_number else value


def _many(value: object) -> object:
    """One where several may stand."""
    return [value] if isinstance(value, str) else value


Words = Annotated[str, BeforeValidator(_text), Field(min_length=1, max_length=200)]
Several = Annotated[list[Words], BeforeValidator(_many), Field(max_length=50)]
End = Annotated[
    Decimal, BeforeValidator(_text), Field(ge=0, lt=10_000, allow_inf_nan=False)
]


class _Strict(BaseModel):
    model_config = ConfigDict(extra="forbid", allow_inf_nan=False)


class TaxFile(_Strict):
    """One decision about tax."""

    rate: Words
    since: date = Field(alias="from")
    reason: str = Field(min_length=3, max_length=500)
    sold: Several = Field(default_factory=list)
    eaten: str = Field("", max_length=40)
    slabs: Several = Field(default_factory=list)


class ShopFile(_Strict):
    """How the shop prices what it makes."""

    line: Annotated[str, BeforeValidator(_text), Field(max_length=60)] = ""
    ends: list[End] = Field(default_factory=list, max_length=100)
    costs: list[Words] = Field(default_factory=list, max_length=100)
    tax: list[TaxFile] = Field(default_factory=list, max_length=200)


def shop_of(said: ShopFile, file: str) -> tuple[Shop, list[Mistake]]:
    """The shop as far as it is sound, and what is wrong with the rest."""
    wrong: list[Mistake] = []
    line: MakersLine | None = None
    if said.line.strip():
        found = read_line(said.line)
        if isinstance(found, str):
            wrong.append(Mistake(found, LINE_SO, Where(file, field="shop.line")))
        else:
            line = found
    told = _told(said.costs, file, wrong)
    rules = [_rule(one, file, n, wrong) for n, one in enumerate(said.tax)]
    ends = tuple(sorted(set(said.ends)))
    return Shop(line, ends, told, tuple(rule for rule in rules if rule)), wrong


def _told(said: Sequence[str], file: str, wrong: list[Mistake]) -> tuple[Told, ...]:
    found: list[Told] = []
    for number, text in enumerate(said):
        one = read_told(text)
        if isinstance(one, str):
            where = Where(file, field=f"shop.costs.{number}")
            wrong.append(Mistake(one, TOLD_SO, where))
        else:
            found.append(one)
    return tuple(found)


def _rule(
    said: TaxFile, file: str, number: int, wrong: list[Mistake]
) -> TaxRule | None:
    """One decision; None with a mistake, for half a decision is none."""
    before = len(wrong)
    field = f"shop.tax.{number}"
    rate = _rate(said.rate)
    if isinstance(rate, str):
        wrong.append(Mistake(rate, _RATE_SO, Where(file, field=f"{field}.rate")))
        rate = None
    eaten: Literal["", "here", "away"] = ""
    if said.eaten.strip():
        at = _EATEN.fullmatch(" ".join(said.eaten.split()))
        eaten = "" if at is None else "here" if at["here"] else "away"
        if at is None:
            what = f"'{said.eaten}' is neither here nor away."
            where = Where(file, field=f"{field}.eaten")
            wrong.append(Mistake(what, "Write eaten: here or eaten: away.", where))
    ways: list[str] = []
    for words in said.sold:
        way = way_of(words)
        if way is None:
            near = tuple(one.value for one in nearest_ways(words))
            what = f"'{words:.60}' is none of the five ways to sell."
            do = f"Write {' or '.join(near)}."
            where = Where(file, field=f"{field}.sold")
            wrong.append(Mistake(what, do, where, near))
        else:
            ways.append(way.value)
    if len(wrong) > before:
        return None
    reason = " ".join(said.reason.split())
    return TaxRule(rate, said.since, reason, tuple(ways), eaten, tuple(said.slabs))


def _rate(text: str) -> Fraction | str | None:
    """A share; None for a shop that is not registered; else what is wrong with it."""
    said = " ".join(text.split())
    if _NONE.fullmatch(said):
        return None
    found = _RATE.fullmatch(said)
    rate = Fraction(found["n"].replace(",", ".")) / 100 if found else Fraction(2)
    return rate if rate <= 1 else f"'{said:.40}' is no rate of tax, 0 to 100 %."


def rate_asked(text: str) -> Fraction | None:
    """A rate of tax as somebody types it; None for a shop that is not registered.

    Raises:
        FileError: if it is none.
    """
    found = _rate(text)
    if isinstance(found, str):
        raise FileError(Mistake(found, _RATE_SO, Where(field="tax")))
    return found
