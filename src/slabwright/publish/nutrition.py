"""The nutrition declaration as text: what is declared, how surely, what brings it."""

import textwrap
from collections.abc import Iterator
from typing import Final

from slabwright.label.nutrition.declared import Declared
from slabwright.label.nutrition.nutrient_profile import AGAINST, FOR, Profile
from slabwright.label.nutrition.rules import factors
from slabwright.publish import words
from slabwright.publish.money_rows import item, title
from slabwright.publish.terminal import Manner, watch_text
from slabwright.spec.nutrition import FOOT, Nutrition
from slabwright.spec.nutrition_rows import Row

WITHHELD: Final = "not known"
_COLUMN: Final = 13
FRONT: Final = (
    "For you to know, by the guide to the front of a pack; it is voluntary and goes on "
    "no label of yours unless you put it there."
)

PROFILE: Final = (
    "For you to know, by the model of 2004/5 that rules on promotion lean on; fruit "
    "and nuts count from none to all that goes in, by the guidance of 2011 (from "
    "memory). No label bears it."
)
_COMPONENTS: Final = {
    "energy_kj": "energy",
    "saturates_g": "saturates",
    "sugars_g": "sugars",
    "sodium_mg": "sodium",
    "fruit_veg_nuts_percent": "fruit and nuts",
    "fibre_aoac_g": "fibre",
    "protein_g": "protein",
}


def nutrition_text(found: Nutrition, manner: Manner) -> str:
    """Everything that is known of a slab's nutrition, at these columns."""
    lines = [
        *title(found.slab, f"nutrition on {found.on}", manner),
        "",
        *textwrap.wrap(summary(found), manner.columns),
        "",
        *_table(found, manner),
        *_sure(found, manner),
        *_brought(found, manner),
        *_fronts(found, manner),
        *_profile(found, manner),
        *_left_out(found, manner),
        *watch_text(found.findings, manner),
        *_foot(found, manner),
    ]
    return "\n".join(line.rstrip() for line in lines) + "\n"


def summary(found: Nutrition) -> str:
    """Whether it can be declared, where, and what a piece weighs."""
    articled = found.nation.startswith(("EU", "United"))
    place = f"the {found.nation}" if articled else found.nation
    said = f"All that the law of {place} asks is known."
    if found.is_held:
        said = f"Held: by the law of {place} a label waits for what is not known."
    if found.piece_g.known:
        return f"{said} A piece weighs {words.grams(found.piece_g.number)} g."
    return f"{said} No figure per piece: {found.piece_g.sum}."


def declared_words(said: Declared | None) -> str:
    """What is declared, or that nobody knows."""
    return WITHHELD if said is None else said.words


def alternatives(row: Row) -> str:
    """What may stand in place of a small number; empty if nothing may."""
    said = row.declared
    most = row.per_100g.high if row.high is not None else row.per_100g.value
    if said is None or said.row.step is not None or float(most or 0) > said.row.upper:
        return ""
    return " or ".join(said.row.alternatives)


def label_words(found: Nutrition) -> str:
    """The declaration in one line, as a label has it: what the law asks, per 100 g."""
    energy = [row for row in found.rows if row.line.nutrient == "energy"]
    parts = ["Energy " + " / ".join(declared_words(row.declared) for row in energy)]
    parts += [
        f"{row.name} {declared_words(row.declared)}"
        for row in found.rows
        if row.line.is_mandatory and row not in energy
    ]
    return f"Per 100 g: {', '.join(parts)}"


def row_title(row: Row) -> str:
    """What stands at the head of a row: the second of the energies has no name."""
    if row.nutrient == "energy_kcal":
        return ""
    name = row.name[:1].upper() + row.name[1:] if not row.line.of_which else row.name
    return name if row.line.is_mandatory else f"{name} (voluntary)"


def _table(found: Nutrition, manner: Manner) -> Iterator[str]:
    width = max(22, manner.columns - 3 * _COLUMN - 2)
    heads = ("per 100 g", "per piece", "RI a piece")
    yield (
        manner.bold("Declared")
        + " " * (width - 8)
        + "".join(f"{head:>{_COLUMN}}" for head in heads)
    )
    for row in found.rows:
        name = row_title(row)
        indent = "  " if row.line.of_which else ""
        per_piece = declared_words(row.declared_piece) if found.piece_g.known else "-"
        share = share_words(row)
        yield (
            f"{indent + name:<{width}}{declared_words(row.declared):>{_COLUMN}}"
            f"{per_piece:>{_COLUMN}}{share:>{_COLUMN}}"
        )
    said = intake_words(found)
    if said:
        yield ""
        yield from textwrap.wrap(said, manner.columns)


def share_words(row: Row) -> str:
    """Share of the reference intake in a piece; little is not written as none."""
    share = row.intake_piece
    if not share.known:
        return ""
    return "<1%" if 0 < share.number < 0.005 else words.percent(share.number)


def intake_words(found: Nutrition) -> str:
    """What the shares are of."""
    amounts = [
        f"{row.intake.amount:g} {row.intake.unit}"
        for row in found.rows
        if row.intake is not None and row.line.nutrient == "energy"
    ]
    if not amounts:
        return ""
    return f"RI: reference intake of an average adult ({' / '.join(amounts)})."


def sure_words(row: Row) -> str:
    """A row's value unrounded, its range, and the tolerance that it keeps."""
    figure = row.per_100g
    if not figure.known:
        return f"withheld: {figure.sum}"
    parts = [f"{figure.number:.4g} {row.unit}"]
    if row.range_words:
        parts.append(f"likely {row.range_words}")
    if row.kept is not None:
        parts.append(f"tolerance {row.kept.words}")
    if row.memory_share is not None and row.memory_share >= 0.005:
        parts.append(f"{row.memory_share:.0%} of it known from memory only")
    small = alternatives(row)
    if small:
        parts.append(f"may be written {small}")
    return "; ".join(parts)


def _sure(found: Nutrition, manner: Manner) -> Iterator[str]:
    yield ""
    yield manner.bold("How surely") + ", per 100 g, unrounded"
    for row in found.rows:
        name = f"{row.name}, {row.unit}" if row.line.nutrient == "energy" else row.name
        yield from item(f"{name}: {sure_words(row)}", manner)


def _brought(found: Nutrition, manner: Manner) -> Iterator[str]:
    known = [row for row in found.rows if row.per_100g.known]
    if not known:
        return
    yield ""
    yield manner.bold("What brings it") + ", in the whole slab"
    for row in known:
        name = f"{row.name}, {row.unit}" if row.line.nutrient == "energy" else row.name
        yield from item(f"{name}: {row.per_100g.sum}", manner)


def _fronts(found: Nutrition, manner: Manner) -> Iterator[str]:
    if not found.fronts:
        return
    yield ""
    yield manner.bold("Low, medium, high")
    for one in found.fronts:
        yield from item(f"{one.nutrient}: {one.words} ({one.why})", manner)
    yield from item(FRONT, manner)


def _profile(found: Nutrition, manner: Manner) -> Iterator[str]:
    if found.profile is None:
        return
    yield ""
    yield manner.bold("Nutrient profile")
    yield from item(
        f"{found.profile.words[:1].upper()}{found.profile.words[1:]}.", manner
    )
    yield from item(f"{profile_points(found.profile)}.", manner)
    yield from item(PROFILE, manner)


def profile_points(found: Profile) -> str:
    """The points of each component, in words.

    Args:
        found: a score.
    """
    said = []
    for name, ends in found.points.items():
        few, many = sorted(ends)
        sign = "+" if name in AGAINST else "-"
        more = f" to {many}" if many > few else ""
        out = " (not counted)" if name == FOR[-1] and found.leaves_protein_out else ""
        said.append(f"{_COMPONENTS[name]} {sign}{few}{more}{out}")
    return ", ".join(said)


def _left_out(found: Nutrition, manner: Manner) -> Iterator[str]:
    if not found.not_counted:
        return
    yield ""
    yield manner.bold("In no figure here")
    for one in found.not_counted:
        yield from item(f"{one.what}: {one.why}", manner)


def laws(found: Nutrition) -> tuple[str, ...]:
    """Which tables it leans on, and how each is known."""
    rules = [row.line.rule for row in found.rows]
    rules += [one.rule for one in factors()]
    for row in found.rows:
        rules += [one.row.rule for one in (row.declared, row.kept) if one is not None]
        rules += [row.intake.rule] if row.intake is not None else []
    rules += [one.row.rule for one in found.fronts]
    rules += found.profile.rules if found.profile is not None else ()
    said = (f"{rule.source.text} ({rule.found})" for rule in rules)
    return tuple(dict.fromkeys(said))


def _foot(found: Nutrition, manner: Manner) -> Iterator[str]:
    yield ""
    yield from textwrap.wrap(FOOT, manner.columns)
    for said in laws(found):
        yield from item(said, manner)
