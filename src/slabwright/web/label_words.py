"""Advice on labels as a page gives it, where the core's own words name the terminal."""

import re
from dataclasses import replace
from typing import Final

from slabwright.errors import Mistake

_ON_PAGE: Final = (
    (re.compile(r"Give the bake day: --baked [\d-]+"), "Give the bake day, above"),
    (re.compile(r": --sugars-together"), ""),
    (re.compile(r"--surface, and its cm²"), "measure its largest side, above"),
    (re.compile(r"--unless small-and-direct"), "tick above that little goes direct"),
    (re.compile(r"--unless [a-z-]+"), "tick that above"),
    (re.compile(r"See slabwright nutrition"), "See Nutrition"),
    (re.compile(r"See slabwright declaration"), "See Ingredients"),
    (re.compile(r"Give both: --frozen \S+ --thawed [\d-]+"), "Give both days"),
    (re.compile(r"slabwright net-weight"), "see Net weight"),
    (re.compile(r": --nation\b"), ""),
    (re.compile(r"Print a ticket: --ticket"), "Choose a ticket"),
    (re.compile(r"Add --sheet"), "Fill in the sheet:"),
    (
        re.compile(r"Give --sheet too, or no --start"),
        "Fill in the sheet too, or no start",
    ),
    (re.compile(r"--(size|sheet) (\S+)"), r"\2"),
    (re.compile(r': --way(?: "([^"]*)")?'), r": \1"),
    (re.compile(r'--way "([^"]*)"'), r"\1"),
)


def for_page(text: str) -> str:
    """The same advice without the terminal's commands and options.

    >>> for_page("If it needs none: --unless eaten-as-it-is.")
    'If it needs none: tick that above.'
    >>> for_page("Give the bake day: --baked 2026-11-26.")
    'Give the bake day, above.'
    """
    for pattern, words in _ON_PAGE:
        text = pattern.sub(words, text)
    return text.replace(": .", ".").strip()


def mistakes_for_page(mistakes: tuple[Mistake, ...]) -> tuple[Mistake, ...]:
    """The same mistakes, with advice that a page can give."""
    return tuple(replace(one, do=for_page(one.do)) for one in mistakes)
