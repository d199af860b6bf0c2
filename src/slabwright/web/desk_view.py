"""What the desk shows of a card: drawings, figures, readings, what to watch."""

from dataclasses import dataclass, field
from functools import cached_property
from typing import Final

from markupsafe import Markup

from slabwright.desk.worked import Worked
from slabwright.errors import Mistake
from slabwright.figure import Standing
from slabwright.finding import Ask
from slabwright.label.allergen.allergens import SlabAllergens
from slabwright.publish import allergens as allergen_words
from slabwright.publish import words
from slabwright.publish.draw import drawn
from slabwright.publish.draw_cut import drawn_plan
from slabwright.publish.drawing.cut_face import SAMPLE_MM, cut_face_svg
from slabwright.publish.drawing.cut_plan import cut_plan_svg
from slabwright.publish.drawing.section import section_svg
from slabwright.publish.nature_words import brief
from slabwright.spec.compare import Comparison, compare
from slabwright.spec.specification import Specification
from slabwright.web import beside
from slabwright.web.beside import Edit
from slabwright.web.desk_rows import (
    BECAME,
    NO_HEAD,
    Asked,
    MovedRow,
    StrokeRow,
    Watched,
    Wrong,
    line_of,
    moved_row,
    stroke_rows,
    watched,
)
from slabwright.web.rows import Choice, Row, answers_for, choices_for, rows_of
from slabwright.web.shown import drawing

_MOST_MOVED: Final = 12
_MINI_PX: Final = 150.0


@dataclass(frozen=True)
class DeskView:
    """A card as the desk shows it; parts are made when they are asked for."""

    now: Worked
    before: Specification | None = None
    """The revision that is being changed; None for a new slab."""
    is_new: bool = False
    """Whether it is no slab of the kitchen yet."""
    allergens: SlabAllergens | None = None
    """Of the card as it is typed now; None where the page does not show them."""
    assumed: Standing = field(default=Standing.ASSUMED, init=False)

    @property
    def spec(self) -> Specification:
        """What was worked out."""
        return self.now.spec

    @property
    def rows(self) -> int:
        """Lines of the text."""
        return self.now.text.text.count("\n") + 1

    @property
    def is_empty(self) -> bool:
        """Whether nothing is written yet."""
        return not self.now.text.text.strip()

    @property
    def to_settle(self) -> tuple[str, ...]:
        """What only its maker can settle, each in a word or two."""
        wrong = [f"line {one.line}" for one in self.mistakes if one.line]
        asked = [one.where.rpartition(": ")[2] for one in self.asks]
        return tuple(dict.fromkeys([*wrong, *asked]))

    @property
    def guessed_layer(self) -> tuple[int, str] | None:
        """The deepest layer whose density is assumed: number and name."""
        found = [
            (layer.depth_mm.number, i, layer.name)
            for i, layer in enumerate(self.spec.layers)
            if layer.depth_mm.known and layer.density_g_ml.standing is Standing.ASSUMED
        ]
        return max(found)[1:] if found else None

    @property
    def currency(self) -> str:
        """What heads the column of costs."""
        return words.sign_of(self.spec.kitchen.currency)

    # --- drawings ---

    @property
    def section(self) -> Markup:
        """The section, in the page's colours."""
        slab = drawn(self.spec)
        return drawing(section_svg(slab, theme="page", prefix="section", compact=True))

    @property
    def mini(self) -> Markup:
        """One piece, for narrow screens."""
        slab = drawn(self.spec)
        wide_mm = slab.piece_mm or SAMPLE_MM
        px = min(_MINI_PX, wide_mm * 3)
        return drawing(cut_face_svg(slab, width_px=px, theme="page", prefix="mini"))

    @cached_property
    def plan(self) -> Markup | None:
        """The slab from above, if it is cut."""
        cut = self.spec.cut
        if cut is None:
            return None
        plan = drawn_plan(self.spec, cut)
        return drawing(cut_plan_svg(plan, theme="page", prefix="plan"))

    # --- words ---

    @property
    def watch_words(self) -> str:
        """How much there is to watch."""
        return words.to_watch([one.finding for one in self.spec.told])

    @property
    def contains_words(self) -> str:
        """Which of the 14 are in it, and whether a label would be held."""
        found = self.allergens
        return allergen_words.summary(found) if found and self.spec.card.layers else ""

    @property
    def sentence(self) -> str:
        """What a screen reader is told after a rest."""
        spec = self.spec
        height = spec.height_mm
        parts = []
        if self.mistakes:
            parts.append(f"{words.counted(len(self.mistakes), 'line')} to put right.")
        if height.known:
            parts.append(f"The slab is {height.number:.1f} mm tall.")
        else:
            parts.append("The height is not known.")
        if self.moved:
            first = self.moved[0]
            parts.append(f"{first.name}: {first.before} to {first.after} {first.unit}.")
        return " ".join(parts)

    @property
    def tin_text(self) -> str:
        """The tin as the card has it."""
        return self.spec.card.tin.text if self.spec.card.tin else ""

    @property
    def tin_words(self) -> str:
        """The tin in words."""
        return self.spec.tin.describe() if self.spec.tin else ""

    @property
    def cut_words(self) -> str:
        """Size of the pieces, beside their number."""
        cut = self.spec.cut
        if cut is None:
            return ""
        made = cut.cutting
        if made.piece_length_mm is None or made.piece_width_mm is None:
            return made.words
        length, width = made.piece_length_mm, made.piece_width_mm
        return f"of {words.length(length)} × {words.length(width)} mm"

    @property
    def cut_sentence(self) -> str:
        """What the plan shows."""
        said = "Ruler from the left and the near edge; ringed numbers are the knife's"
        return f"{said} order. {drawn_plan(self.spec, self.spec.cut).words}" if (
            self.spec.cut
        ) else ""  # fmt: skip

    @property
    def trim_words(self) -> str:
        """What is in no piece."""
        cut = self.spec.cut
        if cut is None or not cut.trim_g.known or not self.spec.mass_g.known:
            return ""
        trim, whole = cut.trim_g.number, self.spec.mass_g.number
        if not whole > 0:
            return ""  # layers without a line: nothing to cut
        said = f"Trim {trim / whole:.1%} of the slab, {words.grams(trim)} g"
        cost = self.spec.cost
        if cost is not None and cost.trim is not None and cost.trim.known:
            said += f", worth {words.money(cost.trim.value, cost.currency)}"
        promised = cut.promised_g
        if promised.known:
            said += f". 99 of 100 pieces weigh at least {int(promised.number)} g"
        return said + "."

    @cached_property
    def natures(self) -> tuple[str, ...]:
        """What each layer will be, in a line, bottom first; empty if nobody knows."""
        return tuple(brief(one) for one in self.spec.natures)

    # --- edits from the drawing's side ---

    @property
    def cut_edits(self) -> tuple[Edit, ...]:
        """What may be typed where the number of pieces opens."""
        return beside.CUT

    def depth_edits(self, number: int) -> tuple[Edit, ...]:
        """What may be typed where the depth of a layer opens."""
        return beside.depth_edits(number)

    def mass_edits(self, number: int) -> tuple[Edit, ...]:
        """What may be typed where the mass of a layer opens."""
        return beside.mass_edits(number, self.spec.layers[number])

    def density_edits(self, number: int) -> tuple[Edit, ...]:
        """What may be typed where the density of a layer opens."""
        return beside.density_edits(number)

    # --- lists ---

    @cached_property
    def notes(self) -> tuple[Row, ...]:
        """What stands beside each line."""
        return tuple(rows_of(self.now))

    @cached_property
    def mistakes(self) -> tuple[Wrong, ...]:
        """What is to be put right, in the order of the lines."""
        if self.is_empty:
            return ()
        if (
            self.now.read.is_pasted
            and self.before is not None
            and (not self.before.card.is_pasted)
        ):
            return (NO_HEAD,)
        found = sorted(self.spec.errors, key=lambda one: line_of(one.where.span))
        return tuple(self._wrong(one) for one in found)

    def _wrong(self, one: Mistake) -> Wrong:
        span = one.where.span
        is_here = one.where.file == self.now.text.file
        choices: tuple[Choice, ...] = ()
        if span is not None and is_here:
            choices = choices_for(self.now.text.text, span, one.nearest)
        place = "" if is_here else one.where.file
        line = line_of(span) if is_here else 0
        return Wrong(one.what, one.do, line, place or one.where.field, choices)

    @cached_property
    def asks(self) -> tuple[Asked, ...]:
        """Doubts that only the maker can settle."""
        return tuple(map(self._asked, self.spec.asks))

    def _asked(self, ask: Ask) -> Asked:
        choices = answers_for(self.now, ask)
        return Asked(ask.where, ask.question, line_of(ask.span), choices)

    @cached_property
    def watch(self) -> tuple[Watched, ...]:
        """The findings, the weightiest first."""
        return watched(self.spec.told)

    @cached_property
    def strokes(self) -> tuple[StrokeRow, ...]:
        """The order of the knife, strokes of one kind and edge together."""
        cut = self.spec.cut
        return tuple(stroke_rows(cut.cutting.strokes)) if cut else ()

    @cached_property
    def compared(self) -> Comparison | None:
        """What differs from the revision that is being changed."""
        if self.before is None:
            return None
        return compare(self.before, self.spec)

    @cached_property
    def moved(self) -> tuple[MovedRow, ...]:
        """What that moved, the most first."""
        if self.compared is None:
            return ()
        shown = (moved_row(one) for one in self.compared.moved)
        rows = [row for row in shown if row.before != row.after]
        return tuple(rows[:_MOST_MOVED])

    @property
    def changed_words(self) -> str:
        """What was changed, in a sentence."""
        if self.compared is None:
            return ""
        lines = [
            f"{one.name}, {words.grams(one.before_g)} to {words.grams(one.after_g)} g"
            for one in self.compared.lines
            if one.what == "changed" and one.before_g and one.after_g
        ]
        others = [one for one in self.compared.lines if one.what != "changed"]
        lines += [f"{one.name}, {BECAME[one.what]}" for one in others]
        lines += [f"{one.where}, {one.what}" for one in self.compared.said]
        if not lines:
            return "Everything on the card says the same."
        shown = "; ".join(lines[:3])
        more = len(lines) - 3
        return f"{shown}{f'; and {more} more' if more > 0 else ''}."
