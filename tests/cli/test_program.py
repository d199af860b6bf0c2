"""The program as a whole: its version, output that fails, beginning twice."""

import errno
import io
import json
import subprocess
import sys
from importlib.metadata import version
from pathlib import Path

import pytest

from slabwright.cli.main import main
from tests.cli.run import run

CARD = "demo/slabs/two-tides.card"


def test_the_version_is_the_packages() -> None:
    ran = run("--version")

    assert (ran.code, ran.err) == (0, "")
    assert ran.out == f"slabwright {version('slabwright')}\n"


class _Full(io.StringIO):
    """A disk without room."""

    def write(self, text: str) -> int:
        raise OSError(errno.ENOSPC, "No space left on device")


@pytest.mark.parametrize("more", [[], ["--json"], ["--svg", "-"], ["--help"]])
@pytest.mark.usefixtures("bench")
def test_output_that_can_not_be_written_is_told_in_one_line(
    more: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    told = io.StringIO()
    monkeypatch.setattr(sys, "argv", ["slabwright", "spec", CARD, *more])
    monkeypatch.setattr(sys, "stdout", _Full())
    monkeypatch.setattr(sys, "stderr", told)

    with pytest.raises(SystemExit) as ended:
        main()
    assert ended.value.code == 2
    (line,) = told.getvalue().splitlines()
    assert line.startswith("Error: The output can't be written: No space left")


def test_a_full_disk_leaves_no_traceback_at_the_end_either() -> None:
    with Path("/dev/full").open("w", encoding="utf-8") as full:
        ran = subprocess.run(
            [sys.executable, "-m", "slabwright", "schema"],
            stdout=full,
            stderr=subprocess.PIPE,
            text=True,
            check=False,
        )

    assert ran.returncode == 2
    assert len(ran.stderr.splitlines()) == 1


def test_a_kitchen_begun_twice_says_what_was_kept(tmp_path: Path) -> None:
    home = tmp_path / "home"
    names = ["kitchen.yaml", "larder.yaml", "prices.yaml", "slabs/first.card"]

    first = run("new", str(home), "--kitchen").out
    assert first.splitlines() == [f"wrote {home / name}" for name in names]
    (home / "prices.yaml").unlink()
    again = run("new", str(home), "--kitchen")
    assert again.code == 0
    assert again.out.splitlines() == [
        f"wrote {home / name}"
        if name == "prices.yaml"
        else f"kept {home / name}: it was there already"
        for name in names
    ]


@pytest.mark.usefixtures("bench")
def test_a_whole_reading_is_no_form_and_that_is_said() -> None:
    reading = run("read", CARD, "--json").out
    Path("r.json").write_text(reading, encoding="utf-8")
    ran = run("new", "x", "--from", "r.json")

    assert (ran.code, ran.out) == (2, "")
    assert ran.err.count("Error") == 1
    assert "Give its `card` part alone" in ran.err
    Path("r.json").write_text(json.dumps(json.loads(reading)["card"]), "utf-8")
    assert run("new", "x", "--from", "r.json").code == 0
