"""Long work as a page shows it: a layer that fills, a first answer, the better one."""

from dataclasses import dataclass
from functools import cached_property
from math import ceil
from typing import Final

from markupsafe import Markup

from slabwright.desk.work_kinds import Json
from slabwright.desk.work_state import WorkError, WorkState
from slabwright.publish.cutting import at_least
from slabwright.publish.drawing.filling import filling_svg
from slabwright.publish.drawing.histogram import Counted, histogram_svg
from slabwright.web.house import Visit
from slabwright.web.shown import drawing

_SHORT: Final = 8
"""So much of a key tells the drawings of one page apart."""


@dataclass(frozen=True)
class WorkView:
    """How far a piece of work has come, and what it says."""

    state: WorkState

    @property
    def key(self) -> str:
        """Its name."""
        return self.state.key

    @property
    def per_cent(self) -> int:
        """What is done."""
        return int(self.state.share_done * 100)

    @property
    def filling(self) -> Markup:
        """What is done, as a layer."""
        prefix = f"fill-{self.key[:_SHORT]}"
        return drawing(filling_svg(self.state.share_done, prefix=prefix))

    @property
    def to_go(self) -> str:
        """About how long it takes yet."""
        left = self.state.seconds_left
        if left is None:
            return "just begun"
        return f"about {ceil(left)} s to go"

    @property
    def said(self) -> Json | None:
        """The best answer that there is."""
        return self.state.result or self.state.rough

    @property
    def tried(self) -> str:
        """What it comes from."""
        said = self.said
        if said is None:
            return ""
        if not said["slabs"]:
            return "In closed form, before a slab is cut"
        return f"{said['slabs']:,} slabs cut on paper, {said['pieces']:,} pieces"

    @property
    def reaches(self) -> str:
        """What 99 of 100 pieces weigh at least."""
        said = self.said
        if said is None:
            return ""
        part = f"{said['promised_share'] * 100:.0f} of 100"
        return f"{part} weigh at least {at_least(said['promised_g'])} g"

    @property
    def spread(self) -> str:
        """Mean and standard deviation."""
        said = self.said
        if said is None:
            return ""
        return (
            f"{said['mean_g']:.1f} g on average, {said['deviation_g']:.1f} g "
            "standard deviation"
        )

    @property
    def counted(self) -> Counted | None:
        """The pieces by their mass."""
        said = self.said
        if said is None:
            return None
        bars = said["histogram"]
        return Counted(
            bars["edges_g"], bars["counts"], said["mean_g"], said["promised_g"],
            said["promised_share"],
        )  # fmt: skip

    @cached_property
    def histogram(self) -> Markup | None:
        """The pieces by their mass, drawn."""
        counted = self.counted
        if counted is None or not sum(counted.counts):
            return None
        prefix = f"bars-{self.key[:_SHORT]}"
        title = "What the pieces weigh"
        return drawing(histogram_svg(counted, prefix=prefix, title=title))


def work_view(visit: Visit, key: str) -> WorkView | None:
    """A piece of work by its key; None if there is none, or none any more."""
    if not key:
        return None
    try:
        return WorkView(visit.house.worker.state(key))
    except WorkError:
        return None
