"""What goes wrong, as a page that helps, or as JSON for those who asked for it."""

import logging
from typing import Any, Final
from urllib.parse import urlsplit

from fastapi import FastAPI
from fastapi.exceptions import RequestValidationError
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import JSONResponse, Response

from slabwright.errors import Mistake, SlabwrightError, Where
from slabwright.files.field_words import wrong_words
from slabwright.publish.figure_json import mistake_json
from slabwright.web.house import render

LOG: Final = logging.getLogger("slabwright.web")

_SAID: Final = {
    404: ("There is no such page here.", "Look in the list that it stood in."),
    405: ("This can't be done with that address.", "Go back and press the button."),
}
_BUG: Final = Mistake(
    "Something went wrong inside the program; what you typed is kept as a draft.",
    "Try again. If it comes back, look into the log where the app was started.",
)


def explain(app: FastAPI) -> None:
    """Tell the app how to answer each kind of mistake."""
    app.add_exception_handler(SlabwrightError, _users)
    app.add_exception_handler(HTTPException, _http)
    app.add_exception_handler(RequestValidationError, _validation)
    app.add_exception_handler(Exception, _bug)


def answer(
    request: Request, mistakes: tuple[Mistake, ...], status: int = 422
) -> Response:
    """Mistakes as a page, or as JSON where JSON is spoken."""
    if speaks_json(request):
        errors = [mistake_json(one) for one in mistakes]
        return JSONResponse({"errors": errors}, status_code=status)
    return render(
        request,
        "mistake.html",
        status=status,
        title="This did not go",
        here="",
        mistakes=mistakes,
        back=_back(request),
    )


def _back(request: Request) -> str:
    """The page that it came from: always one of ours."""
    came = urlsplit(request.headers.get("referer", ""))
    is_ours = came.netloc == request.headers.get("host") and came.path.startswith("/")
    return came.path if is_ours and not came.path.startswith("//") else "/slabs"


def speaks_json(request: Request) -> bool:
    """Whether the answer should be JSON: the API, and scripts of our pages."""
    accepts = request.headers.get("accept", "")
    return request.url.path.startswith("/api/") or "application/json" in accepts


async def _users(request: Request, error: Exception) -> Response:
    mistakes = error.mistakes if isinstance(error, SlabwrightError) else ()
    return answer(request, mistakes)


async def _http(request: Request, error: Exception) -> Response:
    status = error.status_code if isinstance(error, HTTPException) else 500
    detail = str(getattr(error, "detail", ""))
    what, do = _SAID.get(status, ("This did not go.", "Go back and try again."))
    if detail and detail not in {"Not Found", "Method Not Allowed"}:
        what = detail
    response = answer(request, (Mistake(what, do),), status)
    for name, value in (getattr(error, "headers", None) or {}).items():
        response.headers[name] = value
    return response


async def _validation(request: Request, error: Exception) -> Response:
    found: list[Any] = []
    if isinstance(error, RequestValidationError):
        found = list(error.errors())
    return answer(request, tuple(_field(one) for one in found))


def _field(one: Any) -> Mistake:
    """What is wrong with one field of a form or a request."""
    place = [str(part) for part in one["loc"][1:]]
    what, do = wrong_words(one)
    if one["type"] == "json_invalid":
        return Mistake(f"What was sent {what}", do)
    name = f"'{'.'.join(place)}'" if place else "What was sent"
    return Mistake(f"{name} {what}", do, Where(field=".".join(place)))


async def _bug(request: Request, error: Exception) -> Response:
    LOG.error("a request to %s failed", request.url.path, exc_info=error)
    return answer(request, (_BUG,), 500)
