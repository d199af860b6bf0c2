"""A comparison as text: what was changed, what that moved, what came to watch."""

import textwrap
from collections.abc import Iterator, Sequence

from slabwright.figure import Figure
from slabwright.publish import words
from slabwright.publish.terminal import Manner
from slabwright.spec.compare import Comparison, Moved
from slabwright.spec.compare_lines import LineChange
from slabwright.spec.compare_said import Said

_SIGNS = {"added": "+", "gone": "-", "changed": " ", "moved": "~"}


def comparison_text(made: Comparison, manner: Manner) -> str:
    """Both names, then everything that differs."""
    before, after = made.before.name, made.after.name
    head = after if before == after else f"{before}, then {after}"
    parts = [
        manner.bold(head),
        *_lines(made, manner),
        *_said("What the card says", made.said, made, manner),
        *_said("What it is taken for", made.taken, made, manner),
        *_moved(made, manner),
        *_taste(made, manner),
        *_watch(made, manner),
        *_unread(made, manner),
    ]
    if made.same:
        as_read = ", as far as they were read" if made.unread else ""
        parts += ["", f"They say and come to the same{as_read}."]
    return "\n".join(line.rstrip() for line in parts) + "\n"


def _lines(made: Comparison, manner: Manner) -> Iterator[str]:
    if not made.lines:
        return
    width = max(28, manner.columns - 36)
    yield ""
    yield manner.bold("What goes in, g")
    where = None
    for change in made.lines:
        if change.where != where:
            where = change.where
            yield f"  {where}"
        yield _line(change, width)
        yield from _as_said(change, manner)


def _line(change: LineChange, width: int) -> str:
    name = change.name
    if change.was_in:
        name += f", from {change.was_in}"
    name = textwrap.shorten(name, width - 1, placeholder="…")
    before, after = (
        "" if line is None else ("?" if grams is None else _g(grams))
        for line, grams in (
            (change.before, change.before_g),
            (change.after, change.after_g),
        )
    )
    by = "" if change.by_g is None else _signed(change.by_g)
    return f"  {_SIGNS[change.what]} {name:<{width}}{before:>9} → {after:>7}{by:>10}"


def _as_said(change: LineChange, manner: Manner) -> Iterator[str]:
    """How much the card says, where the grams do not tell it all."""
    before, after = (
        one or "by weight" for one in (change.said_before, change.said_after)
    )
    if change.said_before or change.said_after:
        sides = [
            said
            for said, line in ((before, change.before), (after, change.after))
            if line is not None
        ]
        yield from _wrapped(" → ".join(dict.fromkeys(sides)), manner, "      ")


def _wrapped(text: str, manner: Manner, indent: str = "  ") -> list[str]:
    return textwrap.wrap(
        text, manner.columns, initial_indent=indent, subsequent_indent=indent + "  "
    )


def _g(grams: float) -> str:
    return f"{grams:,.5g}" if abs(grams) < 10_000 else f"{grams:,.0f}"


def _signed(value: float) -> str:
    sign = "+" if value >= 0 else "-"
    return f"{sign}{_g(abs(value))}"


def _said(
    head: str, said: Sequence[Said], made: Comparison, manner: Manner
) -> Iterator[str]:
    if not said:
        return
    yield ""
    yield manner.bold(head)
    for one in said:
        is_whole = one.where == made.after.name or one.what in {"layer", "component"}
        name = one.what if is_whole else f"{one.where}, {one.what}"
        if one.before and one.after:
            text = f"{name}: {one.before} → {one.after}"
        elif one.after:
            text = f"{name}, new: {one.after}"
        else:
            text = f"{name}, gone: {one.before}"
        yield from _wrapped(text, manner)


def _moved(made: Comparison, manner: Manner) -> Iterator[str]:
    if not made.moved:
        return
    width = max(34, manner.columns - 40)
    yield ""
    yield manner.bold("What that moved") + ", the most first"
    for one in made.moved:
        what = _name(one)
        room = width - len(what) - 3
        name = f"{textwrap.shorten(one.where, room, placeholder='…')}: {what}"
        before, after = (_value(figure) for figure in (one.before, one.after))
        share = "" if one.share is None else f"{one.share:+.1%}"
        yield f"  {name:<{width}}{before:>11} → {after:>11}{share:>9}"


def _name(moved: Moved) -> str:
    name = moved.name
    for unit in ("_mm", "_g_ml", "_g"):
        name = name.removesuffix(unit)
    return name.replace("_", " ")


def _value(figure: Figure | None) -> str:
    """A figure in few letters, with its unit."""
    if figure is None:
        return "none"
    if figure.value is None:
        return words.NOT_KNOWN
    if figure.unit == "share":
        return words.percent(figure.number, 1)
    if figure.unit in {"mm", "g"}:
        shown = f"{figure.number:,.1f}"
        return f"{shown} {figure.unit}"
    if figure.unit == "pieces":
        return f"{figure.number:g}"
    if figure.unit == "g/ml":
        return f"{figure.number:.3g} g/ml"
    return words.money(figure.value, figure.unit, 3)


def _taste(made: Comparison, manner: Manner) -> Iterator[str]:
    if not made.taste:
        return
    yield ""
    yield manner.bold("How it tastes")
    for one in made.taste:
        yield from _wrapped(one, manner)


def _watch(made: Comparison, manner: Manner) -> Iterator[str]:
    for head, found in (("To watch now", made.found), ("Settled", made.settled)):
        if not found:
            continue
        yield ""
        yield manner.bold(head)
        for one in found:
            text = f"{one.severity.value}: {one.where}: {one.what}"
            yield from _wrapped(text, manner)


def _unread(made: Comparison, manner: Manner) -> Iterator[str]:
    """Lines that nothing can be said of, and on which card they stand."""
    if not made.unread:
        return
    yield ""
    yield manner.bold("Not taken: put right before the rest counts")
    for one in made.unread:
        sides = (("before", one.before), ("after", one.after))
        where = [
            f"{side}, line {line}" if line else side
            for side, line in sides
            if line is not None
        ]
        text = f" {one.text}" if one.text else ""
        yield from _wrapped(f"{'; '.join(where)}:{text}", manner)
        yield from _wrapped(one.what, manner, "    ")
