"""The kitchen folder: found upwards, its own larder over ours, prices with history."""

from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from slabwright.composition import INDEX, SATURATES, amount, total
from slabwright.files.folder import Folder, folder_of, open_folder
from slabwright.files.raw import Text
from slabwright.larder.ingredient import Ingredient
from tests.files.kitchens import bare_kitchen, folder_with, worked


def own(folder: Folder, name: str) -> Ingredient:
    match = folder.larder.find(name, folder.kitchen.country)
    assert match is not None
    return match.ingredient


@pytest.mark.parametrize("sign", ["kitchen.yaml", "larder.yaml", "prices.yaml"])
def test_the_kitchen_is_the_nearest_folder_above_the_card(
    sign: str, tmp_path: Path
) -> None:
    (tmp_path / "kitchen.yaml").touch()
    shop = tmp_path / "shop"
    card = shop / "winter" / "new" / "x.card"
    card.parent.mkdir(parents=True)
    (shop / sign).touch()

    assert folder_of(card) == shop


def test_a_folder_with_slabs_is_a_kitchen(tmp_path: Path) -> None:
    (tmp_path / "slabs").mkdir()

    assert folder_of(tmp_path / "slabs" / "x.card") == tmp_path


def test_without_a_kitchen_it_is_british_metric_and_at_the_sea() -> None:
    # the defaults that the description of the card names
    kitchen = bare_kitchen().kitchen

    assert (kitchen.country, kitchen.currency) == ("GB", "GBP")
    assert (kitchen.eggs, kitchen.spoons) == ("medium", "metric")
    assert kitchen.altitude_m == 0


def test_an_own_ingredient_covers_ours_of_the_same_name(tmp_path: Path) -> None:
    folder = folder_with(
        tmp_path,
        larder="- {name: plain flour, like: plain flour, per_100g: {water: 10}}\n",
    )
    flour = own(folder, "plain flour")

    assert flour.own
    assert flour.values["water"].value == 10
    assert not own(bare_kitchen(), "plain flour").own


def test_what_is_not_said_is_as_in_the_ingredient_it_is_like(tmp_path: Path) -> None:
    folder = folder_with(
        tmp_path,
        larder=(
            "- name: rye crisp, from our miller\n  like: wholemeal rye flour\n"
            "  per_100g: {water: 4, fat: 2}\n  contains: [rye]\n"
        ),
    )
    crisp = own(folder, "rye crisp, from our miller")
    rye = own(bare_kitchen(), "wholemeal rye flour")
    row, like = crisp.composition, rye.composition
    assert row is not None
    assert like is not None

    # 4 g of water and 2 g of fat as said; 94 g for the rest, split as in the flour
    assert row[INDEX["water"]] == pytest.approx(0.04)
    fats = [name for name in INDEX if name.startswith("fat_")]
    assert float(amount(row, *fats)) == pytest.approx(0.02)
    assert float(total(row)) == pytest.approx(1.0)
    assert row[INDEX["starch"]] / row[INDEX["protein"]] == pytest.approx(
        like[INDEX["starch"]] / like[INDEX["protein"]]
    )
    assert [a.name for a in crisp.allergens] == ["gluten:rye"]


def test_sodium_counts_as_salt_times_two_and_a_half(tmp_path: Path) -> None:
    # Source: Regulation (EU) No 1169/2011, Annex I(11): salt = sodium x 2.5
    folder = folder_with(
        tmp_path, larder="- {name: mud, per_100g: {sodium: 0.4, water: 50}}\n"
    )
    mud = own(folder, "mud")

    assert mud.values["salt"].value == pytest.approx(1.0)
    # 100 - 50 - 1: what its specification does not name
    assert mud.values["rest"].value == pytest.approx(49.0)


def test_saturates_are_part_of_the_fat_and_not_beside_it(tmp_path: Path) -> None:
    folder = folder_with(
        tmp_path, larder="- {name: lard mix, per_100g: {fat: 90, saturates: 40}}\n"
    )
    row = own(folder, "lard mix").composition
    assert row is not None

    assert row[INDEX[SATURATES]] == pytest.approx(0.40)
    assert float(total(row)) == pytest.approx(1.0)


def test_an_own_measure_weighs_a_line(tmp_path: Path) -> None:
    folder = folder_with(
        tmp_path,
        larder="- {name: our egg, like: eggs, measures: {each: 70, pack: 420}}\n",
    )

    lines = worked("slab X\nlayer A\n  3 our egg\n", folder).layers[0].lines
    assert lines[0].mass_g.number == pytest.approx(210)  # 3 x 70


def test_a_price_holds_from_its_day_on(tmp_path: Path) -> None:
    folder = folder_with(
        tmp_path,
        prices=(
            "- {ingredient: butter, pack: 250 g, price: 2.00, from: 2026-06-01}\n"
            "- {ingredient: butter, pack: 250 g, price: 1.80, from: 2026-01-01}\n"
        ),
    )
    assert folder.prices is not None

    def pence(day: date) -> Decimal | None:
        found = folder.prices and folder.prices.price_of("butter-unsalted", day)
        return found.price if found else None

    assert pence(date(2025, 12, 31)) is None
    assert pence(date(2026, 1, 1)) == Decimal("1.80")
    assert pence(date(2026, 5, 31)) == Decimal("1.80")
    assert pence(date(2026, 6, 1)) == Decimal("2.00")
    assert pence(date(2030, 1, 1)) == Decimal("2.00")


def test_a_price_without_a_day_has_held_since_ever(tmp_path: Path) -> None:
    folder = folder_with(
        tmp_path, prices="- {ingredient: butter, pack: 250 g, price: 1.80}\n"
    )

    assert folder.prices is not None
    assert folder.prices.price_of("butter-unsalted", date(1999, 1, 1)) is not None


def component(path: Path, name: str, text: str) -> None:
    (path / "components").mkdir(exist_ok=True)
    (path / "components" / f"{name}.card").write_text(text, encoding="utf-8")


def test_components_come_from_files_by_file_name_and_by_their_own(
    tmp_path: Path,
) -> None:
    component(tmp_path, "dark-one", "component Dark ganache\n  100 g honey\n")
    folder = open_folder(tmp_path)

    card = "slab X\nlayer A from dark-one, 40 g\nlayer B from Dark ganache, 50 g\n"
    assert worked(card, folder).errors == ()
    assert set(folder.components) == {"dark-one", "dark-ganache"}


def test_a_component_of_the_card_wins_over_that_of_the_folder(tmp_path: Path) -> None:
    component(tmp_path, "curd", "component Curd\n  100 g honey\n")
    card = "slab X\ncomponent Curd\n  100 g water\nlayer A from Curd, 40 g\n"
    spec = worked(card, open_folder(tmp_path))

    assert spec.layers[0].lines[0].larder_id == "water"


def test_a_circle_across_files_is_refused_with_its_path(tmp_path: Path) -> None:
    component(tmp_path, "curd", "component Curd\n  100 g Cream\n")
    component(tmp_path, "cream", "component Cream\n  100 g Curd\n")
    spec = worked("slab X\nlayer A from Curd, 40 g\n", open_folder(tmp_path))

    assert any("curd > cream > curd" in mistake.what for mistake in spec.errors)
    assert all(m.where.file.endswith(".card") for m in spec.errors)


def test_a_wrong_component_that_no_layer_takes_is_not_the_cards_error(
    tmp_path: Path,
) -> None:
    component(tmp_path, "curd", "component Curd\n  -5 g honey\n")
    folder = open_folder(tmp_path)

    assert len(folder.component_mistakes) == 1
    assert worked("slab X\nlayer A\n  9 g honey\n", folder).errors == ()


def test_the_kitchen_says_whose_spoons_and_eggs_they_are(tmp_path: Path) -> None:
    folder = folder_with(
        tmp_path, kitchen="country: AU\nspoons: AU\neggs: large\ncurrency: AUD\n"
    )
    layer = worked("slab X\nlayer A\n  1 tbsp water\n", folder).layers[0]

    # an Australian tablespoon holds 20 ml
    assert layer.lines[0].mass_g.number == pytest.approx(20, rel=5e-3)


def test_a_tin_of_the_kitchen_is_known_by_its_name(tmp_path: Path) -> None:
    folder = folder_with(
        tmp_path, kitchen="tins: [{name: Shop Frame, size: 57 x 37 x 4.5 cm}]\n"
    )
    read = folder.read(Text("slab X\ntin shop frame\n"))

    assert read.card.tin is not None
    assert read.card.tin.tin.length_mm == 570
