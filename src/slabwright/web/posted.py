"""Forms whose fields are known when they come: rows of a table, trays of slabs."""

from collections.abc import Mapping
from typing import Annotated, Final

from fastapi import Depends, Request

from slabwright.errors import FileError, Mistake, Where

MOST_FIELDS: Final = 3000
MOST_VALUE: Final = 20_000
"""Characters of one field."""


async def _posted(request: Request) -> Mapping[str, str]:
    async with request.form(max_files=0, max_fields=MOST_FIELDS) as form:
        fields = {name: str(value) for name, value in form.items()}
    return _limited(fields)


def _asked(request: Request) -> Mapping[str, str]:
    return _limited(dict(request.query_params))


def _limited(fields: dict[str, str]) -> Mapping[str, str]:
    for name, value in fields.items():
        if len(value) > MOST_VALUE or "\0" in value:
            what = f"'{name:.40}' is too long, or no text."
            raise FileError(Mistake(what, "Write less.", Where(field=name[:40])))
    return fields


Posted = Annotated[Mapping[str, str], Depends(_posted)]
"""Every field of a form, by its name; of several of one name the last."""
Asked = Annotated[Mapping[str, str], Depends(_asked)]
"""Every field behind the question mark of an address."""


def whole(fields: Mapping[str, str], name: str, most: int, least: int = 0) -> int:
    """A whole number in a field; `least` where it is blank.

    Raises:
        FileError: if it is no such number.
    """
    said = fields.get(name, "").strip()
    if not said:
        return least
    number = int(said) if said.isdecimal() and len(said) < 11 else -1
    if not least <= number <= most:
        what = f"'{said:.40}' is no whole number from {least} to {most:,}."
        raise FileError(Mistake(what, "Mend it.", Where(field=name)))
    return number
