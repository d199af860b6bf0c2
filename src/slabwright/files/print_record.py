"""The record of what was printed, read back from its file."""

from pathlib import Path
from typing import Final

from pydantic import TypeAdapter, ValidationError

from slabwright.errors import FileError, Mistake, Where
from slabwright.files.raw import Text, read_text
from slabwright.label.paper.printed import Printed

_READER: Final = TypeAdapter(Printed)


def read_print_record(path: Path) -> Printed:
    """What a file says was printed.

    Raises:
        FileError: if it can't be read, or is no such record.
    """
    return print_record(read_text(path))


def print_record(text: Text) -> Printed:
    """The same, of a text.

    Raises:
        FileError: if it is no such record.
    """
    try:
        return _READER.validate_json(text.text)
    except ValidationError as error:
        first = error.errors(include_url=False, include_context=False)[0]
        field = ".".join(map(str, first["loc"]))
        what = f"'{text.file}' is no record of what was printed."
        do = "Name the JSON file that was written beside the PDF."
        raise FileError(Mistake(what, do, Where(text.file, field=field))) from None
