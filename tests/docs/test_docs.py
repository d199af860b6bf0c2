"""The pages say what the program says: every output, card, table, link and option."""

import json
import re
import shlex
from pathlib import Path
from typing import Final

import jsonschema
import pytest
import typer
from pydantic import BaseModel

from slabwright.cli.main import app
from slabwright.files.kitchen_file import KitchenFile
from slabwright.files.larder_file import OwnIngredient
from slabwright.files.prices_file import PriceEntry
from slabwright.files.schemas import file_schemas
from slabwright.formula.kinds import kinds
from slabwright.publish.schemas import output_schemas
from tests.docs.bench import Bench, recipe_of, slabwright
from tests.docs.pages import PAGES, PICTURE, ROOT, drawn, refreshed, same

ALL_PAGES: Final = (
    *PAGES,
    ROOT / "CHANGELOG.md",
    *sorted((ROOT / "docs" / "decisions").glob("*.md")),
)
CARD_WORDS: Final = (
    "slab tin cut keep sold called pictured dated note proved layer component finish "
    "kind into ends loses deep density"
).split()
"""As the description of the card lists them."""


def _name(page: Path) -> str:
    return str(page.relative_to(ROOT))


def _page(name: str) -> str:
    return (ROOT / name).read_text("utf-8")


@pytest.mark.parametrize("page", PAGES, ids=_name)
def test_outputs_and_tables_are_the_programs_own(page: Path) -> None:
    text = page.read_text("utf-8")
    with Bench() as bench:
        assert same(text, refreshed(text, bench)), "stale: run make docs"


def test_the_picture_is_the_programs_own() -> None:
    with Bench() as bench:
        assert PICTURE.read_text("utf-8") == drawn(bench), "stale: run make docs"


@pytest.mark.parametrize("page", ALL_PAGES, ids=_name)
def test_links_lead_somewhere(page: Path) -> None:
    for target in re.findall(r"\]\(([^)\s]+)\)", page.read_text("utf-8")):
        file, _, anchor = target.partition("#")
        linked = (page.parent / file).resolve() if file else page
        assert linked.exists(), target
        if anchor:
            assert anchor in _anchors(linked.read_text("utf-8")), target


def _anchors(text: str) -> set[str]:
    """Anchors of a page's headings, as a forge makes them."""
    headings = re.findall(r"^#+ (.*)$", text, re.MULTILINE)
    return {
        re.sub(r"[^\w\- ]", "", heading).lower().replace(" ", "-")
        for heading in headings
    }


@pytest.mark.parametrize("page", ALL_PAGES, ids=_name)
def test_targets_of_make_exist(page: Path) -> None:
    text = page.read_text("utf-8")
    shell = "\n".join(re.findall(r"```sh\n(.*?)```", text, re.DOTALL))
    for target in re.findall(r"^make (\w+)", shell, re.MULTILINE):
        assert recipe_of(target)


@pytest.mark.parametrize("word", CARD_WORDS)
def test_every_word_of_the_card_is_described(word: str) -> None:
    assert f"`{word}`" in _page("docs/card.md")


@pytest.mark.parametrize("model", [KitchenFile, OwnIngredient, PriceEntry])
def test_every_field_of_the_folders_files_is_described(model: type[BaseModel]) -> None:
    page = _page("docs/kitchen.md")
    for name, field in model.model_fields.items():
        assert f"`{field.alias or name}`" in page


def test_every_finding_is_described_with_its_severity() -> None:
    page = _page("docs/commands.md")
    source = "\n".join(
        path.read_text("utf-8") for path in (ROOT / "src/slabwright").rglob("*.py")
    )
    found = re.findall(r'"([a-z]+(?:_[a-z]+)*)",\s*Severity\.(\w+)', source)
    assert found
    for code, severity in found:
        assert f"| `{code}` | {severity.lower()} |" in page
    listed = re.findall(r"^\| `(\w+)` \| (?:stop|look|note) \|", page, re.MULTILINE)
    assert set(listed) == {code for code, _ in found}


def test_every_command_is_described_with_its_example() -> None:
    page = _page("docs/commands.md")
    group = typer.main.get_command(app)
    assert isinstance(group, typer.core.TyperGroup)
    for name, command in group.commands.items():
        inner = getattr(command, "commands", {"": command})
        for more, one in inner.items():
            full = f"slabwright {name} {more}".strip()
            assert f"$ {full} --help" in page
            assert "Example: slabwright" in (one.help or "")


def test_the_examples_of_the_help_run() -> None:
    examples = re.findall(
        r"Example: slabwright ((?:.|\n(?!\n))*)", _page("docs/commands.md")
    )
    assert examples
    with Bench():
        for example in examples:
            joined = re.sub(r"-\n +", "-", example).replace("\n ", " ")
            if joined.startswith("serve "):
                continue  # it goes on until it is ended: tests/cli/test_serving.py
            said, code = slabwright(shlex.split(joined))
            assert code == 0, said


@pytest.mark.parametrize(
    ("command", "schema"),
    [
        ("spec demo/slabs/two-tides.card --json", "specification"),
        ("check demo/slabs/two-tides.card --json", "check"),
        ("why demo/slabs/two-tides.card depth --json", "why"),
        ("why demo/slabs/two-tides.card 1 --json", "why"),
        ("read demo/slabs/two-tides.card --json", "card"),
        ("larder find butter --json", "found"),
        ("larder show butter --json", "ingredient"),
    ],
)
def test_json_is_as_its_schema_says(command: str, schema: str) -> None:
    assert f"| `{schema}` |" in _page("docs/commands.md")
    with Bench():
        said, code = slabwright(command.split())
    assert code == 0
    value = json.loads(said)
    known = {**file_schemas(), **output_schemas()}
    part = value["card"] if schema == "card" else value
    jsonschema.Draft202012Validator(known[schema]).validate(part)


def test_a_stale_page_is_seen() -> None:
    with Bench() as bench:
        fresh = refreshed("```console\n$ slabwright larder find butter\n```\n", bench)
        assert "butter-unsalted" in fresh
        assert refreshed(fresh, bench) == fresh
        stale = fresh.replace("butter-unsalted", "lard")
        assert not same(stale, refreshed(stale, bench))


def test_a_card_with_a_mistake_is_seen() -> None:
    page = "```card a.card\nslab A\nlayer B\n  -4 g butter\n```\n"
    with Bench() as bench, pytest.raises(AssertionError, match="-4"):
        refreshed(page, bench)
    with Bench() as bench:
        assert refreshed(page.replace("a.card", "a.card wrong"), bench)


def test_what_is_left_out_is_marked() -> None:
    page = "```console first=1 last=1\n$ slabwright schema\n```\n"
    with Bench() as bench:
        lines = refreshed(page, bench).split("\n")
    assert lines[3] == "…"
    assert len(lines) == len(["fence", "$", "first", "…", "last", "fence", ""])


def test_every_kind_of_layer_is_in_the_table() -> None:
    page = _page("docs/larder.md")
    assert all(f"| `{name}` |" in page for name in kinds())


@pytest.mark.parametrize("page", ALL_PAGES, ids=_name)
def test_nothing_is_called_safe(page: Path) -> None:
    text = page.read_text("utf-8")
    words = re.sub(r"\*safe\*|that something is safe|`[^`]*`", "", text)
    assert not re.search(r"\bsafe(ly)?\b|free from", words)
