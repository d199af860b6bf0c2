"""The label in the app: how it is sold first, what is missing, written on the card."""

import re
from html import unescape

import jsonschema
import pytest
from starlette.testclient import TestClient

from slabwright.label.ways import Selling
from slabwright.publish.schemas import output_schemas
from tests.web.conftest import DEMO, Kitchen


@pytest.fixture
def slab(kitchen: Kitchen) -> int:
    return kitchen.card_id("Two Tides")


def nameless(client: TestClient) -> int:
    """A slab that does not say what the food is called."""
    lines = (DEMO / "slabs/two-tides.card").read_text("utf-8").splitlines()
    text = "\n".join(line for line in lines if not line.startswith("called "))
    made = client.post("/api/slabs", json={"text": f"{text}\n"})
    assert made.status_code == 201
    return int(made.json()["id"])


def shown(client: TestClient, slab: int, **ask: str) -> tuple[int, str]:
    answer = client.get(f"/slabs/{slab}/label", params=ask)
    return answer.status_code, " ".join(unescape(answer.text).split())


def write(client: TestClient, slab: int, word: str, value: str) -> tuple[int, str]:
    form = {"word": word, "value": value}
    answer = client.post(f"/slabs/{slab}/label", data=form)
    return answer.status_code, unescape(answer.text)


def keep(client: TestClient, slab: int) -> None:
    """Keep what stands at the desk."""
    page = client.get(f"/slabs/{slab}").text
    card = unescape(
        page.split('aria-describedby="keys">\n', 1)[1].split("</text", 1)[0]
    )
    form = {"card": card, "base": "1"}
    assert client.post(f"/slabs/{slab}/keep", data=form).status_code == 200


@pytest.mark.parametrize("way", list(Selling))
def test_each_way_asks_for_its_own(client: TestClient, slab: int, way: Selling) -> None:
    status, page = shown(client, slab, way=way.value)
    assert status == 200
    assert f"<h2>{way.value.capitalize()}</h2>" in page
    assert "certifies nothing" in page
    titles = page.split("What must be shown</h3>", 1)[1]
    needs_address = "name and address of the business" in titles
    assert needs_address is (way is not Selling.LOOSE)


def test_missing_is_named_until_the_card_says_it(client: TestClient) -> None:
    slab = nameless(client)
    _, before = shown(client, slab, way="packed here")
    assert "Missing: name of the food" in before
    status, desk = write(client, slab, "called", "lemon and blackcurrant slice")
    assert status == 200
    assert "called lemon and blackcurrant slice" in desk
    assert "Missing: name of the food" in shown(client, slab, way="packed here")[1]
    keep(client, slab)
    _, after = shown(client, slab, way="packed here")
    assert "Missing: name of the food" not in after
    assert "Lemon and blackcurrant slice" in after


def test_a_date_is_counted_in_words(client: TestClient, slab: int) -> None:
    write(client, slab, "dated", "use by, 3 days, bake day counted")
    keep(client, slab)
    _, page = shown(client, slab, way="packed for another shop", baked="2026-11-26")
    assert "Use by: 28 November 2026" in page
    assert "Three days, the bake day, 26 November 2026, being the first." in page


def test_how_it_is_sold_is_asked_where_the_card_is_silent(
    client: TestClient, slab: int
) -> None:
    write(client, slab, "sold", "in boxes of 4, 12.80")
    keep(client, slab)
    _, page = shown(client, slab)
    assert "The card says “in boxes of 4”" in page
    assert '?way=packed%20here"' in page


@pytest.mark.parametrize(
    ("ask", "says"),
    [
        ({"way": "by carrier pigeon"}, "none of the five ways"),
        ({"baked": "soon"}, "'soon' is no day"),
        ({"frozen": "2026-11-20"}, "was thawed is missing"),
        ({"surface": "nan"}, "no surface of a pack"),
        ({"surface": "-3"}, "no surface of a pack"),
        ({"nation": "Atlantis"}, "no nation that there is a table for"),
        ({"unless": "moonlight"}, "lifts nothing"),
        ({"code": "123"}, "no number of 8, 12, 13 or 14 digits"),
        ({"baked": "2026-11-26", "frozen": "2026-11-20", "thawed": "2026-11-27"},
         "before it was made"),
    ],
)  # fmt: skip
def test_what_can_not_be_is_told_on_the_page(
    client: TestClient, slab: int, ask: dict[str, str], says: str
) -> None:
    if "thawed" in ask:
        write(client, slab, "dated", "best before, 3 days, bake day counted")
        keep(client, slab)
    status, page = shown(client, slab, **ask)
    assert status == 422
    assert says in page
    assert "How is it sold?" in page


@pytest.mark.parametrize(
    ("word", "value", "says"),
    [
        ("price", "3.20", "no word that a label leans on"),
        ("sold", "loose, 3.2.0.1", "no price"),
        ("dated", "when it smells", "best before, use by or none"),
    ],
)
def test_what_says_nothing_is_not_written(
    client: TestClient, slab: int, word: str, value: str, says: str
) -> None:
    before = client.get(f"/slabs/{slab}").text.split("</textarea>")[0]
    status, page = write(client, slab, word, value)
    assert status == 422
    assert says in page
    after = client.get(f"/slabs/{slab}").text.split("</textarea>")[0]
    assert after == before


def test_a_number_stands_under_the_label(client: TestClient, slab: int) -> None:
    _, page = shown(client, slab, way="packed here", code="5012345678900")
    assert "5 012345 678900" in page


def test_there_is_none_of_a_slab_that_is_none(client: TestClient) -> None:
    assert client.get("/slabs/9999/label").status_code == 404
    assert client.post("/slabs/9999/label").status_code in {404, 422}


def test_the_api_says_the_same(client: TestClient, slab: int) -> None:
    ask = {"way": "packed here", "baked": "2026-11-26", "code": "5012345678900"}
    answer = client.get(f"/api/slabs/{slab}/label", params=ask)
    said = answer.json()
    jsonschema.validate(said, output_schemas()["label"])
    (label,) = said["labels"]
    assert label["way"] == "packed here"
    assert label["number"] == "5012345678900"
    missing = [p["title"] for p in label["particulars"] if p["standing"] == "missing"]
    _, page = shown(client, slab, **ask)
    for title in missing:
        assert f"<b>{title}</b>" in page
    assert client.get("/api/slabs/9999/label").status_code == 404
    wrong = client.get(f"/api/slabs/{slab}/label", params={"way": "by pigeon"})
    assert wrong.status_code == 422
    assert "none of the five ways" in wrong.text


@pytest.mark.parametrize("way", list(Selling))
def test_no_page_sends_anybody_to_the_terminal(
    client: TestClient, kitchen: Kitchen, way: Selling
) -> None:
    slabs = [nameless(client), kitchen.card_id("Harbour Lamp")]
    asks = [{}, {"frozen": "2026-11-20"}, {"nation": "Atlantis"}, {"way": "pigeon"}]
    for slab in slabs:
        for ask in asks:
            _, page = shown(client, slab, **({"way": way.value} | ask))
            words = re.sub(r"<[^>]*>", " ", page)
            assert not re.search(r"(?<![\w-])--[a-z]|slabwright [a-z]", words)
        refused = client.get(
            f"/slabs/{slab}/label.pdf", params={"way": way.value, "size": "", "v": "0"}
        )
        if refused.status_code == 422:
            words = re.sub(r"<[^>]*>", " ", unescape(refused.text))
            assert not re.search(r"(?<![\w-])--[a-z]", words)
