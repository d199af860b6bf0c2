"""What of a worked-out slab is drawn."""

import pytest
from tests.files.kitchens import worked

from slabwright.publish.draw import drawn

CARD = "slab X\ntin 20 x 20 x 5 cm\n{}layer A\n  400 g plain flour\n"


@pytest.mark.parametrize(
    ("cut", "trim_mm", "piece_mm"),
    [
        ("cut 4 x 4\n", 0.0, 50.0),  # 200 ÷ 4
        ("cut 4 x 4, trim 6 mm\n", 6.0, 47.0),  # (200 − 12) ÷ 4
        ("cut 1 piece\n", 0.0, 200.0),
        ("cut 8 wedges\n", 0.0, None),
        ("", 0.0, None),
    ],
)
def test_the_trim_drawn_is_the_trim_of_the_cut(
    cut: str, trim_mm: float, piece_mm: float | None
) -> None:
    slab = drawn(worked(CARD.format(cut)))

    assert slab.trim_mm == trim_mm
    assert slab.piece_mm == pytest.approx(piece_mm)
