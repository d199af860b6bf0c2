"""Finding what a cook means.

The table queries.csv was labelled by hand before the look-up ran on it. What cooks call
a thing in each country is common practice, no source.
"""

import csv
from collections import defaultdict
from itertools import pairwise, permutations
from pathlib import Path
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from slabwright.larder.index import COUNTRIES, words_of
from slabwright.larder.ingredient import Ingredient, Name
from slabwright.larder.load import built_in
from slabwright.larder.lookup import Larder
from slabwright.larder.note import HANDLING
from slabwright.larder.table import words_for
from slabwright.larder.words import key_of, parse

QUERIES = Path(__file__).parent / "queries.csv"
NAMES = [
    (name, ingredient)
    for ingredient in built_in().ingredients
    for name in ingredient.names
]

with QUERIES.open(encoding="utf-8", newline="") as _file:
    LABELLED = list(csv.DictReader(_file))


@pytest.mark.parametrize("row", LABELLED, ids=lambda r: f"{r['query']}-{r['country']}")
def test_a_cook_gets_what_they_mean(row: dict[str, str]) -> None:
    match = built_in().find(row["query"], row["country"])

    found = (match.ingredient.id, match.how) if match else ("", "")
    assert found == (row["ingredient"], row["how"])
    if match:
        # an exact name needs no word, anything else is said
        assert bool(match.taken) == (match.how != "name")


def test_the_labelled_table_is_large_and_varied() -> None:
    assert len(LABELLED) >= 150
    counts: dict[str, int] = defaultdict(int)
    for row in LABELLED:
        counts[row["how"]] += 1
    assert min(counts.values()) >= 10


def test_every_name_finds_its_own_ingredient_where_it_is_used() -> None:
    for name, ingredient in NAMES:
        country = name.country or "GB"
        match = built_in().find(name.text, country)
        assert match is not None, name
        if name.sense == "same":
            assert match.ingredient is ingredient, name
        else:
            assert ingredient in (match.ingredient, *match.alternatives), name


def test_a_name_means_one_thing_in_one_country() -> None:
    owners: dict[tuple[str, str], set[str]] = defaultdict(set)
    for name, ingredient in NAMES:
        if name.sense == "same":
            owners[key_of(name.text), name.country].add(ingredient.id)
    assert {key: ids for key, ids in owners.items() if len(ids) > 1} == {}


def test_a_broad_word_orders_its_ingredients() -> None:
    ranks: dict[tuple[str, str], list[int]] = defaultdict(list)
    for name, _ in NAMES:
        if name.sense == "usual":
            ranks[key_of(name.text), name.country].append(name.rank)
    for key, found in ranks.items():
        assert len(set(found)) == len(found), key


def test_names_are_of_known_countries() -> None:
    assert {name.country for name, _ in NAMES} <= {"", *COUNTRIES}


def test_ids_are_slugs_and_unique() -> None:
    ids = [ingredient.id for ingredient in built_in().ingredients]
    assert len(set(ids)) == len(ids)
    assert all(id.replace("-", "").isalnum() and id.islower() for id in ids)


@pytest.mark.parametrize(
    ("asked", "never"),
    [
        ("salted butter", "butter-unsalted"),
        ("unsalted butter", "butter-salted"),
        ("rye flour", "rice-flour"),
        ("rice flour", "wholemeal-rye-flour"),
        ("white chocolate", "milk-chocolate-35"),
        ("glucose powder", "glucose-syrup-42de"),
        ("skimmed milk", "whole-milk"),
        ("evaporated milk", "condensed-milk"),
        ("egg white", "whole-egg"),
        ("gelatine powder", "leaf-gelatine"),
        ("ground almonds", "almonds"),
    ],
)
def test_a_slip_never_turns_into_the_opposite(asked: str, never: str) -> None:
    # every single slip that keeps the first letters of each word
    for i in range(1, len(asked)):
        for slip in (
            asked[:i] + asked[i + 1 :],
            asked[:i] + "x" + asked[i:],
            asked[:i] + asked[i : i + 2][::-1] + asked[i + 2 :],
        ):
            match = built_in().find(slip)
            assert not match or match.ingredient.id != never, slip


def test_a_broad_word_names_the_others() -> None:
    match = built_in().find("cream", "GB")

    assert match is not None
    assert match.taken.startswith("taken as double cream 48%; also: ")
    assert "single cream 18%" in match.taken
    assert {a.id for a in match.alternatives} >= {
        "whipping-cream-38",
        "single-cream-18",
    }


def test_another_strength_is_said_with_what_was_asked() -> None:
    match = built_in().find("dark chocolate 58%")

    assert match is not None
    assert match.taken.startswith("taken as dark chocolate 60% for 58 %; also: ")


def test_a_word_of_another_country_is_said() -> None:
    abroad = built_in().find("old-fashioned oats", "GB")
    assert abroad is not None
    assert abroad.taken == "taken as porridge oats, as in the United States"


def test_a_broad_word_falls_back_on_britain_in_a_country_without_words() -> None:
    assert words_of("FR") == ("FR", "GB", "")
    match = built_in().find("single cream", "FR")
    assert match is not None
    assert match.ingredient.id == "single-cream-18"


def test_a_name_with_two_spellings_in_one_order_is_no_doubt() -> None:
    """`roasted sunflower seeds` and `sunflower seeds, roasted` are one ingredient."""
    for order in permutations(("roasted", "sunflower", "seeds")):
        match = built_in().find(", ".join(order))
        assert match is not None
        assert (match.ingredient.id, match.taken) == ("roasted-sunflower-seeds", "")


def test_an_american_butter_is_american_in_either_order() -> None:
    for name in ("unsalted butter", "butter, unsalted"):
        match = built_in().find(name, "US")
        assert match is not None
        assert match.ingredient.id == "butter-unsalted-us"


@pytest.mark.parametrize("name", ["", "  ", "🍐", "?!"])
def test_nothing_is_near_to_no_words(name: str) -> None:
    assert built_in().nearest(name) == ()


@given(st.text(max_size=60))
def test_no_text_breaks_the_look_up(text: str) -> None:
    larder = built_in()
    match = larder.find(text)
    assert match is None or match.ingredient in larder.ingredients
    assert len(larder.nearest(text)) <= 3
    for start, end, _ in larder.mentions(text):
        assert 0 <= start < end <= len(text)
    words = text.split()
    assert 0 <= larder.longest_prefix(words, "GB") <= len(words)


@given(st.sampled_from(NAMES), st.randoms(use_true_random=False))
def test_commas_free_the_order_of_the_words(
    pair: tuple[Name, Ingredient], random: Random
) -> None:
    name, _ = pair
    country = name.country or "GB"
    words = [w for w in name.text.replace(",", " ").split() if w not in {"&", "-"}]
    random.shuffle(words)
    plain = built_in().find(name.text, country)
    shuffled = built_in().find(", ".join(words), country)
    assert plain is not None
    if shuffled is not None:
        assert plain.ingredient in (shuffled.ingredient, *shuffled.alternatives)


@given(st.sampled_from(NAMES))
def test_capitals_spaces_and_accents_make_no_difference(
    pair: tuple[Name, Ingredient],
) -> None:
    name, _ = pair
    country = name.country or "GB"
    plain = built_in().find(name.text, country)
    loud = built_in().find(f"  {name.text.upper().replace('E', 'É')} ", country)
    assert plain is not None
    assert loud is not None
    assert loud.ingredient is plain.ingredient


def _name_of(text: str, country: str = "GB") -> str:
    words = text.replace(",", " ,").split()
    return " ".join(words[: built_in().longest_prefix(words, country)])


@pytest.mark.parametrize(
    ("line", "name"),
    [
        ("butter, unsalted, cold", "butter , unsalted"),
        ("caster sugar, plus extra for dusting", "caster sugar"),
        ("blackcurrant puree, unsweetened", "blackcurrant puree , unsweetened"),
        ("lemon juice, off the heat", "lemon juice"),
        ("eggs, medium", "eggs"),
        ("cold unsalted butter, cubed", "cold unsalted butter"),
        ("dark chocolate 60% cocoa, chopped", "dark chocolate 60% cocoa"),
        ("dark chocolate 58 %, chopped", "dark chocolate 58 %"),
        ("dark chocolate 20% chopped", "dark chocolate 20%"),
        ("glucose syrup 42 DE", "glucose syrup 42 DE"),
        ("buckwheat groats, toasted", "buckwheat groats , toasted"),
        ("plain flour sifted", "plain flour"),
        ("pistachio kernels roughly chopped", "pistachio kernels"),
        ("butter at room temperature", "butter"),
        ("butter (very cold)", "butter"),
        ("dates soaked overnight", "dates"),
        ("coconut sugar", "coconut sugar"),
        ("coconut vinegar", ""),
        ("butter beans", ""),
        ("plain flour gluten free", ""),
        ("cream liqueur", "cream liqueur"),
        ("cream soda", ""),
        ("salt and pepper", ""),
        ("lemon zest and juice", "lemon zest"),
        ("unsalted butter cold and cubed", "unsalted butter"),
        ("unheard-of thing", ""),
        ("", ""),
    ],
)
def test_where_a_name_ends_and_notes_begin(line: str, name: str) -> None:
    assert _name_of(line) == name


@pytest.mark.parametrize(
    ("sentence", "named"),
    [
        ("Rub the butter into both flours", ["butter-unsalted", "plain-flour"]),
        ("Cream the butter and caster sugar", ["butter-unsalted", "caster-sugar"]),
        ("butter the tin and flour the sides", []),
        ("Then butter the tin; lightly oil the knife", []),
        ("use a sugar thermometer over a water bath", []),
        ("bake until gold at the edge", []),
        ("best before date, use by date", []),
        ("fold in the egg whites", ["egg-white"]),
        ("whisk eggs with lemon juice and zest", ["whole-egg", "lemon-juice"]),
        ("stir in double cream 48% and butter", ["double-cream-48", "butter-unsalted"]),
        ("serve with ice cream", []),
        ("fold in the Cream", ["double-cream-48"]),
        ("cream, then butter, go in last", ["double-cream-48", "butter-unsalted"]),
        ("cream together butter and sugar", ["butter-unsalted", "caster-sugar"]),
        ("dust with icing sugar, salt the caramel", ["icing-sugar"]),
        ("stir the salt into the caramel", ["fine-salt"]),
        ("buttered paper and floury hands", []),
        ("golden syrup", ["golden-syrup"]),
        ("cocoa butter and coconut oil to 45 C", ["cocoa-butter", "coconut-oil"]),
        ("", []),
    ],
)
def test_a_sentence_names_what_goes_in(sentence: str, named: list[str]) -> None:
    found = built_in().mentions(sentence, "GB")
    assert [it.id for _, _, it in found] == named


def test_a_mention_knows_its_place() -> None:
    text = "Whisk into the eggs and yolks."
    (start, end, _), *_ = built_in().mentions(text, "GB")
    assert text[start:end] == "eggs"


@given(st.lists(st.sampled_from([n.text for n, _ in NAMES]), max_size=5))
def test_mentions_never_overlap(names: list[str]) -> None:
    text = "; ".join(names)
    found = built_in().mentions(text, "GB")
    for (_, end, _), (start, _, _) in pairwise(found):
        assert end <= start


OWN = Ingredient(
    "rye-crisp",
    "rye crisp, from our miller",
    "own",
    {},
    names=(
        Name("rye crisp, from our miller", "", "same"),
        Name("butter", "", "same"),
    ),
)


def test_own_ingredients_lie_over_ours() -> None:
    larder = built_in().over([OWN])

    for name in ("rye crisp, from our miller", "butter", "Butter"):
        match = larder.find(name)
        assert match is not None
        assert match.ingredient.id == "rye-crisp"
        assert match.ingredient.own
        assert (match.how, match.taken) == ("name", "")
    assert larder.doubles == ("butter",)
    plain = larder.find("unsalted butter")
    assert plain is not None
    assert plain.ingredient.id == "butter-unsalted"
    assert built_in().find("butter") != larder.find("butter")


def test_an_own_name_covers_a_country_name_too() -> None:
    sugar = Ingredient("sugar", "sugar", "own", {}, names=(Name("sugar", "", "same"),))
    for country in ("GB", "US", "AU"):
        match = built_in().over([sugar]).find("sugar", country)
        assert match is not None
        assert match.ingredient.own


def test_nearest_names_for_a_name_that_nobody_knows() -> None:
    assert "plain flour" in built_in().nearest("plain floor")
    assert len(built_in().nearest("vanilla bean things", count=5)) == 5
    assert Larder([]).nearest("butter") == ()


def test_an_empty_larder_knows_nothing() -> None:
    empty = Larder([])
    assert empty.find("butter") is None
    assert empty.mentions("butter and eggs", "GB") == ()
    assert empty.longest_prefix(["butter"], "GB") == 0
    assert empty.by_id("butter-unsalted") is None


def test_words_that_matter_are_never_dropped() -> None:
    telling = """unsalted salted dark light white whole skimmed ground flaked dried
    sweetened unsweetened powdered double single rye wholemeal plain"""
    assert not HANDLING & {parse(word).key for word in telling.split()}
    with pytest.raises(KeyError):
        words_for("nonsense")
