"""Weights of pieces as they are typed or kept in a file: grams, one after another."""

import re

from slabwright.errors import FileError, Mistake, Where
from slabwright.files.raw import Text

_WORD = re.compile(r"[^\s;]+")
_GRAMS = re.compile(r"(\d+(?:[.,]\d+)?)g?")


def read_weights(text: Text) -> list[float]:
    """The weights in a text [g]; what stands behind a # is left out.

    Raises:
        FileError: with every word that is no weight, and where it stands.
    """
    found: list[float] = []
    wrong: list[Mistake] = []
    for number, line in enumerate(text.text.splitlines(), start=1):
        for word in _WORD.finditer(line.partition("#")[0]):
            said = word.group().strip(",")
            if said.casefold() in {"g", ""}:
                continue
            grams = _GRAMS.fullmatch(said)
            if grams is None:
                place = f"{text.file}:{number}:{word.start() + 1}" if text.file else ""
                what = f"'{said:.40}' is no weight."
                do = "Write grams, one piece after another: 74 73.5 75."
                wrong.append(Mistake(what, do, Where(place)))
            else:
                found.append(float(grams[1].replace(",", ".")))
    if wrong:
        raise FileError(*wrong)
    return found
