"""The app: made by a factory that is handed what it needs; nothing is global."""

import logging
from collections.abc import AsyncIterator, Callable, Iterable
from contextlib import asynccontextmanager
from dataclasses import dataclass
from datetime import UTC, datetime
from importlib.resources import files
from os import PathLike, stat_result
from typing import Final

import sqlalchemy as sa
from fastapi import FastAPI
from starlette.responses import RedirectResponse, Response
from starlette.staticfiles import StaticFiles
from starlette.types import Scope

from slabwright.desk.desks import Desks
from slabwright.desk.work import Worker
from slabwright.publish.drawing.page_css import page_css
from slabwright.web import mistakes, pages
from slabwright.web.guard import Guard
from slabwright.web.house import House, environment

LOG: Final = logging.getLogger("slabwright.web")


@dataclass(frozen=True)
class Settings:
    """What the app is started with."""

    kitchen_id: int
    hosts: tuple[str, ...]
    """Names with ports that it answers to: `127.0.0.1:8750`."""
    is_demo: bool = False


def create_app(
    engine: sa.Engine,
    settings: Settings,
    worker: Worker,
    now: Callable[[], datetime] | None = None,
) -> FastAPI:
    """The app over this store.

    Args:
        engine: an open store, at its newest schema.
        settings: whose kitchen, and under which names it answers.
        worker: where long work is done.
        now: the clock; the machine's own if None.
    """
    clock = now or (lambda: datetime.now(UTC))

    @asynccontextmanager
    async def life(_: FastAPI) -> AsyncIterator[None]:
        yield
        worker.close()

    app = FastAPI(
        title="slabwright",
        description="Layered tray bakes: cards in, everything worked out. On this "
        "machine only.",
        lifespan=life,
        docs_url=None,  # its page would load scripts from elsewhere
        redoc_url=None,
        openapi_url="/api/openapi.json",
    )
    app.state.house = House(
        engine,
        settings.kitchen_id,
        Desks(lambda: clock().astimezone().date()),
        worker,
        clock,
        environment(),
        settings.is_demo,
    )
    mistakes.explain(app)
    _static(app)
    pages.add_to(app)
    app.add_middleware(Guard, hosts=settings.hosts, is_upload=pages.is_upload)
    return app


def own_hosts(port: int) -> Iterable[str]:
    """Every name of this machine under which a browser reaches the app."""
    names = ("127.0.0.1", "localhost", "[::1]")
    yield from (f"{name}:{port}" for name in names)
    if port == 80:
        yield from names


def _static(app: FastAPI) -> None:
    css = page_css()

    @app.get("/static/drawing.css", include_in_schema=False)
    def drawing_css() -> Response:
        return Response(css, media_type="text/css")

    @app.get("/", include_in_schema=False)
    def front_door() -> Response:
        return RedirectResponse("/slabs", status_code=303)

    fonts = files("slabwright.publish.drawing").joinpath("fonts/woff2")
    app.mount("/static/fonts", _Files(directory=str(fonts)), name="fonts")
    folder = files("slabwright.web").joinpath("static")
    app.mount("/static", _Files(directory=str(folder)), name="static")


class _Files(StaticFiles):
    """Files of the front end: kept by the browser, asked after each time."""

    def file_response(
        self,
        full_path: str | PathLike[str],
        stat_result: stat_result,
        scope: Scope,
        status_code: int = 200,
    ) -> Response:
        response = super().file_response(full_path, stat_result, scope, status_code)
        response.headers["Cache-Control"] = "no-cache"
        return response
