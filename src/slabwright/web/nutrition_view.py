"""The nutrition of a slab as its page shows it: each declared value opens its sum."""

import json
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from markupsafe import Markup

from slabwright.figure import Figure
from slabwright.publish.nutrition import (
    FRONT,
    PROFILE,
    declared_words,
    intake_words,
    laws,
    profile_points,
    row_title,
    share_words,
    summary,
    sure_words,
)
from slabwright.spec.nutrition import Nutrition
from slabwright.spec.nutrition_rows import Row, amount_words
from slabwright.web.shown import opened_form, standing_markup

_MOST: Final = 8
"""Ingredients that a row lists; the others stand together."""
_BUTTON: Final = Markup(
    '<button type="button" class="{}" aria-haspopup="dialog" data-figure="{}">'
    "{}{}</button>"
)


@dataclass(frozen=True, slots=True)
class Bringing:
    """What one ingredient brings of a nutrient."""

    name: str
    where: str
    amount: str
    share: str


@dataclass(frozen=True, slots=True)
class RowView:
    """One row of the declaration."""

    row: Row

    @property
    def title(self) -> str:
        """What stands at its head; the second of the energies has no name."""
        return row_title(self.row)

    @property
    def plain(self) -> str:
        """What it is called where it stands alone."""
        name = self.row.name.removeprefix("of which ")
        is_energy = self.row.line.nutrient == "energy"
        return f"{name}, {self.row.unit}" if is_energy else name

    @property
    def is_part(self) -> bool:
        """Whether it is a part of the row above."""
        return bool(self.row.line.of_which)

    @property
    def per_100g(self) -> Markup:
        """As declared per 100 g; opens the unrounded value."""
        return _button(
            self.row.per_100g,
            f"{self.plain} in 100 g",
            declared_words(self.row.declared),
        )

    @property
    def per_piece(self) -> Markup:
        """As declared per piece."""
        return _button(
            self.row.per_piece,
            f"{self.plain} in a piece",
            declared_words(self.row.declared_piece),
            quiet=True,
        )

    @property
    def intake(self) -> Markup:
        """Share of the reference intake that a piece holds; empty if there is none."""
        if self.row.intake is None or not self.row.intake_piece.known:
            return Markup("")
        share = self.row.intake_piece
        said = share_words(self.row)
        name = f"share of an adult's {self.plain} for a day"
        return _button(share, name, said, quiet=True)

    @property
    def surely(self) -> str:
        """Unrounded, its range, its tolerance, what is known from memory only."""
        return sure_words(self.row)

    @property
    def bringing(self) -> Iterator[Bringing]:
        """What brings it, most first."""
        whole = sum(one.amount for one in self.row.brought)
        for one in self.row.brought[:_MOST]:
            yield Bringing(
                one.name,
                " > ".join(one.way),
                f"{amount_words(one.amount)} {self.row.unit}",
                f"{one.amount / whole:.0%}",
            )
        others = [one.amount for one in self.row.brought[_MOST:]]
        if others:
            rest = sum(others)
            yield Bringing(
                f"{len(others)} more",
                "",
                f"{amount_words(rest)} {self.row.unit}",
                f"{rest / whole:.0%}",
            )


@dataclass(frozen=True, slots=True)
class NutritionView:
    """The whole declaration."""

    found: Nutrition

    @property
    def summary(self) -> str:
        """Whether it can be declared, and what a piece weighs."""
        return summary(self.found)

    @property
    def rows(self) -> tuple[RowView, ...]:
        """In the law's order."""
        return tuple(RowView(row) for row in self.found.rows)

    @property
    def intakes(self) -> str:
        """What the shares are of."""
        return intake_words(self.found)

    @property
    def front_words(self) -> str:
        """What the levels are for."""
        return FRONT

    @property
    def profile_points(self) -> str:
        """The points of each component of its nutrient profile."""
        return profile_points(self.found.profile) if self.found.profile else ""

    @property
    def profile_words(self) -> str:
        """What the profile is for."""
        return PROFILE

    @property
    def laws(self) -> tuple[str, ...]:
        """Which tables it leans on, and how each is known."""
        return laws(self.found)


def _opened_value(figure: Figure) -> str:
    is_share = figure.unit == "share"
    return f"{figure.number * 100:.3g}" if is_share else f"{figure.number:.4g}"


def _button(figure: Figure, name: str, said: str, *, quiet: bool = False) -> Markup:
    """Words that open a figure; quiet without its mark, which the row has already."""
    form = opened_form(figure, name)
    if figure.value is not None:
        # a gram of salt is not shown to the gram
        form["value"] = _opened_value(figure)
        if figure.low is not None and figure.high is not None:
            ends = (amount_words(figure.low), amount_words(figure.high))
            if figure.unit == "share":
                ends = (f"{figure.low:.1%}", f"{figure.high:.1%}")
            unit = "" if figure.unit == "share" else f" {figure.unit}"
            form["likely"] = f"{ends[0]} to {ends[1]}{unit}"
    opened = json.dumps(form, ensure_ascii=False)
    kind = "fig" if figure.known else "fig withheld"
    is_marked = figure.known and not quiet
    mark = standing_markup(figure.standing) if is_marked else Markup("")
    return _BUTTON.format(kind, opened, said, mark)
