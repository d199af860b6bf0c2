"""Allergens in the app: the counter, a slab, and what a pack answers."""

import csv
import io
from html import unescape

import jsonschema
import pytest
from PIL import Image
from starlette.testclient import TestClient

from slabwright.publish.schemas import output_schemas
from slabwright.store import papers, photos
from slabwright.store.engine import reading
from tests.web.conftest import Kitchen

OATS = {
    "about": "porridge oats",
    "larder_id": "",
    "contains": ["gluten:oats"],
    "read": "sack, lot 12",
    "who": "Sunniva",
    "on": "2026-11-26",
    "whole": "1",
}


@pytest.fixture
def slab(kitchen: Kitchen) -> int:
    return kitchen.card_id("Harbour Lamp")


def larder(kitchen: Kitchen) -> tuple[str, int]:
    with reading(kitchen.engine) as connection:
        found = papers.latest(connection, kitchen.id, "larder.yaml")
    return (found.text, found.number) if found else ("", 0)


def page_of(client: TestClient, slab: int) -> str:
    return unescape(client.get(f"/slabs/{slab}/allergens").text)


def oats(client: TestClient, slab: int, **changes: object) -> dict[str, object]:
    """The form of the question on oats, as the page has it."""
    page = page_of(client, slab)
    part = page.split("porridge oats</h3>", 1)[1]
    id = part.split('name="larder_id" value="', 1)[1].split('"', 1)[0]
    base = part.split('name="base" value="', 1)[1].split('"', 1)[0]
    return OATS | {"larder_id": id, "base": base} | changes


def send(
    client: TestClient, slab: int, form: dict[str, object], photo: bytes = b""
) -> tuple[int, str]:
    files = {"photo": ("sack.jpg" if photo else "", photo, "image/jpeg")}
    answer = client.post(f"/slabs/{slab}/allergens", data=form, files=files)
    return answer.status_code, unescape(answer.text)


def picture() -> bytes:
    out = io.BytesIO()
    Image.linear_gradient("L").resize((320, 200)).convert("RGB").save(out, "JPEG")
    return out.getvalue()


def test_the_counter_is_dated_and_every_slab_leads_to_its_ways(
    client: TestClient, slab: int
) -> None:
    page = unescape(client.get("/allergens").text)
    assert "26 November 2026" in page
    assert "Held: 2" in page
    assert f'href="/slabs/{slab}/allergens"' in page
    row = page.split("Harbour Lamp</a></th>", 1)[1].split("</tr>", 1)[0]
    cells = row.split("<td")[1:]
    assert len(cells) == 14
    assert "contains wheat, rye, barley, oats" in cells[0]
    assert "not known to be in it" in cells[1]  # crustaceans
    assert "own kitchen works with egg" in cells[2]
    for never in ("free from", "safe", "does not contain"):
        assert never not in page.casefold()


def test_the_spreadsheet_says_the_same(client: TestClient) -> None:
    answer = client.get("/allergens.csv")
    assert answer.headers["content-type"].startswith("text/csv")
    assert "allergens-2026-11-26.csv" in answer.headers["content-disposition"]
    rows = list(csv.DictReader(io.StringIO(answer.text)))
    lamp = next(row for row in rows if row["slab"] == "Harbour Lamp")
    assert lamp["held"] == "held"
    assert lamp["milk"].startswith("contains milk")


def test_an_answer_is_kept_with_name_day_and_picture_and_lets_go(
    client: TestClient, kitchen: Kitchen, slab: int
) -> None:
    before = page_of(client, slab)
    assert "2 questions open" in before
    status, page = send(client, slab, oats(client, slab), picture())
    assert status == 200
    assert "The answer on porridge oats is kept" in page
    assert "1 question open" in page
    text, _ = larder(kitchen)
    with reading(kitchen.engine) as connection:
        (row,) = photos.listed(connection, kitchen.id, slab)
    assert row.caption == "Pack of porridge oats"
    assert row.author == "Sunniva"
    said = f"sack, lot 12, read by Sunniva, 26 November 2026, photograph {row.file}"
    assert said in " ".join(text.split())
    assert "Pack of porridge oats" in client.get(f"/slabs/{slab}/photos").text


def test_an_answer_without_a_picture_is_kept_too(
    client: TestClient, kitchen: Kitchen, slab: int
) -> None:
    form = oats(client, slab, contains=["gluten:oats", "gluten:wheat"])
    assert send(client, slab, form)[0] == 200
    assert "photograph" not in larder(kitchen)[0]
    assert "porridge oats</h3>" not in page_of(client, slab)


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"whole": ""}, "whole pack was read"),
        ({"who": " "}, "Nobody is named"),
        ({"on": "yesterday"}, "is no day"),
        ({"contains": ["milk"], "may_contain": ["milk"]}, "ticked twice"),
        ({"contains": ["arsenic"]}, "none of the 14"),
        ({"larder_id": "moon-dust"}, "does not know"),
    ],
)
def test_what_is_no_answer_keeps_nothing_and_loses_nothing(
    client: TestClient,
    kitchen: Kitchen,
    slab: int,
    changes: dict[str, object],
    says: str,
) -> None:
    before = larder(kitchen)
    status, page = send(client, slab, oats(client, slab, **changes), picture())
    assert status == 422
    assert says in page
    assert "Nothing was kept" in page
    assert "sack, lot 12" in page
    assert larder(kitchen) == before
    with reading(kitchen.engine) as connection:
        assert photos.listed(connection, kitchen.id, slab) == ()


def test_a_picture_that_is_none_keeps_nothing(
    client: TestClient, kitchen: Kitchen, slab: int
) -> None:
    before = larder(kitchen)
    status, page = send(client, slab, oats(client, slab), b"<svg/>")
    assert status == 422
    assert "no photograph" in page or "JPEG, PNG or WebP" in page
    assert larder(kitchen) == before


def test_two_answers_at_once_are_both_shown(client: TestClient, slab: int) -> None:
    first = oats(client, slab)
    page = page_of(client, slab)
    part = page.split("dark chocolate 60%</h3>", 1)[1]
    id = part.split('name="larder_id" value="', 1)[1].split('"', 1)[0]
    other = first | {
        "about": "dark chocolate 60%", "larder_id": id, "contains": ["soya"],
    }  # fmt: skip
    assert send(client, slab, first)[0] == 200
    status, page = send(client, slab, other)
    assert status == 409
    assert "porridge oats" in page
    assert "dark chocolate 60%" in page


def test_the_kitchen_next_door_sees_nothing_of_it(
    client: TestClient, kitchen: Kitchen, slab: int
) -> None:
    assert client.get("/slabs/9999/allergens").status_code == 404
    assert client.post("/slabs/9999/allergens", data=OATS).status_code in {404, 422}


def test_the_api_says_the_same(client: TestClient, slab: int) -> None:
    every = client.get("/api/allergens").json()
    one = client.get(f"/api/slabs/{slab}/allergens").json()
    for said in (every, one):
        jsonschema.validate(said, output_schemas()["allergens"])
    lamp = next(row for row in every["slabs"] if row["slab"] == "Harbour Lamp")
    assert one["slabs"] == [lamp]
    assert len(lamp["questions"]) == 2
    assert client.get("/api/slabs/9999/allergens").status_code == 404
