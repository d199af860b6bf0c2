"""What is there at each moment: lines go in, water and mix go out, in written order."""

from dataclasses import dataclass, field
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from slabwright.composition import INDEX, Masses, total, water, zeros
from slabwright.errors import Mistake, Span, Where
from slabwright.figure import Leans, Ranged, leans_of
from slabwright.formula.boil import Boil
from slabwright.formula.component import Ends, Event, Loses
from slabwright.formula.cooking import lose_mix, lose_water, water_over_share
from slabwright.formula.kinds import Kind
from slabwright.source import Source

_ROWS = 3
"""As worked out, low end, high end."""
_SLACK_G = 1e-6


@dataclass(frozen=True, slots=True)
class Happening:
    """Something that changed the mass, with its own numbers."""

    span: Span
    what: str
    before_g: float
    after_g: float
    of: Literal["water", "mix"]
    leans: Leans
    is_assumed_usual: bool = False
    source: Source | None = None

    @property
    def lost_g(self) -> float:
        """What went [g]."""
        return self.before_g - self.after_g


@dataclass
class Pot:
    """The mix as it is now, and how well each side of it is known."""

    name: str
    file: str = ""
    now: Masses = field(default_factory=lambda: zeros(_ROWS))
    before: Masses = field(default_factory=lambda: zeros(_ROWS))
    """Everything that went in, nothing taken away."""
    in_g: NDArray[np.float64] = field(default_factory=lambda: np.zeros(_ROWS))
    """What the scale was asked for: exact where composition only adds up to it."""
    in_sums: list[str] = field(default_factory=list)
    in_leans: list[Leans] = field(default_factory=list)
    in_sources: list[Source] = field(default_factory=list)
    mass_leans: list[Leans] = field(default_factory=list)
    composition_leans: list[Leans] = field(default_factory=list)
    out_sum: str = ""
    lost_track: str = ""
    """Why the mass that is there now is not known; empty if it is."""
    in_incomplete: str = ""
    composition_unknown: str = ""
    says_loss: bool = False
    boiled: Span | None = None
    """The last boil that drove water off."""
    happenings: list[Happening] = field(default_factory=list)
    mistakes: list[Mistake] = field(default_factory=list)

    def add(self, name: str, grams: Ranged, composition: Masses | None) -> None:
        """Put so much of an ingredient in; None where nobody knows what it is."""
        row = zeros()
        if composition is None:
            row[INDEX["unknown"]] = 1.0
            self.composition_unknown = f"nobody here knows what '{name}' is made of"
        else:
            row = composition
        self._pour(grams, np.tile(row, (_ROWS, 1)))

    def add_mix(
        self, name: str, grams: Ranged, mixes: Masses, unknown_for: str
    ) -> None:
        """Put finished grams of a component in, its composition after cooking."""
        masses = total(mixes)
        if unknown_for or not masses[0] > 0:
            self.add(name, grams, None)
            self.composition_unknown = unknown_for or f"'{name}' is empty"
            return
        self._pour(grams, mixes / np.where(masses > 0, masses, 1.0)[:, np.newaxis])

    def _pour(self, grams: Ranged, shares: Masses) -> None:
        masses = np.array([grams.value, grams.low, grams.high])
        self.in_g = self.in_g + masses
        self.now = self.now + masses[:, np.newaxis] * shares
        self.before = self.before + masses[:, np.newaxis] * shares
        self.in_sums.append(f"{grams.value:.6g}")
        self.in_leans.append(grams.leans)
        self.in_sources.extend(grams.sources)
        self.mass_leans.append(grams.leans)
        self.composition_leans.append(grams.leans)
        self.out_sum = ""

    def lose_track(self, why: str) -> None:
        """From here on the mass is not known, until somebody weighs it."""
        self.lost_track = self.lost_track or why
        self.in_incomplete = self.in_incomplete or why
        self.composition_unknown = self.composition_unknown or why

    def follow(self, event: Event) -> None:
        """Let an event happen; what is no change of mass changes nothing."""
        if isinstance(event, Ends):
            self.says_loss = True
            self._end(event)
        elif isinstance(event, Loses):
            self.says_loss = True
            self._lose(event)

    def _end(self, event: Ends) -> None:
        leans: Leans = "measured" if event.is_measured else "assumed"
        if event.grams is not None:
            self._end_at_mass(event, event.grams, leans)
        elif event.water_share is not None:
            self._end_at_water(event, event.water_share, leans)

    def _end_at_mass(self, event: Ends, grams: float, leans: Leans) -> None:
        there = total(self.now)
        if not self.lost_track and grams > there[0] + _SLACK_G:
            what = f"ends says {grams:g} g, but only {there[0]:.5g} g are there."
            self._wrong(event.span, what, "Give what is left, or add the missing line.")
            return
        if self.lost_track:
            self._set_mass(grams)
            self._note(event.span, f"ends {grams:g} g", grams, grams, "water", leans)
        else:
            left = lose_water(self.now, np.maximum(there - grams, 0.0))
            if np.isnan(left[0, 0]):
                what = (
                    f"ends says {grams:g} g: {there[0] - grams:.4g} g would go, "
                    f"but only {self._wet():.4g} g of water and alcohol are there."
                )
                self._wrong(event.span, what, "Give what is left.")
                return
            left = np.where(np.isnan(left), left[0], left)
            self._note(event.span, f"ends {grams:g} g", there[0], grams, "water", leans)
            self.now = left
        self.mass_leans = [leans]
        self.composition_leans.append(leans)
        how = "weighed" if event.is_measured else "as the card says"
        self.out_sum = f"{grams:g} g, {how}"
        self.lost_track = ""

    def _set_mass(self, grams: float) -> None:
        """A weight for a mix that was lost track of: of what is not known."""
        self.now = zeros(_ROWS)
        self.now[:, INDEX["unknown"]] = grams

    def _end_at_water(self, event: Ends, share: float, leans: Leans) -> None:
        if self.composition_unknown:
            self.lose_track(
                f"how much water leaves {self.name} is not known, since "
                + self.composition_unknown
            )
            return
        owed = water_over_share(self.now, share)
        mass = total(self.now)
        if not mass[0] > 0 or owed[0] < -_SLACK_G * mass[0]:
            there = float(water(self.now)[0] / mass[0]) if mass[0] > 0 else 0.0
            what = (
                f"ends says {share * 100:.4g} % water, but only {there:.1%} is there."
            )
            self._wrong(event.span, what, "Give the water that is left in it.")
            return
        self._drive_off(
            event.span, np.maximum(owed, 0.0), f"ends {share * 100:.4g} % water", leans
        )

    def _lose(self, event: Loses) -> None:
        leans: Leans = "measured" if event.is_measured else "assumed"
        there = total(self.now)
        if event.share is not None:
            gone = there * event.share
            said = f"loses {event.share * 100:.4g} %"
        else:
            gone = np.full(_ROWS, event.grams or 0.0)
            said = f"loses {event.grams or 0:g} g"
        if self.lost_track:
            return
        if gone[0] >= there[0] and there[0] > 0:
            what = f"{said}, but {there[0]:.5g} g are there."
            self._wrong(event.span, what, "Give what goes, less than what is there.")
            return
        if event.of == "mix":
            self._leave_behind(event.span, gone, f"{said} {event.place}".strip(), leans)
            return
        left = lose_water(self.now, gone)
        if np.isnan(left[0, 0]):
            what = (
                f"{said}, but only {self._wet():.4g} g of water and alcohol are there."
            )
            do = "Give what goes, or say where it stays: loses 4 g in the bowl."
            self._wrong(event.span, what, do)
            return
        self._drive_off(event.span, gone, said, leans)

    def boil(self, boil: Boil) -> None:
        """Drive off what a boil to a temperature does not keep."""
        if boil.left is None:
            return
        there = total(self.now)
        self.now = boil.rest + boil.left
        share = float(water(boil.left)[0] / total(boil.left)[0])
        said = f"boils to {boil.to_C.middle:g} °C: {share:.1%} water is left"
        gone = float(total(self.now)[0])
        self._note(boil.span, said, there[0], gone, "water", "worked out")
        self.mass_leans.append("worked out")
        self.composition_leans.append("worked out")
        self.boiled = boil.span

    def lose_as_usual(self, kind: Kind, span: Span) -> Happening | None:
        """The kind's usual loss, assumed: nobody said any."""
        there = total(self.now)
        if self.lost_track or not there[0] > 0:
            return None
        likely, target = kind.loss_share, kind.water_share
        if kind.loses == "water" and target and not self.composition_unknown:
            shares = np.array([target.value, target.low, target.high])
            gone = np.maximum(water_over_share(self.now, shares), 0.0)
            said = f"usual for {kind.name}: about {target.value:.0%} water is left"
        else:
            shares = np.array([likely.value, likely.high, likely.low])
            gone = there * shares
            if kind.loses == "water" and not self.composition_unknown:
                gone = np.minimum(gone, water(self.now))
            said = f"usual for {kind.name}: about {likely.value:.1%} goes"
        if kind.loses == "mix":
            self._leave_behind(span, gone, said, "assumed")
        else:
            self._drive_off(span, gone, said, "assumed")
        done = self.happenings.pop()
        usual = Happening(
            done.span, done.what, done.before_g, done.after_g, done.of, "assumed",
            is_assumed_usual=True, source=likely.source,
        )  # fmt: skip
        self.happenings.append(usual)
        return usual

    def _drive_off(
        self, span: Span, gone: NDArray[np.float64], said: str, leans: Leans
    ) -> None:
        there = total(self.now)
        left = lose_water(self.now, gone)
        self.now = np.where(np.isnan(left), self.now * 0 + left[0], left)
        self._note(span, said, there[0], total(self.now)[0], "water", leans)
        self.mass_leans.append(leans)
        self.composition_leans.append(leans)

    def _leave_behind(
        self, span: Span, gone: NDArray[np.float64], said: str, leans: Leans
    ) -> None:
        there = total(self.now)
        self.now = lose_mix(self.now, np.minimum(gone, there))
        self._note(span, said, there[0], total(self.now)[0], "mix", leans)
        self.mass_leans.append(leans)

    def _note(
        self,
        span: Span,
        what: str,
        before_g: float,
        after_g: float,
        of: Literal["water", "mix"],
        leans: Leans,
    ) -> None:
        happening = Happening(span, what, float(before_g), float(after_g), of, leans)
        self.happenings.append(happening)
        lost = f" - {happening.lost_g:.4g} ({what})"
        base = self.out_sum or f"{before_g:.6g}"
        self.out_sum = base + lost

    def _wrong(self, span: Span, what: str, do: str) -> None:
        self.mistakes.append(Mistake(what, do, Where(self.file, span)))
        self.lose_track(f"a loss of {self.name} can't be right")

    def _wet(self) -> float:
        row = self.now[0]
        return float(row[INDEX["water"]] + row[INDEX["alcohol"]])

    def mass_in(self) -> Ranged:
        """Everything that went in."""
        value, low, high = (float(mass) for mass in self.in_g)
        parts = " + ".join(self.in_sums) or "nothing"
        more = f"; {self.in_incomplete}" if self.in_incomplete else ""
        return Ranged(
            value, low, high, leans_of(self.in_leans), f"{parts} = {value:.6g} g{more}",
            sources=tuple(dict.fromkeys(self.in_sources)),
        )  # fmt: skip

    def mass_out(self) -> Ranged | None:
        """What is there now; None if nobody can know."""
        if self.lost_track:
            return None
        masses = [float(mass) for mass in total(self.now)]
        value, low, high = masses[0], min(masses), max(masses)
        said = self.out_sum or f"{value:.6g} g"
        if " - " in said:
            said += f" = {value:.6g} g"
        return Ranged(
            value, low, high, leans_of(self.mass_leans), said,
            sources=tuple(dict.fromkeys(self.in_sources)),
        )  # fmt: skip
