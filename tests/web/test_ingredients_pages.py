"""The list of ingredients in the app: in its order, set apart, with its reasons."""

import re
from html import unescape

import jsonschema
import pytest
from starlette.testclient import TestClient

from slabwright.publish.schemas import output_schemas
from tests.web.conftest import Kitchen


@pytest.fixture
def slab(kitchen: Kitchen) -> int:
    return kitchen.card_id("Two Tides")


def shown(client: TestClient, slab: int, **ask: str) -> tuple[int, str]:
    answer = client.get(f"/slabs/{slab}/ingredients", params=ask)
    return answer.status_code, " ".join(unescape(answer.text).split())


def listed(page: str) -> str:
    return page.split('<p class="ingredients">', 1)[1].split("</p>", 1)[0]


def test_the_list_is_in_order_and_its_allergens_stand_out(
    client: TestClient, slab: int
) -> None:
    status, page = shown(client, slab)
    assert status == 200
    list = listed(page)
    # by the card: 485 g sugar, 300 g egg, 290 g butter, 280 g purée
    assert list.startswith("Ingredients: sugar, <b>egg</b>, butter (<b>milk</b>), ")
    assert set(re.findall(r"<b>(.*?)</b>", list)) == {"egg", "milk", "wheat"}
    assert "ING-01" in page
    assert "certifies nothing" in page


def test_layer_by_layer_holds_the_same(client: TestClient, slab: int) -> None:
    merged, by_layer = (
        listed(shown(client, slab, by_layer=said)[1]) for said in ("false", "true")
    )
    assert "Baked lemon curd 52 % (" in by_layer
    words = ("sugar", "lemon juice", "glucose syrup", "lemon zest", "pectins", "salt")
    for word in words:
        assert word in merged
        assert word in by_layer


def test_a_share_follows_from_your_own_words(client: TestClient, slab: int) -> None:
    assert "rich in butter" not in shown(client, slab)[1]
    _, page = shown(client, slab, described="rich in butter")
    assert "“rich in butter” stresses it" in page
    assert "butter 16 % (<b>milk</b>)" in listed(page)


def test_what_is_open_is_asked_there_and_on_the_label(
    client: TestClient, slab: int
) -> None:
    _, page = shown(client, slab)
    assert "To ask before the list is printed" in page
    assert "gelling agent (pectins)" in page.split('id="asked"', 1)[1]
    label = client.get(f"/slabs/{slab}/label", params={"way": "packed here"}).text
    assert f'href="/slabs/{slab}/ingredients#asked"' in label


def test_the_api_says_the_same(client: TestClient, slab: int) -> None:
    said = client.get(f"/api/slabs/{slab}/declaration").json()
    jsonschema.validate(said, output_schemas()["declaration"])
    plain = re.sub(r"</?b>", "", listed(shown(client, slab)[1]))
    assert said["text"] == plain
    assert said["held"]
    assert client.get("/api/slabs/9999/declaration").status_code == 404


@pytest.mark.parametrize(
    "ask", [{"nation": "Atlantis"}, {"by_layer": "perhaps"}, {"v": "99999999999"}]
)
def test_what_can_not_be_is_told(
    client: TestClient, slab: int, ask: dict[str, str]
) -> None:
    for path in (f"/slabs/{slab}/ingredients", f"/api/slabs/{slab}/declaration"):
        assert client.get(path, params=ask).status_code == 422


def test_there_is_none_of_a_slab_that_is_none(client: TestClient) -> None:
    assert client.get("/slabs/9999/ingredients").status_code == 404
