"""Rules that every file of the project keeps."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
NOT_OURS = frozenset({".git", ".venv", ".hypothesis", "out", "dist", "__pycache__"})
CACHES = re.compile(r"^\.\w+_cache$")
TEXTS = frozenset(
    ".py .md .toml .yaml .yml .csv .card .txt .lock .sh .json .svg .cfg".split()
)
REGISTRIES = re.compile(
    r"pypi\.org|pythonhosted\.org|index-url|extra-index|find-links|npmjs|unpkg\.com"
    r"|jsdelivr|cdnjs|googleapis\.com|crates\.io/api|registry\.\w+\.\w+"
)
THIS = Path(__file__).name


def ours() -> Iterator[Path]:
    """Files of the project, apart from what tools leave behind."""
    for path in sorted(ROOT.rglob("*")):
        parts = path.relative_to(ROOT).parts
        if any(part in NOT_OURS or CACHES.match(part) for part in parts):
            continue
        if path.is_file() and (path.suffix in TEXTS or path.name == "Makefile"):
            yield path


FILES = [path for path in ours() if path.name != THIS]


def test_there_are_files_to_look_at() -> None:
    assert len(FILES) > 100


def test_no_file_names_a_registry() -> None:
    found = {
        str(path.relative_to(ROOT)): REGISTRIES.findall(path.read_text("utf-8"))
        for path in FILES
    }

    assert {name: hits for name, hits in found.items() if hits} == {}


def test_no_file_names_a_folder_of_somebodys_machine() -> None:
    home = re.compile(r"(?<![\w.])/(?:home|Users|root|work|tmp)/\w+")
    named = [
        str(path.relative_to(ROOT))
        for path in FILES
        if home.search(path.read_text("utf-8"))
    ]

    assert named == []


@pytest.mark.parametrize("end", [".py", ".md", ".csv", ".card", ".yaml", ".toml"])
def test_texts_are_utf_8_and_end_with_a_line_end(end: str) -> None:
    for path in FILES:
        if path.suffix == end and path.stat().st_size:
            text = path.read_text("utf-8")
            assert not text.startswith("\ufeff"), path
            assert text.endswith("\n"), path


def test_no_code_loads_a_file_from_the_net() -> None:
    drawings = re.compile(r"(?:href|src)=\"https?://|@import|url\(https?:")
    loads = re.compile(r"urllib\.request|http\.client|import (?:requests|httpx)\b")
    for path in FILES:
        text = path.read_text("utf-8")
        if "src" in path.parts and path.suffix == ".py":
            assert not loads.search(text), path
        if path.suffix == ".svg":
            assert not drawings.search(text), path
