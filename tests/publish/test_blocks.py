"""The section in block characters, read as a terminal shows it."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from slabwright.finding import Severity
from slabwright.publish.drawing.blocks import _BLOCKS, blocks, text_columns
from slabwright.publish.drawing.section import DrawnLayer, DrawnSlab, Mark
from slabwright.publish.drawing.textures import TEXTURES

HARBOUR = DrawnSlab(
    "Harbour Lamp",
    (
        DrawnLayer("Rye and oat shortbread", "crumb", 11.4, fill="rye"),
        DrawnLayer("Malt caramel", "caramel", 8.8),
        DrawnLayer("Coffee dark ganache", "ganache", 5.8),
    ),
    tin_depth_mm=50,
    tin_length_mm=300,
    trim_mm=5,
    piece_mm=58,
)

names = st.one_of(
    st.text(max_size=60), st.sampled_from(["抹茶" * 30, "W" * 120, "é" * 50])
)
drawn_layers = st.builds(
    DrawnLayer,
    names,
    st.sampled_from([*TEXTURES, "slate"]),
    st.none() | st.floats(0.5, 80),
    st.none() | st.floats(0.5, 80),
    st.none() | st.floats(0.5, 80),
    assumed=st.booleans(),
)


@st.composite
def slabs(draw: st.DrawFn) -> DrawnSlab:
    layers = draw(st.lists(drawn_layers, min_size=1, max_size=12))
    on = st.integers(0, len(layers) - 1)
    marks = st.builds(Mark, on, st.sampled_from(Severity), st.integers(1, 999))
    return DrawnSlab(
        draw(names),
        tuple(layers),
        draw(st.none() | st.floats(5, 200)),
        tin_length_mm=draw(st.none() | st.floats(20, 600)),
        trim_mm=draw(st.just(0.0) | st.floats(0.5, 20)),
        piece_mm=draw(st.none() | st.floats(5, 200)),
        knife_mm=draw(st.just(0.0) | st.floats(0.1, 3)),
        marks=tuple(draw(st.lists(marks, max_size=6))),
    )


def rows_of(text: str, fill: str) -> int:
    """Rows whose body is made of this character."""
    rows = (line for line in text.splitlines() if line[4:5] in tuple("│┤|+"))
    return sum(line[6:7] == fill for line in rows)


@settings(max_examples=200)
@given(slabs(), st.integers(30, 220), st.booleans())
def test_no_line_is_wider_than_the_terminal(
    slab: DrawnSlab, columns: int, plain: bool
) -> None:
    text = blocks(slab, columns=columns, plain=plain)

    for line in text.splitlines():
        assert text_columns(line) <= min(max(columns, 40), 200)


@settings(max_examples=100)
@given(slabs())
def test_every_layer_is_named_once_in_its_order_from_above(slab: DrawnSlab) -> None:
    layers = tuple(replace(layer, name=f"#{i}#") for i, layer in enumerate(slab.layers))
    text = blocks(replace(slab, layers=layers, marks=()), columns=80)

    places = [text.index(f"#{i}#") for i in range(len(layers))]
    assert places == sorted(places, reverse=True)
    for line in text.splitlines():
        assert line.count("#") in (0, 2)


def test_a_row_is_two_millimetres() -> None:
    # 11.4, 20.2 and 26.0 mm up: edges nearest to 6, 10 and 13 rows
    text = blocks(HARBOUR)

    assert [rows_of(text, fill) for fill in "░▒▓"] == [6, 4, 3]
    assert "One row is 2 mm" in text


@pytest.mark.parametrize(
    ("depth_mm", "row_mm", "rows"), [(10, 1, 10), (12.6, 2, 6), (80, 4, 20)]
)
def test_rows_are_finer_for_thin_slabs_and_coarser_for_tall(
    depth_mm: float, row_mm: int, rows: int
) -> None:
    slab = replace(HARBOUR, layers=(DrawnLayer("Foam", "foam", depth_mm),))
    text = blocks(slab)

    assert f"One row is {row_mm} mm" in text
    assert rows_of(text, "○") == rows


def test_the_ruler_counts_from_the_floor() -> None:
    lines = blocks(HARBOUR).splitlines()
    floor = next(i for i, line in enumerate(lines) if "┗" in line)

    for mm in (0, 10, 20):
        assert lines[floor - 1 - mm // 2].startswith(f"{mm:>3} ┤")


def test_half_a_row_is_half_a_block() -> None:
    # 10 + 14.8 + 6.1 = 30.9 mm: 15 rows and 0.45 of one
    tides = replace(
        HARBOUR,
        layers=(
            DrawnLayer("Lemon semolina shortbread", "crumb", 10.0),
            DrawnLayer("Baked lemon curd", "curd", 14.8),
            DrawnLayer("Blackcurrant jelly", "jelly", 6.1),
        ),
    )

    assert rows_of(blocks(tides), "▄") == 1
    assert "▄" not in blocks(tides, plain=True)


def test_cuts_stand_where_the_knife_goes() -> None:
    # 32 columns of 2.5 mm: trim to 5 mm, a piece to 63 mm: columns 2 and 25
    line = next(line for line in blocks(HARBOUR).splitlines() if "░" in line)
    body = line[6:38]

    assert [i for i, c in enumerate(body) if c == " "] == [2, 25]


def test_the_wall_ends_at_the_rim() -> None:
    over = blocks(replace(HARBOUR, tin_depth_mm=20))

    walls = [line[5:6] for line in over.splitlines() if line[6:7] in tuple("░▒▓")]
    assert walls == [" "] * 3 + ["┃"] * 10
    assert "6.0 mm over the rim" in over.replace("\n      ", " ")


def test_every_texture_has_its_own_block_and_letter() -> None:
    assert set(_BLOCKS) == set(TEXTURES)
    for which in (0, 1):
        assert len({pair[which] for pair in _BLOCKS.values()}) == len(TEXTURES)
    assert all(text_columns(block) == 1 for block, _ in _BLOCKS.values())


def test_plain_is_letters_and_nothing_beyond_ascii() -> None:
    marked = replace(HARBOUR, marks=(Mark(1, Severity.LOOK, 2),))
    text = blocks(marked, plain=True, columns=60)

    assert text.isascii()
    assert [rows_of(text, fill) for fill in "cmg"] == [6, 4, 3]
    assert "look 2" in text


def test_an_unknown_depth_is_said() -> None:
    unknown = replace(HARBOUR.layers[1], depth_mm=None)
    text = blocks(replace(HARBOUR, layers=(HARBOUR.layers[0], unknown)))

    assert "not known: Malt caramel" in text
    assert rows_of(text, "?") == 5  # drawn as 10 mm


def test_an_assumed_depth_has_its_mark() -> None:
    assumed = replace(HARBOUR.layers[0], assumed=True)
    text = blocks(replace(HARBOUR, layers=(assumed, *HARBOUR.layers[1:])))

    assert "11.4 [?]" in text
    assert "[?] assumed" in text
    assert "[?]" not in blocks(HARBOUR)


def test_layers_too_thin_for_a_row_are_owned_up_to() -> None:
    thin = tuple(DrawnLayer(f"Leaf {i}", "glaze", 0.5) for i in range(8))
    text = blocks(replace(HARBOUR, layers=thin))

    # 4 mm in rows of 1 mm: four of the eight are seen
    assert rows_of(text, "█") == 4
    assert "4 layers are too thin for a row" in text.replace("\n      ", " ")
    assert all(f"Leaf {i}" in text for i in range(8))


def test_a_terminal_obeys_nothing_in_a_name() -> None:
    text = blocks(replace(HARBOUR, layers=(DrawnLayer("a\x1b[2Jb\rc", "foam", 9),)))

    assert "\x1b" not in text
    assert "\r" not in text


def test_an_empty_tin_says_so() -> None:
    assert blocks(DrawnSlab("Nothing yet", (), 50)) == (
        "      Nothing lies in the tin yet.\n"
    )
