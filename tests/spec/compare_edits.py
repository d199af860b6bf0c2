"""Single edits of a card, each with the claim of what a comparison must report."""

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from hypothesis import strategies as st

from tests.spec.compare_cards import Sheet

ANY = "*"
"""A text that the claim leaves open."""


@dataclass(frozen=True)
class Claim:
    """What must be reported, and nothing else."""

    said: tuple[tuple[str, str, str, str], ...] = ()
    """Where, what (`place` for every place of …), before, after."""
    lines: tuple[tuple[str, str, str, float | None, float | None], ...] = ()
    """What, where, name, grams before and after."""
    unread: int = 0


@dataclass(frozen=True)
class Edit:
    """A card's new lines and what was done to it."""

    lines: list[str]
    claim: Claim
    touched: frozenset[int] = field(default_factory=frozenset)
    """Numbers of the lines that were replaced; empty where lines came or went."""


Editor = Callable[[Sheet, st.DataObject], Edit | None]
EDITORS: dict[str, Editor] = {}


def _editor(made: Editor) -> Editor:
    EDITORS[made.__name__] = made
    return made


def _pick(data: st.DataObject, among: Sequence[int]) -> int:
    return data.draw(st.sampled_from(list(among)))


def _put(sheet: Sheet, n: int, *new: str) -> list[str]:
    return [*sheet.lines[:n], *new, *sheet.lines[n + 1 :]]


def _replace(sheet: Sheet, n: int, new: str, said: tuple[str, str, str, str]) -> Edit:
    return Edit(_put(sheet, n, new), Claim((said,)), frozenset({n}))


# --- lines --------------------


@_editor
def weight(sheet: Sheet, data: st.DataObject) -> Edit:
    n = _pick(data, sheet.grams)
    where, name, grams = sheet.line(n)
    now = grams + data.draw(st.sampled_from([0.5, 1, 7]))
    text = re.sub(r"[\d.]+ g", f"{now:g} g", sheet.lines[n], count=1)
    line = ("changed", where, name, grams, now)
    return Edit(_put(sheet, n, text), Claim(lines=(line,)), frozenset({n}))


@_editor
def line_gone(sheet: Sheet, data: st.DataObject) -> Edit:
    n = _pick(data, sheet.grams)
    where, name, grams = sheet.line(n)
    return Edit(_put(sheet, n), Claim(lines=(("gone", where, name, grams, None),)))


@_editor
def line_added(sheet: Sheet, data: st.DataObject) -> Edit:
    n = _pick(data, sheet.grams)
    where = sheet.block(n)
    text = _put(sheet, n, sheet.lines[n], "  12 g ground almonds")
    claim = Claim(lines=(("added", where, "ground almonds", None, 12.0),))
    return Edit(text, claim)


@_editor
def another_ingredient(sheet: Sheet, data: st.DataObject) -> Edit:
    n = _pick(data, sheet.grams)
    where, name, grams = sheet.line(n)
    text = _put(sheet, n, f"  {grams:g} g  ground almonds")
    gone = ("gone", where, name, grams, None)
    return Edit(
        text,
        Claim(lines=(gone, ("added", where, "ground almonds", None, grams))),
        frozenset({n}),
    )


@_editor
def line_to_another_layer(sheet: Sheet, data: st.DataObject) -> Edit | None:
    n = _pick(data, sheet.grams)
    where, name, grams = sheet.line(n)
    there = [m for m in sheet.grams if sheet.block(m) != where]
    if not there:
        return None
    to = _pick(data, there)
    lines = list(sheet.lines)
    lines.insert(to + 1, lines[n])
    del lines[n + (to < n)]
    claim = ("moved", sheet.block(to), name, grams, grams)
    return Edit(lines, Claim(lines=(claim,)))


@_editor
def place(sheet: Sheet, data: st.DataObject) -> Edit | None:
    """Anything that has a place goes to another one in its block."""
    n = _pick(data, sheet.placed)
    among = [m for m in sheet.placed if sheet.block(m) == sheet.block(n)]
    others = [m for m in among if m != n and sheet.is_apart(n, m)]
    if not others or sheet.key(n) in [sheet.key(m) for m in others]:
        return None
    to = _pick(data, others)
    lines = list(sheet.lines)
    moved = lines.pop(n)
    lines.insert(to, moved)
    return Edit(lines, Claim(((sheet.block(n), "place", ANY, ANY),)))


@_editor
def note_on_an_ingredient(sheet: Sheet, data: st.DataObject) -> Edit:
    n = _pick(data, sheet.grams)
    where, name, _ = sheet.line(n)
    notes = sheet.notes(n)
    said = (where, f"note on {name}", ", ".join(notes), ", ".join([*notes, "sieved"]))
    return _replace(sheet, n, f"{sheet.lines[n]}, sieved", said)


@_editor
def what_it_weighs(sheet: Sheet, data: st.DataObject) -> Edit:
    """The same weight, as one that was weighed."""
    n = _pick(data, sheet.grams)
    where, name, grams = sheet.line(n)
    said = (
        where,
        f"amount of {name}",
        f"{grams:g} g",
        f"{grams:g} g = {grams:g} g, weighed",
    )
    return _replace(sheet, n, f"{sheet.lines[n]} = {grams:g} g weighed", said)


@_editor
def a_range(sheet: Sheet, data: st.DataObject) -> Edit:
    """The same middle, less surely."""
    n = _pick(data, sheet.grams)
    where, name, grams = sheet.line(n)
    band = f"{grams - 1:g}-{grams + 1:g} g" if grams > 1 else "0.5-1.5 g"
    text = re.sub(r"[\d.]+ g", band, sheet.lines[n], count=1)
    return _replace(sheet, n, text, (where, f"amount of {name}", f"{grams:g} g", band))


@_editor
def weighed(sheet: Sheet, data: st.DataObject) -> Edit | None:
    if not sheet.counted:
        return None
    n = _pick(data, sheet.counted)
    where, name, _ = sheet.line(n)
    said = (where, f"amount of {name}", ANY, ANY)
    return _replace(sheet, n, f"{sheet.lines[n]}, weighed", said)


@_editor
def count(sheet: Sheet, data: st.DataObject) -> Edit | None:
    """One more of it, which are said to weigh the same."""
    if not sheet.counted:
        return None
    n = _pick(data, sheet.counted)
    where, name, _ = sheet.line(n)
    text = re.sub(r"\d+", lambda m: str(int(m[0]) + 1), sheet.lines[n], count=1)
    return _replace(sheet, n, text, (where, f"amount of {name}", ANY, ANY))


@_editor
def egg_size(sheet: Sheet, data: st.DataObject) -> Edit | None:
    sized = [n for n in sheet.counted if "medium" in sheet.lines[n]]
    if not sized:
        return None
    n = _pick(data, sized)
    where, name, grams = sheet.line(n)
    said = f"6, medium = {grams:g} g", f"6, large = {grams:g} g"
    text = sheet.lines[n].replace("medium", "large")
    return _replace(sheet, n, text, (where, f"amount of {name}", *said))


@_editor
def unreadable_line(sheet: Sheet, data: st.DataObject) -> Edit:
    n = _pick(data, sheet.grams)
    where, name, grams = sheet.line(n)
    text = sheet.lines[n].replace(" g ", " qq ", 1)
    claim = Claim(lines=(("gone", where, name, grams, None),), unread=1)
    return Edit(_put(sheet, n, text), claim)


# --- the rest of a block --------------------


@_editor
def step(sheet: Sheet, data: st.DataObject) -> Edit:
    n = _pick(data, sheet.steps)
    was = " ".join(sheet.lines[n].split())
    said = (sheet.block(n), "step", was, f"{was}, gently")
    return _replace(sheet, n, f"{sheet.lines[n]}, gently", said)


@_editor
def step_gone(sheet: Sheet, data: st.DataObject) -> Edit:
    n = _pick(data, sheet.steps)
    was = " ".join(sheet.lines[n].split())
    return Edit(_put(sheet, n), Claim(((sheet.block(n), "step", was, ""),)))


@_editor
def step_added(sheet: Sheet, data: st.DataObject) -> Edit:
    n = _pick(data, sheet.steps)
    text = _put(sheet, n, "  rest under a cloth", sheet.lines[n])
    return Edit(text, Claim(((sheet.block(n), "step", "", "rest under a cloth"),)))


@_editor
def vessel(sheet: Sheet, data: st.DataObject) -> Edit:
    n = _pick(data, sheet.word("into"))
    was = sheet.value(n)
    said = (sheet.block(n), "into", was, "copper pan")
    return _replace(sheet, n, "  into copper pan", said)


@_editor
def vessel_gone(sheet: Sheet, data: st.DataObject) -> Edit:
    n = _pick(data, sheet.word("into"))
    return Edit(_put(sheet, n), Claim(((sheet.block(n), "into", sheet.value(n), ""),)))


@_editor
def vessel_added(sheet: Sheet, data: st.DataObject) -> Edit:
    n = _pick(data, sheet.grams)
    text = _put(sheet, n, "  into copper pan", sheet.lines[n])
    return Edit(text, Claim(((sheet.block(n), "into", "", "copper pan"),)))


@_editor
def note_in_a_block(sheet: Sheet, data: st.DataObject) -> Edit:
    n = _pick(data, sheet.steps)
    text = _put(sheet, n, sheet.lines[n], "  note Mind the far corner.")
    return Edit(text, Claim(((sheet.block(n), "note", "", "Mind the far corner."),)))


@_editor
def kind(sheet: Sheet, data: st.DataObject) -> Edit | None:
    if not sheet.word("kind"):
        return None
    n = _pick(data, sheet.word("kind"))
    now = data.draw(st.sampled_from(["sponge", ""]))
    said = (sheet.block(n), "kind", sheet.value(n), now)
    lines = _put(sheet, n, *([f"  kind {now}"] if now else []))
    return Edit(lines, Claim((said,)), frozenset({n}) if now else frozenset())


@_editor
def density(sheet: Sheet, data: st.DataObject) -> Edit | None:
    if not sheet.word("density"):
        return None
    n = _pick(data, sheet.word("density"))
    was = f"{float(sheet.value(n).split()[0]):g} g/ml"
    now = data.draw(st.sampled_from(["0.91 g/ml", f"{was}, measured", ""]))
    lines = _put(sheet, n, *([f"  density {now}"] if now else []))
    return Edit(lines, Claim(((sheet.block(n), "density", was, now),)))


@_editor
def deep(sheet: Sheet, data: st.DataObject) -> Edit:
    n = _pick(data, sheet.steps)
    if sheet.block(n) == "finish":
        n = sheet.grams[0]
    text = _put(sheet, n, sheet.lines[n], "  deep 1.1 cm")
    return Edit(text, Claim(((sheet.block(n), "deep", "", "11 mm"),)))


@_editor
def loss(sheet: Sheet, data: st.DataObject) -> Edit:
    n = _pick(data, [*sheet.word("ends"), *sheet.word("loses")])
    was = " ".join(sheet.lines[n].split())
    number = re.sub(r"\d+", lambda m: str(int(m[0]) + 1), was, count=1)
    now = data.draw(st.sampled_from([number, f"{was}, weighed", ""]))
    lines = _put(sheet, n, *([f"  {now}"] if now else []))
    touched = frozenset({n}) if now else frozenset[int]()
    return Edit(lines, Claim(((sheet.block(n), "loss", was, now),)), touched)


@_editor
def component(sheet: Sheet, data: st.DataObject) -> Edit:
    lines = [*sheet.lines, "", "component Almond crumb", "  60 g ground almonds"]
    said = ("Almond crumb", "component", "", "Almond crumb")
    line = ("added", "Almond crumb", "ground almonds", None, 60.0)
    return Edit(lines, Claim((said,), (line,)))


@_editor
def finish_gone(sheet: Sheet, data: st.DataObject) -> Edit:
    at = sheet.lines.index("finish")
    end = next((n for n in range(at, len(sheet.lines)) if not sheet.lines[n].strip()),
               len(sheet.lines))  # fmt: skip
    steps = [" ".join(line.split()) for line in sheet.lines[at + 1 : end]]
    lines = [*sheet.lines[:at], *sheet.lines[end:]]
    return Edit(lines, Claim(tuple(("finish", "step", one, "") for one in steps)))


@_editor
def step_above_the_layers(sheet: Sheet, data: st.DataObject) -> Edit:
    n = sheet.first_layer
    lines = [*sheet.lines[:n], "heat the oven to 160 C", "", *sheet.lines[n:]]
    said = ("above the layers", "step", "", "heat the oven to 160 C")
    return Edit(lines, Claim((said,)))


# --- layers --------------------


@_editor
def layer_name(sheet: Sheet, data: st.DataObject) -> Edit:
    n = _pick(data, sheet.word("layer"))
    was = sheet.block(n)
    text = sheet.lines[n].replace(was, "Seventh wave", 1)
    return Edit(
        _put(sheet, n, text), Claim((("Seventh wave", "name", was, "Seventh wave"),))
    )


@_editor
def layer_gone(sheet: Sheet, data: st.DataObject) -> Edit:
    name = sheet.block(_pick(data, sheet.word("layer")))
    lines = [t for n, t in enumerate(sheet.lines) if sheet.block(n) != name]
    gone = [
        ("gone", name, *sheet.line(n)[1:], None)
        for n in sheet.weighable
        if sheet.block(n) == name
    ]
    return Edit(lines, Claim(((name, "layer", name, ""),), tuple(gone)))


@_editor
def layers_in_another_order(sheet: Sheet, data: st.DataObject) -> Edit:
    first, second, *_ = (sheet.block(n) for n in sheet.word("layer"))
    parts = [
        [t for n, t in enumerate(sheet.lines) if sheet.block(n) == name]
        for name in (first, second)
    ]
    start = sheet.first_layer
    end = start + len(parts[0]) + len(parts[1])
    lines = [*sheet.lines[:start], *parts[1], *parts[0], *sheet.lines[end:]]
    return Edit(lines, Claim(((sheet.name, "order of layers", ANY, ANY),)))


@_editor
def how_much_of_it(sheet: Sheet, data: st.DataObject) -> Edit:
    n = _pick(data, sheet.word("layer"))
    head, comma, take = sheet.lines[n].partition(", ")
    now = data.draw(st.sampled_from(["7 mm", "310 g", "0.75 batch"]))
    said = (sheet.block(n), "how much of it", take if comma else "all of it", now)
    return _replace(sheet, n, f"{head}, {now}", said)


@_editor
def made_from(sheet: Sheet, data: st.DataObject) -> Edit | None:
    froms = [n for n in sheet.word("layer") if " from " in sheet.lines[n]]
    if not froms:
        return None
    n = froms[0]
    text = sheet.lines[n].replace("from Dark ganache", "from Spare ganache")
    return _replace(
        sheet, n, text, (sheet.block(n), "made from", "Dark ganache", "Spare ganache")
    )


# --- the head --------------------


def _head(sheet: Sheet, word: str, was: str, now: str, lines: list[str]) -> Edit:
    return Edit(lines, Claim(((sheet.name, word, was, now),)))


@_editor
def name(sheet: Sheet, data: st.DataObject) -> Edit:
    lines = _put(sheet, 0, "slab Spring Tide")
    return Edit(lines, Claim((("Spring Tide", "name", sheet.name, "Spring Tide"),)))


@_editor
def tin(sheet: Sheet, data: st.DataObject) -> Edit:
    (n,) = sheet.word("tin")
    text, now = data.draw(
        st.sampled_from(
            [
                ("tin 30 x 22 x 5 cm", "30 × 22 × 5 cm"),
                ("tin round 30 cm, 5 cm deep", "round 30 cm, 5 cm deep"),
                (
                    "tin 30 x 20 x 5 cm, corner radius 2 cm",
                    "30 × 20 × 5 cm, corner radius 2 cm",
                ),
                ("tin 2 of 30 x 20 x 5 cm", "2 of 30 × 20 × 5 cm"),
                ("", ""),
            ]
        )
    )  # fmt: skip
    lines = _put(sheet, n, *([text] if text else []))
    return _head(sheet, "tin", "30 × 20 × 5 cm", now, lines)


@_editor
def cut(sheet: Sheet, data: st.DataObject) -> Edit:
    n = _pick(data, sheet.word("cut"))
    was = sheet.value(n)
    now = data.draw(
        st.sampled_from(
            ["5 x 3", f"{was}, knife 1.5 mm", f"{was}, knife 0 mm", "75 g pieces", ""]
        )
    )
    return _head(
        sheet, "cut", was, now, _put(sheet, n, *([f"cut {now}"] if now else []))
    )


@_editor
def cuts_in_another_order(sheet: Sheet, data: st.DataObject) -> Edit:
    first, second = sheet.word("cut")
    lines = list(sheet.lines)
    lines[first], lines[second] = lines[second], lines[first]
    return _head(sheet, "place", ANY, ANY, lines)


@_editor
def keep(sheet: Sheet, data: st.DataObject) -> Edit:
    n = _pick(data, sheet.word("keep"))
    was = sheet.value(n)
    more = re.sub(r"\d+(?= (?:days|weeks))", lambda m: str(int(m[0]) + 1), was)
    now = data.draw(st.sampled_from([more, f"in a tub, {was}", ""]))
    return _head(
        sheet, "keep", was, now, _put(sheet, n, *([f"keep {now}"] if now else []))
    )


@_editor
def sold(sheet: Sheet, data: st.DataObject) -> Edit:
    (n,) = sheet.word("sold")
    was = sheet.value(n)
    now = data.draw(st.sampled_from([f"{was[:-2]}95", f"in boxes, {was}", ""]))
    return _head(
        sheet, "sold", was, now, _put(sheet, n, *([f"sold {now}"] if now else []))
    )


@_editor
def proved(sheet: Sheet, data: st.DataObject) -> Edit:
    n = sheet.first_layer
    lines = [*sheet.lines[:n], "proved 2026-03-14", *sheet.lines[n:]]
    return _head(sheet, "proved", "", "2026-03-14", lines)


@_editor
def note(sheet: Sheet, data: st.DataObject) -> Edit:
    n = _pick(data, [m for m in sheet.word("note") if m < sheet.first_layer])
    was = sheet.value(n)
    now = data.draw(st.sampled_from([f"{was} Taste it.", ""]))
    return _head(
        sheet, "note", was, now, _put(sheet, n, *([f"note {now}"] if now else []))
    )


@_editor
def notes_in_another_order(sheet: Sheet, data: st.DataObject) -> Edit:
    first, second = (n for n in sheet.word("note") if n < sheet.first_layer)
    lines = list(sheet.lines)
    lines[first], lines[second] = lines[second], lines[first]
    return _head(sheet, "place", ANY, ANY, lines)


@_editor
def open_question(sheet: Sheet, data: st.DataObject) -> Edit:
    lines = [*sheet.lines, "# ask: How much salt is a pinch?"]
    where = sheet.name
    said = (where, "question", "", "How much salt is a pinch?")
    return Edit(lines, Claim((said,)))
