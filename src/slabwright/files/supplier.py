"""A supplier's specification: a nutrition table as it stands on packs and sheets."""

import re
from dataclasses import dataclass
from typing import Final

from slabwright.errors import Mistake

_FACTORS_KJ: Final = {
    "fat": 37.0, "carbohydrate": 17.0, "protein": 17.0, "fibre": 8.0, "alcohol": 29.0,
    "polyols": 10.0, "organic_acids": 13.0,
}  # fmt: skip
"""Energy factors [kJ/g]: Regulation (EU) No 1169/2011, Annex XIV."""
_KJ_PER_KCAL: Final = 4.184
_APART: Final = 0.08
"""Declared and reckoned energy may differ by this share: both are rounded."""

_LABELS: Final = (
    ("energy", r"energy|kcal|calories|kilojoule|^kj"),
    ("saturates", r"saturat\w*"),
    ("sugars", r"sugars?|of which sugar"),
    ("polyols", r"polyols?"),
    ("starch", r"starch"),
    ("carbohydrate", r"carbohydrates?|carbs?|available carb\w*"),
    ("fat", r"(?:total )?fat|lipids?|matières grasses"),
    ("fibre", r"(?:dietary )?fib(?:re|er)"),
    ("protein", r"proteins?"),
    ("salt", r"salt"),
    ("sodium", r"sodium"),
    ("water", r"water|moisture"),
    ("alcohol", r"alcohol|ethanol"),
    ("minerals", r"ash|minerals"),
)
_NUMBER: Final = re.compile(
    r"(?P<less><|less than|trace[s]?)?\s*(?P<n>\d+(?:[.,]\d+)?)\s*"
    r"(?P<u>kj|kcal|cal|mg|g|%)?",
    re.IGNORECASE,
)
_TRACE: Final = re.compile(r"\b(?:trace[s]?|nil|none|<\s*0[.,]?\d*)\b", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Specification:
    """What a specification says per 100 g, in the larder's words."""

    per_100g: dict[str, float]
    energy_kJ: float | None = None
    unread: tuple[str, ...] = ()
    """Lines with a number that no name of a constituent stands on."""

    @property
    def energy_by_factors(self) -> float:
        """Energy by the factors of the European rules [kJ per 100 g]."""
        said = self.per_100g
        return sum(_FACTORS_KJ[name] * said.get(name, 0.0) for name in _FACTORS_KJ)


def read_specification(text: str) -> Specification:
    """The nutrition table in this text: label and number on a line, or in cells.

    The first number of a line counts, as the column per 100 g stands first; `of which`
    lines, kJ and kcal, salt or sodium, commas and `<0.5` are understood.
    """
    values: dict[str, float] = {}
    energy: float | None = None
    unread: list[str] = []
    for line in re.split(r"\n|;\s", text):
        for part in _parts(line):
            name = _label(part)
            numbers = list(_NUMBER.finditer(part))
            if name == "energy":
                energy = energy or _energy(numbers)
            elif name and (value := _grams(part, numbers)) is not None:
                values.setdefault(name, value)
            elif numbers and not name and re.search(r"[a-z]{3}", part, re.IGNORECASE):
                unread.append(part.strip())
    return Specification(values, energy, tuple(unread))


def _parts(line: str) -> list[str]:
    """The pieces of `Fat 30 g, of which saturates 12 g`."""
    joints = r",\s*(?=(?:of which|carb|fat|protein|fib|salt|sugar|energy|water|sodium))"
    return [
        part for part in re.split(joints, line, flags=re.IGNORECASE) if part.strip()
    ]


def _label(text: str) -> str:
    words = re.split(r"\d|<", text, maxsplit=1)[0].casefold()
    tail = text.casefold() if not words.strip() else words
    for name, pattern in _LABELS:
        if re.search(rf"(?<![a-z])(?:{pattern})(?![a-z])", tail):
            return name
    return ""


def _grams(text: str, numbers: list[re.Match[str]]) -> float | None:
    """The first number [g per 100 g]; half of what `<0.5` says, nothing for a trace."""
    wanted = [n for n in numbers if (n["u"] or "g").casefold() in {"g", "mg"}]
    if not wanted:
        return 0.0 if _TRACE.search(text) else None
    first = wanted[0]
    if first["n"] == "100" and len(wanted) > 1 and "per" in text.casefold():
        first = wanted[1]
    value = float(first["n"].replace(",", "."))
    if (first["u"] or "").casefold() == "mg":
        value /= 1000
    return value / 2 if first["less"] else value


def _energy(numbers: list[re.Match[str]]) -> float | None:
    for unit, factor in (("kj", 1.0), ("kcal", _KJ_PER_KCAL), ("cal", _KJ_PER_KCAL)):
        for number in numbers:
            if (number["u"] or "").casefold() == unit:
                return float(number["n"].replace(",", ".")) * factor
    return None


def doubts(said: Specification, *, is_like: bool) -> tuple[Mistake, ...]:
    """What does not add up in a specification, or is missing from it.

    Args:
        said: the specification.
        is_like: whether an ingredient that it is like gives what is missing.
    """
    found: list[Mistake] = []
    values = said.per_100g
    for part, whole in (("saturates", "fat"), ("sugars", "carbohydrate")):
        if part in values and whole in values and values[part] > values[whole] + 0.1:
            what = f"{part} {values[part]:g} g is more than its {whole}."
            found.append(Mistake(what, "Read the specification again."))
    mains = ("water", "fat", "carbohydrate", "fibre", "protein", "salt", "alcohol")
    total = sum(values.get(name, 0.0) for name in mains)
    if total > 101:
        what = f"Its parts come to {total:.1f} g per 100 g."
        found.append(Mistake(what, "Read the specification again."))
    if said.energy_kJ and len(values) > 2:
        gap = said.energy_by_factors - said.energy_kJ
        if abs(gap) > max(_APART * said.energy_kJ, 20.0):
            what = (
                f"Its energy is given as {said.energy_kJ:.0f} kJ; fat, carbohydrate, "
                f"fibre and protein make {said.energy_by_factors:.0f} kJ."
            )
            found.append(Mistake(what, "One of them is wrong: ask the supplier."))
    missing = [n for n in ("fat", "carbohydrate", "protein") if n not in values]
    if missing and not is_like:
        what = f"It does not say {', '.join(missing)}."
        found.append(Mistake(what, "Add them, or say what it is like: --like NAME."))
    return tuple(found)
