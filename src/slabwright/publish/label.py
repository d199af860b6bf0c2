"""Labels as text for a terminal: how it is sold, what must be shown, the label."""

import textwrap
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

from slabwright.label.codes import Number
from slabwright.label.net_weight import at_least
from slabwright.label.particulars import Need, Particular, Standing
from slabwright.label.ways import Selling
from slabwright.publish import words
from slabwright.publish.allergens import question_lines
from slabwright.publish.money_rows import item, title
from slabwright.publish.terminal import Manner, watch_text
from slabwright.spec.label import FOOT, Label, warned_words
from slabwright.spec.label_net import NET_FOOT, NetFigures

_MARKS: Final = {
    Standing.THERE: "[x]",
    Standing.MISSING: "[ ]",
    Standing.HELD: "[?]",
    Standing.YOURS: "[!]",
    Standing.NOT_ASKED: " - ",
}


def asked_lines(
    slab: str, asked: Sequence[tuple[str, Sequence[Selling]]], manner: Manner
) -> Iterator[str]:
    """The question that comes first: how is it sold?"""
    for said, nearest in asked:
        yield manner.bold(f"How is {slab} sold?")
        if said:
            yield from item(
                f"The card says “{said}”, which is none of the five.", manner
            )
        for way in Selling:
            near = "   (nearest)" if said and way in nearest[:1] else ""
            yield f"  {way}{near}"
        yield from item(
            f"Write it on the card: sold {nearest[0]}, and the price; or ask for it: "
            f'--way "{nearest[0]}".',
            manner,
        )


def label_text(
    label: Label, number: Number | None, currency: str, manner: Manner
) -> str:
    """One way of selling: what must be shown, and the label as far as it is there."""
    order = label.order
    lines = [
        *title(f"{label.slab}, {order.way}", f"{order.nation}, {order.on}", manner),
        "",
        *textwrap.wrap(summary(label), manner.columns),
        "",
        manner.bold("What must be shown"),
    ]
    idle = [one for one in label.particulars if _is_idle(one)]
    for one in label.particulars:
        if one not in idle:
            lines += _particular(one, manner)
    if idle:
        names = ", ".join(one.title for one in idle)
        lines += item(f" -  not asked, and not given: {names}", manner)
    lines += _label(label, number, currency, manner)
    lines += watch_text(label.findings, manner)
    lines += question_lines([(one, ()) for one in label.allergens.questions], manner)
    lines += ["", *textwrap.wrap(FOOT, manner.columns)]
    return "\n".join(line.rstrip() for line in lines) + "\n"


def summary(label: Label) -> str:
    """How it stands in one sentence."""
    missing = [one.title for one in label.missing]
    said = f"Missing: {', '.join(missing)}." if missing else "Nothing is missing."
    if label.is_held:
        held = [one.title for one in label.particulars if one.standing is Standing.HELD]
        said = f"Held: {', '.join(held) or 'allergens'}. {said}"
    return said


def is_draft(label: Label) -> bool:
    """Whether its text is no label yet."""
    return label.is_held or bool(label.missing)


def _is_idle(one: Particular) -> bool:
    """Whether nothing is asked, given or lifted by the shop's own word."""
    is_idle = one.standing is Standing.NOT_ASKED
    return is_idle and (one.need is Need.MAY or one.name == "defrosted")


def _particular(one: Particular, manner: Manner) -> Iterator[str]:
    need = " (voluntary)" if one.need is Need.MAY else ""
    what = f": {one.what}" if one.what else f": {one.standing}"
    yield from item(f"{_MARKS[one.standing]} {one.title}{need}{what}", manner)
    inset = max(manner.columns - 6, 20)
    why = f"{one.why[:1].upper()}{one.why[1:]}. {one.law}."
    yield from (f"      {line}" for line in textwrap.wrap(why, inset))
    if one.do:
        yield from (f"      {line}" for line in textwrap.wrap(one.do, inset))


def _label(
    label: Label, number: Number | None, currency: str, manner: Manner
) -> Iterator[str]:
    yield ""
    yield manner.bold("The label, a draft" if is_draft(label) else "The label")
    there = on_label(label)
    for name in ("name", "ingredients", "allergens", "quid", "net_quantity", "date"):
        if name in there:
            yield from item(_line(there[name]), manner)
    for said in label.storage:
        yield from item(f"{said}.", manner)
    for name in ("business", "lot", "nutrition"):
        if name in there and not (name == "lot" and label.mark):
            yield from item(_line(there[name]), manner)
    if label.sold is not None and label.sold.price is not None:
        yield from item(f"Price: {words.money(label.sold.price, currency)}", manner)
    if number is not None:
        where = "; in this shop alone" if number.is_in_store else ""
        yield from item(f"{number.grouped}{where}", manner)
    yield from _counted(label, manner)


def _counted(label: Label, manner: Manner) -> Iterator[str]:
    if label.counted:
        yield ""
        yield manner.bold("How the days are counted")
        yield from item(label.counted, manner)
        if label.mark:
            yield from item(
                f"The shortest form that the law takes: {label.mark.least} "
                f"({label.mark.rule.id}, {label.mark.rule.found}). Which date and how "
                "long is your own decision; "
                "none is proposed here.",
                manner,
            )


def on_label(label: Label) -> dict[str, Particular]:
    """What stands on the label itself, by its name.

    Beside a list of ingredients, in which they are set apart, only what suppliers warn
    of stands; and of absence no label speaks.
    """
    there = {one.name: one for one in label.particulars if one.what}
    warned = warned_words(label.allergens)
    if "allergens" in there and "ingredients" in there and warned:
        there["allergens"] = replace(there["allergens"], what=warned)
    elif "ingredients" in there or not (label.allergens.in_it or warned):
        there.pop("allergens", None)
    return there


def _line(one: Particular) -> str:
    said = one.what[:1].upper() + one.what[1:]
    return f"{said} [held]" if one.standing is Standing.HELD else said


def net_weight_text(found: NetFigures, manner: Manner) -> str:
    """Weighed pieces, the net weight that they keep, and the rules that decide it."""
    nominal, error = found.nominal_g, found.tolerable_error_g
    few = " Few pieces: weigh 20 or more, and it may rise." if found.is_few else ""
    proposal = f"{nominal.number:g} g" if nominal.known else "none"
    rows = [
        ("Pieces weighed", f"{found.weighed.count}"),
        (
            "Mean",
            f"{found.mean_g.number:.2f} g, with 95 % confidence at least "
            f"{at_least(found.weighed.mean_at_least_g, 2)} g",
        ),
        ("Spread", f"{found.deviation_g.number:.2f} g, {found.deviation_g.sum}"),
        ("Lightest", f"{found.lightest_g.number:g} g"),
        ("Heaviest", f"{found.heaviest_g.number:g} g"),
        ("Proposed", f"{proposal}: {nominal.sum}.{few}"),
    ]
    if error is not None:
        rows.append(("Tolerable error", f"{error.number:g} g {error.sum}"))
    if found.figures_least_mm is not None:
        high = f"at least {found.figures_least_mm:g} mm high (NET-09, from memory)"
        rows.append(("Figures", high))
    lines = [*_columns(rows, manner)]
    if found.rules:
        lines += ["", manner.bold("These very pieces")]
    for rule in found.rules:
        mark = "[x]" if rule.is_kept else "[ ]"
        lines += item(f"{mark} {rule.says}: {rule.found} ({rule.id})", manner)
    lines += ["", *textwrap.wrap(NET_FOOT, manner.columns)]
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _columns(rows: Sequence[tuple[str, str]], manner: Manner) -> Iterator[str]:
    """Names and figures in two columns."""
    width = max(len(name) for name, _ in rows) + 2
    for name, said in rows:
        room = max(manner.columns - width, 20)
        first, *rest = textwrap.wrap(said, room) or [""]
        yield f"{name:<{width}}{first}"
        yield from (f"{'':<{width}}{line}" for line in rest)
