"""The nutrition declaration as the rows of a label."""

from slabwright.label.nutrition.declared import Declared
from slabwright.label.paper.face import NutritionRow
from slabwright.spec.nutrition import Nutrition
from slabwright.spec.nutrition_rows import Row


def face_rows(found: Nutrition) -> tuple[NutritionRow, ...]:
    """What the law asks, in its order, energy in one row; nothing while it is held.

    A value that is withheld is no row: the whole table waits for it.

    Args:
        found: the declaration.
    """
    rows = [row for row in found.rows if row.line.is_mandatory]
    if found.is_held or any(row.declared is None for row in rows):
        return ()
    energy = [row for row in rows if row.line.nutrient == "energy"]
    others = [row for row in rows if row.line.nutrient != "energy"]
    has_piece = all(row.declared_piece is not None for row in rows)
    made = [_row("Energy", energy, has_piece=has_piece)] if energy else []
    made += [_row(_title(row), [row], has_piece=has_piece) for row in others]
    return tuple(made)


def piece_words(found: Nutrition) -> str:
    """What a piece weighs, for the head of its column; empty if it isn't known."""
    return f"{found.piece_g.number:.0f} g" if found.piece_g.known else ""


def _row(name: str, rows: list[Row], *, has_piece: bool) -> NutritionRow:
    per_piece = _words([row.declared_piece for row in rows]) if has_piece else ""
    return NutritionRow(
        name,
        _words([row.declared for row in rows]),
        per_piece,
        is_part=bool(rows[0].line.of_which),
    )


def _title(row: Row) -> str:
    return row.name if row.line.of_which else row.name[:1].upper() + row.name[1:]


def _words(values: list[Declared | None]) -> str:
    return " / ".join(one.words for one in values if one is not None)
