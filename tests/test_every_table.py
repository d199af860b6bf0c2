"""Rules that every table of data keeps, also those written next year."""

import csv
from importlib.resources import files
from pathlib import Path

import pytest

from slabwright.formula.kinds import Kind, kind_named, kinds
from slabwright.larder.load import built_in
from slabwright.publish.drawing.textures import TEXTURES
from slabwright.source import sources

ROOT = Path(__file__).parents[1]
PACKAGE = ROOT / "src" / "slabwright"
TABLES = sorted(PACKAGE.rglob("*.csv"))
OWN_KINDS_OF_SOURCE = {"arithmetic"}
"""What a table of tins says in place of a source: worked out, not read."""
ALL_KINDS = pytest.mark.parametrize(
    "kind", kinds().values(), ids=lambda kind: kind.name
)


def rows(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def named(path: Path) -> str:
    return str(path.relative_to(PACKAGE))


@pytest.mark.parametrize("path", TABLES, ids=named)
def test_every_source_that_a_table_names_is_in_the_list_of_sources(path: Path) -> None:
    for number, row in enumerate(rows(path), start=2):
        for column, key in row.items():
            if column.endswith("source") and key and path.name != "presets.csv":
                assert key in sources(), f"line {number}: {key}"


def test_every_source_is_leant_on_by_something() -> None:
    used = {
        key
        for path in TABLES
        for row in rows(path)
        for column, key in row.items()
        if column.endswith("source")
    }
    code = "\n".join(path.read_text("utf-8") for path in PACKAGE.rglob("*.py"))

    idle = [key for key in sources() if key not in used and f'"{key}"' not in code]
    assert idle == []


@pytest.mark.parametrize("path", TABLES, ids=named)
def test_every_row_of_a_table_has_as_many_cells_as_its_head(path: Path) -> None:
    with path.open(encoding="utf-8", newline="") as file:
        head, *body = list(csv.reader(file))

    assert len(set(head)) == len(head)
    assert {len(row) for row in body} == {len(head)}


def test_every_source_says_how_we_came_to_know_it() -> None:
    for source in sources().values():
        assert source.text
        assert source.seen.value


@ALL_KINDS
def test_the_texture_of_every_kind_is_known_to_the_drawing(kind: Kind) -> None:
    assert kind.texture in TEXTURES


def test_every_texture_has_a_kind() -> None:
    assert {kind.texture for kind in kinds().values()} == set(TEXTURES)


@ALL_KINDS
def test_every_kind_is_called_by_its_own_names_and_no_other(kind: Kind) -> None:
    assert kind_named(kind.name) == kind
    for name in kind.also:
        found = kind_named(name)
        assert found is not None
        assert name in (*found.also, found.name)
    others = [k for k in kinds().values() if k.name != kind.name]
    assert not {name for k in others for name in k.also} & set(kind.also)


@ALL_KINDS
def test_every_kind_has_a_likely_range_around_what_is_usual(kind: Kind) -> None:
    likely = [kind.density_g_ml, kind.loss_share]
    if kind.water_share:
        likely.append(kind.water_share)
    for one in likely:
        assert 0 <= one.low <= one.value <= one.high
        assert one.source in sources().values()
    # no layer is lighter than puffed rice or heavier than fondant
    assert 0.1 < kind.density_g_ml.low < kind.density_g_ml.high < 1.6
    assert kind.loss_share.high < 0.5
    assert 0 < kind.thin_mm <= 10


def test_every_ingredient_is_what_the_larder_finds_by_its_name() -> None:
    larder = built_in()
    lost = [
        one.name
        for one in larder.ingredients
        if (found := larder.find(one.name)) is None or found.ingredient.id != one.id
    ]

    assert lost == []


def test_the_tables_are_part_of_the_package() -> None:
    for path in TABLES:
        package = ".".join(("slabwright", *path.parent.relative_to(PACKAGE).parts))
        if (path.parent / "__init__.py").exists():
            assert files(package).joinpath(path.name).is_file()
