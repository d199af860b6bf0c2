"""From a key press to the redrawn desk in a real browser, beside a bare page's."""

import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from statistics import median, quantiles
from threading import Thread
from typing import Final

import httpx2
import uvicorn
from playwright.sync_api import Page
from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import HTMLResponse
from starlette.routing import Route
from tests.browser import chromium, watched

from benchmarks.cards import card
from benchmarks.served import fill, serving
from slabwright.cli.serving import LOOPBACK, socket_at

PRESSES: Final = 100
_WARM: Final = 20
_BEFORE: Final = "190"
"""The amount that is typed at: three decimals of it."""

_WATCH = """() => {
  let done = () => {};
  addEventListener("keydown", ({ timeStamp }) => {
    window.took = new Promise((tell) => {
      done = () => requestAnimationFrame(() => {
        const { port1, port2 } = new MessageChannel();
        port1.onmessage = () => tell(performance.now() - timeStamp);
        port2.postMessage(0);  // comes after the frame that is painted now
      });
    });
  }, true);
  const form = document.querySelector("form");
  let seen = form.dataset.followed;
  new MutationObserver(() => {
    if (form.dataset.behind !== "no" || form.dataset.followed === seen) return;
    seen = form.dataset.followed;
    done();
  }).observe(form, { attributes: true });
}"""
_PUT = """([at, last]) => { const area = document.querySelector("textarea");
  area.focus(); area.setSelectionRange(at, last); }"""
_BARE = """<!doctype html><title>Bare</title><link rel="icon" href="data:,">
<form><textarea name="card" rows="40" cols="60">
{}</textarea></form><div></div>
<script>
const form = document.querySelector("form");
form.addEventListener("input", async () => {{
  const answer = await fetch("/", {{
    method: "POST", body: new URLSearchParams(new FormData(form)),
  }});
  document.querySelector("div").innerHTML = await answer.text();
  form.dataset.followed = Number(form.dataset.followed ?? 0) + 1;
  form.dataset.behind = "no";
}});
</script>"""


@dataclass(frozen=True, slots=True)
class PressTaken:
    """How long a page took from key press to redraw [ms]."""

    page: str
    p50_ms: float
    p95_ms: float
    least_ms: float
    busy_ms: float
    """Of this, processor time of the page itself, however busy the machine is."""


def presses(scratch: Path) -> tuple[PressTaken, ...]:
    """By turns: a page that is given a fixed answer of the desk's size; the desk.

    Args:
        scratch: where a store may be written.
    """
    text = card().replace(f"{_BEFORE} g ", f"{_BEFORE}.000 g ", 1)
    (number,) = fill(scratch / "presses", [text])
    with serving(scratch / "presses") as served, chromium() as browser:
        desk = f"/slabs/{number}"
        form = {"card": text.replace(".000", ".001"), "base": "1"}
        answer = httpx2.post(f"{served.address}{desk}/follow", data=form)
        fixed = answer.raise_for_status().text
        with (
            _bare(text, fixed) as address,
            watched(browser, address) as bare,
            watched(browser, served.address) as seen,
        ):
            pages = {"a bare page": (bare.page, "/"), "the desk": (seen.page, desk)}
            found: dict[str, list[float]] = {name: [] for name in pages}
            for page, path in pages.values():
                page.goto(path)
                page.evaluate(_WATCH)
            busy = {name: _Busy(page) for name, (page, _) in pages.items()}
            at = text.index(".000") + 1
            for n in range(1, _WARM + PRESSES + 1):
                for name, (page, _) in pages.items():
                    if n == _WARM + 1:
                        busy[name].begin()
                    took = _pressed(page, at, n)
                    if n > _WARM:
                        found[name].append(took)
            return tuple(
                PressTaken(name, median(times), quantiles(times, n=20)[-1], min(times),
                           busy[name].so_far_ms() / PRESSES)
                for name, times in found.items()
            )  # fmt: skip


class _Busy:
    """Processor time of a page's main thread, as the browser counts it."""

    def __init__(self, page: Page) -> None:
        self._session = page.context.new_cdp_session(page)
        self._session.send("Performance.enable", {"timeDomain": "threadTicks"})
        self._begun = 0.0

    def begin(self) -> None:
        self._begun += self.so_far_ms()

    def so_far_ms(self) -> float:
        found = self._session.send("Performance.getMetrics")["metrics"]
        (took_s,) = (one["value"] for one in found if one["name"] == "TaskDuration")
        return float(took_s) * 1000 - self._begun


def _pressed(page: Page, at: int, number: int) -> float:
    """Press the key that makes the decimals the next ones [ms]."""
    old, new = _decimals(number - 1), _decimals(number)
    (place,) = (i for i in range(3) if old[i] != new[i])
    page.evaluate(_PUT, [at + place, at + place + 1])
    page.keyboard.press(new[place])
    return float(page.evaluate("window.took"))


def _decimals(number: int) -> str:
    """Three digits, of which one alone differs from those of the number before."""
    a, b, c = number // 100, number // 10 % 10, number % 10
    if number // 10 % 2:
        c = 9 - c
    return f"{a}{9 - b if a % 2 else b}{c}"


@contextmanager
def _bare(text: str, fixed: str) -> Iterator[str]:
    """The address of the bare page, to the block's end."""

    async def given(request: Request) -> HTMLResponse:
        await request.body()
        return HTMLResponse(fixed)

    async def page(_: Request) -> HTMLResponse:
        return HTMLResponse(_BARE.format(text))

    app = Starlette(
        routes=[Route("/", page), Route("/", given, methods=["POST"])],
    )
    taken = socket_at(0)
    server = uvicorn.Server(uvicorn.Config(app, log_level="warning", ws="none"))
    thread = Thread(target=server.run, kwargs={"sockets": [taken]}, daemon=True)
    thread.start()
    while not server.started:
        time.sleep(0.01)
    yield f"http://{LOOPBACK}:{taken.getsockname()[1]}"
    server.should_exit = True
    thread.join(timeout=10)
    taken.close()
