"""Net weights in the app: what the cut keeps, and what weighed pieces tell."""

from html import unescape

import jsonschema
import pytest
from starlette.testclient import TestClient

from slabwright.publish.schemas import output_schemas
from tests.web.conftest import Kitchen

PIECES = "86 85.5 87 88 84 86.5 86 85 87 86 88 86"


@pytest.fixture
def slab(kitchen: Kitchen) -> int:
    return kitchen.card_id("Two Tides")


def shown(client: TestClient, slab: int, **ask: str) -> tuple[int, str]:
    answer = client.get(f"/slabs/{slab}/net-weight", params=ask)
    return answer.status_code, " ".join(unescape(answer.text).split())


def test_without_weights_the_cut_alone_tells(client: TestClient, slab: int) -> None:
    status, page = shown(client, slab)
    assert status == 200
    assert "the cut keeps" in page
    assert "pieces weighed" not in page


def test_weighed_pieces_propose_what_keeps_the_rules(
    client: TestClient, slab: int
) -> None:
    _, page = shown(client, slab, weights=PIECES, step="1")
    said = client.get("/api/net-weight", params={"weights": PIECES, "step": "1"}).json()
    jsonschema.validate(said, output_schemas()["net-weight"])
    nominal = said["nominal_g"]["value"]
    assert said["pieces"] == 12
    assert nominal <= said["mean_g"]["value"]
    assert f"net {nominal:g} g" in page
    assert "Few pieces" in page
    assert page.count(">kept<") == 3


def test_a_net_weight_that_is_too_high_breaks_a_rule(
    client: TestClient, slab: int
) -> None:
    _, page = shown(client, slab, weights=PIECES, nominal="90")
    assert "on average not below 90 g" in page
    assert ">broken<" in page


def test_it_is_written_on_the_card(client: TestClient, slab: int) -> None:
    form = {"word": "sold", "value": "loose on the counter, 3.50, net 85 g"}
    desk = client.post(f"/slabs/{slab}/label", data=form).text
    assert "sold loose on the counter, 3.50, net 85 g" in desk


@pytest.mark.parametrize(
    ("ask", "says"),
    [
        ({"weights": "86 heavy"}, "'heavy' is no weight"),
        ({"weights": "86"}, "1 weight given"),
        ({"weights": "86 0"}, "is no piece"),
        ({"weights": PIECES, "step": "one"}, "'one' is no weight"),
        ({"weights": PIECES, "step": "5000"}, "no step of a scale"),
        ({"weights": PIECES, "nominal": "1 2"}, "no net weight to try"),
        ({"weights": PIECES, "nominal": "99999"}, "outside the average system"),
    ],
)
def test_what_is_no_weight_is_told(
    client: TestClient, slab: int, ask: dict[str, str], says: str
) -> None:
    status, page = shown(client, slab, **ask)
    assert status == 422
    assert says in page
    assert client.get("/api/net-weight", params=ask).status_code == 422


def test_the_api_asks_for_weights(client: TestClient) -> None:
    answer = client.get("/api/net-weight")
    assert answer.status_code == 422
    assert "No weights were given" in answer.text
