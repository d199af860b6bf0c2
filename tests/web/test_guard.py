from collections.abc import Iterator
from datetime import UTC, datetime
from typing import Any

import pytest
import sqlalchemy as sa
from fastapi import FastAPI
from starlette.testclient import TestClient

from slabwright.store import cards
from slabwright.store.engine import reading, writing
from slabwright.store.schema import METADATA
from slabwright.store.who import Who
from tests.web.conftest import DEMO, HOST, Kitchen

TEXT = (DEMO / "slabs/two-tides.card").read_text("utf-8")


def routes(app: FastAPI) -> Iterator[tuple[str, str]]:
    """Every method and address of the app."""
    own = [route for route in app.routes if hasattr(route, "path")]
    included = [
        route
        for one in app.routes
        for route in getattr(getattr(one, "original_router", None), "routes", ())
    ]
    for route in (*own, *included):
        path = getattr(route, "path", "")
        for method in sorted(getattr(route, "methods", None) or {"GET"}):
            yield method, path


def with_id(path: str, card_id: int) -> str:
    """An address with this number in every place."""
    return "/".join(
        str(card_id) if part.startswith("{") else part for part in path.split("/")
    )


@pytest.mark.parametrize(
    "headers",
    [
        {"host": "kitchen.test:8750"},
        {"host": "127.0.0.1:9999"},
        {"host": "127.0.0.1"},
        {"origin": "http://kitchen.test"},
        {"origin": "http://127.0.0.1:9999"},
        {"origin": "https://127.0.0.1:8750"},
        {"origin": "null"},
        {"sec-fetch-site": "cross-site"},
        {"sec-fetch-site": "same-site"},
        {"sec-fetch-site": "cross-site", "sec-fetch-mode": "no-cors",
         "sec-fetch-dest": "image"},
    ],
    ids=str,
)  # fmt: skip
def test_no_other_page_reaches_any_address(
    app: FastAPI, client: TestClient, headers: dict[str, str]
) -> None:
    every = list(routes(app))
    assert len(every) > 30

    for method, path in every:
        answer = client.request(method, with_id(path, 1), headers=headers)
        assert answer.status_code == 403, (method, path)
        assert "slabwright" not in answer.text.replace("slabwright's", "")


def test_a_link_from_elsewhere_may_be_followed_but_nothing_sent(
    client: TestClient,
) -> None:
    visit = {
        "sec-fetch-site": "cross-site",
        "sec-fetch-mode": "navigate",
        "sec-fetch-dest": "document",
    }

    assert client.get("/slabs", headers=visit).status_code == 200
    assert client.post("/slabs/1/aside", headers=visit).status_code == 403
    framed = {**visit, "sec-fetch-dest": "iframe"}
    assert client.get("/slabs", headers=framed).status_code == 403


def everything(kitchen: Kitchen) -> dict[str, list[Any]]:
    """All rows of the store."""
    with reading(kitchen.engine) as connection:
        return {
            table.name: sorted(map(repr, connection.execute(sa.select(table))))
            for table in METADATA.sorted_tables
        }


FORMS: dict[str, Any] = {
    "card": TEXT, "base": "1", "number": "1", "text": TEXT, "based_on": 1,
}  # fmt: skip


def test_no_address_reaches_another_kitchen(
    app: FastAPI, client: TestClient, kitchen: Kitchen
) -> None:
    with writing(kitchen.engine) as connection:
        theirs = cards.add(
            connection, kitchen.other_id, "slab", "Secret slab", TEXT,
            Who("Them", datetime(2026, 11, 1, tzinfo=UTC)),
        )  # fmt: skip
    before = everything(kitchen)
    tried = 0
    for method, path in routes(app):
        if "{card_id}" not in path and "{photo_id}" not in path:
            continue
        tried += 1
        address = with_id(path, theirs.id)
        if method == "GET":
            answer = client.get(address, params={"before": 1, "after": 1})
        elif path.startswith("/api/"):
            answer = client.post(address, json=FORMS)
            if answer.status_code == 422:  # it takes fewer fields
                fits = ({"text": TEXT, "based_on": 1}, {"number": 1}, {"text": TEXT})
                answers = [client.post(address, json=body) for body in fits]
                answer = next((a for a in answers if a.status_code != 422), answer)
        else:
            file = {"photo": ("a.jpg", b"\xff\xd8\xff", "image/jpeg")}
            sends = {"files": file} if path.endswith("/photos") else {}
            answer = client.post(address, data=FORMS, **sends)  # type: ignore[arg-type]
        assert answer.status_code in {404, 422}, (method, path)
        assert "Secret slab" not in answer.text
    assert tried > 12
    assert everything(kitchen) == before
    assert "Secret slab" not in client.get("/slabs").text
    assert "Secret slab" not in client.get("/api/slabs?limit=200").text


def test_every_answer_is_sealed(client: TestClient) -> None:
    for path in ("/slabs", "/slabs/1", "/nothing", "/static/look.css", "/api/slabs"):
        headers = client.get(path).headers

        policy = headers["content-security-policy"]
        assert "default-src 'none'" in policy
        assert "unsafe" not in policy
        assert headers["x-content-type-options"] == "nosniff"
        assert "frame-ancestors 'none'" in policy


def test_what_is_too_large_is_refused_before_it_is_read(client: TestClient) -> None:
    answer = client.post("/slabs/1/draft", content=b"card=" + b"a" * (3 * 1024 * 1024))
    assert answer.status_code == 413

    def endless() -> Iterator[bytes]:
        for _ in range(40):
            yield b"a" * 65536

    form = {"content-type": "application/x-www-form-urlencoded"}
    answer = client.post("/slabs/1/draft", content=endless(), headers=form)
    assert answer.status_code == 413


@pytest.mark.parametrize("number", ["0", "-1", "99999999999", "1e3", "x", "1;2"])
def test_a_number_that_no_slab_has_is_no_fault_of_the_program(
    client: TestClient, number: str
) -> None:
    answer = client.get(f"/slabs/{number}")

    assert answer.status_code in {404, 422}
    assert "<h1>This did not go</h1>" in answer.text
    assert HOST
