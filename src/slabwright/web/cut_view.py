"""A cut in full as the page shows it: plan, order of the knife, promise, choices."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from markupsafe import Markup

from slabwright.cut.options import Option
from slabwright.desk.cutting import with_clauses
from slabwright.figure import Figure, Standing
from slabwright.publish import words
from slabwright.publish.cutting import at_least, roller_words
from slabwright.publish.draw_cut import drawn_plan
from slabwright.publish.drawing.cut_plan import cut_plan_svg
from slabwright.publish.drawing.ruler_strip import ruler_pages
from slabwright.spec.cut_sheet import CutSheet
from slabwright.spec.specification import CutFigures
from slabwright.web.desk_rows import StrokeRow, stroke_rows
from slabwright.web.shown import drawing


@dataclass(frozen=True, slots=True)
class OptionRow:
    """Another cut that would do for the range of masses."""

    option: Option
    each: Figure
    reached: Figure
    words: str
    """As a card says it, with the trim and the knife of the card's own."""


@dataclass(frozen=True)
class CutView:
    """One cut of a slab."""

    sheet: CutSheet
    is_own: bool
    """Whether it is the card's own cut."""

    @property
    def cut(self) -> CutFigures:
        """Its figures."""
        return self.sheet.cut

    @property
    def said(self) -> str:
        """As a card says it."""
        return self.cut.said.text

    @property
    def tin_words(self) -> str:
        """The tin that is cut."""
        return self.cut.tin_name or self.cut.tin.describe()

    @property
    def edge_words(self) -> str:
        """How many pieces have a side on the slab's edge."""
        edge = self.cut.cutting.edge_pieces
        if not edge or self.cut.cutting.pieces <= 1:
            return ""
        return f"{edge} have a side on the slab's edge."

    @property
    def promise_words(self) -> str:
        """What a piece weighs at least."""
        promised = self.cut.promised_g
        if not promised.known:
            return f"withheld: {promised.sum}"
        return f"99 of 100 weigh at least {at_least(promised.number)} g"

    @property
    def trim_rows(self) -> tuple[tuple[str, str], ...]:
        """What is in no piece, and where it went: grams and words."""
        cut = self.cut
        if not (cut.trim_g.known and cut.trim_g.number > 0):
            return ()
        made, slab_g = cut.cutting, (self.sheet.slab_g or 0.0) * cut.cutting.tins
        parts = {
            "trimmed edges": made.trim_share - made.left_over_share,
            "left-over strips and off-cuts": made.left_over_share,
            "crumbs under the knife": made.knife_share,
        }
        return tuple(
            (words.grams(share * slab_g), name)
            for name, share in parts.items()
            if share > 1e-9
        )

    @property
    def knife_words(self) -> str:
        """From where the knife's places are measured."""
        made = self.cut.cutting
        how = "Score every line before the first cut; mm from the untrimmed edge"
        if made.shape == "wedges":
            how = "Mark the rim first: mm along it, from the nearest point to the right"
        elif any(not stroke.edge for stroke in made.strokes):
            how += (
                "; slanting ones meet near and far edge so far from the left, left "
                "and right edge so far from the near end"
            )
        return f"{how}. The order is common practice."

    @cached_property
    def strokes(self) -> tuple[StrokeRow, ...]:
        """The order of the knife."""
        return tuple(stroke_rows(self.cut.cutting.strokes))

    @property
    def rulers(self) -> tuple[tuple[str, str], ...]:
        """Places along each edge."""
        made = self.cut.cutting
        return tuple(
            (head, ", ".join(words.length(at) for at in places))
            for head, places in (
                ("along", made.cuts_along_mm),
                ("across", made.cuts_across_mm),
            )
            if places
        )

    @property
    def rollers(self) -> tuple[str, ...]:
        """How each roller is set, or why it can't be."""
        return tuple(roller_words(setting) for setting in self.cut.rollers)

    @cached_property
    def plan(self) -> Markup:
        """The slab from above."""
        plan = drawn_plan(self.sheet.spec, self.cut)
        return drawing(cut_plan_svg(plan, theme="page", prefix="plan"))

    @cached_property
    def has_strips(self) -> bool:
        """Whether anything is marked along a ruler."""
        return bool(ruler_pages(drawn_plan(self.sheet.spec, self.cut)))

    @property
    def can_be_tried(self) -> bool:
        """Whether slabs can be cut on paper."""
        is_known = self.sheet.slab_g is not None and bool(
            self.sheet.spec.height_mm.value
        )
        return is_known and bool(self.cut.cutting.strokes)

    @cached_property
    def options(self) -> tuple[OptionRow, ...]:
        """What else would do, the most pieces in the range first."""
        return tuple(self._options())

    def _options(self) -> Iterator[OptionRow]:
        slab_g = self.sheet.slab_g
        if slab_g is None:
            return
        slab = words.grams(slab_g)
        for one in self.sheet.options:
            each, reached = (
                Figure(
                    share * slab_g, "g", f"{share:.2%} of {slab} g", Standing.ASSUMED
                )
                for share in (one.share, one.reached)
            )
            said = with_clauses(one.said, self.cut.said)
            yield OptionRow(one, each, reached, said)
