"""What a request gets wrong is told in words, with the field and what to do."""

from typing import Any

import pytest
from starlette.testclient import TestClient

JSON = {"content-type": "application/json"}


@pytest.mark.parametrize(
    ("body", "field", "what"),
    [
        ('{"text":', "", "What was sent can't be read as JSON."),
        ("[]", "", "What was sent is no group of fields: []."),
        ('{"at": 1}', "text", "'text' is missing."),
        ('{"text": 5, "at": 1}', "text", "'text' is no text: 5."),
        ('{"text": "a", "at": -1}', "at", "'at' must be at least 0; it is -1."),
        ('{"text": "a", "at": 1.5}', "at", "'at' is no whole number: 1.5."),
    ],
)
def test_a_request_is_told_what_is_wrong_with_it(
    client: TestClient, body: str, field: str, what: str
) -> None:
    answer = client.post("/api/complete", content=body, headers=JSON)
    assert answer.status_code == 422
    (error,) = answer.json()["errors"]
    assert (error["field"], error["what"]) == (field, what)
    assert error["do"]


def test_what_is_too_long_is_told_its_limit(client: TestClient) -> None:
    body: dict[str, Any] = {"text": "slab X", "what": "x" * 41, "value": "1"}
    (error,) = client.post("/api/edit", json=body).json()["errors"]
    assert error["what"] == "'what' is longer than 40 characters."


def test_a_page_tells_it_too(client: TestClient) -> None:
    answer = client.get("/slabs", params={"start": "<b>"})
    assert answer.status_code == 422
    assert "&#39;start&#39; is no whole number: &#39;&lt;b&gt;&#39;." in answer.text
