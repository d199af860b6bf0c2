"""A real Chromium for tests, which watches what a page must not do."""

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any, Literal
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, sync_playwright

VENDOR = Path(__file__).parent / "web" / "vendor"
ARGUMENTS = (
    "--no-sandbox",  # needed as root
    "--disable-gpu",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--disable-quic",
)
_RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]


@contextmanager
def chromium() -> Iterator[Browser]:
    """A browser for as long as the block lasts.

    Until its end this thread has a running event loop, which is Playwright's:
    `asyncio.run` belongs in a thread of its own, as the app does.
    """
    names = ("chromium", "chromium-browser", "google-chrome")
    path = next((found for name in names if (found := shutil.which(name))), None)
    if path is None:
        pytest.fail("Chromium is not installed: `make test` installs it.")
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=path, args=[*ARGUMENTS])
        try:
            yield browser
        finally:
            browser.close()


@dataclass
class Watched:
    """A page, and everything that it did which a page of ours never does."""

    page: Page
    origin: str
    faults: list[str] = field(default_factory=list)
    allowed: list[str] = field(default_factory=list)
    """Parts of faults that a test means to cause."""

    def left(self) -> list[str]:
        """Faults that no test meant."""
        return [
            one for one in self.faults if not any(part in one for part in self.allowed)
        ]


@contextmanager
def watched(
    browser: Browser,
    origin: str,
    *,
    width: int = 1280,
    height: int = 900,
    scheme: Literal["light", "dark"] = "light",
    **more: Any,
) -> Iterator[Watched]:
    """A page in a context of its own; at its end nothing may have gone wrong.

    Args:
        browser: where.
        origin: the app's address; every request must go there.
        width: of the window [px].
        height: of the window [px].
        scheme: light or dark.
        more: for the browser's context.
    """
    context = browser.new_context(
        viewport={"width": width, "height": height},
        color_scheme=scheme,
        locale="en-GB",
        base_url=origin,
        **more,
    )
    try:
        seen = Watched(context.new_page(), origin)
        _watch(context, seen)
        yield seen
    finally:
        context.close()
    assert not seen.left(), "\n".join(seen.left())


def _watch(context: BrowserContext, seen: Watched) -> None:
    """Note what goes wrong here, and in every page that this one opens."""

    def note(is_fault: bool, text: str) -> None:
        if is_fault:
            seen.faults.append(text)

    context.on(
        "console",
        lambda one: note(one.type in {"error", "warning"}, f"console: {one.text}"),
    )
    context.on("weberror", lambda one: note(True, f"script: {one.error}"))
    context.on(
        "request",
        lambda one: note(not _is_own(one.url, seen.origin), f"went to {one.url}"),
    )


def _is_own(url: str, origin: str) -> bool:
    asked, own = urlsplit(url), urlsplit(origin)
    if asked.scheme in {"about", "blob", "data"}:  # made by the page, fetched nowhere
        return True
    return (asked.scheme, asked.netloc) == (own.scheme, own.netloc)


@cache
def _axe() -> str:
    return (VENDOR / "axe.min.js").read_text(encoding="utf-8")


def axe(page: Page) -> list[str]:
    """What would shut somebody out of this page, in words.

    It is put in by evaluation: the page's own policy refuses a script that is added.
    """
    page.evaluate(_axe())
    found = page.evaluate(
        "rules => axe.run(document, {runOnly: {type: 'tag', values: rules}})", _RULES
    )
    return [
        f"{one['id']}: {one['help']}: {node['html'][:160]}"
        f" ({' '.join(node['failureSummary'].split())})"
        for one in found["violations"]
        for node in one["nodes"]
    ]
