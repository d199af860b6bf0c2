"""The pages of the documentation: blocks that are run, tables that are written.

A page is Markdown. What the program has to answer for stands in it like this:

- ```` ```console ````: lines after `$ ` are run, what they print follows. `first=20
  last=1` behind the word keeps so many lines of it and a `…` between.
- ```` ```card NAME.card ````: a card; it must read without a mistake, and the commands
  below may name it. `wrong` behind the name lets it have mistakes.
- ```` ```card-top ````, ```` ```card-layer ````: lines of a card, what was understood
  of each at the right of a bar.
- ```` ```text NAME.txt ````: a pasted recipe; it must read too.
- ```` ```yaml NAME.yaml ````: a file of the kitchen folder; it must read too.
- `<!-- table NAME … -->` to `<!-- end of table -->`: a table from the program's data.
"""

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Final

from tests.docs.bench import Bench
from tests.docs.fragments import beside
from tests.docs.tables import TABLES

ROOT: Final = Path(__file__).parents[2]
PICTURE: Final = ROOT / "docs" / "pictures" / "two-tides.svg"
PAGES: Final = (
    ROOT / "README.md",
    ROOT / "CONTRIBUTING.md",
    *sorted((ROOT / "docs").glob("*.md")),
    *sorted((ROOT / "docs" / "physics").glob("*.md")),
)
"""Pages whose blocks are run; decisions are never changed after the fact."""

_FENCE: Final = "```"
_TABLE: Final = re.compile(r"<!-- table (?P<name>[\w-]+)")
_END_OF_TABLE: Final = "<!-- end of table -->"
_TIME: Final = re.compile(r"\(\d+\.\d s\)")
_MORE: Final = "…"


def same(one: str, other: str) -> bool:
    """Whether two texts are the same but for the seconds that something took."""
    return _TIME.sub("(n s)", one) == _TIME.sub("(n s)", other)


def refreshed(text: str, bench: Bench) -> str:
    """The page with every output and table written anew.

    Raises:
        AssertionError: if a card or a kitchen file on it has a mistake.
    """
    return "\n".join(_refreshed(text.split("\n"), bench))


def _refreshed(lines: list[str], bench: Bench) -> Iterator[str]:
    rest = iter(lines)
    for line in rest:
        yield line
        if line.startswith(_FENCE) and len(line) > len(_FENCE):
            body = list(iter(lambda: next(rest), _FENCE))
            yield from _block(line.removeprefix(_FENCE).split(), body, bench)
            yield _FENCE
        elif table := _TABLE.match(line):
            for _ in iter(lambda: next(rest), _END_OF_TABLE):
                pass
            yield from TABLES[table["name"]]()
            yield _END_OF_TABLE


def _block(info: list[str], body: list[str], bench: Bench) -> list[str]:
    """The lines of a block as they ought to stand."""
    what, *more = info
    if what == "console":
        return list(_console(body, dict(word.split("=") for word in more), bench))
    if what in {"card-top", "card-layer"}:
        return beside(body, what)
    if what in {"card", "text", "yaml"} and more:
        bench.write(more[0], body, may_be_wrong="wrong" in more)
    return body


def _console(body: list[str], keep: dict[str, str], bench: Bench) -> Iterator[str]:
    commands = [line.removeprefix("$ ") for line in body if line.startswith("$ ")]
    for number, command in enumerate(commands):
        if number and keep:
            yield ""
        yield f"$ {command}"
        said = bench.run(command).rstrip("\n").split("\n")
        if said != [""]:
            yield from _shortened(said, keep)


def _shortened(said: list[str], keep: dict[str, str]) -> Iterator[str]:
    first = int(keep.get("first", len(said)))
    last = int(keep.get("last", 0))
    if first + last >= len(said):
        yield from (line.rstrip() for line in said)
        return
    yield from (line.rstrip() for line in said[:first])
    yield _MORE
    yield from (line.rstrip() for line in said[len(said) - last :])


def drawn(bench: Bench) -> str:
    """The picture of the README, as the program draws it."""
    return bench.run("slabwright spec demo/slabs/two-tides.card --svg -")
