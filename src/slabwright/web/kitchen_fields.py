"""What a kitchen's form asks: parts, fields, and how each is written into its file."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal, InvalidOperation
from typing import Any, Final, Literal

from slabwright.errors import FileError, Mistake, Where
from slabwright.files.kitchen_file import KitchenFile
from slabwright.files.yaml_edit import number_as_typed
from slabwright.larder.index import COUNTRIES
from slabwright.publish import words

Kind = Literal["text", "number", "money", "share", "choice", "flag", "shifts"]
Typed = Mapping[str, str]
"""What stands in the fields of one row, by name."""

ORDER: Final = tuple(KitchenFile.model_fields)
"""Fields of the kitchen's file, as new ones are put in."""
_EGGS: Final = ("small", "medium", "large", "very large")
_NATIONS: Final = ("England", "Wales", "Scotland", "Northern Ireland")
_SPOONS: Final = ("metric", "US", "AU")
_SHIFT: Final = re.compile(
    r"(?P<days>[a-z ,]*?)\s*(?P<begins>\d{1,2}[:.]?\d\d)\s*(?:-|–|to)\s*"
    r"(?P<ends>\d{1,2}[:.]?\d\d)"
)


@dataclass(frozen=True, slots=True)
class Field:
    """One field of the form, and of the file."""

    name: str
    label: str
    kind: Kind = "text"
    unit: str = ""
    usual: str = ""
    """What holds where nothing is said."""
    choices: tuple[str, ...] = ()
    """All that can be said of a choice; what is offered for a text."""


@dataclass(frozen=True, slots=True)
class Part:
    """Fields that stand together; or a list of things, each with these fields."""

    key: str
    title: str
    fields: tuple[Field, ...]
    is_list: bool = False
    intro: str = ""
    empty: str = "None said."
    names: dict[str, Field] = field(init=False, repr=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "names", {one.name: one for one in self.fields})


_NAME: Final = Field("name", "name")
_WARMTH: Final = Field("temperature_C", "temperature", "number", "°C")
_SHELVES: Final = (
    Field("shelves", "shelves", "number"),
    Field("shelf", "size of a shelf", unit="60 x 40 cm"),
)
_NOTE: Final = Field("note", "note")

_EVERY: Final = (
    Part("house", "The house", (
        Field("name", "name"),
        Field("address", "address, for labels"),
        Field("phone", "telephone"),
        Field("country", "country", usual="GB", choices=tuple(COUNTRIES)),
        Field("nation", "nation", "choice", choices=_NATIONS),
        Field("currency", "currency", usual="GBP", choices=("GBP", "EUR", "USD")),
        Field("eggs", "eggs", "choice", usual="medium", choices=_EGGS),
        Field("spoons", "spoons", "choice", usual="metric", choices=_SPOONS),
    ), intro="Country decides names, egg classes and spoons; two and three capitals, "
    "as in GB and GBP."),
    Part("air", "Air and probe", (
        Field("altitude_m", "height above the sea", "number", "m", "0"),
        Field("probe_in_boiling_water_C", "the probe reads in boiling water", "number",
              "°C"),
    ), intro="Water boils lower the higher the kitchen stands; sugar boils end lower "
    "with it."),
    Part("hand", "Knife and bench", (
        Field("knife_mm", "the knife takes", "number", "mm", "0"),
        Field("level_mm", "one side of a slab stands higher by", "number", "mm"),
        Field("knife_off_mm", "a stroke lies off its line by", "number", "mm"),
    ), intro="From your own ruler. What is left empty is taken as usual."),
    Part("money", "Wages, power, waste", (
        Field("labour_per_hour", "an hour's labour", "money"),
        Field("electricity_per_kWh", "a kilowatt-hour", "money"),
        Field("waste_share", "of what is bought goes to waste", "share", "%", "0"),
    )),
    Part("scales", "Scales", (
        Field("to_g", "weighs up to", "number", "g"),
        Field("step_g", "in steps of", "number", "g"),
    ), is_list=True, empty="None said: one to 5,000 g in steps of 1 g is taken."),
    Part("tins", "Tins", (_NAME, Field("size", "inside", unit="57 x 37 x 4.5 cm")),
         is_list=True, empty="None said. A card can give sizes all the same."),
    Part("vessels", "Pans and bowls", (
        _NAME, Field("litres", "holds", "number", "l"),
        Field("across_cm", "across", "number", "cm"),
        Field("empty_g", "weighs empty", "number", "g"),
    ), is_list=True, empty="None said, so nothing is held against a rim."),
    Part("cutters", "Rollers", (
        _NAME, Field("wheels", "wheels", "number"),
        Field("from_mm", "set from", "number", "mm"),
        Field("to_mm", "to", "number", "mm"),
    ), is_list=True),
    Part("ovens", "Ovens", (
        _NAME, _WARMTH, *_SHELVES, Field("fan", "fan", "flag"), _NOTE,
    ), is_list=True),
    Part("rings", "Rings", (_NAME, Field("power_kW", "power", "number", "kW"), _NOTE),
         is_list=True),
    Part("fridges", "Fridges", (_NAME, _WARMTH, *_SHELVES, _NOTE), is_list=True),
    Part("freezers", "Freezers", (_NAME, _WARMTH, *_SHELVES, _NOTE), is_list=True),
    Part("shelves", "Shelves", (_NAME, _WARMTH, *_SHELVES, _NOTE), is_list=True),
    Part("people", "People", (
        _NAME,
        Field("shifts", "works", "shifts", "thu fri 06:00-14:00; sat 08:00-16:00"),
    ), is_list=True),
)  # fmt: skip
PARTS: Final = {part.key: part for part in _EVERY}
"""Parts of the kitchen, in the order of its page."""


def typed_of(part: Part, row: Mapping[str, Any]) -> dict[str, str]:
    """What the fields of a form show of a row of the file."""
    return {one.name: _shown(one, row.get(one.name)) for one in part.fields}


def value_words(one: Field, typed: str, currency: str) -> str:
    """A value as the kitchen's page tells it: with its unit, money as money."""
    said = number_as_typed(typed) if one.kind in {"number", "share", "money"} else typed
    if isinstance(said, str):
        return typed
    if one.kind == "money":
        return words.money(Decimal(str(said)), currency)
    number = f"{Decimal(str(said)):,f}"
    glue = "" if one.unit in {"%", ""} else "\u2009"
    return f"{number}{glue}{one.unit}"


def row_of(part: Part, typed: Typed) -> dict[str, object]:
    """What a row of the file is to say for these fields; None for what is empty.

    Raises:
        FileError: if shifts can't be read; all else the file's schema refuses.
    """
    return {
        one.name: _read(one, typed[one.name].strip())
        for one in part.fields
        if one.name in typed
    }


def is_blank(typed: Typed) -> bool:
    """Whether nothing at all was typed."""
    return not any(value.strip() for value in typed.values())


def rows_in(part: Part, posted: Typed) -> list[tuple[int | None, dict[str, str]]]:
    """The rows of a posted list: each with its number in the file, None if new."""
    found: dict[str, dict[str, str]] = {}
    for key, value in posted.items():
        row, dot, name = key.partition(".")
        if dot and name in part.names and re.fullmatch(r"n?\d{1,4}", row):
            found.setdefault(row, {})[name] = value
    numbered = sorted(
        found.items(), key=lambda one: (one[0][0] == "n", len(one[0]), one)
    )
    return [(int(r) if r.isdecimal() else None, typed) for r, typed in numbered]


def _shown(one: Field, value: Any) -> str:
    if value is None:
        return ""
    if one.kind == "flag":
        return "yes" if value is True else "no" if value is False else str(value)
    if one.kind == "shifts":
        return _shifts_shown(value)
    if one.kind == "share" and isinstance(value, int | float):
        return f"{Decimal(str(value)) * 100:f}".removesuffix(".00").removesuffix(".0")
    return str(value)


def _read(one: Field, typed: str) -> object:
    if not typed:
        return None
    if one.kind in {"number", "money"}:
        return number_as_typed(typed)
    if one.kind == "share":
        try:
            share = Decimal(typed.rstrip("% ").replace(",", ".")) / 100
        except InvalidOperation:
            return typed
        return number_as_typed(f"{share:f}") if share.is_finite() else typed
    if one.kind == "flag":
        return {"yes": True, "no": False}.get(typed, typed)
    if one.kind == "shifts":
        return _shifts_read(typed)
    if one.name in {"country", "currency"}:
        return typed.upper()
    return typed


def _shifts_shown(value: Any) -> str:
    if not isinstance(value, list):
        return str(value)
    said = [
        f"{' '.join(map(str, one.get('days', [])))} {one.get('from')}-{one.get('to')}"
        for one in value
        if isinstance(one, dict)
    ]
    return "; ".join(one.strip() for one in said)


def _shifts_read(typed: str) -> Sequence[dict[str, object]]:
    """`thu fri 06:00-14:00; sat 08:00-16:00` as the file has it."""
    shifts: list[dict[str, object]] = []
    for shift in filter(None, (part.strip() for part in typed.split(";"))):
        found = _SHIFT.fullmatch(shift.casefold())
        if found is None:
            what = f"'{shift:.80}' is no shift."
            do = "Write it so: thu fri 06:00-14:00; sat 08:00-16:00."
            raise FileError(Mistake(what, do, Where(field="shifts")))
        days = [day[:3] for day in re.findall(r"[a-z]+", found["days"])]
        told = {"days": days, "from": found["begins"], "to": found["ends"]}
        shifts.append({key: value for key, value in told.items() if value})
    return shifts
