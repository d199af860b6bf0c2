"""The bench sheet in the browser: what it says, may load, and leaves out."""

import io
import re
from base64 import b64encode
from datetime import UTC, datetime
from hashlib import sha256
from html.parser import HTMLParser

import pypdf
import pytest
from bs4 import BeautifulSoup
from starlette.testclient import TestClient

from slabwright.store import cards, drafts, revisions
from slabwright.store.engine import writing
from slabwright.store.who import Who
from tests.web.conftest import NOW, Kitchen

LATER = datetime(2026, 11, 26, 11, 30, tzinfo=UTC)


@pytest.fixture
def slab(kitchen: Kitchen) -> int:
    return kitchen.card_id("Two Tides")


class Styles(HTMLParser):
    """Style blocks and attributes of a page, by Python's own parser."""

    def __init__(self) -> None:
        super().__init__()
        self.blocks: list[str] = []
        self.attributes: list[tuple[str, str | None]] = []
        self._is_in = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self._is_in = tag == "style"
        if self._is_in:
            self.blocks.append("")
        self.attributes += attrs

    def handle_endtag(self, tag: str) -> None:
        self._is_in = False

    def handle_data(self, data: str) -> None:
        if self._is_in:
            self.blocks[-1] += data


def text_of(pdf: bytes) -> str:
    pages = pypdf.PdfReader(io.BytesIO(pdf)).pages
    return " ".join(" ".join(page.extract_text() for page in pages).split())


@pytest.mark.parametrize("name", ["Two Tides", "Harbour Lamp", "Lantern Walk"])
def test_a_sheet_loads_its_own_style_and_nothing_else(
    client: TestClient, kitchen: Kitchen, name: str
) -> None:
    answer = client.get(f"/slabs/{kitchen.card_id(name)}/sheet.html")
    policy = dict(
        part.strip().split(" ", 1)
        for part in answer.headers["content-security-policy"].split(";")
    )
    found = Styles()
    found.feed(answer.text)
    assert len(found.blocks) >= 2, "the sheet's own and a drawing's"
    allowed = policy["style-src"].split()
    for block in found.blocks:
        digest = b64encode(sha256(block.encode()).digest()).decode()
        assert f"'sha256-{digest}'" in allowed
    assert "unsafe" not in answer.headers["content-security-policy"]
    assert policy["default-src"] == "'none'"
    assert "script-src" not in policy
    assert policy["frame-ancestors"] == "'self'"
    names = {attribute for attribute, _ in found.attributes}
    assert "style" not in names
    assert not [one for one in names if one.startswith("on")]
    assert "<script" not in answer.text


def test_the_pages_frame_alone_may_hold_it(client: TestClient, slab: int) -> None:
    answer = client.get(f"/slabs/{slab}/sheet", params={"tin": "23 cm square"})
    assert "frame-src 'self'" in answer.headers["content-security-policy"]
    assert "frame-ancestors 'none'" in answer.headers["content-security-policy"]
    other = client.get(f"/slabs/{slab}/scale").headers["content-security-policy"]
    assert "frame-src" not in other
    frame = BeautifulSoup(answer.text, "html.parser").select_one("iframe")
    assert frame is not None
    assert frame["src"] == f"/slabs/{slab}/sheet.html?tin=23+cm+square"
    assert frame["title"] == "Bench sheet of Two Tides, v1"
    assert " style=" not in answer.text


def test_it_says_revision_and_day(client: TestClient, slab: int) -> None:
    answer = client.get(f"/slabs/{slab}/sheet.pdf")
    assert answer.headers["content-type"] == "application/pdf"
    assert answer.headers["content-disposition"] == (
        'inline; filename="two-tides-v1.pdf"'
    )
    said = text_of(answer.content)
    assert "v1" in said
    assert "printed 26 November 2026" in said
    assert "not proved" in said
    html = client.get(f"/slabs/{slab}/sheet.html").text
    assert "not proved; v1; printed 26 November 2026" in html


def test_it_is_scaled_as_asked(client: TestClient, slab: int) -> None:
    def sheet(**fields: str) -> str:
        return client.get(f"/slabs/{slab}/sheet.html", params=fields).text

    own = sheet()
    assert "card ×" not in own
    assert ">190<" in own
    scaled = sheet(tin="23 cm square")
    assert "card × 0.8817" in scaled
    assert ">168<" in scaled
    assert "5 eggs" in scaled
    assert sheet(tin="23 cm square", choice="A") == scaled
    assert "5 eggs" not in sheet(tin="23 cm square", choice="exact")
    both = sheet(tin="2 of 30 x 20 x 5 cm", choice="B")
    assert "card × 2" in both
    assert "card × 1" in sheet(choice="B"), "a choice is meant, scaled or not"
    assert client.get(f"/slabs/{slab}/sheet.html?choice=Q").status_code == 422


def test_what_can_not_be_read_stands_beside_the_form(
    client: TestClient, slab: int
) -> None:
    answer = client.get(f"/slabs/{slab}/sheet", params={"trays": "two"})
    assert answer.status_code == 200
    soup = BeautifulSoup(answer.text, "html.parser")
    assert "no whole number" in soup.select(".mistakes")[0].text
    assert soup.select("input[name=trays]")[0]["value"] == "two"
    assert not soup.select("iframe")


def test_a_draft_is_never_printed_and_never_passed_over(
    client: TestClient, kitchen: Kitchen, slab: int
) -> None:
    assert "draft" not in client.get(f"/slabs/{slab}/sheet").text
    with writing(kitchen.engine) as c:
        first = revisions.one(c, kitchen.id, slab, 1)
        assert first is not None
        text = first.text.replace("190 g   plain", "193 g   plain")
        drafts.keep(
            c, kitchen.id, f"card-{slab}", "", text, LATER, card_id=slab, based_on=1
        )
    page = client.get(f"/slabs/{slab}/sheet").text
    assert "A draft from v1 stands" in page
    assert "It is not on this sheet: v1 is" in page
    sheet = client.get(f"/slabs/{slab}/sheet.html").text
    assert ">190<" in sheet
    assert ">193<" not in sheet


def test_a_trials_sheet_says_that_it_is_one(
    client: TestClient, kitchen: Kitchen, slab: int
) -> None:
    with writing(kitchen.engine) as c:
        first = revisions.one(c, kitchen.id, slab, 1)
        assert first is not None
        text = first.text.replace("190 g   plain", "193 g   plain")
        revisions.save(
            c, kitchen.id, slab, text, Who("", LATER), based_on=1, as_trial=True
        )
    page = client.get(f"/slabs/{slab}/sheet", params={"v": 2}).text
    assert "This is v2, a trial; the slab's card is v1" in page
    sheet = client.get(f"/slabs/{slab}/sheet.html", params={"v": 2}).text
    assert ">193<" in sheet
    assert "; v2;" in sheet
    assert client.get(f"/slabs/{slab}/sheet?v=3").status_code == 404


def test_mistakes_on_the_card_are_said(client: TestClient, kitchen: Kitchen) -> None:
    text = "slab Odd\ntin 4 spoons\n\nlayer Base\n  100 g plain flour\n"
    with writing(kitchen.engine) as c:
        odd = cards.add(c, kitchen.id, "slab", "Odd", text, Who("", NOW))
        bare = cards.add(c, kitchen.id, "slab", "Bare", "slab Bare\n", Who("", NOW))
        there = cards.add(c, kitchen.other_id, "slab", "Bare", text, Who("", NOW))
    assert re.search(r"\d lines? on the card to put right",
                     client.get(f"/slabs/{odd.id}/sheet").text)  # fmt: skip
    page = client.get(f"/slabs/{bare.id}/sheet")
    assert page.status_code == 200
    assert "nothing on the card to weigh" in page.text
    for ending in ("html", "pdf"):
        assert client.get(f"/slabs/{bare.id}/sheet.{ending}").status_code == 422
        assert client.get(f"/slabs/{there.id}/sheet.{ending}").status_code == 404
