"""Prices in the app: as the terminal works them out, asked where not decided."""

import json
import re
from html import unescape
from typing import Any

import pytest
from starlette.testclient import TestClient

from slabwright.store import cards
from slabwright.store.engine import writing
from slabwright.store.who import Who
from tests.cli.run import run
from tests.web.conftest import DEMO, NOW, Kitchen

TIDES = str(DEMO / "slabs" / "two-tides.card")
ON = ("--on", "2026-11-26")


@pytest.fixture
def slab(kitchen: Kitchen) -> int:
    return kitchen.card_id("Two Tides")


def figures(page: str) -> dict[str, dict[str, Any]]:
    found = [
        json.loads(unescape(f)) for f in re.findall(r'data-figure="([^"]*)"', page)
    ]
    return {one["name"]: one for one in found}


def shown(client: TestClient, address: str, **ask: str) -> tuple[int, str]:
    answer = client.get(address, params=ask)
    return answer.status_code, answer.text


def words(page: str) -> str:
    return " ".join(unescape(re.sub("<[^>]+>", " ", page)).split())


def test_the_page_says_what_the_terminal_says(client: TestClient, slab: int) -> None:
    ask = {"tax": "0 %", "line": "margin 60 %"}
    status, page = shown(client, f"/slabs/{slab}/price", **ask)
    ran = run("price", TIDES, *ON, "--tax", "0 %", "--line", "margin 60 %", "--json")
    now = json.loads(ran.out)["slabs"][0]["offers"][0]["now"]
    assert status == 200
    found = figures(page)
    name = "a piece, loose on the counter"
    for key, figure in (
        (f"cost of {name}", now["cost"]), (f"left of {name}", now["left"]),
        (f"margin of {name}", now["margin"]),
        (f"price of {name} that keeps the line", now["line"]["price"]),
        (f"left of an hour of hands, {name}", now["left_an_hour_of_hands"]),
    ):  # fmt: skip
        assert found[key]["sum"] == figure["sum"]
    for mend in now["line"]["mends"]:
        assert mend["says"] in words(page)
    assert "<svg" in page
    assert "at least" in words(page)


def test_tax_is_asked_and_the_reading_is_shown(client: TestClient, slab: int) -> None:
    # The demonstration shop decided about tax on 5 January 2026.
    _, page = shown(client, f"/slabs/{slab}/price", on="2026-01-04")
    said = words(page)
    assert "Asked. Tax is not decided" in said
    assert "To read before you decide, and never applied" in said
    assert "from memory" in said
    left = figures(page)["left of a piece, loose on the counter"]
    assert left["known"] is False


def test_what_it_bears_is_written_on_the_card(client: TestClient, slab: int) -> None:
    form = {"word": "costs", "value": "3.6 kWh"}
    answer = client.post(f"/slabs/{slab}/price", data=form)
    assert answer.status_code == 200
    assert "costs 3.6 kWh" in unescape(answer.text)
    assert "stands" in client.get(f"/slabs/{slab}/price").text


@pytest.mark.parametrize(
    ("word", "value", "said"),
    [("costs", "a lot", "no minutes, kWh or money"), ("costs", "", "nothing to write"),
     ("tin", "20 cm square", "no word that a label leans on, or a price")],
)  # fmt: skip
def test_what_says_nothing_is_not_written(
    client: TestClient, slab: int, word: str, value: str, said: str
) -> None:
    before = client.get(f"/slabs/{slab}").text
    answer = client.post(f"/slabs/{slab}/price", data={"word": word, "value": value})
    assert answer.status_code == 422
    assert said in unescape(answer.text)
    assert client.get(f"/slabs/{slab}").text == before


@pytest.mark.parametrize(
    ("ask", "said"),
    [({"price": "0"}, "no price"), ({"line": "x"}, "no margin"),
     ({"tax": "300"}, "no rate"), ({"trays": "-1"}, "no number of trays"),
     ({"trays": "99999"}, "99,999 trays"), ({"on": "soon"}, "no day"),
     ({"eaten": "up"}, "neither here"), ({"way": "x"}, "five ways")],
)  # fmt: skip
def test_what_cannot_be_is_told_in_words(
    client: TestClient, slab: int, ask: dict[str, str], said: str
) -> None:
    status, page = shown(client, f"/slabs/{slab}/price", **ask)
    assert status == 422
    assert said in words(page)


def test_the_counter_names_what_falls(client: TestClient) -> None:
    ask = {"tax": "0 %", "line": "margin 55 %", "what_if": "butter +20 %"}
    status, page = shown(client, "/price", **ask)
    said = words(page)
    assert status == 200
    assert "falls under it" in said
    assert "butter +20 % hits" in said
    assert 'href="/price"' in client.get("/buying").text
    assert shown(client, "/price", what_if="saffron +1 %")[0] == 422
    assert shown(client, "/price", on="soon")[0] == 422
    assert shown(client, "/price")[0] == 200


@pytest.mark.parametrize("text", [
    "slab Odd\n", "slab Odd\ntin 9 x\nlayer A\n  20 g nothing known\n  4 gq x\n",
    "slab Odd\ncut 5 x 4\nsold loose, 0.00\ncosts x\nlayer A\n  1 g sugar\n",
])  # fmt: skip
def test_an_odd_slab_has_its_page(
    client: TestClient, kitchen: Kitchen, text: str
) -> None:
    with writing(kitchen.engine) as connection:
        row = cards.add(connection, kitchen.id, "slab", "Odd", text, Who("", NOW))
    status, page = shown(client, f"/slabs/{row.id}/price", tax="20")
    assert status == 200
    assert "Not told, and in no sum" in words(page)
    assert client.get("/price").status_code == 200


def test_the_api_says_what_the_command_says(client: TestClient, slab: int) -> None:
    ask = {"line": "margin 60 %", "trays": "2"}
    found = client.get(f"/api/slabs/{slab}/price", params=ask).json()
    ran = run("price", TIDES, *ON, "--line", "margin 60 %", "--trays", "2", "--json")
    assert found == json.loads(ran.out)
    both = client.get("/api/price", params={"what_if": "butter +20 %"}).json()
    assert len(both["slabs"]) == 3
    wrong = client.get("/api/price", params={"line": "lots"})
    assert wrong.status_code == 422
    assert "no margin" in wrong.text
