"""The browser's watch over the app's pages, set against pages that misbehave."""

from collections.abc import Iterator
from contextlib import nullcontext
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from threading import Thread

import pytest
from playwright.sync_api import Browser

from slabwright.web.guard import POLICY
from tests.browser import axe, chromium, watched

TITLED = '<!doctype html><html lang="en"><title>Tins</title><main><h1>Tins</h1>'
SCRIPTS = {
    "/sound": "document.title = 'ran'",
    "/logs": "console.error('the tin is missing')",
    "/throws": "setTimeout(() => { throw new Error('no such tin') })",
    "/opens": "window.open('/throws')",
    "/asks": "fetch('/nothing')",
    "/made": "fetch('data:,1').then(() => fetch(URL.createObjectURL(new Blob(['1']))))",
}
PAGES = {
    "/": TITLED,
    "/favicon.ico": "",
    "/image": f'{TITLED}<img src="/favicon.ico">',
    **{path: f"{TITLED}<script>{script}</script>" for path, script in SCRIPTS.items()},
}


class _Answers(BaseHTTPRequestHandler):
    def do_GET(self) -> None:
        found = PAGES.get(self.path)
        self.send_response(404 if found is None else 200)
        self.send_header("Content-Type", "text/html; charset=utf-8")
        if self.path == "/image":
            self.send_header("Content-Security-Policy", POLICY)
        self.end_headers()
        self.wfile.write((found or "").encode())

    def log_message(self, *_: object) -> None:
        """Tests print nothing."""


@pytest.fixture(scope="module")
def origin() -> Iterator[str]:
    with ThreadingHTTPServer(("127.0.0.1", 0), _Answers) as server:
        thread = Thread(target=server.serve_forever)
        thread.start()
        yield f"http://127.0.0.1:{server.server_port}"
        server.shutdown()
        thread.join()


def told(browser: Browser, origin: str, path: str, allowed: str = "nothing") -> str:
    """What the watch says at the end of a visit to a page; empty if all was well."""
    try:
        with watched(browser, origin) as seen:
            seen.allowed.append(allowed)
            with seen.page.context.expect_page() if path == "/opens" else nullcontext():
                seen.page.goto(path, wait_until="networkidle")
            seen.page.context.pages[-1].wait_for_load_state("networkidle")
    except AssertionError as error:
        return str(error)
    return ""


@pytest.mark.parametrize("path", ["/", "/sound", "/made"])
def test_a_page_that_keeps_to_itself_is_without_fault(
    browser: Browser, origin: str, path: str
) -> None:
    assert told(browser, origin, path) == ""


@pytest.mark.parametrize(
    ("path", "fault"),
    [
        ("/logs", "console: the tin is missing"),
        ("/throws", "script: no such tin"),
        ("/opens", "script: no such tin"),
        ("/asks", "console: Failed to load resource"),
    ],
)
def test_what_goes_wrong_on_a_page_fails_its_test(
    browser: Browser, origin: str, path: str, fault: str
) -> None:
    assert fault in told(browser, origin, path)


def test_a_request_that_leaves_the_app_fails_its_test(
    browser: Browser, origin: str
) -> None:
    # The same machine under another name is somebody else.
    elsewhere = origin.replace("127.0.0.1", "localhost")

    assert f"went to {elsewhere}/sound" in told(browser, origin, f"{elsewhere}/sound")


def test_what_a_test_means_to_cause_is_allowed_and_nothing_else(
    browser: Browser, origin: str
) -> None:
    assert told(browser, origin, "/logs", allowed="tin is missing") == ""
    assert told(browser, origin, "/throws", allowed="tin is missing") != ""


def test_a_test_that_fails_says_so_itself_and_leaves_no_window(
    browser: Browser, origin: str
) -> None:
    watch = watched(browser, origin)
    seen = watch.__enter__()
    seen.page.goto("/logs")

    assert not watch.__exit__(ZeroDivisionError, ZeroDivisionError(), None)
    assert seen.page.is_closed()


def test_a_page_has_the_window_the_colours_and_the_language_asked_for(
    browser: Browser, origin: str
) -> None:
    with watched(browser, origin, width=390, height=844, scheme="dark") as seen:
        seen.page.goto("/")
        found = seen.page.evaluate(
            "[innerWidth, innerHeight, navigator.language,"
            " matchMedia('(prefers-color-scheme: dark)').matches]"
        )

    assert found == [390, 844, "en-GB", True]


def test_who_is_shut_out_is_told_even_under_the_apps_own_policy(
    browser: Browser, origin: str
) -> None:
    with watched(browser, origin) as seen:
        seen.page.goto("/")
        assert axe(seen.page) == []

    with watched(browser, origin) as seen:
        seen.page.goto("/image")
        found = axe(seen.page)
    assert [one.split(":")[0] for one in found] == ["image-alt"]
    assert '<img src="/favicon.ico">' in found[0]
    assert "\n" not in found[0]


def test_without_a_chromium_the_test_fails_and_says_what_installs_it(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setenv("PATH", "")

    with (
        pytest.raises(pytest.fail.Exception, match="`make test` installs it"),
        chromium(),
    ):
        pass
