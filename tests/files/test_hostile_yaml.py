"""Kitchen, larder and price files that are none: a message, its place, no traceback."""

from collections.abc import Callable
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from slabwright.errors import FileError
from slabwright.files.folder import open_folder
from slabwright.files.kitchen_file import read_kitchen
from slabwright.files.larder_file import read_own_larder
from slabwright.files.prices_file import read_prices
from slabwright.files.raw import MOST_BYTES, Text
from slabwright.larder.load import built_in
from tests.files.kitchens import folder_with

Reader = Callable[[str], Any]


def kitchen(text: str) -> Any:
    return read_kitchen(Text(text, "kitchen.yaml"))


def larder(text: str) -> Any:
    return read_own_larder(Text(text, "larder.yaml"), built_in(), "GB")


def prices(text: str) -> Any:
    return read_prices(Text(text, "prices.yaml"), built_in(), "GB", "GBP")


BOMB = "a: &a [1, 1]\n" + "".join(
    f"{new}: &{new} [*{old}, *{old}, *{old}]\n"
    for old, new in zip("abcdefghijk", "bcdefghijkl", strict=True)
)


@pytest.mark.parametrize("read", [kitchen, larder, prices])
@pytest.mark.parametrize(
    ("text", "says"),
    [
        (BOMB, r"yaml:2:8: The file uses an alias"),
        ("x: " + "[" * 25 + "]" * 25, r"nested over 20 deep"),
        ("[" * 100_000, r"nested over 20 deep"),
        ("x: {" * 100_000, r"nested over 20 deep"),
        ("name: A\nname: B\n", r'yaml:2:1: .*duplicate key "name"'),
        ("name: [1\n", r"yaml:2:1: The YAML can't be read"),
        ("\tname: x\n", r"yaml:1:1: The YAML can't be read"),
        ("--- 1\n--- 2\n", r"yaml:2:1: The YAML can't be read"),
        ("just words\n", r"yaml:1:1 \(the file\)"),
        ("%YAML 9.9\n---\nname: a\n", r"yaml:1:1: The YAML can't be read"),
    ],
    ids=["bomb", "deep", "deeper", "maps", "twice", "open", "tab", "two", "words", "9"],
)
def test_yaml_that_is_none_is_told_with_its_place(
    read: Reader, text: str, says: str
) -> None:
    with pytest.raises(FileError, match=says):
        read(text)


def test_no_object_is_ever_made_from_a_file(tmp_path: Path) -> None:
    sign = tmp_path / "made"
    with pytest.raises(FileError, match="is no text"):
        kitchen(f"name: !!python/object/apply:pathlib.Path.touch ['{sign}']\n")

    assert not sign.exists()


@pytest.mark.parametrize(
    ("read", "text", "field"),
    [
        (kitchen, "altitude_m: .nan\n", "altitude_m"),
        (kitchen, "altitude_m: -9999\n", "altitude_m"),
        (kitchen, "altitude_m: high\n", "altitude_m"),
        (kitchen, "waste_share: 1.5\n", "waste_share"),
        (kitchen, "labour_per_hour: .inf\n", "labour_per_hour"),
        (kitchen, "labour_per_hour: -1\n", "labour_per_hour"),
        (kitchen, "electricity_per_kWh: 1e400\n", "electricity_per_kWh"),
        (kitchen, "colour: red\n", "colour"),
        (kitchen, "country: Britain\n", "country"),
        (kitchen, "eggs: enormous\n", "eggs"),
        (kitchen, f"name: {'n' * 121}\n", "name"),
        (kitchen, "knife_mm: -1\n", "knife_mm"),
        (kitchen, "probe_in_boiling_water_C: 10\n", "probe_in_boiling_water_C"),
        (kitchen, "scales: [{to_g: 0, step_g: 1}]\n", "scales.0.to_g"),
        (kitchen, "scales: [{to_g: 5, step_g: .nan}]\n", "scales.0.step_g"),
        (kitchen, "tins: [{name: a, size: big}]\n", "tins.0.size"),
        (kitchen, "tins: [{name: a, size: 1 x 9999 cm}]\n", "tins.0.size"),
        (kitchen, "vessels: [{name: a, litres: -2}]\n", "vessels.0.litres"),
        (kitchen, "ovens: [{name: a, temperature_C: 9999}]\n", "ovens.0.temperature_C"),
        (larder, "- {name: x, per_100g: {water: -1}}\n", "0.per_100g.water"),
        (larder, "- {name: x, per_100g: {water: .nan}}\n", "0.per_100g.water"),
        (larder, "- {name: x, per_100g: {water: 101}}\n", "0.per_100g.water"),
        (larder, "- {name: x, per_100g: {water: 60, fat: 60}}\n", "0.per_100g"),
        (larder, "- {name: x, per_100g: {sand: 6}}\n", "0.per_100g.sand"),
        (larder, "- {name: x, like: unobtainium}\n", "0.like"),
        (larder, "- {name: x, contains: [dust]}\n", "0.contains"),
        (larder, "- {name: x, nam: y}\n", "0.nam"),
        (larder, "- {like: plain flour}\n", "0.name"),
        (larder, "- {name: x, edible_share: 0}\n", "0.edible_share"),
        (larder, "- {name: x, measures: {cup_us: 0}}\n", "0.measures.cup_us"),
        (prices, "- {ingredient: butter, pack: 250 g, price: .nan}\n", "0.price"),
        (prices, "- {ingredient: butter, pack: 250 g, price: -1}\n", "0.price"),
        (prices, "- {ingredient: butter, pack: 250 g, price: dear}\n", "0.price"),
        (prices, "- {ingredient: butter, price: 1}\n", "0.pack"),
        (prices, "- {ingredient: butter, pack: 5 g, price: 1, cost: 2}\n", "0.cost"),
    ],
)  # fmt: skip
def test_a_value_that_no_kitchen_has_is_told_by_its_field(
    read: Reader, text: str, field: str
) -> None:
    with pytest.raises(FileError) as raised:
        read(text)

    (only,) = raised.value.mistakes
    assert only.where.field == field
    assert only.where.file.endswith(".yaml")
    assert only.what
    assert only.do


def test_every_mistake_of_a_file_comes_at_once() -> None:
    with pytest.raises(FileError) as raised:
        kitchen("altitude_m: .nan\ncolour: red\nknife_mm: 99\n")

    lines = [m.where.span.line for m in raised.value.mistakes if m.where.span]
    assert sorted(lines) == [1, 2, 3]


@pytest.mark.parametrize("text", ["", "\n", "# all of it can be left out\n", "---\n"])
@pytest.mark.parametrize("read", [kitchen, larder, prices])
def test_a_file_that_says_nothing_changes_nothing(read: Reader, text: str) -> None:
    assert read(text) is not None


def test_a_file_that_is_wrong_leaves_the_others_in_use(tmp_path: Path) -> None:
    folder = folder_with(
        tmp_path,
        kitchen="country: US\ncurrency: USD\n",
        larder="- {name: x, per_100g: {sand: 6}}\n",
        prices="- {ingredient: butter, pack: 250 g, price: 2.10}\n",
    )

    (only,) = folder.mistakes
    assert "sand" in only.what
    assert folder.kitchen.country == "US"
    assert folder.prices is not None
    assert [p.price for p in folder.prices.prices["butter-unsalted"]] == [
        Decimal("2.10")
    ]


@pytest.mark.parametrize("name", ["kitchen", "larder", "prices"])
@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"#" * (MOST_BYTES + 1), "MiB"),
        ("name: x\n".encode("utf-16"), "UTF-16"),
        (bytes(range(256)), "not text"),
    ],
    ids=["over 1 MiB", "UTF-16", "noise"],
)
def test_bytes_that_are_no_text_are_a_mistake_of_their_file(
    name: str, data: bytes, says: str, tmp_path: Path
) -> None:
    (tmp_path / f"{name}.yaml").write_bytes(data)

    (only,) = open_folder(tmp_path).mistakes

    assert says in only.what
    assert only.where.file.endswith(f"{name}.yaml")


@pytest.mark.parametrize(
    ("ingredient", "pack", "grams"),
    [
        # a pound is 453.59237 g exactly (NIST SP 811); 12 x 250 = 3000
        ("butter", "250 g", 250),
        ("butter", "2.5 kg", 2500),
        ("butter", "12 x 250 g", 3000),
        ("butter", "1 lb", 453.59237),
        # medium egg: middle of 53 to 63 g (Reg 589/2008), 88 % edible = 51.0 g
        ("eggs", "12", 612),
        ("eggs", "6 eggs, medium", 306),
        ("eggs", "6 large eggs", 6 * 59.8),
        # milk: 1.03 g/ml, from memory
        ("whole milk", "1 l", 1030),
        ("whole milk", "4 x 500 ml", 2060),
    ],
)
def test_a_pack_weighs_what_it_says(ingredient: str, pack: str, grams: float) -> None:
    found, odd = prices(f'- {{ingredient: {ingredient}, pack: "{pack}", price: 1}}\n')

    ((only,),) = found.prices.values()
    assert odd == ()
    assert only.pack_g == pytest.approx(grams, rel=2e-3)


@pytest.mark.parametrize("pack", ["a lot", "0 g", "-5 g", "g", "x", "nan g"])
def test_a_pack_without_a_weight_is_told_and_the_other_prices_hold(pack: str) -> None:
    found, (only,) = prices(
        f'- {{ingredient: flour, pack: "{pack}", price: 1}}\n'
        "- {ingredient: butter, pack: 250 g, price: 1.80}\n"
    )

    assert f"'{pack}'" in only.what
    assert only.where.field == "0.pack"
    assert list(found.prices) == ["butter-unsalted"]


def test_a_price_keeps_its_pennies_exactly() -> None:
    found, _ = prices("- {ingredient: butter, pack: 250 g, price: 0.1}\n")

    ((only,),) = found.prices.values()
    assert only.price == Decimal("0.1")
