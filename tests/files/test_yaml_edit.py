"""Changes of the kitchen's own files: what is not changed stays byte for byte."""

from datetime import date
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from slabwright.errors import FileError, Mistake, Where
from slabwright.files.raw import Text
from slabwright.files.two_texts import both_changes, put_back
from slabwright.files.yaml_edit import (
    number_as_typed,
    with_fields,
    with_row,
    with_rows,
    without_row,
)
from slabwright.files.yaml_file import placed, plain_of

DEMO = Path(__file__).parents[2] / "demo"

ODD = """\
# top

- name: a   # first
  per_100g:
     fat: 1   # keep me
     protein: 2
# about b
- {  name: 'b',   like: "rye flour" }

# about c
-   name: c

"""


def text(name: str) -> Text:
    return Text((DEMO / name).read_text("utf-8"), name)


def changed_lines(before: str, after: str) -> tuple[list[str], list[str]]:
    old, new = before.splitlines(), after.splitlines()
    return [x for x in old if x not in new], [x for x in new if x not in old]


def test_a_field_is_changed_and_every_other_line_stays() -> None:
    kitchen = text("kitchen.yaml")

    after = with_fields(kitchen, {"probe_in_boiling_water_C": number_as_typed("99.50")})

    assert changed_lines(kitchen.text, after) == (
        ["probe_in_boiling_water_C: 101.0   # reads 1.0 C high here"],
        ["probe_in_boiling_water_C: 99.50   # reads 1.0 C high here"],
    )


def test_a_new_field_stands_where_the_file_usually_has_it() -> None:
    order = ("altitude_m", "knife_mm", "scales")

    lines = with_fields(text("kitchen.yaml"), {"knife_mm": 1}, order).splitlines()

    assert lines[lines.index("knife_mm: 1") + 1] == "scales:"


def test_an_empty_field_leaves_the_file() -> None:
    after = with_fields(text("kitchen.yaml"), {"waste_share": None, "name": ""})

    assert changed_lines(text("kitchen.yaml").text, after) == (
        ["name: Gannet Steps Bakehouse", "waste_share: 0.06"],
        [],
    )


def test_rows_are_changed_taken_out_and_added_in_the_manner_of_the_list() -> None:
    kitchen = text("kitchen.yaml")
    rows = [
        (0, {"litres": number_as_typed("12.5")}),
        (2, {}),
        (None, {"name": "bowl, big", "litres": 5}),
    ]

    after = with_rows(kitchen, "vessels", rows, ())

    assert changed_lines(kitchen.text, after) == (
        [
            "  - {name: wide pan, litres: 12, across_cm: 32}",
            "  - {name: small pan, litres: 3, across_cm: 20}",
        ],
        [
            "  - {name: wide pan, litres: 12.5, across_cm: 32}",
            "  - {name: 'bowl, big', litres: 5}",
        ],
    )


def test_a_price_is_added_at_the_end_with_its_pennies_and_its_day() -> None:
    prices = text("prices.yaml")
    row = {
        "ingredient": "rice flour",
        "pack": "1 kg",
        "price": number_as_typed("1.50"),
        "from": date(2026, 11, 26),
    }

    after = with_row(prices, None, row)

    added = "- {ingredient: rice flour, pack: 1 kg, price: 1.50, from: 2026-11-26}\n"
    assert after == prices.text + added


def test_what_is_already_so_changes_nothing() -> None:
    row = {"price": 1.65, "from": date(2025, 6, 2), "pack": "250 g"}

    assert with_row(text("prices.yaml"), 5, row) == text("prices.yaml").text


@pytest.mark.parametrize(
    ("number", "row", "gone", "come"),
    [
        (1, {"like": "plain flour"}, "- {  name: 'b',   like: \"rye flour\" }",
         "- {name: 'b', like: \"plain flour\"}"),
        (2, {"name": "d"}, "-   name: c", "- name: d"),
    ],
)  # fmt: skip
def test_oddly_written_rows_keep_their_neighbours(
    number: int, row: dict[str, object], gone: str, come: str
) -> None:
    after = with_row(Text(ODD), number, row)

    assert gone in ODD.splitlines()
    assert gone not in after.splitlines()
    assert "     fat: 1   # keep me" in after.splitlines()
    assert plain_of(Text(after))[number] | row == plain_of(Text(after))[number]
    if come.startswith("- {"):
        assert after.splitlines()[7].replace('"', "'") == come.replace('"', "'")


def test_comments_under_a_row_that_is_taken_out_stay() -> None:
    after = without_row(Text(ODD), 1)

    assert after == ODD.replace("- {  name: 'b',   like: \"rye flour\" }\n", "")


def test_the_last_row_taken_out_leaves_the_comments_alone() -> None:
    larder = text("larder.yaml")

    after = without_row(larder, 0)

    assert after == larder.text.splitlines(keepends=True)[0]
    assert plain_of(Text(after)) is None


@pytest.mark.parametrize("empty", ["", "# only\n", "# only", "[]\n"])
def test_an_empty_list_takes_its_first_row(empty: str) -> None:
    after = with_row(Text(empty), None, {"name": "x"})

    assert plain_of(Text(after)) == [{"name": "x"}]
    assert ("# only" in after) == ("# only" in empty)


def test_what_only_looks_like_a_comment_never_slips_into_another_row() -> None:
    blocks = "- note: |\n    one\n- note: |\n    two\n    # three\n"

    after = without_row(Text(blocks), 1)

    assert plain_of(Text(after)) == [{"note": "one\n"}]


@pytest.mark.parametrize("number", [-1, 3, 99])
def test_a_row_that_is_not_there_is_an_error(number: int) -> None:
    with pytest.raises(FileError, match="has no row"):
        without_row(Text(ODD), number)


@pytest.mark.parametrize("broken", ["a: [", "a: &x 1\nb: *x\n", "- a\n b: 2\n"])
def test_a_file_that_does_not_read_is_not_changed(broken: str) -> None:
    with pytest.raises(FileError):
        with_fields(Text(broken, "kitchen.yaml"), {"name": "x"})


def test_a_day_that_is_none_does_not_stand_in_the_way() -> None:
    odd = "- {ingredient: flour, from: 2026-02-31}\n- {ingredient: salt}\n"

    after = with_row(Text(odd), 1, {"pack": "1 kg"})

    assert after.splitlines()[0] == odd.splitlines()[0]


@pytest.mark.parametrize(
    ("typed", "written"),
    [("15.20", "15.20"), (" 7,5 ", "7.5"), ("+3", "3"), ("0", "0"), ("-18", "-18")],
)
def test_numbers_keep_the_digits_that_were_typed(typed: str, written: str) -> None:
    after = with_fields(Text(""), {"a": number_as_typed(typed)})

    assert after == f"a: {written}\n"


@pytest.mark.parametrize("typed", ["1,500", "12 g", "x", "1e5", ".nan", "0x10", "~"])
def test_what_is_no_plain_number_stays_text_for_the_schema(typed: str) -> None:
    assert number_as_typed(typed) == typed


names = st.text(
    st.characters(codec="utf-8", exclude_categories=("Cc", "Cs")), min_size=1
).filter(lambda s: s == s.strip())


@given(st.lists(names, min_size=1, max_size=6), names, st.data())
def test_whatever_is_written_is_read_back_and_the_rest_stays(
    there: list[str], new: str, data: st.DataObject
) -> None:
    before = ""
    for name in there:
        before = with_row(Text(before), None, {"name": name})
    number = data.draw(st.integers(0, len(there) - 1))

    after = with_row(Text(before), number, {"name": new})

    wanted = [{"name": new if i == number else n} for i, n in enumerate(there)]
    assert plain_of(Text(after)) == wanted
    others = [i for i in range(len(there)) if i != number]
    assert plain_of(Text(without_row(Text(before), number))) == (
        [{"name": there[i]} for i in others] or None
    )


def test_a_mistake_that_names_a_field_is_given_its_line() -> None:
    wrong = Mistake("No tin.", "Mend it.", Where("kitchen.yaml", field="tins.1.size"))

    span = placed(text("kitchen.yaml"), wrong).where.span

    assert span is not None
    assert (
        text("kitchen.yaml")
        .text.splitlines()[span.line - 1]
        .startswith("  - {name: shop frame")
    )


# --- two changes of one text --------------------


@pytest.mark.parametrize(
    ("theirs", "mine", "both"),
    [
        ("A\nb\nc\n", "a\nb\nC\n", "A\nb\nC\n"),
        ("a\nb\nc\nd\n", "a\nb\nc\ne\n", "a\nb\nc\nd\ne\n"),
        ("b\nc\n", "a\nb\n", "b\n"),
        ("A\nb\nc\n", "A\nb\nc\n", "A\nb\nc\n"),
        ("A\nb\nc\n", "B\nb\nc\n", None),
        ("b\nc\n", "A\nb\nc\n", None),
        ("a\nx\nb\nc\n", "a\nB\nc\n", None),
    ],
)
def test_two_changes_stand_together_where_they_do_not_meet(
    theirs: str, mine: str, both: str | None
) -> None:
    assert both_changes("a\nb\nc\n", theirs, mine) == both


lines = st.lists(st.sampled_from("abcde"), max_size=8).map(
    lambda some: "".join(f"{one}\n" for one in some)
)


@given(lines, lines)
def test_one_change_beside_none_is_that_change(base: str, other: str) -> None:
    assert both_changes(base, other, base) == other
    assert both_changes(base, base, other) == other


@given(lines, lines)
def test_lines_are_put_back_whatever_is_left_alone(original: str, before: str) -> None:
    kept = put_back(original, before, before)

    assert kept == (original or "\n")
