"""One slab of four layers: read, worked out, shown; and in a process of its own."""

import asyncio
import sys
from asyncio.subprocess import DEVNULL
from datetime import date
from pathlib import Path
from time import perf_counter

from benchmarks.cards import DEMO, card
from benchmarks.clock import Taken, side_by_side
from slabwright.files.folder import open_folder
from slabwright.files.raw import Text
from slabwright.publish.draw import drawn
from slabwright.publish.drawing.cut_face import cut_face_svg
from slabwright.publish.drawing.section import section_svg
from slabwright.publish.json_form import spec_json
from slabwright.publish.terminal import Manner, spec_text
from slabwright.spec.nature.natures import natures_of
from slabwright.spec.specification import Specification
from slabwright.spec.work_out import Order, work_out

DAY = date(2026, 11, 25)
"""The day whose prices hold."""


def warm(rounds: int = 20) -> tuple[Taken, ...]:
    """In a process where everything has been read once. The first: card to result."""
    home = open_folder(DEMO)
    order = Order(home.kitchen, home.book, home.prices, DAY)
    reads = [home.read(Text(card(number))) for number in range(rounds + 3)]
    specs = [work_out(read.card, order) for read in reads]

    def both(number: int) -> Specification:
        read = home.read(Text(card(number)))
        return work_out(read.card, order, read.mistakes)

    return side_by_side(
        {
            "card to specification": both,
            "  reading the card": lambda n: home.read(Text(card(n))),
            "  working it out": lambda n: work_out(reads[n].card, order),
            "  what its layers will be": lambda n: natures_of(
                reads[n].card, specs[n].layers, specs[n].components, home.kitchen
            ),
            "  looking up a misspelt name": lambda n: home.larder.find(
                f"dark chocolatte {50 + n}%", home.kitchen.country
            ),
            "as JSON": lambda n: spec_json(specs[n]),
            "as text": lambda n: spec_text(specs[n], drawn(specs[n]), Manner()),
            "drawing, section": lambda n: section_svg(drawn(specs[n])),
            "drawing, cut face": lambda n: cut_face_svg(drawn(specs[n])),
        },
        rounds=rounds,
        warm=3,
    )


def cold(folder: Path, rounds: int = 5) -> tuple[Taken, ...]:
    """In a new process each time. First: a card to specification.

    Args:
        folder: where a card may be written.
        rounds: how many times each.
    """
    path = folder / "measured.card"
    path.write_text(card(), encoding="utf-8")
    program = [sys.executable, "-m", "slabwright"]

    def run(*command: str) -> None:
        asyncio.run(_run(*command))

    return side_by_side(
        {
            "spec --json": lambda _: run(
                *program, "spec", str(path), "--json", "--kitchen", str(DEMO)
            ),
            "--help": lambda _: run(*program, "--help"),
            "bare Python": lambda _: run(sys.executable, "-c", ""),
        },
        rounds=rounds,
        warm=1,
        clock=perf_counter,
    )


async def _run(*command: str) -> None:
    process = await asyncio.create_subprocess_exec(*command, stdout=DEVNULL)
    if code := await process.wait():
        message = f"{command} ended with {code}"
        raise RuntimeError(message)
