"""The codes of kitchen.yaml: a company prefix, in-store ranges, a form with a price."""

import re
from typing import Annotated

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field

from slabwright.errors import Mistake, Where
from slabwright.kitchen import Codes
from slabwright.label.codes import wrong_codes


def _digits(value: object) -> object:
    """A whole number as its digits; YAML can't tell them apart."""
    is_number = isinstance(value, int) and not isinstance(value, bool)
    return str(value) if is_number else value


Digits = Annotated[str, BeforeValidator(_digits), Field(max_length=40)]


class CodesFile(BaseModel):
    """Numbers that may stand under a bar code."""

    model_config = ConfigDict(extra="forbid")

    company_prefix: Digits = ""
    in_store: Digits = ""
    form: Digits = ""


def codes_of(said: CodesFile, file: str) -> tuple[Codes, list[Mistake]]:
    """The codes as far as they are sound, and what is wrong with the rest."""
    codes = Codes(
        said.company_prefix.replace(" ", ""),
        _beginnings(said.in_store.replace(" ", "")),
        said.form.replace(" ", ""),
    )
    wrong = wrong_codes(codes)
    broken = {field for field, _, _ in wrong}
    sound = Codes(
        "" if "company_prefix" in broken else codes.company_prefix,
        () if "in_store" in broken else codes.in_store,
        "" if "form" in broken else codes.form,
    )
    return sound, [
        Mistake(what, do, Where(file, field=f"codes.{field}"))
        for field, what, do in wrong
    ]


def _beginnings(said: str) -> tuple[str, ...]:
    """`20-29` as ten of them, `21,23` as two; what is none stays as it is."""
    found: list[str] = []
    for part in filter(None, said.split(",")):
        ends = re.fullmatch(r"(\d\d)[-–](\d\d)", part)
        if ends and int(ends[1]) <= int(ends[2]):
            found += [f"{n:02}" for n in range(int(ends[1]), int(ends[2]) + 1)]
        else:
            found.append(part)
    return tuple(dict.fromkeys(found))
