"""Specifications as suppliers print them and as users type them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from slabwright.errors import FileError
from slabwright.files.supplier import read_specification
from slabwright.files.supplier_doubts import doubts

PACK = """\
Typical values per 100 g
Energy 1 850 kJ / 442 kcal
Fat 24 g
 of which saturates 12 g
Carbohydrate 51 g
- of which sugars 30 g
Fibre <0.5 g
Protein 5,5 g
Salt trace
"""


@pytest.mark.parametrize(
    ("text", "per_100g"),
    [
        (
            "protein .5 g, fat 1 g, carbohydrate 2 g",
            {"protein": 0.5, "fat": 1, "carbohydrate": 2},
        ),
        ("fat 1/2 g", {"fat": 0.5}),
        ("fat 1 1/2 g", {"fat": 1.5}),
        ("fat ½ g", {"fat": 0.5}),
        ("fat 0,5 g", {"fat": 0.5}),
        ("Fat: 1 200 mg", {"fat": 1.2}),
        ("Fat: 1\u202f200 mg", {"fat": 1.2}),
        ("Sodium (mg) 120 60", {"sodium": 0.12}),
        ("moisture 5 %", {"water": 5}),
        ("fat 12 grams", {"fat": 12}),
        ("fat - 3 g", {"fat": 3}),
        ("salt 0 g", {"salt": 0}),
        (
            "fat 99 g, saturates 65 g, protein 0.3 g",
            {"fat": 99, "saturates": 65, "protein": 0.3},
        ),
        ("fat 50 g of which saturates 30 g", {"fat": 50, "saturates": 30}),
        ("fat 10 g saturates 20 g", {"fat": 10, "saturates": 20}),
        ("fatty acids, saturated 12 g; fat 20 g", {"saturates": 12, "fat": 20}),
        ("Saturated fat 2 g\nTotal fat 6 g", {"saturates": 2, "fat": 6}),
        ("30 g fat, of which 12 g saturates", {"fat": 30, "saturates": 12}),
        ("Protein crisps\nFat 3 g\nProtein 2 g", {"fat": 3, "protein": 2}),
        ("Fat\n30 g\nof which saturates\n12 g", {"fat": 30, "saturates": 12}),
        ("Fat | 30 g | 7.5 g\nProtein | 5 g | 1.2 g", {"fat": 30, "protein": 5}),
        ("100 g contains: fat 3 g, protein 2 g", {"fat": 3, "protein": 2}),
        ("fat 3 g per 100 g", {"fat": 3}),
        ("Fat (g/100g): 24.1 g", {"fat": 24.1}),
        ("Protein (N x 6.25) 12 g", {"protein": 12}),
        ("Salt (sodium × 2.5) 0.5 g", {"salt": 0.5}),
        ("Fat...........24 g\nProtein.....3.2g", {"fat": 24, "protein": 3.2}),
        ("Total lipid (fat) 24 g", {"fat": 24}),
    ],
)
def test_figures_are_read_as_written(text: str, per_100g: dict[str, float]) -> None:
    said = read_specification(text)

    assert said.per_100g == per_100g
    assert (said.unread, said.notes) == ((), ())


def test_a_table_from_a_pack_is_read_line_by_line() -> None:
    said = read_specification(PACK)

    assert said.per_100g == {
        "fat": 24, "saturates": 12, "carbohydrate": 51, "sugars": 30, "fibre": 0.25,
        "protein": 5.5, "salt": 0,
    }  # fmt: skip
    assert said.energy_kJ == 1850
    assert said.unread == ()


@pytest.mark.parametrize(
    ("text", "kJ"),
    [
        ("Energy 1234 kJ / 295 kcal", 1234),
        ("Energy kJ/kcal 1234/295 617/147", 1234),
        ("Energy 1234/295 kJ/kcal", 1234),
        ("Energy (kJ) 1234", 1234),
        ("Energy 295 kcal", 295 * 4.184),
        ("Calories 250", 250 * 4.184),
    ],
)
def test_energy_is_read_in_either_unit(text: str, kJ: float) -> None:
    assert read_specification(text).energy_kJ == pytest.approx(kJ)


@pytest.mark.parametrize(
    ("text", "column", "word"),
    [
        ("fat -3 g", 5, "'-3'"),
        ("fat 1e3 g", 5, "'1e3'"),
        ("fat 1/0 g", 5, "'1/0'"),
        ("fat 1.2.3 g", 5, "'1.2.3'"),
        ("protein 1 g, fat 12 ounces", 18, "'ounces'"),
        ("fat 12 oz", 5, "'oz'"),
        ("fat 3 glorps", 5, "'glorps'"),
        ("fat 30 kJ", 5, "'kJ'"),
        ("alcohol 40 % vol", 9, "'% vol'"),
        ("fat 101 g", 5, "'101 g'"),
        ("fat 120 000 mg", 5, "more than 100 g"),
        ("fat (of which saturates) 24 g (12 g)", 26, "fat or saturates"),
        ("Energy: 9000 kJ, fat 3 g", 9, "'9000 kJ'"),
        ("per 30 g biscuit: fat 3 g", 1, "'per 30 g'"),
        ("fat 3 g per 100 ml", 9, "'per 100 ml'"),
    ],
)
def test_what_is_no_figure_per_100_g_is_refused_with_its_place(
    text: str, column: int, word: str
) -> None:
    with pytest.raises(FileError) as caught:
        read_specification(f"salt 1 g\n{text}", "sheet.txt")

    (mistake,) = caught.value.mistakes
    assert str(mistake).startswith(f"sheet.txt:2:{column}: ")
    assert word in mistake.what


def test_a_column_of_names_before_a_column_of_figures_is_refused() -> None:
    with pytest.raises(FileError, match="Write each name with its own figure"):
        read_specification("Fat\nof which saturates\n30 g\n12 g")


def test_every_mistake_is_told_at_once() -> None:
    with pytest.raises(FileError) as caught:
        read_specification("fat -3 g, protein 5 oz, salt 200 g")

    assert len(caught.value.mistakes) == 3


@pytest.mark.parametrize(
    ("text", "name", "taken", "stated"),
    [
        ("fat <0.5 g", "fat", 0.25, "<0.5 g"),
        ("fat less than 1 g", "fat", 0.5, "less than 1 g"),
        ("fat 30-32 g", "fat", 31, "30-32 g"),
        ("fat 30 g - 32 g", "fat", 31, "30 g - 32 g"),
        ("moisture max 5 %", "water", 5, "max 5 %"),
        ("moisture 5 % max", "water", 5, "5 % max"),
        ("fat >= 80 %", "fat", 80, ">= 80 %"),
        ("salt: trace", "salt", 0, "trace"),
    ],
)
def test_a_limit_or_a_range_keeps_its_words(
    text: str, name: str, taken: float, stated: str
) -> None:
    said = read_specification(text)

    assert said.per_100g == {name: taken}
    assert said.stated == {name: stated}
    assert [stated in note.what for note in said.notes] == [True]


@pytest.mark.parametrize(
    ("text", "per_100g", "word"),
    [
        (
            "protein 5 g protein 6 g fat 1 g",
            {"protein": 5, "fat": 1},
            "protein is said again: '6 g'",
        ),
        (
            "carbohydrate 2 g of which sugars 1.6",
            {"carbohydrate": 2, "sugars": 1.6},
            "sugars: '1.6' has no unit",
        ),
        ("fat from nuts 3 g", {"fat": 3}, "'fat from nuts 3 g' is read as fat"),
    ],
)
def test_what_could_be_meant_otherwise_is_noted(
    text: str, per_100g: dict[str, float], word: str
) -> None:
    said = read_specification(text)

    assert said.per_100g == per_100g
    assert [word in note.what for note in said.notes] == [True]


@pytest.mark.parametrize(
    ("text", "unread"),
    [
        ("fat 3 g, calcium 120 mg, protein 2 g", ("calcium 120 mg",)),
        ("fat 3 g\nprotein 2 g\nXylitol 12 g", ("Xylitol 12 g",)),
        ("fat 3 g, protein 2 g, trans fat 1 g", ("trans fat 1 g",)),
        ("fat 3 g, protein 2 g, water activity 0.6", ("water activity 0.6",)),
        ("monounsaturated fat 5 g\nfat 3 g\nprotein 2 g", ("monounsaturated fat 5 g",)),
        ("vitamin B12 3 µg\nfat 3 g\nprotein 2 g", ("vitamin B12 3 µg",)),
        ("fat 3 g, protein 2 g, salt", ("salt (no figure)",)),
        ("energy 1850, fat 3 g, protein 2 g", ("energy 1850 (no unit)",)),
    ],
)
def test_what_has_no_place_is_named_and_taken_for_nothing(
    text: str, unread: tuple[str, ...]
) -> None:
    said = read_specification(text)

    assert said.per_100g == {"fat": 3, "protein": 2}
    assert said.unread == unread


def test_energy_that_the_factors_do_not_make_is_doubted() -> None:
    # factors: Regulation (EU) No 1169/2011, Annex XIV: 10 g fat, 20 g carbohydrate and
    # 5 g protein are 10 × 37 + 20 × 17 + 5 × 17 = 795 kJ
    table = "fat 10 g, carbohydrate 20 g, protein 5 g, energy {} kJ"

    assert doubts(read_specification(table.format(795)), is_like=False) == ()
    (doubt,) = doubts(read_specification(table.format(1200)), is_like=False)
    assert "795 kJ" in doubt.what


def test_salt_and_sodium_that_differ_are_doubted() -> None:
    # salt = sodium × 2.5: the same regulation, Annex I (11)
    assert doubts(read_specification("salt 1 g, sodium 400 mg"), is_like=True) == ()
    (doubt,) = doubts(read_specification("salt 2 g, sodium 400 mg"), is_like=True)
    assert "makes 1 g of salt" in doubt.what


PIECES = st.sampled_from(
    "fat protein saturates energy kJ kcal g mg % oz of which per 100 g < - , . / ; ½"
    " 1 0 5e9 nan 1 200 | trace \n max 30-20 ( )".split(" ")
)


@given(st.lists(PIECES, max_size=15), st.sampled_from(["", " "]))
def test_whatever_is_typed_gives_shares_or_an_error(
    words: list[str], joint: str
) -> None:
    try:
        said = read_specification(joint.join(words))
    except FileError:
        return
    assert all(0 <= value <= 100 for value in said.per_100g.values())
    assert set(said.stated) <= set(said.per_100g)


def test_a_list_of_ingredients_is_no_row_of_figures() -> None:
    text = (
        "Praline paste\n"
        "Ingredients: hazelnuts 50%, sugar, emulsifier (soya lecithin).\n"
        "May contain traces of almonds and milk.\n"
        "Energy 2260 kJ\nFat 35 g\nof which saturates 2.9 g\n"
        "Carbohydrate 50.2 g\nof which sugars 48.9 g\nProtein 7.5 g\nSalt 0.01 g\n"
        "Allergens: hazelnuts, soya. Traces of milk.\n"
    )

    found = read_specification(text)

    assert found.per_100g["sugars"] == 48.9
    assert found.per_100g["fat"] == 35
    assert not any("traces" in one.what.casefold() for one in found.notes)
