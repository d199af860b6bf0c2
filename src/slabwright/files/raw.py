"""Bytes to text, at the door: size, encoding and noise are settled here."""

import codecs
from dataclasses import dataclass
from pathlib import Path

from slabwright.errors import FileError, Mistake, Where

MOST_BYTES = 1024 * 1024
"""Largest file that is read: 1 MiB, some hundred times a long card."""

_BOM = "\ufeff"
_TEXT_CONTROLS = frozenset("\t\n\r\f\v")


@dataclass(frozen=True, slots=True)
class Text:
    """A text as it stood in its file, and what must be kept when it is written back."""

    text: str
    """Without byte order mark; line ends as found."""
    file: str = ""
    has_bom: bool = False

    def encoded(self, text: str) -> bytes:
        """Another text in the manner of this one's file."""
        return ((_BOM if self.has_bom else "") + text).encode("utf-8")


def read_text(path: Path) -> Text:
    """The text in this file.

    Raises:
        FileError: if it is missing, over 1 MiB, not UTF-8 or not text at all.
    """
    name = str(path)
    try:
        if path.is_dir():
            raise _error(name, f"'{name}' is a folder.", "Name a file in it.")
        if path.stat().st_size > MOST_BYTES:
            raise _too_large(name, path.stat().st_size)
        with path.open("rb") as file:
            return decoded(file.read(MOST_BYTES + 1), name)
    except OSError as error:
        reason = error.strerror or "it can't be opened"
        what = f"'{name}' can't be read: {reason}."
        raise _error(name, what, "Check the name and the folder.") from error


def decoded(data: bytes, file: str = "") -> Text:
    """These bytes as text.

    Raises:
        FileError: if they are over 1 MiB, not UTF-8 or not text at all.
    """
    if len(data) > MOST_BYTES:
        raise _too_large(file, len(data))
    for mark, name in (
        (codecs.BOM_UTF16_LE, "UTF-16"),
        (codecs.BOM_UTF16_BE, "UTF-16"),
    ):
        if data.startswith(mark):
            raise _error(file, f"The file is in {name}.", "Save it again as UTF-8.")
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        what = (
            f"The file is not in UTF-8 (byte {data[error.start]:#04x} on line {line})."
        )
        if _is_noise(data.decode("latin-1")):
            what = "The file is not text."
        raise _error(file, what, "Save it again as UTF-8 text.") from error
    if _is_noise(text):
        raise _error(file, "The file is not text.", "Name a text file.")
    return Text(text.removeprefix(_BOM), file, has_bom=text.startswith(_BOM))


def _is_noise(text: str) -> bool:
    return any(c < " " and c not in _TEXT_CONTROLS for c in text) or "\x7f" in text


def _too_large(file: str, size: int) -> FileError:
    what = f"The file has {size / MOST_BYTES:.1f} MiB; a card has at most 1."
    return _error(file, what, "Name the card itself.")


def _error(file: str, what: str, do: str) -> FileError:
    return FileError(Mistake(what, do, Where(file)))
