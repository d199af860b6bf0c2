"""The make-up of a solution as it is typed: parts by mass, or Brix."""

import re
from dataclasses import dataclass, field
from typing import Final

import numpy as np

from slabwright.errors import Mistake
from slabwright.physics.species import AT, SPECIES, Parts, parts_of
from slabwright.spec.calc.calculator import Around, Calculator
from slabwright.spec.calc.keys import other_unit, plain
from slabwright.spec.calc.larder import found_in, taken_for
from slabwright.spec.calc.mistyped import given_again, mistake, no_number, swapped
from slabwright.spec.calc.typed import number_typed, shortened
from slabwright.spec.calc.units import split_unit

_ALSO: Final = {
    "dextrose": "glucose",
    "saccharose": "sucrose",
    "sugar": "sucrose",
    "levulose": "fructose",
    "glycerine": "glycerol",
    "ethanol": "alcohol",
    "sodium_chloride": "salt",
}
"""Other words for a species."""
_LEAST_PART, _MOST_PART = 1e-6, 1e6
"""Parts by mass between which ratios stay exact."""
_ODD_PERCENT: Final = 0.5
"""Per cents that miss 100 by more are told."""
_BRIX: Final = {"brix", "degrees_brix", "brix_percent"}
_UNITS: Final = {"g": "g", "percent": "%", "pct": "%"}
"""Units that a part may have, as a key ends in them."""


@dataclass
class Mixture:
    """Reads parts one by one; mistakes and notes go to its reader's lists."""

    calculator: Calculator
    around: Around
    mistakes: list[Mistake]
    taken: list[str]
    row: Parts = field(default_factory=lambda: np.zeros(len(SPECIES)))
    named: dict[str, float] = field(default_factory=dict)
    """Parts under the keys that they were given by."""
    _seen: set[str] = field(default_factory=set)
    _units: set[str] = field(default_factory=set)
    """Units that were said; empty where none was."""
    _brix: str = ""
    """The key that gave all of it, if one did."""

    def take(self, key: str, text: str) -> bool:
        """Takes a part, or says what is wrong with it; False if the key is none."""
        if not self.calculator.takes_parts:
            return False
        name, unit = key, ""
        species = self._species(key)
        if species is None and not other_unit(self.calculator, key)[0]:
            name, typed = split_unit(plain(key))
            species = self._species(name) if typed else None
            if species is not None and typed not in _UNITS:
                self.mistakes.append(swapped(key, text, typed, name, "g"))
                return True
            unit = _UNITS.get(typed, "")
        if species is not None:
            self._part(key, name, text, unit, species)
        elif plain(key) in _BRIX:
            self._by_brix(key, text)
        else:
            return False
        return True

    def complete(self) -> None:
        """Says what of the parts does not go together, or is not there."""
        if not self.calculator.takes_parts:
            return
        others = [name for name in self.named if name != self._brix]
        if self._brix and others:
            what = (
                f"{self._brix} is the whole of a syrup; {others[0]} stands beside it."
            )
            self._wrong(what, "Give brix alone, or parts by mass.", self._brix)
        if {"g", "%"} <= self._units:
            what = "Some parts are in g and some in %."
            self._wrong(what, "Give all of them in one of the two.", others[0])
        elif "%" in self._units and self.calculator.parts_are_grams:
            what = f"{self.calculator.name} weighs: it can't tell grams from per cents."
            self._wrong(what, "Give what is in the pan in g.", others[0])
        whole = sum(self.named.values())
        if "%" in self._units and abs(whole - 100) > _ODD_PERCENT:
            self.taken.append(f"The parts come to {whole:.4g} %: taken by their ratio.")
        needs = not self.calculator.parts_are_optional
        if needs and not self.mistakes and not self.row.sum() > 0:
            what = f"{self.calculator.name} needs a make-up in parts by mass."
            self._wrong(what, "Give it so: sucrose=80 water=20.", "")

    def _part(self, key: str, name: str, text: str, unit: str, species: Parts) -> None:
        if self._is_again(key, plain(name)):
            return
        mass, in_unit = self._mass(text, unit)
        if mass is None:
            self.mistakes.append(no_number(self.calculator, key, text, "g"))
        elif mass and not _LEAST_PART <= mass <= _MOST_PART:
            between = f"Give 0, or a part from {_LEAST_PART:f} to {_MOST_PART:,.0f}."
            self._wrong(f"{key} is {mass:g}.", between, key)
        else:
            self.row += mass * species
            self.named[key] = mass
            self._units |= {in_unit} - {""}

    def _is_again(self, key: str, name: str) -> bool:
        if name in self._seen:
            self.mistakes.append(given_again(key, name))
            return True
        self._seen.add(name)
        return False

    @staticmethod
    def _mass(text: str, unit: str) -> tuple[float | None, str]:
        """A part by mass, and the unit that was said, if one was."""
        bare = number_typed(text, "")
        if bare is not None:
            return bare, unit
        for one in ("g", "%"):
            value = number_typed(text, one)
            if value is not None and unit in {"", one}:
                return value, one
        return None, ""

    def _by_brix(self, key: str, text: str) -> None:
        """Takes the strength of a sugar syrup as its whole make-up."""
        if self._is_again(key, "brix"):
            return
        found = (number_typed(text, unit) for unit in ("°Bx", "%"))
        value = next((one for one in found if one is not None), None)
        if value is None or not 0 <= value <= 100:
            what = f"{key} is '{shortened(text)}'."
            self._wrong(what, "Give grams of sugar in 100 g: 0 to 100.", key)
            return
        self.row[AT["sucrose"]] += value
        self.row[AT["water"]] += 100 - value
        self.named[key], self._brix = value, key
        told = f"{value:g} parts of sucrose and {100 - value:g} of water"
        self.taken.append(f"{key}: taken as {told}.")

    def _species(self, key: str) -> Parts | None:
        """One gram of what a key names, by species; None if nobody knows it."""
        called = re.sub(r"\W", "_", plain(key))
        called = _ALSO.get(called, called)
        if called in AT:
            row = np.zeros(len(SPECIES))
            row[AT[called]] = 1.0
            return row
        found = found_in(self.around, key)
        if found is None or found.how == "spelling":
            return None  # `glucse` is glucose here, and not a syrup of the larder
        composition = found.ingredient.composition
        if composition is not None:
            self.taken += taken_for(key, found)
            return parts_of(composition)
        return None

    def _wrong(self, what: str, do: str, key: str) -> None:
        self.mistakes.append(mistake(what, do, key))
