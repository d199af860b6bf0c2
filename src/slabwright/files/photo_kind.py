"""What a file is by its first bytes, whatever it is called."""

from typing import Final

_TAKEN: Final = (
    (b"\xff\xd8\xff", "JPEG"),
    (b"\x89PNG\r\n\x1a\n", "PNG"),
)
_OTHERS: Final = (
    (b"GIF8", "a GIF"),
    (b"BM", "a BMP"),
    (b"II*\0", "a TIFF"),
    (b"MM\0*", "a TIFF"),
    (b"%PDF", "a PDF"),
    (b"PK", "a zip"),
    (b"<svg", "an SVG drawing"),
    (b"<?xml", "an XML file or SVG drawing"),
    (b"<!doctype", "a web page"),
    (b"<html", "a web page"),
)
_FILM_MARKS: Final = {
    b"hei": "a HEIC",
    b"hev": "a HEIC",
    b"mif": "a HEIC",
    b"avi": "an AVIF",
}
_TONGUES: Final = (b"<script", b"<html", b"<svg", b"<?php", b"<iframe", b"%pdf-")
"""Where other programs would begin to read a file as theirs."""


def kind_of(data: bytes) -> tuple[str, bool]:
    """What a file is, in words, and whether it is a kind of picture that is taken."""
    if not data:
        return "an empty file", False
    for mark, kind in _TAKEN:
        if data.startswith(mark):
            return kind, True
    if data[:4] == b"RIFF" and data[8:12] == b"WEBP":
        return "WebP", True
    start = data[:256].removeprefix(b"\xef\xbb\xbf").lstrip().lower()
    for mark, kind in _OTHERS:
        if start.startswith(mark.lower()):
            return kind, False
    if data[4:8] == b"ftyp":
        return _FILM_MARKS.get(data[8:11], "a film"), False
    return "something else", False


def other_tongue(data: bytes) -> bool:
    """Whether there is anything in it that a web page or a document begins with."""
    small = data.lower()
    return any(tongue in small for tongue in _TONGUES)
