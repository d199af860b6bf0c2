"""Prints that were kept: told when a word of them no longer holds."""

from html import unescape

import pytest
from starlette.testclient import TestClient

from slabwright.store import kept_files
from slabwright.store.engine import reading, writing
from tests.web.conftest import NOW, Kitchen
from tests.web.test_label_pages import keep, write

TICKET = {"way": "loose on the counter", "kind": "ticket"}


@pytest.fixture
def slab(kitchen: Kitchen, client: TestClient) -> int:
    """A slab that has all that its ticket says."""
    number = kitchen.card_id("Two Tides")
    write(client, number, "called", "lemon and blackcurrant slice")
    keep(client, number)
    return number


def records(kitchen: Kitchen) -> list[str]:
    with reading(kitchen.engine) as connection:
        files = kept_files.listed(connection, kitchen.id)
    return [one.path for one in files if one.path.startswith("printed/")]


def page_of(client: TestClient, slab: int) -> str:
    page = " ".join(unescape(client.get(f"/slabs/{slab}/label").text).split())
    return page.split('id="printed"', 1)[-1] if 'id="printed"' in page else ""


def keep_print(client: TestClient, slab: int, **ask: str) -> int:
    form = TICKET | ask
    return client.post(f"/slabs/{slab}/label/printed", data=form).status_code


def change(client: TestClient, slab: int, base: int, before: str, after: str) -> None:
    text = client.get(f"/api/slabs/{slab}").json()["text"]
    assert before in text
    form = {"card": text.replace(before, after), "base": str(base)}
    assert client.post(f"/slabs/{slab}/keep", data=form).status_code == 200


def test_a_print_holds_until_one_of_its_words_changes(
    client: TestClient, kitchen: Kitchen, slab: int
) -> None:
    assert page_of(client, slab) == ""
    assert keep_print(client, slab) == 200
    assert records(kitchen) == ["printed/two-tides/2026-11-26-001.json"]
    assert "every word holds" in page_of(client, slab)
    assert "from card v2, larder " in page_of(client, slab)
    change(client, slab, 2, "3.50", "3.80")
    page = page_of(client, slab)
    assert "no longer holds" in page
    assert "printed “£3.50”, now “£3.80”" in page
    change(client, slab, 3, "3.80", "3.50")
    assert "every word holds" in page_of(client, slab)


def test_a_new_allergen_is_told(client: TestClient, slab: int) -> None:
    assert keep_print(client, slab) == 200
    change(client, slab, 2, "4 g     lemon zest", "4 g     roasted hazelnuts")
    page = page_of(client, slab)
    assert "no longer holds" in page
    assert "hazelnuts" in page


def test_a_new_question_makes_it_wait(client: TestClient, slab: int) -> None:
    assert keep_print(client, slab) == 200
    change(client, slab, 2, "4 g     lemon zest", "4 g     moon dust")
    assert "A question is open: moon dust." in page_of(client, slab)


def test_a_draft_is_not_kept(client: TestClient, kitchen: Kitchen) -> None:
    number = kitchen.card_id("Harbour Lamp")
    answer = client.post(f"/slabs/{number}/label/printed", data=TICKET)
    assert answer.status_code == 422
    assert "a draft, and no label" in unescape(answer.text)
    assert records(kitchen) == []


def test_what_is_used_up_is_let_go(
    client: TestClient, kitchen: Kitchen, slab: int
) -> None:
    keep_print(client, slab)
    keep_print(client, slab, kind="allergen card")
    first, second = records(kitchen)
    gone = client.post(f"/slabs/{slab}/label/used-up", data={"path": first})
    assert gone.status_code == 200
    assert records(kitchen) == [second]
    for other in (first, "kitchen.yaml", "../x", f"printed/harbour-lamp/{second}"):
        answer = client.post(f"/slabs/{slab}/label/used-up", data={"path": other})
        assert answer.status_code == 404
    assert records(kitchen) == [second]


def test_a_record_that_can_not_be_read_is_named(
    client: TestClient, kitchen: Kitchen, slab: int
) -> None:
    path = "printed/two-tides/by-hand.json"
    with writing(kitchen.engine) as connection:
        kept_files.keep(connection, kitchen.id, path, b"\xff{", NOW)
    page = page_of(client, slab)
    assert path in page
    assert "no longer holds" in page


def test_a_way_that_is_no_more_is_told(client: TestClient, slab: int) -> None:
    assert keep_print(client, slab) == 200
    change(client, slab, 2, "sold loose on the counter, 3.50\n", "")
    page = page_of(client, slab)
    assert "no longer holds" in page
    assert "printed “£3.50”" in page
