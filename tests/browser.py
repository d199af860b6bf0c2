"""A real Chromium for tests, which watches what a page must not do."""

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any, Literal
from urllib.parse import urlsplit

from playwright.sync_api import Browser, Page, sync_playwright

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
    """A browser of this test run."""
    names = ("chromium", "chromium-browser", "google-chrome")
    path = next((found for name in names if (found := shutil.which(name))), None)
    assert path, "Chromium is missing: `make test` installs it."
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=path, args=[*ARGUMENTS])
        yield browser
        browser.close()


@dataclass
class Watched:
    """A page, and everything that it did which a page of ours never does."""

    page: Page
    origin: str
    faults: list[str] = field(default_factory=list)
    allowed: list[str] = field(default_factory=list)
    """Beginnings of faults that a test means to cause."""

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
    context.set_default_timeout(15_000 * int(os.environ.get("SLOW", "1")))
    page = context.new_page()
    seen = Watched(page, origin)
    own = urlsplit(origin).netloc
    page.on(
        "console",
        lambda one: (
            seen.faults.append(f"console: {one.text}")
            if one.type in {"error", "warning"}
            else None
        ),
    )
    page.on("pageerror", lambda one: seen.faults.append(f"script: {one}"))
    page.on(
        "request",
        lambda one: (
            seen.faults.append(f"went to {one.url}")
            if urlsplit(one.url).netloc not in {own, ""}
            else None
        ),
    )
    yield seen
    context.close()
    assert seen.left() == []


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
        f"{one['id']}: {one['help']}: {node['html'][:160]} ({node['failureSummary']})"
        for one in found["violations"]
        for node in one["nodes"]
    ]
