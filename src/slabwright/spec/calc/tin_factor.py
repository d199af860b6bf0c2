"""The calculator of tins: what everything is multiplied by for another tin."""

from typing import Final

from slabwright.figure import Figure, withheld
from slabwright.spec.calc.calculator import Answer, Asked, Calculator, Input, Shown

_LEAVE_SHARE: Final = 0.10
"""Tins that differ by less than this are often taken one for the other. A stored page
of a flour mill's baking school says so; a rule, not a sum."""


def _answer(asked: Asked) -> Answer:
    old, new = asked.tins["from_tin"], asked.tins["to_tin"]
    a, b = old.area_mm2() / 100, new.area_mm2() / 100
    said = f"{b:.6g} cm² ÷ {a:.6g} cm² = {b / a:.4g}"
    first = Shown("factor", "times everything", Figure(b / a, "x", said))
    also = [
        Shown("from_area_cm2", "area of the first", Figure(a, "cm²", old.describe())),
        Shown("to_area_cm2", "area of the second", Figure(b, "cm²", new.describe())),
    ]
    deeper = f"a batch unchanged stands {a:.6g} ÷ {b:.6g} = {a / b:.4g} times as deep"
    also.append(Shown("depth_factor", "depth, unscaled", Figure(a / b, "x", deeper)))
    one, other = old.brim_volume_ml, new.brim_volume_ml
    volume = withheld("x", "a tin's depth is not given")
    if one is not None and other is not None:
        said = f"{other:.5g} ml ÷ {one:.5g} ml = {other / one:.4g}"
        volume = Figure(other / one, "x", said)
    also.append(Shown("volume_factor", "by volume to the rim", volume))
    notes = ["Layers stand as deep as before; times and the depth of a foam do not."]
    if abs(b / a - 1) < _LEAVE_SHARE:
        notes.append(
            "Under 10 % apart: many leave the formula as it is. A rule of a stored "
            "baking page; the layers are then so much deeper or flatter."
        )
    return Answer(first, tuple(also), tuple(notes))


TIN_FACTOR: Final = Calculator(
    name="tin-factor",
    title="From tin to tin",
    what="What every weight is multiplied by so that layers stand as deep as before.",
    answer=_answer,
    inputs=(
        Input(
            "from_tin",
            "",
            "the tin that the formula is for",
            kind="tin",
            also=("from", "old_tin"),
        ),
        Input(
            "to_tin", "", "the tin that you have", kind="tin", also=("to", "new_tin")
        ),
    ),
    example="calc tin-factor from_tin='30 x 20 cm' to_tin='23 cm round'",
    python="slabwright.slab.tin.Tin.area_mm2",
)
