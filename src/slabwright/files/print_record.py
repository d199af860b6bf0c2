"""The record of what was printed, read back from its file."""

from pathlib import Path
from typing import Final

from pydantic import TypeAdapter, ValidationError

from slabwright.errors import FileError, Mistake, Where
from slabwright.files.raw import read_text
from slabwright.label.printed import Printed

_READER: Final = TypeAdapter(Printed)


def read_print_record(path: Path) -> Printed:
    """What a file says was printed.

    Raises:
        FileError: if it can't be read, or is no such record.
    """
    text = read_text(path)
    try:
        return _READER.validate_json(text.text)
    except ValidationError as error:
        first = error.errors(include_url=False, include_context=False)[0]
        field = ".".join(map(str, first["loc"]))
        what = f"'{path}' is no record of what was printed."
        do = "Name the JSON file that was written beside the PDF."
        raise FileError(Mistake(what, do, Where(str(path), field=field))) from None
