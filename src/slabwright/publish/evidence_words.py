"""What the tables of evidence call things, in words."""

from typing import Final

_UNITS: Final = {
    "kg/m3": "kg/m³", "1": "", "percent_w_w": "%", "percent": "%",
    "deg Baume": "°Bé", "degC": "°C", "m2/s": "m²/s",
}  # fmt: skip


def what_words(quantity: str) -> str:
    """A quantity in words.

    >>> what_words("boiling_point"), what_words("Tg_onset_anhydrous")
    ('boiling point', 'Tg onset anhydrous')
    """
    return quantity.replace("_", " ")


def unit_words(unit: str) -> str:
    """A unit as it is read."""
    return _UNITS.get(unit, unit)


def short_source(source: str) -> str:
    """A source in a few words, as it stands at the end of a line.

    >>> short_source("Browne (1912) Handbook of Sugar Analysis, boiling points of")
    'Browne (1912) Handbook…'
    """
    said = source.partition(";")[0].partition(",")[0]
    if len(said) <= _SHORT:
        return said
    return f"{said[: _SHORT + 1].rpartition(' ')[0].rstrip(' (')}…"


_SHORT: Final = 22
