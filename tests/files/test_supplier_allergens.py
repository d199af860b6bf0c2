import pytest

from slabwright.files.supplier_allergens import unwritten_allergens

PRALINE = (
    "Hazelnut praline\nIngredients: hazelnuts 50%, sugar, emulsifier (soya lecithin).\n"
    "May contain traces of milk and wheat.\n\nFat 35 g\nProtein 7.5 g\n"
)


def names(text: str, *contains: str, may: tuple[str, ...] = ()) -> list[str]:
    return [one.what for one in unwritten_allergens(text, contains, may)]


def test_what_the_text_names_and_nobody_wrote_is_told() -> None:
    found = unwritten_allergens(PRALINE, (), ())

    said = {one.what.split("(")[1].split(")")[0]: one.do for one in found}
    assert set(said) == {"hazelnuts", "soya", "milk", "wheat"}
    assert "contains it" in said["hazelnuts"]
    assert "may contain it" in said["milk"]


def test_what_is_written_down_is_not_asked_again() -> None:
    left = names(PRALINE, "nuts:hazelnut", "soya", "milk", may=("gluten:wheat",))

    assert left == []


def test_a_warning_written_down_does_not_stand_for_what_is_in_it() -> None:
    (left,) = names(PRALINE, "nuts:hazelnut", "milk", "gluten:wheat", may=("soya",))

    assert "soya" in left


@pytest.mark.parametrize(
    "text",
    [
        "Fat 35 g\nof which saturates 2 g",
        "Ingredients: sugar, water, pectin.",
        "Allergens: free from milk and egg.",
        "Milk is poured over it, says the brochure.",
        "",
    ],
)
def test_nothing_is_made_of_what_names_none(text: str) -> None:
    assert names(text) == []


def test_a_denial_hides_nothing_that_follows_it() -> None:
    text = "Ingredients: no added sugar, whole milk powder, cocoa.\n"

    (left,) = names(text)

    assert "milk" in left
    (left,) = names("Allergy advice: free from gluten, contains egg.")
    assert "egg" in left
