"""Judging the reader of pasted text against labels that were written apart from it.

How a row is judged stands in README.md. Verdicts: right, asked, asked without need,
not read, silently wrong.
"""

import csv
import json
import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Literal

from slabwright.figure import Ranged
from slabwright.files.card.reader import CardRead
from slabwright.files.folder import Folder, open_folder
from slabwright.files.raw import Text
from slabwright.finding import Ask
from slabwright.formula.weighed import WeighedLine
from slabwright.quantity.amount import Amount
from slabwright.spec.specification import Specification
from slabwright.spec.work_out import Order, work_out

HERE = Path(__file__).parent
Verdict = Literal["right", "asked", "asked without need", "not read", "silently wrong"]


@dataclass(frozen=True)
class Judged:
    """A row and what was made of it."""

    id: str
    text: str
    verdict: Verdict
    why: str = ""


@cache
def kitchen() -> Folder:
    return open_folder(None)


def worked(text: str) -> tuple[CardRead, Specification]:
    home = kitchen()
    read = home.read(Text(text))
    order = Order(home.kitchen, home.book)
    return read, work_out(read.card, order, read.mistakes)


# --- single lines --------------------

CONTEXTS = {
    "ingredients": ("Slice\n\nIngredients\n\n100 g ground almonds\n",
                    "\n7 g poppy seeds\n"),
    "method": ("Slice\n\nIngredients\n100 g ground almonds\n\nMethod\n1. Stir well.\n",
               "\n9. Leave to set.\n"),
    "top": ("", "\n\nIngredients\n100 g ground almonds\n7 g poppy seeds\n"),
    "bottom": ("Slice\n\nIngredients\n100 g ground almonds\n\nMethod\n1. Stir well.\n"
               "2. Leave to set.\n\n", "\n"),
}  # fmt: skip
OWN = frozenset({"ground almonds", "poppy seeds"})


def line_rows(name: str = "lines.csv") -> tuple[dict[str, str], ...]:
    with (HERE / name).open(encoding="utf-8", newline="") as file:
        return tuple(csv.DictReader(file))


@dataclass(frozen=True)
class Seen:
    """What the reader made of one line in its context."""

    reads_as: str
    lines: tuple[WeighedLine, ...]
    asks: tuple[Ask, ...]
    said: str
    """Everything that was said about it: assumed, taken, findings, notes."""
    in_layers: bool


def seen(row: dict[str, str]) -> Seen:
    before, after = CONTEXTS[row["context"]]
    line = row["line"]
    if row["reads_as"].startswith("heading"):
        before = "Slice\n\nIngredients\n\n"
        after = "\n100 g ground almonds\n7 g poppy seeds\n"
    if "nutrition list" in row["note"]:
        before += "Nutrition\n"
    if row["context"] == "top" and row["reads_as"] not in {"title", "heading|title"}:
        before = "Slice\n\n"
    number = before.count("\n") + 1
    read, spec = worked(f"{before}{line}\n{after}")
    mine = [one for one in read.lines if one.line.number == number]
    if not mine:
        mine = [one for one in read.lines if line.strip() in one.line.raw]
    weighed = [w for layer in spec.layers for w in (x.weighed for x in layer.lines)]
    lines = tuple(w for w in weighed if w.line.span.line == number)
    asks = tuple(a for a in spec.asks if a.span is None or a.span.line == number)
    said = [f"{w.match.taken if w.match else 'unknown'}" for w in lines]
    said += [w.grams.assumed for w in lines if isinstance(w.grams, Ranged)]
    said += [w.line.aside for w in lines] + [n for w in lines for n in w.line.notes]
    said += [f.what for f in spec.findings if f.span and f.span.line == number]
    kinds = [one.reads_as for one in mine]
    reads_as = (
        "ingredient" if "ingredient" in kinds else (kinds[0] if kinds else "blank")
    )
    if any(layer.name.casefold() in line.casefold() for layer in spec.layers[1:]):
        reads_as = "heading"
    return Seen(reads_as, lines, asks, " ".join(said).casefold(), bool(lines))


WORDS = frozenset(
    {"note", "scrap", "aside", "title", "heading", "yield", "tin", "step", "oven"}
)
"""Readings that put no mass into any layer."""


def judge_line(row: dict[str, str]) -> Judged:
    found = seen(row)
    verdict, why = _without_lines(row, found) if not found.lines else _with(row, found)
    return Judged(row["id"], row["line"], verdict, why)


def _without_lines(row: dict[str, str], found: Seen) -> tuple[Verdict, str]:
    """A line that put nothing into any layer."""
    wanted = set(row["reads_as"].split("|"))
    if not wanted & {"ingredient", "ask"} or (
        "ingredient" in wanted and wanted & WORDS
    ):
        return "right", ""
    return ("asked", "") if found.asks else ("not read", f"read as {found.reads_as}")


def _with(row: dict[str, str], found: Seen) -> tuple[Verdict, str]:
    """A line that became ingredient lines."""
    weightless = all(w.mass_g is None for w in found.lines)
    may_ask = bool(row["ask_about"]) or "or asked" in row["note"]
    if not set(row["reads_as"].split("|")) & {"ingredient", "ask", "aside"}:
        wrong = f"is {row['reads_as']}"
        return ("asked without need" if weightless else "silently wrong"), wrong
    wrong = _wrong(row, found)
    if not wrong and row["ask_about"]:
        told = bool(found.asks) or _is_said(found)
        return ("asked", "") if told else ("silently wrong", "not asked about")
    if not wrong:
        return "right", ""
    if may_ask and (found.asks or weightless):
        return "asked", ""
    doubted = weightless or bool(found.asks) or any(w.is_unknown for w in found.lines)
    return ("asked without need" if doubted else "silently wrong"), wrong


def _is_said(found: Seen) -> bool:
    if any(w.line.aside for w in found.lines):
        return True
    return any(
        word in found.said
        for word in (
            "taken as",
            "read as",
            "also:",
            " as ",
            "no amount",
            "middle",
            "or ",
        )
    )


def _wrong(row: dict[str, str], found: Seen) -> str:
    lines = found.lines
    if row["name"]:
        names = " / ".join(
            f"{w.line.name} {w.ingredient.name if w.ingredient else ''} {w.line.part}"
            for w in lines
        ).casefold()
        if row["name"].casefold() not in names:
            return f"name is {names}"
    if row["grams"]:
        grams = float(row["grams"])
        total = sum(w.mass_g or 0.0 for w in lines)
        if abs(total - grams) > max(0.01 * grams, 0.5):
            return f"{total:.5g} g, not {grams:g}"
    elif row["amount"] and "+" not in row["amount"]:
        return _wrong_amount(row["amount"], lines)
    return ""


NUMBER = re.compile(r"(\d+(?:\.\d+)?)(?:-(\d+(?:\.\d+)?))?")
PACK = re.compile(r"([\d.]+) (?:g|ml|fl oz|oz|kg) x ([\d.]+) ?\w*")
OF = re.compile(r"^(?:zest|juice|zest and juice|juice and zest) of ")


def _wrong_amount(wanted: str, lines: tuple[WeighedLine, ...]) -> str:
    """Whether number and unit are other ones than the label's."""
    words = OF.sub("", wanted).replace("dsp", "dessertspoon")
    line = lines[0].line
    if not line.amounts:
        return "" if "0" in words else f"no amount, not {wanted}"
    said = [a for a in (line.amounts[0], line.second) if a is not None]
    if any(_is_amount(amount, words) for amount in said):
        return ""
    return f"{line.amounts[0].in_words()}, not {wanted}"


def _is_amount(amount: Amount, words: str) -> bool:
    pack, number = PACK.match(words), NUMBER.match(words)
    if pack:
        size = amount.size.value if amount.size else 0.0
        near = abs(size - float(pack[1])) < 0.02 * float(pack[1])
        return near and amount.value == float(pack[2])
    if number is None:
        return True
    value, unit = amount.value, words[number.end() :].strip()
    if unit == "ml" and amount.unit.is_exact:
        value, unit = value * amount.unit.sizes["metric"].value, amount.unit.name
    low = float(number[1])
    middle = (low + float(number[2])) / 2 if number[2] else low
    alike = unit.startswith((amount.unit.name, "each")) or not unit
    return abs(value - middle) <= 0.02 * max(middle, 0.01) and (
        alike or amount.unit.name == "each"
    )


def judged_lines(name: str = "lines.csv") -> Iterator[Judged]:
    for row in line_rows(name):
        yield judge_line(row)


# --- whole recipes --------------------


@dataclass(frozen=True)
class Recipe:
    """A whole recipe against its label."""

    name: str
    lines: int
    found: int
    missing: tuple[str, ...]
    extra: tuple[str, ...]
    """Lines with a weight that the label does not know."""
    unasked: tuple[str, ...]
    forbidden: tuple[str, ...]
    lost: tuple[str, ...]
    """Lines of the text that appear nowhere in the reading."""
    layers: str


def recipe_files() -> tuple[Path, ...]:
    return tuple(sorted((HERE / "recipes").glob("*.json")))


def judge_recipe(label_file: Path) -> Recipe:
    label = json.loads(label_file.read_text("utf-8"))
    text = label_file.with_name(label["source"]).read_text("utf-8")
    read, spec = worked(text)
    weighed = [w for layer in spec.layers for w in (x.weighed for x in layer.lines)]
    left = list(weighed)
    missing: list[str] = []
    wanted = [line for layer in label["layers"] for line in layer["lines"]]
    for line in wanted:
        match = next((w for w in left if _is(line, w)), None)
        if match is None:
            missing.append(f"{line['name']} {line['grams'] or line['amount'] or ''}")
        else:
            left.remove(match)
    extra = tuple(f"{w.line.name} {w.mass_g:.4g}" for w in left if w.mass_g)
    said = " ".join(f"{a.where} {a.question}" for a in spec.asks).casefold()
    said += " ".join(f"{f.where} {f.what}" for f in spec.findings).casefold()
    unasked = tuple(word for word in label["asks"] if word.casefold() not in said)
    names = [w.line.name.casefold() for w in weighed if w.mass_g]
    forbidden = tuple(
        word for word in label["must_not"] if any(word.casefold() in n for n in names)
    )
    numbers = {one.line.number for one in read.lines}
    lost = () if numbers else (text[:40],)
    shape = " / ".join(layer.name for layer in spec.layers)
    return Recipe(
        label["source"], len(wanted), len(wanted) - len(missing), tuple(missing), extra,
        unasked, forbidden, lost, shape,
    )  # fmt: skip


def _is(line: dict[str, object], weighed: WeighedLine) -> bool:
    names = f"{weighed.line.name} {weighed.line.part}"
    names += f" {weighed.ingredient.name if weighed.ingredient else ''}"
    if str(line["name"]).casefold() not in names.casefold():
        return False
    if line["grams"] is None:
        return True
    grams = float(str(line["grams"]))
    return abs((weighed.mass_g or 0.0) - grams) <= max(0.01 * grams, 0.5)


# --- names --------------------


def judge_names() -> Iterator[Judged]:
    with (HERE / "names.csv").open(encoding="utf-8", newline="") as file:
        for number, row in enumerate(csv.DictReader(file), start=1):
            yield _judge_name(f"n{number:03}", row)


def _judge_name(id: str, row: dict[str, str]) -> Judged:
    match = kitchen().larder.find(row["query"], row["country"] or "GB")
    wanted = [part for part in row["larder_id"].split("|") if part]
    text = f"{row['query']} ({row['country']})"
    if match is None:
        right = not wanted
        return Judged(id, text, "right" if right else "not read", "unknown")
    said = bool(match.taken) or bool(match.alternatives)
    if match.ingredient.id in wanted:
        if row["must_say"] == "yes" and not said:
            return Judged(id, text, "silently wrong", "does not say what it chose")
        return Judged(id, text, "right")
    verdict: Verdict = "asked without need" if said else "silently wrong"
    return Judged(id, text, verdict, f"took {match.ingredient.id}")
