"""Slabs in several tins: one scale, measured on the drawing itself."""

import re
from xml.etree import ElementTree

import pytest

from slabwright.publish.drawing.drawn import DrawnLayer, DrawnSlab
from slabwright.publish.drawing.tins import tins_svg

SVG = "{http://www.w3.org/2000/svg}"


def slab(
    depth_mm: float, tin_mm: float | None = 50.0, long_mm: float = 230
) -> DrawnSlab:
    layers = (DrawnLayer("Base", "crumb", 10.0), DrawnLayer("Top", "jelly", depth_mm))
    return DrawnSlab("Slab", layers, tin_mm, 0.0, long_mm)


def level(svg: str, name: str) -> float:
    """Height of a level line above the tin's floor [units]."""
    root = ElementTree.fromstring(svg)  # noqa: S314  our own
    found = next(p for p in root.iter(f"{SVG}path") if p.get("class") == name)
    place = re.match(r"M\S+ (\S+)L", found.get("d", ""))
    assert place
    return -float(place[1])


def test_all_stand_at_the_scale_of_the_highest() -> None:
    low, high = tins_svg([slab(5.0), slab(60.0, 100.0)], prefix="t", was_mm=20.0)
    assert level(low, "was") == level(high, "was") == pytest.approx(20.0 * 2)
    assert level(low, "level") == pytest.approx(50.0 * 2)
    assert level(high, "level") == pytest.approx(100.0 * 2)
    for svg in (low, high):
        assert "1 : 2" in svg
    (alone,) = tins_svg([slab(5.0)], prefix="t", was_mm=20.0)
    assert level(alone, "was") == pytest.approx(20.0 * 4)


def test_all_are_as_wide() -> None:
    sizes = set()
    for svg in tins_svg([slab(5.0), slab(20.0, None, 40.0)], prefix="t"):
        root = ElementTree.fromstring(svg)  # noqa: S314  our own
        sizes.add(root.get("width"))
        assert 'class="was"' not in svg
    assert len(sizes) == 1


def test_words_and_ids() -> None:
    one, two = tins_svg([slab(5.0), slab(55.0)], prefix="t")
    assert "From the bottom: Base, 10.0 mm; Top, 5.0 mm." in one
    assert "It ends 35.0 mm below the rim." in one
    assert "It ends 15.0 mm over the rim." in two
    assert "15.0 mm over the rim</text>" in two
    ids = re.findall(r'\bid="([^"]+)"', one + two)
    assert len(ids) == len(set(ids))
    assert all(name.startswith(("t-1", "t-2")) for name in ids)


def test_nothing_and_the_unknown() -> None:
    assert tins_svg([], prefix="t") == ()
    unknown = DrawnSlab("Slab", (DrawnLayer("Base", "crumb", None),), None)
    (svg,) = tins_svg(
        [
            unknown,
        ],
        prefix="t",
    )
    assert "Base, depth not known" in svg
    (empty,) = tins_svg([DrawnSlab("Slab", (), 50.0)], prefix="t")
    assert "Nothing lies in the tin yet." in empty
