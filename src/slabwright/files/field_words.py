"""What is wrong with a field, in words: of a paper, of a form, of a request."""

from typing import Any, Final

_MISSING: Final = ("is missing.", "Add it.")
_NUMBER: Final = ("is no number.", "Write one such as 1.80.")
_TEXT: Final = ("is no text.", "Write it as words.")
_DAY: Final = ("is no day.", "Write it so: 2026-10-01.")
_WORDS: Final = {
    "missing": _MISSING,
    "extra_forbidden": (
        "is no field of it.", "Take it out, or write it as the schema has it."
    ),
    "finite_number": _NUMBER, "decimal_parsing": _NUMBER, "decimal_type": _NUMBER,
    "float_parsing": _NUMBER, "float_type": _NUMBER,
    "int_parsing": ("is no whole number.", "Write one such as 12."),
    "int_type": ("is no whole number.", "Write one such as 12."),
    "int_from_float": ("is no whole number.", "Write one such as 12."),
    "string_type": _TEXT, "string_too_short": _MISSING,
    "bool_parsing": ("is neither yes nor no.", "Write true or false."),
    "bool_type": ("is neither yes nor no.", "Write true or false."),
    "date_parsing": _DAY, "date_type": _DAY, "date_from_datetime_parsing": _DAY,
    "date_from_datetime_inexact": _DAY,
    "list_type": ("is no list.", "Write its entries between [ and ]."),
    "model_attributes_type": ("is no group of fields.", "Write them between { and }."),
    "model_type": ("is no group of fields.", "Write them between { and }."),
    "dict_type": ("is no group of fields.", "Write them between { and }."),
    "json_invalid": ("can't be read as JSON.", "Mend its commas and quotes."),
    "string_unicode": ("holds bytes that are no text.", "Write it as words."),
}  # fmt: skip
"""What is wrong with a field, and what to do, by the checker's name for it."""
_ALONE: Final = {"missing", "extra_forbidden", "string_too_short", "json_invalid"}
"""Where what was given says nothing more."""
_LENGTHS: Final = {
    "string_too_long": ("max_length", "is longer than {} characters."),
    "too_long": ("max_length", "has more than {} entries."),
}
_LIMITS: Final = {
    "greater_than": ("gt", "must be over"),
    "greater_than_equal": ("ge", "must be at least"),
    "less_than": ("lt", "must be under"),
    "less_than_equal": ("le", "must be at most"),
}


def wrong_words(one: Any) -> tuple[str, str]:
    """What is wrong with a field, and what to do about it."""
    kind, given = one["type"], f"{one['input']!r:.60}"
    if kind in _LIMITS:
        key, words = _LIMITS[kind]
        return f"{words} {one['ctx'][key]}; it is {given}.", "Mend the figure."
    if kind in _WORDS:
        what, do = _WORDS[kind]
        is_there = kind not in _ALONE
        return (f"{what.removesuffix('.')}: {given}.", do) if is_there else (what, do)
    if kind in _LENGTHS:
        key, words = _LENGTHS[kind]
        return words.format(one["ctx"][key]), "Shorten it."
    if kind in {"literal_error", "enum"}:
        return f"can't be {given}.", f"Write {one['ctx']['expected']}."
    if kind == "string_pattern_mismatch":
        return f"can't be {given}.", "Write it as the description has it."
    return f"can't be {given}: {one['msg']}.", "Write it as the schema has it."
