"""Other ways of writing a line that mean the same."""

import re
from collections.abc import Callable

from tests.spec.compare_cards import Sheet

Spelling = tuple[str, Callable[[re.Match[str]], str]]


def _kilos(found: re.Match[str]) -> str:
    return f"{found[1]}{float(found[2]) / 1000:.12g} kg{found[3]}"


def _halves(found: re.Match[str]) -> str:
    half = f"{float(found[1]) / 2:g} g"
    return f"  {half} + {half} {found[2]}"


def _parts(density: re.Match[str]) -> str:
    return f"density {float(density[1]) * 1000:.10g} kg/m3"


SPELLINGS: tuple[Spelling, ...] = (
    (r"^(\s+)([\d.]+) g( .*)$", _kilos),
    (r"^\s+([\d.]+) g +(.*)$", lambda m: f"{m[1]}g {m[2]}"),
    (r"^\s+([\d.]+) g +(.*)$", lambda m: f"\t{m[1]}.0 grams {m[2]}"),
    (r"^\s+([\d.]+) g +(.*)$", _halves),
    (r"^\s+([\d.]+) g +(.*)$", lambda m: f"  2 x {float(m[1]) / 2:g} g {m[2]}"),
    (r"^\s+([\d.]+) g +([a-z ]+)$", lambda m: f"  {m[2]}: {m[1]} g"),
    (r"^(\s+[\d.]+ g +.*unsalted), cold$", lambda m: f"{m[1]} (cold)"),
    (r"^(.*) = (\d+) g$", lambda m: f"{m[1]} = 0.{int(m[2]):03} kg"),
    (r"^  6 +eggs, medium(.*)$", lambda m: f"  6 medium eggs{m[1]}"),
    (r"^  (\S.*)$", lambda m: f"      {m[1]}   # said by the maker"),
    (r"^(.*\S.*)$", lambda m: f"{m[1]}   "),
    (r"^(  (?!note)\D.*?\S) {2,}(\S.*)$", lambda m: f"{m[1]}          {m[2]}"),
    (r"^(  (?!note)\D.*\S), (\S.*)$", lambda m: f"{m[1]},    {m[2]}"),
    (r"^  into (\S.*)$", lambda m: f"  into the {m[1]}"),
    (r"^  into (\S.*)$", lambda m: f"  INTO {m[1].title()}"),
    (
        r"^  (ends|loses) (\d+) g(.*)$",
        lambda m: f"  {m[1]} {int(m[2]) / 1000:g} kg{m[3]}",
    ),
    (r"^  ends (\d+) % water$", lambda m: f"  ends {m[1]}.0% moisture"),
    (r"^  loses (.*) in the bowl$", lambda m: f"  loses {m[1]} on a bowl"),
    (r"^  density (\S+) g/ml$", lambda m: "  " + _parts(m)),
    (r"^tin 30 x 20 x 5 cm$", lambda m: "tin 300 x 200 x 50 mm"),
    (r"^tin 30 x 20 x 5 cm$", lambda m: "tin 30x20x5cm"),
    (r"^tin 30 x 20 x 5 cm$", lambda m: "tin 30 by 20 cm, 50 mm deep"),
    (r"^tin 30 x 20 x 5 cm$", lambda m: "tin development tin"),
    (
        r"^cut (\d+) x (\d+), trim 5 mm(.*)$",
        lambda m: f"cut {m[1]}x{m[2]}, trim 0.5 cm{m[3]}",
    ),
    (
        r"^cut (.*), (trim 5 mm), (in shop frame)$",
        lambda m: f"cut {m[1]}, {m[3]}, {m[2]}",
    ),
    (r"^keep (.*), (\d) weeks$", lambda m: f"keep {m[1]}, {int(m[2]) * 7} days"),
    (r"^keep (.*), 28 days$", lambda m: f"keep {m[1]},  4 weeks"),
    (r"^sold (.*), (\d\.\d)0$", lambda m: f"sold {m[1]}, £{m[2]}"),
    (r"^note (.*)$", lambda m: f"note  {m[1].replace(' ', '  ')}"),
    (
        r"^(layer|component|finish|slab|tin|cut|keep|sold)\b(.*)$",
        lambda m: m[1].upper() + m[2],
    ),
    (r"^layer (.* from .*), 280 g$", lambda m: f"layer {m[1]}, 0.28 kg"),
    (
        r"^(layer .*) from Dark ganache(.*)$",
        lambda m: f"{m[1]} from dark-ganache{m[2]}",
    ),
    (r"^layer ([^,]*shortbread)$", lambda m: f"layer {m[1]}, all"),
    (r"^$", lambda m: "\n# nothing to say\n"),
)  # fmt: skip
"""A pattern of a line, and what may stand there instead."""


def places(sheet: Sheet, spelling: Spelling) -> list[int]:
    """Lines that may be written so."""
    return [n for n, text in enumerate(sheet.lines) if re.match(spelling[0], text)]


def written(text: str, spelling: Spelling) -> str:
    """The line written so."""
    return re.sub(spelling[0], spelling[1], text, count=1)
