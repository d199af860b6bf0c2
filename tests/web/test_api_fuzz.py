"""The API as its own description tells of it, asked all that may and may not be."""

import json
from typing import Any

import pytest
import schemathesis
from fastapi import FastAPI
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from schemathesis.core.result import Ok
from starlette.testclient import TestClient

from tests.web.conftest import HOST

_CASES = 25
"""Requests to each address."""


def test_no_request_that_the_description_allows_fails_inside(
    app: FastAPI, client: TestClient
) -> None:
    schema = schemathesis.openapi.from_dict(app.openapi())
    answers: dict[int, int] = {}
    tried = set()
    for result in schema.get_all_operations():
        assert isinstance(result, Ok)
        operation = result.ok()
        tried.add(f"{operation.method.upper()} {operation.path}")

        @settings(
            max_examples=_CASES,
            deadline=None,
            derandomize=True,
            database=None,
            suppress_health_check=list(HealthCheck),
        )
        @given(case=operation.as_strategy())
        def ask(case: Any) -> None:
            sent = case.as_transport_kwargs(base_url=f"http://{HOST}")
            answer = client.request(
                sent["method"],
                sent["url"],
                params=sent.get("params"),
                json=sent.get("json"),
                headers={
                    name: value
                    for name, value in (sent.get("headers") or {}).items()
                    if name.lower() not in {"host", "user-agent"}
                    and value.isprintable()
                    and value.isascii()
                },
            )
            answers[answer.status_code] = answers.get(answer.status_code, 0) + 1
            assert answer.status_code < 500, answer.text
            assert isinstance(answer.json(), dict)

        ask()
    assert len(tried) >= 15
    assert {200, 422} <= set(answers)


_JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(),
    lambda inner: (
        st.lists(inner, max_size=4)
        | st.dictionaries(st.text(max_size=8), inner, max_size=4)
    ),
    max_leaves=12,
)
_TEXT = st.text(max_size=300) | st.sampled_from(
    ["slab A\ntin 30 x 20 cm\nlayer B\n  1e309 g flour\n", "slab \x00", "\ufeffslab A",
     "slab A\r\nlayer B\r\n 9 g 9 g 9 g\n", "slab A\n" + "layer B\n" * 300]
)  # fmt: skip


@pytest.mark.parametrize(
    "address",
    ["/api/spec", "/api/slabs", "/api/complete", "/api/edit",
     "/api/slabs/1/revisions", "/api/slabs/1/take-up"],
)  # fmt: skip
@settings(max_examples=30, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(body=_JSON)
def test_no_body_whatever_fails_inside(
    client: TestClient, address: str, body: Any
) -> None:
    raw = json.dumps(body).encode("utf-8", "surrogatepass")

    answer = client.post(
        address, content=raw, headers={"content-type": "application/json"}
    )

    assert answer.status_code < 500


@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(text=_TEXT, at=st.integers(0, 400))
def test_no_card_whatever_fails_inside(client: TestClient, text: str, at: int) -> None:
    for address, body in (
        ("/api/spec", {"text": text}),
        ("/api/complete", {"text": text, "at": at}),
        ("/api/edit", {"text": text, "what": "tin", "value": "20 cm square"}),
    ):
        assert client.post(address, json=body).status_code < 500
    for address in ("/start/follow", "/slabs/1/follow"):
        form = {"card": text, "base": "1"}
        assert client.post(address, data=form).status_code == 200
