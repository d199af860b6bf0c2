"""Somewhere to run the pages' commands: a copy of the demonstration kitchen."""

import io
import os
import re
import shlex
import shutil
import sys
from contextlib import AbstractContextManager, ExitStack, chdir
from datetime import date
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Final, Self
from unittest.mock import patch

from slabwright.cli.main import main
from slabwright.files.folder import folder_of, open_folder
from slabwright.files.raw import Text
from slabwright.spec.specification import Specification
from slabwright.spec.work_out import Order, work_out

ROOT: Final = Path(__file__).parents[2]
DAY: Final = date(2026, 11, 25)
"""The day whose prices hold on the pages."""
_WIDTH: Final = "80"


class Bench(AbstractContextManager["Bench"]):
    """A scratch folder with `demo/` in it, in which commands are run."""

    def __init__(self) -> None:
        self._stack = ExitStack()
        self._last_code = 0

    def __enter__(self) -> Self:
        scratch = Path(self._stack.enter_context(TemporaryDirectory()))
        shutil.copytree(ROOT / "demo", scratch / "demo")
        self._stack.enter_context(chdir(scratch))
        return self

    def __exit__(self, *error: object) -> None:
        self._stack.close()

    def run(self, command: str) -> str:
        """What a command prints, both streams as a terminal shows them."""
        command, _, file = command.partition(" < ")
        match shlex.split(command):
            case ["slabwright", *arguments]:
                data = Path(file).read_bytes() if file else b""
                said, self._last_code = slabwright(arguments, data)
                return said
            case ["make", target]:
                recipe = recipe_of(target)
                return f"{recipe}\n{self.run(recipe.removeprefix('.venv/bin/'))}"
            case ["cat", name]:
                return Path(name).read_text("utf-8")
            case ["echo", "$?"]:
                return f"{self._last_code}\n"
            case _:
                message = f"the pages can't run: {command}"
                raise AssertionError(message)

    def write(self, name: str, lines: list[str], *, may_be_wrong: bool) -> None:
        """Put a card or a kitchen file down, and read it.

        Raises:
            AssertionError: if it has mistakes and must have none.
        """
        path = Path(name)
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text("\n".join((*lines, "")), encoding="utf-8")
        if may_be_wrong:
            return
        if path.suffix == ".yaml":
            mistakes = open_folder(path.parent).mistakes
        else:
            mistakes = work_out_text(path.read_text("utf-8"), path).errors
        assert not mistakes, [str(mistake) for mistake in mistakes]


def work_out_text(text: str, path: Path | None = None) -> Specification:
    """A card worked out in the kitchen around it, the demonstration's without one."""
    folder = open_folder(folder_of(path) if path else Path("demo"))
    read = folder.read(Text(text, str(path or "")))
    order = Order(folder.kitchen, folder.book, folder.prices, DAY)
    return work_out(read.card, order, (*folder.mistakes, *read.mistakes))


def slabwright(arguments: list[str], data: bytes = b"") -> tuple[str, int]:
    """What the program prints in a terminal 80 columns wide, and its exit code."""
    out = io.TextIOWrapper(io.BytesIO(), encoding="utf-8", write_through=True)
    into = io.TextIOWrapper(io.BytesIO(data), encoding="utf-8")
    with (
        patch.multiple(sys, stdout=out, stderr=out, stdin=into),
        patch.object(sys, "argv", ["slabwright", *arguments]),
        patch.object(
            sys.modules["__main__"], "__package__", None
        ),  # whose name help says
        patch.dict(os.environ, {"COLUMNS": _WIDTH, "NO_COLOR": "1"}),
        patch("slabwright.cli.desk.today", return_value=DAY),
    ):
        try:
            main()
            code = 0
        except SystemExit as ended:
            code = ended.code if isinstance(ended.code, int) else int(bool(ended.code))
    out.seek(0)
    return out.read(), code


def recipe_of(target: str) -> str:
    """The one line that this target of the Makefile runs."""
    makefile = (ROOT / "Makefile").read_text("utf-8")
    found = re.search(
        rf"^{target}:[^\n]*\n\t(?P<recipe>[^\n]*)$", makefile, re.MULTILINE
    )
    assert found, f"the Makefile has no {target}"
    return found["recipe"]
