"""The larder in the browser: what the terminal knows, and the kitchen's own ones."""

import json
import re
from dataclasses import replace
from html import unescape

import pytest
from fastapi import FastAPI
from starlette.testclient import TestClient

from slabwright.larder.load import built_in
from slabwright.store import papers
from slabwright.store.engine import reading, writing
from slabwright.store.papers import Paper
from slabwright.store.who import Who
from tests.cli.run import run
from tests.web.conftest import DEMO, NOW, Kitchen

TEXT = (DEMO / "larder.yaml").read_text("utf-8")
OWN = "rye-crisp-from-our-miller"
SPECIFICATION = """\
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


def paper(kitchen: Kitchen) -> Paper:
    with reading(kitchen.engine) as connection:
        found = papers.latest(connection, kitchen.id, "larder.yaml")
    assert found is not None
    return found


def words(page: str) -> str:
    """What a page says, without its markup."""
    bare = re.sub(r"<script.*?</script>|<style.*?</style>", " ", page, flags=re.DOTALL)
    return " ".join(unescape(re.sub("<[^>]+>", " ", bare)).split())


def told(*arguments: str) -> dict[str, object]:
    ran = run("larder", *arguments, "--kitchen", str(DEMO), "--json")
    found: dict[str, object] = json.loads(ran.out)
    return found


# --- finding --------------------


@pytest.mark.parametrize(
    "asked", ["butter", "caster suger", "rye", "glucose syrup", "lemon zest"]
)
def test_a_name_is_taken_as_the_terminal_takes_it(
    client: TestClient, asked: str
) -> None:
    said = told("find", asked)

    page = client.get("/larder", params={"find": asked})

    assert page.status_code == 200
    assert str(said["name"]) in words(page.text)
    if said["taken"]:
        assert str(said["taken"]) in words(page.text)
    for other in said["also"]:  # type: ignore[attr-defined]
        assert f'href="/larder/{other}"' in page.text


def test_what_nobody_knows_has_its_nearest_spellings(client: TestClient) -> None:
    near = told("find", "chocolat 61")["nearest"]

    page = words(client.get("/larder", params={"find": "chocolat 61"}).text)

    assert "Nothing is called “chocolat 61”" in page
    assert isinstance(near, list)
    for name in near:
        assert name in page


@pytest.mark.parametrize("asked", ["<b>x</b>", "%", "'; --", " ", "\u202e", "a" * 200])
def test_odd_names_are_only_names(client: TestClient, asked: str) -> None:
    page = client.get("/larder", params={"find": asked})

    assert page.status_code == 200
    assert "<b>x</b>" not in page.text


def test_own_ones_stand_first_and_every_group_has_its_page(client: TestClient) -> None:
    page = client.get("/larder").text

    assert page.index(OWN) < page.index("Ours, by group")
    for group in {one.group for one in built_in().ingredients}:
        shown = client.get("/larder", params={"group": group})
        first = next(one for one in built_in().ingredients if one.group == group)
        assert f'href="/larder/{first.id}"' in shown.text


# --- one ingredient --------------------


@pytest.mark.parametrize(
    "id", ["butter-unsalted", "dark-chocolate-60", "whole-egg", OWN]
)
def test_a_page_says_all_that_the_terminal_says(client: TestClient, id: str) -> None:
    said = told("show", id)

    page = client.get(f"/larder/{id}")
    shown = words(page.text)

    assert page.status_code == 200
    assert str(said["name"]) in shown
    for one in said["allergens"]:  # type: ignore[attr-defined]
        assert one["allergen"].split(":")[-1] in shown
    for one in said["made_of"]:  # type: ignore[attr-defined]
        assert one["part"] in shown
    figures = [
        json.loads(unescape(f)) for f in re.findall(r'data-figure="([^"]*)"', page.text)
    ]
    sums = " ".join(figure["sum"] for figure in figures)
    for name, value in said["per_100g"].items():  # type: ignore[attr-defined]
        if value["g"]:
            assert f"{value['g']:g} g of" in sums, name
    for one in said["measures"]:  # type: ignore[attr-defined]
        assert f"{one['what']}: {one['g']:g}" in sums


def test_every_ingredient_has_a_page_without_a_promise(client: TestClient) -> None:
    for one in built_in().ingredients[::9]:
        page = client.get(f"/larder/{one.id}")
        assert page.status_code == 200, one.id
        assert not re.search(
            r"free (?:from|of)|\bsafe", words(page.text), re.IGNORECASE
        )


@pytest.mark.parametrize(
    "id", ["butter-unsalted", "dark-chocolate-60", "tahini", "coconut-oil", "rum", OWN]
)
def test_the_bar_comes_to_the_whole(client: TestClient, id: str) -> None:
    per_100g = told("show", id)["per_100g"]
    assert isinstance(per_100g, dict)

    page = client.get(f"/larder/{id}").text

    sentence = re.search(r'<desc id="made-of-desc">(.*?)</desc>', page)
    assert sentence is not None
    shares = {n: float(x) for n, x in re.findall(r"(\w[\w ]*) ([\d.]+)%", sentence[1])}
    assert sum(shares.values()) == pytest.approx(100, abs=0.3)
    whole = sum(v["g"] for n, v in per_100g.items() if n != "saturates")
    fat = sum(v["g"] for n, v in per_100g.items() if n.startswith("fat_"))
    assert shares.get("fat", 0.0) == pytest.approx(100 * fat / whole, abs=0.051)


def test_it_says_which_slabs_take_it_and_what_it_costs(client: TestClient) -> None:
    shown = words(client.get("/larder/butter-unsalted").text)

    assert "Two Tides 290 g" in shown  # 170 + 120 g on its card
    assert "Harbour Lamp 260 g" in shown  # 190 + 50 + 20 g on its card
    assert "Lantern Walk" not in shown
    assert (
        "250 g from the merchant £1.80 5 January 2026 the cheapest by the gram" in shown
    )
    assert "250 g from the merchant £1.95 4 January 2027 to come" in shown


# --- adding --------------------


def sent(**more: object) -> dict[str, object]:
    form: dict[str, object] = {
        "name": "brown crumb", "specification": SPECIFICATION, "base": 1,
    }  # fmt: skip
    return form | more


def test_what_was_read_is_shown_and_nothing_is_kept(
    client: TestClient, kitchen: Kitchen
) -> None:
    answer = client.post("/larder/own/add", data=sent(act="read"))
    shown = words(answer.text)

    assert answer.status_code == 200
    assert "fat 24" in shown
    assert "fibre 0.25 stated <0.5 g" in shown
    assert "Energy stated 1850 kJ" in shown
    assert "by the European factors" in shown
    assert "no water; what is left of 100 g" in shown
    assert "Keep brown crumb in the larder" in shown
    assert paper(kitchen).text == TEXT


def test_what_is_kept_is_what_the_terminal_would_write(
    client: TestClient, kitchen: Kitchen
) -> None:
    like, contains = "rye flour", ["gluten:rye", "milk"]
    ran = run(
        "larder", "add", "brown crumb", SPECIFICATION, "--like", like, "--contains",
        contains[0], "--contains", contains[1], "--may-contain", "sesame", "--source",
        "our miller, 2026", "--kitchen", str(DEMO), "--dry-run",
    )  # fmt: skip

    answer = client.post(
        "/larder/own/add", follow_redirects=False,
        data=sent(act="keep", like=like, contains=contains, may_contain=["sesame"],
                  source="our miller, 2026"),
    )  # fmt: skip

    assert (answer.status_code, answer.headers["location"]) == (
        303,
        "/larder/brown-crumb",
    )
    assert ran.code == 0
    assert paper(kitchen).text == TEXT + ran.out
    page = words(client.get("/larder/brown-crumb").text)
    assert "contains rye (gluten)" in page
    assert "may contain sesame" in page
    assert "our miller, 2026" in page


def test_an_own_ingredient_is_what_cards_mean_from_then_on(client: TestClient) -> None:
    client.post("/larder/own/add", data=sent(name="butter, unsalted", act="keep"))

    shown = words(client.get("/larder", params={"find": "butter, unsalted"}).text)

    assert "“butter, unsalted” butter, unsalted your own" in shown


def test_likes_are_offered_by_name_and_by_figures_and_can_be_pressed(
    client: TestClient,
) -> None:
    butter = "Fat 82 g\nCarbohydrate 0.8 g\nProtein 0.7 g\nWater 16 g"

    offered = client.post("/larder/own/add", data=sent(specification=butter)).text
    pressed = client.post(
        "/larder/own/add", data=sent(specification=butter, pick="unsalted butter")
    ).text

    assert 'value="unsalted butter"' in offered
    assert "Like unsalted butter : what the specification leaves open" in words(pressed)
    assert 'id="like" name="like" value="unsalted butter"' in pressed


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ({"specification": "hello world"}, "names no constituent with a figure"),
        ({"specification": "fat -3 g"}, "is no amount"),
        ({"specification": "per 30 g portion\nfat 3 g"}, "The figures are"),
        ({"specification": "fat 130 g"}, "more than 100 g per 100 g"),
        ({"like": "xyzzy"}, "The larder has no 'xyzzy'"),
        ({"name": " "}, "It has no name"),
        ({"name": "Rye crisp, from our miller"}, "is called"),
        ({"contains": ["moon dust"]}, "none of the 14 allergens"),
        ({"name": "x" * 121}, "120"),
        ({"specification": "x" * 20_001}, "20000"),
    ],
)
def test_what_cannot_stand_is_refused_and_what_was_typed_stays(
    client: TestClient, kitchen: Kitchen, more: dict[str, object], said: str
) -> None:
    answer = client.post("/larder/own/add", data=sent(**more, act="keep"))

    assert answer.status_code == 422
    assert said in words(answer.text)
    assert paper(kitchen).text == TEXT
    if "120" not in said and "20000" not in said:
        assert unescape(answer.text).count(
            str(more.get("specification", "Protein 5,5 g"))
        )


# --- changing and taking out --------------------


def form_of(page: str) -> dict[str, object]:
    found: dict[str, object] = {
        name: unescape(value)
        for name, value in re.findall(
            r'<input[^>]*?name="([^"]+)"[^>]*?value="([^"]*)"', page
        )
        if name not in {"contains", "may_contain"}
    }
    for name, value in re.findall(
        r'<textarea[^>]*?name="([^"]+)"[^>]*>\n?(.*?)</textarea>', page, re.DOTALL
    ):
        found[name] = unescape(value)
    for name in ("contains", "may_contain"):
        ticked = rf'name="{name}" value="([^"]+)" checked'
        found[name] = re.findall(ticked, page)
    return found


def test_keeping_the_form_as_it_stands_changes_nothing(
    client: TestClient, kitchen: Kitchen
) -> None:
    form = form_of(client.get(f"/larder/{OWN}/edit").text)

    client.post(f"/larder/{OWN}/edit", data=form)

    assert (paper(kitchen).number, paper(kitchen).text) == (1, TEXT)


def test_fields_are_changed_and_the_other_lines_stay(
    client: TestClient, kitchen: Kitchen
) -> None:
    form = form_of(client.get(f"/larder/{OWN}/edit").text)
    form |= {"per_100g": "water 12.1\nfat: 2.10 g\nprotein 9", "measures": "ml 0.45",
             "may_contain": ["milk"], "also": "our crisp"}  # fmt: skip

    client.post(f"/larder/{OWN}/edit", data=form)

    text = paper(kitchen).text
    assert "  per_100g: {water: 12.1, fat: 2.10, protein: 9}\n" in text
    assert "  contains: [rye]\n" in text
    assert "  may_contain: [milk]\n" in text
    assert text.startswith(TEXT.splitlines()[0])
    shown = words(client.get("/larder", params={"find": "our crisp"}).text)
    assert "rye crisp, from our miller your own" in shown


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ({"per_100g": "fat lots"}, "is no name with a figure"),
        ({"per_100g": "ash 3"}, "'ash' is no part of a composition"),
        ({"per_100g": "fat 60\nprotein 60"}, "comes to 120 g per 100 g"),
        ({"like": "xyzzy"}, "The larder has no 'xyzzy'"),
        ({"edible_share": "2"}, "edible_share"),
        ({"name": ""}, "name"),
    ],
)
def test_a_change_that_cannot_stand_is_refused(
    client: TestClient, kitchen: Kitchen, more: dict[str, object], said: str
) -> None:
    form = form_of(client.get(f"/larder/{OWN}/edit").text) | more

    answer = client.post(f"/larder/{OWN}/edit", data=form)

    assert answer.status_code == 422
    assert said in words(answer.text)
    assert paper(kitchen).text == TEXT


def test_one_can_not_take_the_name_of_another(client: TestClient) -> None:
    client.post("/larder/own/add", data=sent(act="keep"))
    form = form_of(client.get("/larder/brown-crumb/edit").text)
    form |= {"name": "rye crisp, from our miller"}

    answer = client.post("/larder/brown-crumb/edit", data=form)

    assert answer.status_code == 422
    assert "Another of your own is called" in words(answer.text)


def test_one_is_taken_out_and_its_history_kept(
    client: TestClient, kitchen: Kitchen
) -> None:
    answer = client.post(f"/larder/{OWN}/remove", data={"base": 1})

    assert "is taken out" in words(answer.text)
    assert paper(kitchen).text == TEXT.splitlines(keepends=True)[0]
    assert client.get(f"/larder/{OWN}").status_code == 404
    assert "rye crisp" in client.get("/kitchen/papers/larder.yaml/1").text


@pytest.mark.parametrize("id", ["butter-unsalted", "nothing", "a%2Fb"])
@pytest.mark.parametrize("act", ["edit", "remove"])
def test_only_own_ones_can_be_changed(client: TestClient, kitchen: Kitchen, id: str,
                                      act: str) -> None:  # fmt: skip
    answer = client.post(f"/larder/{id}/{act}", data={"base": 1, "name": "x"})

    assert answer.status_code == 404
    assert paper(kitchen).text == TEXT


def test_the_second_to_change_it_is_told(client: TestClient, kitchen: Kitchen) -> None:
    with writing(kitchen.engine) as connection:
        later = TEXT + "- {name: dust, like: plain flour}\n"
        papers.save(connection, kitchen.id, "larder.yaml", later, Who("Dov", NOW),
                    based_on=1)  # fmt: skip
    form = form_of(client.get(f"/larder/{OWN}/edit").text)

    answer = client.post(
        f"/larder/{OWN}/edit", data=form | {"base": 1, "source": "sheet of 2026"}
    )

    assert answer.status_code == 409
    assert "Dov saved revision 2" in answer.text
    assert "sheet of 2026" in answer.text
    assert 'id="both"' in answer.text
    assert paper(kitchen).text == later


def test_another_kitchen_has_none_of_it(client: TestClient, app: FastAPI,
                                        kitchen: Kitchen) -> None:  # fmt: skip
    app.state.house = replace(app.state.house, kitchen_id=kitchen.other_id)

    assert client.get(f"/larder/{OWN}").status_code == 404
    assert "None yet" in client.get("/larder").text
