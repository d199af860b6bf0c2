"""Nutrition in the app: the page of a slab, and its API."""

import json
import re
from collections.abc import Callable
from datetime import UTC, datetime
from html import unescape
from typing import Any

import jsonschema
import pytest
from starlette.testclient import TestClient

from slabwright.publish.schemas import output_schemas
from slabwright.store import cards
from slabwright.store.engine import writing
from slabwright.store.who import Who
from tests.browser import Watched, axe
from tests.web.conftest import Kitchen, Served

NOW = datetime(2026, 11, 26, 10, 12, tzinfo=UTC)
MOSS = "slab Moss\ntin 20 x 20 x 5 cm\nlayer A\n  300 g butter\n  100 g flurbian moss\n"


@pytest.fixture
def tides(kitchen: Kitchen) -> int:
    return kitchen.card_id("Two Tides")


@pytest.fixture
def moss(kitchen: Kitchen) -> int:
    with writing(kitchen.engine) as connection:
        row = cards.add(connection, kitchen.id, "slab", "Moss", MOSS, Who("Ann", NOW))
    return row.id


def page(client: TestClient, slab: int, more: str = "", status: int = 200) -> str:
    answer = client.get(f"/slabs/{slab}/nutrition{more}")
    assert answer.status_code == status
    return unescape(answer.text)


def opened(text: str) -> list[dict[str, Any]]:
    return [json.loads(unescape(one)) for one in re.findall(r'data-figure="([^"]*)"',
            text)]  # fmt: skip


def test_the_page_says_what_the_command_says(client: TestClient, tides: int) -> None:
    text = page(client, tides)

    for said in ("1362 kJ", "325 kcal", "16 g", "9.5 g", "0.24 g", "1167 kJ", "41%"):
        assert f">{said}<" in text
    assert "A piece weighs 86 g" in text
    assert "from memory" in text
    assert f'href="/slabs/{tides}/nutrition" aria-current="page"' in text
    assert (
        f'href="/slabs/{tides}/nutrition"' in client.get(f"/slabs/{tides}/label").text
    )


def test_each_declared_value_opens_its_sum(client: TestClient, tides: int) -> None:
    raw = client.get(f"/slabs/{tides}/nutrition").text
    forms = opened(raw)

    (fat,) = (one for one in forms if one["name"] == "fat in 100 g")
    assert fat["value"] == "16.01"
    assert "unsalted butter" in fat["sum"]
    assert len(forms) == 9 * 2 + 8  # fibre has no reference intake
    (salt,) = (one for one in forms if one["name"] == "salt in a piece")
    assert salt["value"].startswith("0.2")


def test_what_is_not_known_is_shown_as_such(client: TestClient, moss: int) -> None:
    text = page(client, moss)

    assert "Held: by the law of the United Kingdom" in text
    assert "flurbian moss" in text
    assert ">not known<" in text
    assert all(one["sum"] for one in opened(client.get(
        f"/slabs/{moss}/nutrition").text))  # fmt: skip


def test_another_nation_is_asked_for(client: TestClient, tides: int) -> None:
    assert "Low, medium, high" in page(client, tides)
    assert "Low, medium, high" not in page(client, tides, "?nation=EU")
    wrong = page(client, tides, "?nation=Atlantis", status=422)
    assert "no nation that there is a table for" in wrong
    assert client.get("/slabs/99999/nutrition").status_code == 404


def test_the_api_keeps_to_the_schema(client: TestClient, tides: int) -> None:
    answer = client.get(f"/api/slabs/{tides}/nutrition")

    assert answer.status_code == 200
    jsonschema.validate(answer.json(), output_schemas()["nutrition"])
    wrong = client.get(f"/api/slabs/{tides}/nutrition?nation=Atlantis")
    assert wrong.status_code in {400, 422}


@pytest.mark.parametrize("width", [360, 1280])
def test_nobody_is_shut_out_of_it(
    served: Served, pages: Callable[..., Watched], width: int
) -> None:
    seen = pages(width=width)
    for number in (served.kitchen.card_id("Two Tides"),):
        seen.page.goto(f"/slabs/{number}/nutrition")
        seen.page.evaluate(
            "document.querySelectorAll('details').forEach((d) => { d.open = true; })"
        )
        wide = seen.page.evaluate("document.documentElement.scrollWidth")
        assert wide <= width
        assert axe(seen.page) == []
        seen.page.locator(".panel-law .fig").first.click()
        assert "carbohydrate" in seen.page.locator("#opened-sum").inner_text()
