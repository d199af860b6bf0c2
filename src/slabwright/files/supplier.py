"""A supplier's specification: a nutrition table as it stands on packs and sheets."""

from dataclasses import dataclass, field, replace
from typing import Final

from slabwright.errors import FileError, Mistake, Span, Where
from slabwright.files.supplier_text import evened
from slabwright.files.supplier_words import Figure, Token, tokens

_FACTORS_KJ: Final = {
    "fat": 37.0, "carbohydrate": 17.0, "protein": 17.0, "fibre": 8.0, "alcohol": 29.0,
    "polyols": 10.0, "organic_acids": 13.0,
}  # fmt: skip
"""Energy factors [kJ/g]: Regulation (EU) No 1169/2011, Annex XIV."""
_KJ_PER_KCAL: Final = 4.184
_MOST_KJ: Final = 3800.0
"""Energy beyond that of pure fat, rounding and other factors allowed for."""
_GRAMS: Final = {"g": 1.0, "%": 1.0, "mg": 1e-3}


@dataclass(frozen=True, slots=True)
class Specification:
    """What a specification says per 100 g, in the larder's words."""

    per_100g: dict[str, float]
    energy_kJ: float | None = None
    unread: tuple[str, ...] = ()
    """Figures that no name of a constituent stands on, and names without a figure."""
    notes: tuple[Mistake, ...] = ()
    """What was read in one way and could be meant in another."""
    stated: dict[str, str] = field(default_factory=dict)
    """Limits and ranges as written, by constituent: the figure taken is ours."""

    @property
    def energy_by_factors(self) -> float:
        """Energy by the factors of the European rules [kJ per 100 g]."""
        said = self.per_100g
        return sum(_FACTORS_KJ[name] * said.get(name, 0.0) for name in _FACTORS_KJ)


def read_specification(text: str, file: str = "specification") -> Specification:
    """The nutrition table in this text: names and figures, in cells or in prose.

    The first figure behind a name counts, as the column per 100 g stands first.

    Raises:
        FileError: where a figure is no amount, has a unit other than g, mg, kJ, kcal
            or %, is over 100 g per 100 g, or where the first column is per portion.
    """
    reader = _Reader(file)
    for number, line in enumerate(evened(text, file).split("\n"), start=1):
        reader.read(number, line)
    return reader.specification()


class _Reader:
    """Names and figures as they come; a name waits for its figure over line ends."""

    def __init__(self, file: str) -> None:
        self._file, self._number, self._line = file, 0, ""
        self._values: dict[str, float] = {}
        self._stated: dict[str, str] = {}
        self._energies: dict[str, float] = {}
        self._unread: list[str] = []
        self._notes: list[Mistake] = []
        self._mistakes: list[Mistake] = []
        self._bare: dict[str, str] = {}
        self._label: Token | None = None
        self._before: Token | None = None
        self._opened = self._opened_before = 0
        self._is_filled = False
        self._words: list[Token] = []
        self._loose: list[Token] = []
        self._units: list[str] = []

    def read(self, number: int, line: str) -> None:
        self._number, self._line = number, line
        found = [token for token in tokens(line) if not token.is_joiner]
        main = [token for token in found if token.kind in {"label", "figure"}]
        has_label = any(token.kind == "label" for token in main)
        if not has_label and any(token.kind == "word" for token in found):
            self._close()
        self._words = []
        if has_label and main[0].kind == "figure" and main[-1].kind == "label":
            self._close()
            self._figures_first(main)
            return
        for token in found:
            if token.kind == "label":
                self._open(token)
            elif token.kind == "unit":
                if self._label is None and token.name in {"kJ", "kcal"}:
                    self._open(replace(token, kind="label", name="energy"))
                self._units.append(token.name)
            elif token.kind == "word":
                self._words.append(token)
            else:
                self._figure(token)

    def _figures_first(self, main: list[Token]) -> None:
        """A line such as `30 g fat, of which 12 g saturates`."""
        held: Token | None = None
        for token in main:
            if token.kind == "figure":
                if held:
                    self._unread.append(held.text)
                held = None if self._is_energy(token) else token
            elif held:
                self._take(token, held)
                held = None
            elif token.name != "energy":
                self._bare.setdefault(token.name, token.text)

    def _open(self, label: Token) -> None:
        waits = None if self._is_filled else self._label
        self._close()
        named = {label.name, "other", "energy"}
        self._before = waits if waits and waits.name not in named else None
        self._opened_before, self._opened = self._opened, self._number
        self._label, self._is_filled = label, False
        if label.name not in {"other", "energy"}:
            self._bare.setdefault(label.name, label.text)

    def _close(self) -> None:
        """Leave a name behind; energy has its figures and units in the same order."""
        if self._loose and not self._energies:
            for token, unit in zip(self._loose, self._units, strict=False):
                if unit in {"kJ", "kcal"}:
                    self._energy(token, unit)
            if not self._units:
                self._unread.append(f"energy {self._loose[0].text} (no unit)")
        self._label, self._before, self._is_filled = None, None, False
        self._words, self._loose, self._units = [], [], []

    def _figure(self, token: Token) -> None:
        label = self._label
        is_free = label is None or self._is_filled or label.name == "energy"
        if is_free and self._is_energy(token):
            return
        if label is None or (self._is_filled and self._words):
            start = self._words[0].start if self._words else token.start
            if self._words or not token.text.startswith("100"):
                self._unread.append(self._line[start : token.end].strip())
            self._close()
        elif label.name == "energy":
            self._loose.append(token)
        elif not self._is_filled:
            self._is_filled = True
            self._take(label, token)
        self._words = []

    def _is_energy(self, token: Token) -> bool:
        figure = token.figure
        if figure is None or figure.unit not in {"kJ", "kcal"}:
            return False
        self._energy(token, figure.unit)
        return True

    def _energy(self, token: Token, unit: str) -> None:
        figure = token.figure or Figure(0.0, 0.0, is_wrong=True)
        factor = 1.0 if unit == "kJ" else _KJ_PER_KCAL
        value = (figure.low + figure.high) / 2 * factor
        if figure.is_wrong or not value <= _MOST_KJ:
            what = f"energy: '{token.text}' is no energy of 100 g."
            self._wrong(token, what, f"Write up to {_MOST_KJ:.0f} kJ.")
        self._energies.setdefault(unit, value)

    def _take(self, label: Token, token: Token) -> None:
        """Take a figure for what a label names, or say why it can't be."""
        name, figure = label.name, token.figure
        if name in {"other", "energy"} or figure is None:
            self._unread.append(f"{label.text} {token.text}")
            return
        own = [unit for unit in self._units if unit in _GRAMS]
        unit = figure.unit or (own[0] if own else "")
        same_line = self._opened_before == self._opened
        if self._before and (same_line or self._opened != self._number):
            what = f"'{token.text}' could be for {self._before.text} or {label.text}."
            self._wrong(token, what, "Write each name with its own figure.")
        elif figure.is_wrong:
            what = f"{name}: '{token.text}' is no amount."
            self._wrong(token, what, "Write a figure such as 1.5 g.")
        elif unit and unit not in _GRAMS:
            what = f"{name}: '{unit}' is no unit for it."
            self._wrong(token, what, "Write g, mg or % per 100 g.")
        elif not figure.high * _GRAMS[unit or "g"] <= 100:
            what = f"{name}: '{token.text}' is more than 100 g per 100 g."
            self._wrong(token, what, "Mend the figure.")
        else:
            self._keep(label, token, figure, unit)

    def _keep(self, label: Token, token: Token, figure: Figure, unit: str) -> None:
        name = label.name
        value = (figure.low + figure.high) / 2 * _GRAMS[unit or "g"]
        value = round(value / 2 if figure.bound == "under" else value, 6)
        if name in self._values:
            if value != self._values[name]:
                what = f"{name} is said again: '{token.text}'."
                self._note(token, what, f"{self._values[name]:g} g is taken.")
            return
        self._values[name] = value
        if figure.bound or figure.low != figure.high:
            what = f"{name}: '{token.text}' is no exact figure."
            self._note(token, what, f"{value:g} g is taken.")
            self._stated[name] = token.text
        if not unit:
            what = f"{name}: '{token.text}' has no unit."
            self._note(token, what, f"{value:g} g is taken.")
        if self._words:
            words = self._line[label.start : token.end].strip()
            self._note(token, f"'{words}' is read as {name}.", "Mend it if it is not.")

    def _where(self, token: Token) -> Where:
        span = Span(self._number, token.start + 1, token.end + 1)
        return Where(self._file, span)

    def _note(self, token: Token, what: str, do: str) -> None:
        self._notes.append(Mistake(what, do, self._where(token)))

    def _wrong(self, token: Token, what: str, do: str) -> None:
        self._mistakes.append(Mistake(what, do, self._where(token)))

    def specification(self) -> Specification:
        """All that was read.

        Raises:
            FileError: with every mistake in it.
        """
        self._close()
        if self._mistakes:
            raise FileError(*self._mistakes)
        bare = [
            f"{text} (no figure)"
            for name, text in self._bare.items()
            if name not in self._values
        ]
        energy = self._energies.get("kJ", self._energies.get("kcal"))
        unread = (*self._unread, *bare)
        notes = tuple(self._notes)
        return Specification(self._values, energy, unread, notes, self._stated)
