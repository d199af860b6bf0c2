"""Pieces counted by mass, and work that fills: measured on the drawings themselves."""

import re

import pytest

from slabwright.publish.drawing.filling import WIDE, filling_svg
from slabwright.publish.drawing.histogram import Counted, histogram_svg

COUNTED = Counted((60.0, 65.0, 70.0, 75.0, 80.0), (1, 30, 60, 0), 70.2, 64.96, 0.99)


def drawn(counted: Counted = COUNTED) -> str:
    return histogram_svg(counted, prefix="h", title="What the pieces weigh")


def bars(svg: str) -> list[tuple[str, float, float, float]]:
    """Class, left, width and height of each bar [units]."""
    shape = r'<path d="M(\S+) -?\S+h(\S+)v(\S+)h\S+z" class="(bar(?:-under)?)"/>'
    return [(c, float(x), float(w), float(h)) for x, w, h, c in re.findall(shape, svg)]


def test_bars_stand_where_and_as_high_as_they_are_many() -> None:
    found = bars(drawn())
    assert [one[0] for one in found] == ["bar", "bar", "bar"]
    assert [one[1] for one in found] == [0.0, 130.0, 260.0]
    assert {one[2] for one in found} == {130.0}
    assert [one[3] for one in found] == pytest.approx([2.5, 75.0, 150.0])
    under = bars(drawn(Counted(COUNTED.edges_g, COUNTED.counts, 70.2, 66.0, 0.99)))
    assert [one[0] for one in under] == ["bar-under", "bar", "bar"]


def test_a_promise_is_never_rounded_up() -> None:
    svg = drawn()
    assert "99 of 100 reach 64 g</text>" in svg
    assert "99 of 100 reach 64.9 g.</desc>" in svg
    assert "91 pieces from 60.0 to 80.0 g, 70.2 g on average" in svg


def test_the_ruler_is_true() -> None:
    ticks = re.findall(r'<text x="(\S+)" y="21" class="tick"[^>]*>([\d.]+)<', drawn())
    assert [int(said) for _, said in ticks] == [60, 65, 70, 75, 80]
    for x, said in ticks:
        assert float(x) == pytest.approx((float(said) - 60.0) * 26.0)


def test_a_narrow_one_has_its_decimals() -> None:
    narrow = Counted((70.0, 70.05, 70.1), (4, 5), 70.06, 70.01, 0.99)
    said = re.findall(r'class="tick"[^>]*>([\d.]+)<', drawn(narrow))
    assert len(said) == len(set(said)) > 3


@pytest.mark.parametrize("share", [0.0, 0.25, 1.0, 7.0, -1.0])
def test_a_layer_fills(share: float) -> None:
    svg = filling_svg(share, prefix="f")
    done = min(max(share, 0.0), 1.0)
    assert f"{done * 100:.0f} of 100 done." in svg
    is_filled = re.search(r'class="f-caramel"', svg) is not None
    assert is_filled == (done > 0)
    if is_filled:
        outline = re.search(r'<path id="[^"]+" d="([^"]+)"', svg)
        assert outline
        reach = [float(x) for x in re.findall(r"(?:[MLC ]|^)(-?[\d.]+) -", outline[1])]
        assert max(reach) == pytest.approx(done * WIDE, abs=1.0)
