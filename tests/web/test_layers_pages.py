"""What each layer will be, in the app: the page of a slab, the desk's line, the API."""

import json
import re
from collections.abc import Callable
from html import unescape
from typing import Any

import jsonschema
import pytest
from starlette.testclient import TestClient

from slabwright.publish.schemas import output_schemas
from slabwright.store import cards, revisions
from slabwright.store.engine import writing
from slabwright.store.who import Who
from tests.browser import Watched, axe
from tests.natures import BITES, no_sides, sides
from tests.web.conftest import NOW, Kitchen, Served

__all__ = ["no_sides", "sides"]
MADE_UP = pytest.mark.usefixtures("sides")
APART = (
    "slab Apart\ntin 20 x 20 x 5 cm\nlayer <i>Top</i> from Curd, 100 g\n"
    "component Curd\n  300 g butter\n  100 g caster sugar\n"
)


@pytest.fixture
def lamp(kitchen: Kitchen) -> int:
    return kitchen.card_id("Harbour Lamp")


@pytest.fixture
def apart(kitchen: Kitchen) -> int:
    who = Who("Ann", NOW)
    with writing(kitchen.engine) as connection:
        return cards.add(connection, kitchen.id, "slab", "Apart", APART, who).id


def page(client: TestClient, slab: int, more: str = "", status: int = 200) -> str:
    answer = client.get(f"/slabs/{slab}/layers{more}")
    assert answer.status_code == status
    return answer.text


def test_two_layers_that_touch_have_one_heading(
    client: TestClient, kitchen: Kitchen
) -> None:
    # water and fat both have something to say of these two
    text = page(client, kitchen.card_id("Lantern Walk"))
    heads = re.findall(r"Where it lies on ([^<]+)<", text)

    assert "as solid in its fat as" in text
    assert len(heads) == 2
    assert len(set(heads)) == 2


def opened(text: str) -> list[dict[str, Any]]:
    return [json.loads(unescape(one)) for one in re.findall(r'data-figure="([^"]*)"',
            text)]  # fmt: skip


@MADE_UP
def test_layers_stand_on_the_page_as_they_lie(client: TestClient, lamp: int) -> None:
    text = page(client, lamp)
    heads = re.findall(r'<h2 id="layer-\d-h">([^<]+)<', text)

    assert heads == ["Coffee dark ganache", "Malt caramel", "Rye and oat shortbread"]
    assert "Where it lies on Malt caramel" in text
    assert text.count('class="side touch"') == 2
    assert f'href="/slabs/{lamp}/layers" aria-current="page"' in text


@MADE_UP
def test_figures_and_words_open(client: TestClient, lamp: int) -> None:
    forms = {one["name"]: one for one in opened(page(client, lamp))}

    water = forms["water activity, Malt caramel"]
    assert water["sum"].startswith("0.4 + ")
    assert water["holds"] == "0.2 to 0.95"
    assert water["likely"]
    assert forms["bite, Malt caramel"]["value"] == "chewy"
    assert forms["bite, Malt caramel"]["words"] == ", ".join(BITES)
    assert forms["what nobody knows, Malt caramel"]["known"] is False
    pinch = next(one for name, one in forms.items() if name.startswith("a pinch"))
    assert pinch["value"] == "0.0021"  # and not 0


@MADE_UP
def test_a_class_stands_on_its_scale(client: TestClient, lamp: int) -> None:
    text = page(client, lamp)
    scales = re.findall(r'<ol class="bands"[^>]*>(.*?)</ol>', text)
    words = [re.findall(r"<li[^>]*>([^<]+)</li>", one) for one in scales]

    assert words.count(list(BITES)) == 3
    for one in scales:
        assert one.count('aria-current="true"') == 1
    assert 'class="here-b" aria-current="true">chewy<' in text


@MADE_UP
def test_what_others_wrote_never_becomes_markup(
    client: TestClient, lamp: int, apart: int
) -> None:
    for slab in (lamp, apart):
        text = page(client, slab)
        assert "<b>Ω" not in text
        assert "<i>Top" not in text
        assert "&lt;b&gt;Ω" in text


@MADE_UP
def test_charts_are_drawn_alone_or_together(client: TestClient, lamp: int) -> None:
    text = page(client, lamp)
    ids = re.findall(r'<svg[^>]* id="([^"]+)"', text)

    assert len(ids) == len(set(ids))
    assert len([one for one in ids if re.fullmatch(r"layer-\d-\d", one)]) == 3
    assert [one for one in ids if one.startswith("strips")] == ["strips-0"]
    assert "Layer over layer" in text
    assert "Water goes as the pan gets hotter." in text
    assert ">fridge<" in text
    assert not re.search(r"<svg[^>]*>[^§]*?\sstyle=", text)


@MADE_UP
def test_a_component_has_its_place_too(client: TestClient, apart: int) -> None:
    text = page(client, apart)

    assert "A component, in no slab by itself" in text
    assert 'id="layer-1-h">Curd<' in text
    assert 'class="touch"' not in text


@MADE_UP
def test_one_layer_and_another_revision(
    kitchen: Kitchen, client: TestClient, lamp: int
) -> None:
    with writing(kitchen.engine) as connection:
        row = revisions.one(connection, kitchen.id, lamp, 1)
        assert row
        more = row.text.replace("layer Malt caramel", "layer Malt caramel\n  9 g water")
        revisions.save(connection, kitchen.id, lamp, more, Who("Ann", NOW), based_on=1)
    text = page(client, lamp, "?layer=caramel&beside=v1")

    assert re.findall(r'<h2 id="layer-\d-h">([^<]+)<', text) == ["Malt caramel"]
    assert "beside it Malt caramel of v1" in text
    assert text.count('class="there"') >= 3
    assert '<option value="v1" selected>v1' in text
    page(client, lamp, "?layer=treacle", status=422)
    page(client, lamp, "?beside=v77", status=404)
    page(client, lamp, "?beside=s77", status=404)
    page(client, lamp, "?beside=77", status=422)
    page(client, lamp, "?v=77", status=404)
    assert client.get("/slabs/99999/layers").status_code == 404


@MADE_UP
def test_what_to_watch_has_the_numbers_of_the_drawing(
    client: TestClient, lamp: int
) -> None:
    text = page(client, lamp)
    listed = re.findall(r'class="sev-n look">(\d+)</text>', text)

    assert len(listed) == 1  # alike in all three layers
    assert "Layers 1 to 3 from the bottom: It is wet." in text
    for number in listed:
        assert len(re.findall(rf'class="mark"[^>]*>{number}<', text)) == 3


@MADE_UP
def test_the_desk_says_a_line_of_each_layer_and_follows(
    client: TestClient, lamp: int, kitchen: Kitchen
) -> None:
    text = client.get(f"/slabs/{lamp}").text
    before = re.findall(r'class="will">([^<]+)<', text)
    assert len(before) == 3
    assert before[1].startswith("water activity 0.")
    with writing(kitchen.engine) as connection:
        row = revisions.one(connection, kitchen.id, lamp, 1)
        assert row
    name = "layer Coffee dark ganache"
    wetter = row.text.replace(name, f"{name}\n  60 g water")
    answer = client.post(
        f"/slabs/{lamp}/follow", data={"card": wetter, "base": "1"},
        headers={"Origin": "http://127.0.0.1:8750"},
    )  # fmt: skip
    after = re.findall(r'class="will">([^<]+)<', answer.text)

    assert len(after) == 3
    assert after[0] != before[0]
    assert after[1:] == before[1:]


@MADE_UP
def test_the_api_says_what_the_page_says(client: TestClient, lamp: int) -> None:
    answer = client.get(f"/api/slabs/{lamp}/layers").json()
    spec = client.get(f"/api/slabs/{lamp}/layers?layer=caramel").json()

    jsonschema.validate(answer, output_schemas()["layers"])
    assert [one["name"] for one in answer["layers"]][1] == "Malt caramel"
    assert [one["name"] for one in spec["layers"]] == ["Malt caramel"]
    assert client.get(f"/api/slabs/{lamp}/layers?layer=zzz").status_code == 422


@pytest.mark.usefixtures("no_sides")
def test_without_any_side_the_page_says_so(client: TestClient, lamp: int) -> None:
    text = page(client, lamp)

    assert text.count("Nothing is known of what it will be like.") == 3
    assert "Nothing to watch" in text
    assert "Layer over layer" not in text


@MADE_UP
@pytest.mark.parametrize("width", [360, 820, 1400])
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_nobody_is_shut_out(
    served: Served, pages: Callable[..., Watched], width: int, scheme: str
) -> None:
    shown = pages(width=width, scheme=scheme).page
    shown.goto(f"/slabs/{served.kitchen.card_id('Harbour Lamp')}/layers")

    assert shown.evaluate("document.documentElement.scrollWidth") <= width
    assert axe(shown) == []
    shown.locator(".word-b").first.click()
    assert shown.locator("#opened-value").inner_text() == "chewy"
    assert "brittle, chewy" in shown.locator("#opened-facts").inner_text()
    assert axe(shown) == []


@MADE_UP
def test_a_component_card_has_the_page_too(
    kitchen: Kitchen, client: TestClient
) -> None:
    text = "component Salted caramel\n  200 g caster sugar\n  100 g butter\n"
    with writing(kitchen.engine) as connection:
        row = cards.add(
            connection, kitchen.id, "component", "Salted caramel", text,
            Who("Ann", NOW),
        )  # fmt: skip
    seen = page(client, row.id)
    answer = client.get(f"/api/slabs/{row.id}/layers").json()

    assert 'id="layer-0-h">Salted caramel<' in seen
    assert "A component, in no slab by itself" in seen
    assert answer["layers"] == []
    assert [one["name"] for one in answer["components"]] == ["Salted caramel"]


def test_another_slab_is_held_against_it(
    kitchen: Kitchen, client: TestClient, lamp: int
) -> None:
    walk = kitchen.card_id("Lantern Walk")
    text = unescape(page(client, lamp, f"?beside=s{walk}"))
    answer = client.get(f"/api/slabs/{lamp}/layers?beside=s{walk}").json()

    assert "How it tastes beside Lantern Walk" in text
    assert f'<option value="s{walk}" selected>Lantern Walk' in text
    jsonschema.validate(answer, output_schemas()["layers"])
    assert answer["beside"]["slab"] == "Lantern Walk"
    assert "Lantern Walk" in answer["tastes_beside"][0]
    for line in answer["tastes_beside"]:
        assert line in text
    with writing(kitchen.engine) as connection:
        theirs = cards.add(
            connection, kitchen.other_id, "slab", "Theirs", APART, Who("Bob", NOW)
        )
    page(client, lamp, f"?beside=s{theirs.id}", status=404)
    assert "Theirs" not in page(client, lamp)
