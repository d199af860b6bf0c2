"""Long work from a page: begun, watched, stopped, kept, and never done twice."""

import time

import pytest
from bs4 import BeautifulSoup, Tag
from fastapi import FastAPI
from starlette.testclient import TestClient

from slabwright.desk.kept import StoreKept
from slabwright.desk.work import Worker
from slabwright.web import work_pages
from slabwright.web.app import Settings, create_app
from tests.cli.run import run
from tests.web.conftest import DEMO, HOST, NOW, Kitchen

LONGEST_S = 40.0
CARD = str(DEMO / "slabs" / "two-tides.card")


@pytest.fixture
def slab(kitchen: Kitchen) -> int:
    return kitchen.card_id("Two Tides")


def begun(client: TestClient, slab: int, **fields: str) -> str:
    """The key of work that a press of the button begins."""
    answer = client.post(
        f"/slabs/{slab}/work", data=fields, follow_redirects=False
    )  # fmt: skip
    assert answer.status_code == 303, answer.text
    there = answer.headers["location"]
    assert there.startswith(f"/slabs/{slab}/scale?")
    assert there.endswith("#tried")
    return there.split("work=")[1].split("#")[0].split("&")[0]


def part(client: TestClient, key: str) -> Tag:
    answer = client.get(f"/long-work/{key}")
    assert answer.status_code == 200, answer.text
    found = BeautifulSoup(answer.text, "html.parser").select_one(f"#work-{key}")
    assert found is not None
    return found


def over(client: TestClient, key: str) -> Tag:
    end = time.monotonic() + LONGEST_S
    while time.monotonic() < end:
        now = part(client, key)
        if now["data-over"]:
            return now
        time.sleep(0.05)
    raise AssertionError(f"It never came to an end: {part(client, key)}")


def words(tag: Tag) -> str:
    return " ".join(tag.get_text(" ").split())


def test_two_thousand_slabs_are_cut_and_shown(client: TestClient, slab: int) -> None:
    key = begun(client, slab)
    done = over(client, key)
    said = words(done)
    assert "2,000 slabs cut on paper, 40,000 pieces" in said
    assert "85.7 g on average" in said
    tried = run("cut", CARD, "--try").out  # other slabs than these, as many pieces
    assert "99 of 100 reach 7" in tried
    assert "99 of 100 weigh at least 7" in said
    histogram = done.select_one("figure svg")
    assert histogram is not None
    assert histogram["role"] == "img"
    described = words(histogram.select_one("desc") or done)
    assert described.startswith("40,000 pieces from ")
    assert len(histogram.select("path.bar")) > 10
    assert not done.select("form"), "nothing is left to stop"


def test_the_second_time_it_is_there_at_once(
    client: TestClient, kitchen: Kitchen, slab: int
) -> None:
    key = begun(client, slab, low="60", high="75")
    over(client, key)
    assert begun(client, slab, low="60", high="75") == key
    assert part(client, key)["data-over"] == "1"
    assert begun(client, slab, level="2 mm") != key
    worker = Worker(1, StoreKept(kitchen.engine, kitchen.id))
    later = create_app(
        kitchen.engine, Settings(kitchen.id, (HOST,)), worker, lambda: NOW
    )
    try:
        anew = TestClient(later, base_url=f"http://{HOST}")
        assert "2,000 slabs" in words(part(anew, key)), "kept beyond the process"
        page = anew.get(f"/slabs/{slab}/scale", params={"work": key})
        assert f'id="work-{key}"' in page.text
    finally:
        worker.close()


def test_it_is_watched_and_stopped_with_its_first_answer(
    client: TestClient, slab: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(work_pages, "SLABS", 3_000_000)
    key = begun(client, slab)
    end = time.monotonic() + LONGEST_S
    now = part(client, key)
    while "In closed form" not in words(now) and time.monotonic() < end:
        time.sleep(0.02)
        now = part(client, key)
    assert not now["data-over"]
    assert "at least 77 g" in words(now), "the first answer is the promise on the page"
    title = now.select_one(".filling svg title")
    assert title is not None
    assert title.text.endswith("of 100 done")
    came = f"http://{HOST}/slabs/{slab}/scale?work={key}"
    answer = client.post(
        f"/long-work/{key}/stop", headers={"Referer": came}, follow_redirects=False
    )
    assert answer.headers["location"] == f"/slabs/{slab}/scale?work={key}#tried"
    done = over(client, key)
    assert "Stopped; this is the first answer." in words(done)
    assert "99 of 100 weigh at least 77 g" in words(done)
    assert done.select("figure svg")


@pytest.mark.parametrize(
    "came", ["http://elsewhere.test/slabs", f"http://{HOST}//elsewhere.test/", ""]
)
def test_stopping_leads_to_a_page_of_ours(client: TestClient, came: str) -> None:
    key = "0" * 64
    answer = client.post(
        f"/long-work/{key}/stop", headers={"Referer": came}, follow_redirects=False
    )
    assert answer.headers["location"] == f"/long-work/{key}"


def test_what_is_not_worked_on_is_not_there(client: TestClient, slab: int) -> None:
    assert client.get(f"/long-work/{'0' * 64}").status_code == 404
    assert client.get("/long-work/abc").status_code == 422
    assert client.get(f"/slabs/{slab}/scale?work={'0' * 64}").status_code == 200
    assert client.post("/slabs/4711/work").status_code == 404
    refused = client.post(f"/slabs/{slab}/work", data={"count": "many"})
    assert refused.status_code == 422
    assert "no whole number" in refused.text


def test_the_frame_has_a_place_for_it(client: TestClient, app: FastAPI) -> None:
    del app
    page = BeautifulSoup(client.get("/slabs").text, "html.parser")
    strip = page.select_one("header #working")
    assert strip is not None
    assert strip.has_attr("hidden")
    assert page.select_one('script[src="/static/work.js"]')
