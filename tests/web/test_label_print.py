"""Printing from the app: the PDF that the page asks for, and what it refuses."""

from html import unescape
from io import BytesIO

import pytest
from pypdf import PdfReader
from starlette.testclient import TestClient

from tests.web.conftest import Kitchen
from tests.web.test_label_pages import nameless


@pytest.fixture
def slab(kitchen: Kitchen) -> int:
    return kitchen.card_id("Two Tides")


def printed(client: TestClient, slab: int, **ask: str) -> tuple[str, str]:
    """Its words, and the name of its file."""
    answer = client.get(f"/slabs/{slab}/label.pdf", params=ask)
    assert answer.status_code == 200, answer.text
    assert answer.headers["content-type"] == "application/pdf"
    pages = PdfReader(BytesIO(answer.content)).pages
    text = " ".join(page.extract_text() for page in pages)
    name = answer.headers["content-disposition"]
    return " ".join(text.replace("\u00a0", " ").split()), name


def test_the_page_offers_to_print_each_way(client: TestClient, slab: int) -> None:
    page = client.get(f"/slabs/{slab}/label", params={"way": "packed here"}).text

    assert f'action="/slabs/{slab}/label.pdf"' in page
    assert 'name="way" value="packed here"' in page
    assert page.count('id="size-packed-here"') == 1


def test_an_allergen_card_names_its_revisions(client: TestClient, slab: int) -> None:
    text, name = printed(client, slab, kind="allergen card")

    assert "Contains wheat, egg and milk." in text
    assert "card v1, larder " in text
    assert name == 'inline; filename="two-tides-v1-allergen-card.pdf"'


def test_what_waits_is_a_draft_by_name_too(client: TestClient) -> None:
    slab = nameless(client)
    text, name = printed(client, slab, way="loose on the counter", kind="ticket")

    assert text.startswith("Draft, no ticket")
    assert "Name of the food" in text
    assert "draft" in name


@pytest.mark.parametrize(
    ("ask", "says"),
    [
        ({"kind": "label", "way": "loose"}, "Choose a ticket"),
        ({"kind": "poster"}, "nothing that is printed"),
        ({"kind": "ticket", "size": "wide"}, "is no size"),
        ({"kind": "ticket", "sheet": "0x0"}, "is no sheet"),
        ({"kind": "ticket", "copies": "-3"}, "no number of labels"),
        ({"kind": "ticket", "copies": "²"}, "no number of labels"),
        ({"kind": "ticket", "start": "9" * 40}, "no number of labels"),
        ({"kind": "ticket", "code": "123"}, "no number of 8, 12, 13 or 14 digits"),
    ],
)
def test_what_can_not_be_printed_is_told(
    client: TestClient, slab: int, ask: dict[str, str], says: str
) -> None:
    answer = client.get(f"/slabs/{slab}/label.pdf", params=ask)

    assert answer.status_code == 422
    assert says in unescape(answer.text)


def test_there_is_none_of_a_slab_that_is_none(client: TestClient) -> None:
    assert client.get("/slabs/9999/label.pdf").status_code == 404
