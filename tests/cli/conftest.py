"""A scratch folder with the demonstration kitchen in it, to run commands in."""

import shutil
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]


@pytest.fixture
def bench(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    shutil.copytree(ROOT / "demo", tmp_path / "demo")
    monkeypatch.chdir(tmp_path)
    return tmp_path
