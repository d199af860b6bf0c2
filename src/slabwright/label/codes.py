"""Numbers under a bar code: check digits, a shop's own numbers, in-store ranges."""

import csv
import re
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Final

from slabwright.errors import FileError, Mistake, Where
from slabwright.kitchen import Codes
from slabwright.source import Source, sources

_IN_STORE: Final = re.compile(r"2[0-9]|02")
_FORM: Final = re.compile(
    r"(?P<prefix>\d{2,3})(?P<item>I+)(?P<check>V?)(?P<kind>P+|W+)C"
)

_FORM_SO: Final = (
    "Write digits, I for the item, V for the check of a price of four digits, P or W "
    "for price or weight, C last: 20IIIIIVPPPPC."
)


@dataclass(frozen=True, slots=True)
class NumberRule:
    """What may stand in a number: from the lowest to the highest."""

    id: str
    what: str
    low: int
    high: int
    words: str
    source: Source
    found: str


@cache
def number_rules() -> tuple[NumberRule, ...]:
    """Every row of the table."""
    data = files("slabwright.label").joinpath("data", "numbers.csv")
    return tuple(
        NumberRule(
            row["id"],
            row["what"],
            int(row["low"]),
            int(row["high"]),
            row["words"],
            sources()[row["source"]],
            row["found"],
        )
        for row in csv.DictReader(data.read_text("utf-8").splitlines())
    )


def _is(what: str, number: int) -> bool:
    """Whether a row of the table says so of this number."""
    return any(
        one.what == what and one.low <= number <= one.high for one in number_rules()
    )


@dataclass(frozen=True, slots=True)
class Number:
    """A number of 13 digits that may stand under a bar code."""

    digits: str
    is_in_store: bool

    @property
    def grouped(self) -> str:
        """As it stands under the bars.

        >>> Number("5012345678900", False).grouped
        '5 012345 678900'
        >>> Number("96385074", False).grouped
        '9638 5074'
        """
        if len(self.digits) == 8:
            return f"{self.digits[:4]} {self.digits[4:]}"
        return f"{self.digits[0]} {self.digits[1:7]} {self.digits[7:]}"


def check_digit(digits: str) -> str:
    """The check digit of what stands before it: weights 3, 1, 3… from the right.

    >>> check_digit("501234567890")
    '0'
    """
    total = sum(
        int(digit) * (3 if place % 2 == 0 else 1)
        for place, digit in enumerate(reversed(digits))
    )
    return str(-total % 10)


def read_number(typed: str) -> Number:
    """A number of 8, 12 or 13 digits, its check digit tried; 12 get a leading 0.

    Raises:
        FileError: if it is none, or its check digit is wrong.
    """
    digits = re.sub(r"[\s-]", "", typed)
    if not re.fullmatch(r"[0-9]+", digits) or not _is("length", len(digits)):
        what = f"'{typed:.40}' is no number of 8, 12, 13 or 14 digits."
        raise _refused(what, "Copy all digits from under the bars.")
    check = check_digit(digits[:-1])
    if digits[-1] != check:
        what = f"The last digit of {digits} should be {check}."
        raise _refused(what, "A digit is wrong, or two are: copy it once more.")
    if len(digits) == 14:
        what = f"{digits} is the number of a case, not of what is sold in it."
        raise _refused(what, "Give the number of 13 digits of the pack.")
    is_short = len(digits) == 8
    full = digits if is_short else digits.zfill(13)
    if is_short:
        return Number(full, _is("short restricted", int(full[0])))
    return Number(full, is_restricted(full))


def is_restricted(digits: str) -> bool:
    """Whether a number of 13 digits counts inside a company or a shop alone."""
    return _is("restricted", int(digits[:3]))


def own_number(codes: Codes, item: str) -> Number:
    """A number of one's own company prefix, for what goes to other shops too.

    Raises:
        FileError: without a prefix, or if both make more than 12 digits.
    """
    prefix = codes.company_prefix
    if not prefix:
        what = "The kitchen has no company prefix."
        do = "Give codes: {company_prefix: …}, allocated to you, in kitchen.yaml."
        raise _refused(what, do)
    return _built(prefix, item, "company_prefix")


def in_store_number(codes: Codes, item: str) -> Number:
    """A number of the shop's own range, which must not leave it (GS1-08).

    Raises:
        FileError: without a range, or if the item's number does not fit.
    """
    if not codes.in_store:
        what = "The kitchen says no in-store range."
        do = "Give codes: {in_store: 20-29} in kitchen.yaml, as your till is set."
        raise _refused(what, do)
    return _built(codes.in_store[0], item, "in_store")


def measured_number(codes: Codes, item: str, value: int) -> Number:
    """An in-store number with a price or weight in it, as the kitchen lays it out.

    Args:
        codes: with the form, which no two tills share and which is never assumed.
        item: the item's own digits.
        value: price in pence, or weight in grams.

    Raises:
        FileError: without a form, or for what does not fit it.
    """
    form = _FORM.fullmatch(codes.form.replace(" ", ""))
    if form is None:
        what = "The kitchen doesn't say how a number with a price in it is laid out."
        do = "Give codes: {form: 20IIIIIVPPPPC} in kitchen.yaml, as your till is set."
        raise _refused(what, do)
    room, places = len(form["item"]), len(form["kind"])
    _insist_digits(item, room)
    if not 0 <= value < 10**places:
        what = f"{value} has more than {places} digits, or is below 0."
        raise _refused(what, "Sell it without its price in the number.")
    shown = str(value).zfill(places)
    check = price_check(shown) if form["check"] else ""
    body = form["prefix"] + item.zfill(room) + check + shown
    return Number(body + check_digit(body), is_in_store=True)


def price_check(price: str) -> str:
    """The digit that checks a price of four digits; GS1-07, from memory.

    >>> price_check("2875")
    '9'
    """
    if not re.fullmatch(r"[0-9]{4}", price):
        what = f"A price of {len(price)} digits has no check digit that is known here."
        raise _refused(what, "Lay it out with four digits, or without V.")
    first, second, third, fourth = map(int, price)
    total = _less_tens(2 * first) + _less_tens(2 * second)
    total += 3 * third + _less_tens(5 * fourth)
    return str(3 * total % 10)


def wrong_codes(codes: Codes) -> list[tuple[str, str, str]]:
    """What is wrong with a kitchen's codes: field, what, what to do."""
    found: list[tuple[str, str, str]] = []
    prefix = codes.company_prefix
    if prefix and not re.fullmatch(r"[0-9]{6,11}", prefix):
        found.append(("company_prefix", f"'{prefix:.40}' is no company prefix.",
                      "Give the 6 to 11 digits that you were allocated."))  # fmt: skip
    elif prefix and is_restricted(prefix):
        found.append(("company_prefix", f"{prefix[:3]} is an in-store range.",
                      "Give the digits that you were allocated."))  # fmt: skip
    for one in codes.in_store:
        if not _IN_STORE.fullmatch(one):
            found.append(("in_store", f"'{one:.40}' is no in-store range.",
                          "Give 02, or two digits from 20 to 29."))  # fmt: skip
    if codes.form and not _is_form(codes.form):
        what = f"'{codes.form:.40}' lays out no number of 13 digits."
        found.append(("form", what, _FORM_SO))
    return found


def _is_form(form: str) -> bool:
    bare = form.replace(" ", "")
    found = _FORM.fullmatch(bare)
    if (
        found is None
        or len(bare) != 13
        or not is_restricted(found["prefix"].ljust(3, "0"))
    ):
        return False
    return not found["check"] or found["kind"] == "PPPP"


def _built(prefix: str, item: str, field: str) -> Number:
    room = 12 - len(prefix)
    _insist_digits(item, room)
    body = prefix + item.zfill(room)
    return Number(body + check_digit(body), is_in_store=field == "in_store")


def _insist_digits(item: str, room: int) -> None:
    if not re.fullmatch(r"[0-9]+", item) or len(item) > room:
        what = f"'{item:.40}' is no number of up to {room} digits."
        raise _refused(what, "Give each thing that you sell its own number.")


def _less_tens(product: int) -> int:
    """Units less tens, within one digit."""
    return (product % 10 - product // 10) % 10


def _refused(what: str, do: str) -> FileError:
    return FileError(Mistake(what, do, Where(field="code")))
