"""One way of selling as the label's page shows it."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from slabwright.label.codes import Number
from slabwright.label.particulars import Need, Particular, Standing
from slabwright.publish.label import is_draft, on_label, summary
from slabwright.spec.label import Label

_SHOWN: Final = (
    "name", "ingredients", "allergens", "quid", "net_quantity", "date", "storage",
    "business", "lot",
)  # fmt: skip
"""What stands on the label itself, in the order in which it is read."""
_MARKS: Final = {
    Standing.THERE: "there",
    Standing.MISSING: "missing",
    Standing.HELD: "held",
    Standing.YOURS: "yours",
    Standing.NOT_ASKED: "not",
}


@dataclass(frozen=True)
class LabelView:
    """What one way of selling asks for, and the label as far as it is there."""

    label: Label
    number: Number | None = None

    @property
    def way(self) -> str:
        """How it is sold."""
        return str(self.label.order.way.value)

    @property
    def summary(self) -> str:
        """How it stands, in one sentence."""
        return summary(self.label)

    @property
    def held(self) -> frozenset[str]:
        """Particulars that wait for an answer."""
        of_label = self.label.particulars
        return frozenset(p.name for p in of_label if p.standing is Standing.HELD)

    @property
    def is_draft(self) -> bool:
        """Whether it is no label yet."""
        return is_draft(self.label)

    @property
    def particulars(self) -> Iterator[tuple[str, Particular, bool]]:
        """Mark, particular, whether it is voluntary."""
        for one in self.label.particulars:
            yield _MARKS[one.standing], one, one.need is Need.MAY

    @property
    def paper(self) -> Iterator[tuple[str, str, bool]]:
        """What stands on the label: which, its words, whether they are held."""
        there = on_label(self.label)
        for name in _SHOWN:
            one = there.get(name)
            if one is None or (name == "lot" and self.label.mark is not None):
                continue
            said = one.what[:1].upper() + one.what[1:]
            yield name, said, one.standing is Standing.HELD
