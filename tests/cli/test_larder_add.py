"""`larder add` as a baker calls it: what it writes, and what it refuses to."""

from pathlib import Path

import pytest

from slabwright.files.folder import open_folder
from tests.cli.run import Ran, run

OWN = """\
# our own
- name: brown butter
  also: [beurre noisette]
  per_100g: {fat: 99, protein: 0.3}
"""


@pytest.fixture
def larder(tmp_path: Path) -> Path:
    """The larder file of an otherwise empty kitchen."""
    file = tmp_path / "larder.yaml"
    file.write_text(OWN, encoding="utf-8")
    return file


def add(larder: Path, *arguments: str, data: bytes = b"") -> Ran:
    return run("larder", "add", *arguments, "--kitchen", str(larder.parent), data=data)


@pytest.mark.parametrize(
    "said",
    [
        "hello world",
        "",
        "energy 1850 kJ",
        "no-such-file.txt",
        "fat, protein",
        "fat -3 g",
    ],
)
def test_nothing_understood_is_an_error_and_nothing_is_written(
    said: str, larder: Path
) -> None:
    ran = add(larder, "x", said)

    assert (ran.code, ran.out) == (2, "")
    assert ran.err.startswith("Error: ")
    assert larder.read_text("utf-8") == OWN


def test_empty_standard_input_is_an_error(larder: Path) -> None:
    assert add(larder, "x", "-").code == 2
    assert larder.read_text("utf-8") == OWN


def test_what_is_like_another_needs_no_figures(larder: Path) -> None:
    ran = add(larder, "rye dust", "--like", "rye flour", "--contains", "rye")

    assert ran.code == 0
    assert open_folder(larder.parent).mistakes == ()


@pytest.mark.parametrize("name", ["brown butter", "Brown  Butter", "beurre noisette"])
def test_a_name_that_is_there_already_is_refused_with_its_line(
    name: str, larder: Path
) -> None:
    ran = add(larder, name, "fat 98 g")

    assert (ran.code, ran.out) == (2, "")
    assert f"{larder}:2:3: Your own 'brown butter'" in ran.err
    assert larder.read_text("utf-8") == OWN


def test_a_name_of_ours_is_said_to_be_ours(larder: Path) -> None:
    ran = add(larder, "lard", "fat 99 g, protein 0 g", "--dry-run")

    assert ran.code == 0
    assert "it lies over our 'lard' from now on" in ran.err


def test_an_unknown_rest_is_named(larder: Path) -> None:
    ran = add(larder, "x", "fat 3 g")

    assert ran.code == 0
    assert "97.0 g of 100 g is not known" in ran.err
    assert "# closes to 100.0 g per 100 g, 97.0 g of it unknown\n" in ran.err


def test_water_taken_as_what_is_left_is_said(larder: Path) -> None:
    ran = add(larder, "x", "protein .5 g, fat 1 g, carbohydrate 2 g")

    assert "    protein: 0.5\n" in ran.out
    assert "    water: 96.5 # not stated: what is left of 100 g\n" in ran.out
    assert "96.5 g, is taken for it" in ran.err
    assert "unknown" not in ran.err


def test_a_limit_stands_in_the_file_in_its_own_words(larder: Path) -> None:
    ran = add(larder, "x", "fat 99 g, saturates 65 g, protein <0.5 g")

    assert ran.code == 0
    assert ran.out in larder.read_text("utf-8")
    assert "    protein: 0.25 # stated: <0.5 g\n" in ran.out
    found = open_folder(larder.parent).larder.find("x")
    assert found
    assert found.ingredient.values["saturates"].value == 65
    assert found.ingredient.values["protein"].value == 0.25


def test_it_is_written_as_the_file_is_indented(larder: Path) -> None:
    larder.write_text("  - name: a\n    per_100g: {fat: 9}", encoding="utf-8")
    ran = add(larder, "b", "fat 98 g")

    assert ran.code == 0
    folder = open_folder(larder.parent)
    assert folder.mistakes == ()
    assert folder.larder.by_id("b")


@pytest.mark.parametrize(
    "text", ["[{name: a}]\n", "- name: a\n  like: unicorn\n", "- name: a\n  x: 1\n"]
)
def test_a_file_that_would_not_read_is_left_as_it_is(text: str, larder: Path) -> None:
    larder.write_text(text, encoding="utf-8")
    ran = add(larder, "b", "fat 98 g")

    assert ran.code == 2
    assert str(larder) in ran.err
    assert larder.read_text("utf-8") == text


def test_what_it_is_like_must_be_ours_as_the_file_wants_it(larder: Path) -> None:
    ran = add(larder, "b", "fat 98 g", "--like", "beurre noisette")

    assert ran.code == 2
    assert larder.read_text("utf-8") == OWN
