"""The command check: every mistake of many cards, or of a whole kitchen, at once."""

import shlex
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Final

import typer

from slabwright.cli import desk
from slabwright.cli.options import JsonOption, KitchenOption
from slabwright.errors import FileError, Mistake

if TYPE_CHECKING:
    from slabwright.finding import Finding

_ROOMS: Final = ("slabs", "components")
"""Where a kitchen folder keeps its cards."""


def check(
    cards: Annotated[
        list[str],
        typer.Argument(help="Cards' files, or folders of them.", metavar="CARD…"),
    ],
    kitchen: KitchenOption = None,
    json: JsonOption = False,
) -> None:
    """List every mistake of these cards at once; exit 1 if a finding stops the slab.

    Example: slabwright check demo
    """
    from slabwright.publish.figure_json import finding_json, mistake_json

    results: list[dict[str, object]] = []
    told: set[Mistake] = set()
    mistakes, stops = False, False
    for card in [one for named in cards for one in _cards_of(named)]:
        opened = desk.open_card(card, kitchen)
        spec = opened.spec
        findings = spec.findings if spec.name else ()
        mistakes = mistakes or bool(spec.errors)
        stops = stops or bool(desk.stopping(findings))
        results.append(
            {
                "card": card,
                "errors": [mistake_json(mistake) for mistake in spec.errors],
                "findings": [finding_json(finding) for finding in findings],
            }
        )
        if not json:
            new = [one for one in spec.errors if one not in told]  # a kitchen's: once
            told.update(new)
            for mistake in new:
                typer.echo(str(mistake))
            for finding in desk.stopping(findings):
                typer.echo(
                    f"{card}: stop: {finding.where}: {finding.what} {finding.do}"
                )
            if opened.read.lines:  # else the one mistake has said it all
                once = tuple(one.finding for one in spec.told) if findings else ()
                typer.echo(_summary(card, len(spec.errors), once))
    if json:
        desk.print_json({"cards": results})
    desk.end(mistakes=mistakes, stops=stops)


def _cards_of(named: str) -> list[str]:
    """The cards in a folder, a kitchen's slabs and components; or the one named.

    Raises:
        FileError: if the folder holds no card.
    """
    folder = Path(named)
    if named == "-" or not folder.is_dir():
        return [named]
    rooms = [folder / room for room in _ROOMS if (folder / room).is_dir()]
    found = [
        card
        for room in rooms or [folder]
        for card in sorted(room.rglob("*.card"))
        if card.is_file()
    ]
    if not found:
        what = f"'{named}' holds no card."
        raise FileError(Mistake(what, "Name a card, or a folder of files NAME.card."))
    return [str(card) for card in found]


def _summary(card: str, mistakes: int, findings: "tuple[Finding, ...]") -> str:
    """A card in one line: how it reads, how much there is to look at, and where."""
    from slabwright.publish import words

    state = "can't be made so" if desk.stopping(findings) else "reads well"
    state = words.counted(mistakes, "mistake") if mistakes else state
    said = f"{card}: {state}; {words.to_watch(findings)}"
    where = f" See: slabwright spec {shlex.quote(card)}" if findings else ""
    return f"{said}.{where if card != '-' else ''}"
