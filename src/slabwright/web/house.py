"""What every page needs: the store, the open kitchens, the clock, the templates."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any, cast
from urllib.parse import quote, unquote

import sqlalchemy as sa
from jinja2 import Environment, PackageLoader, StrictUndefined
from starlette.requests import Request
from starlette.responses import HTMLResponse

from slabwright.desk.desks import Desks
from slabwright.desk.work import Worker
from slabwright.desk.worked import Desk
from slabwright.publish import words
from slabwright.store import kitchens
from slabwright.store.engine import reading, writing
from slabwright.store.who import Who
from slabwright.web.label_words import for_page
from slabwright.web.shown import figure_markup, standing_markup, value_text

WHO_COOKIE = "slabwright-who"
MOST_NAME = 120
"""Characters of a person's name, and of a note's first line."""


@dataclass(frozen=True)
class House:
    """The app's own things, made once."""

    engine: sa.Engine
    kitchen_id: int
    desks: Desks
    worker: Worker
    now: Callable[[], datetime]
    templates: Environment
    is_demo: bool = False
    """Whether it shows the demo kitchen."""


@dataclass(frozen=True)
class Visit:
    """One request: the house, and a connection with the kitchen open on it."""

    house: House
    connection: sa.Connection
    author: str

    @property
    def kitchen_id(self) -> int:
        """Whose kitchen it is."""
        return self.house.kitchen_id

    @property
    def desk(self) -> Desk:
        """The kitchen as it stands now."""
        return self.house.desks.desk(self.connection, self.kitchen_id)

    def who(self, note: str = "") -> Who:
        """Who does it, now."""
        return Who(self.author, self.house.now(), note.strip())


def house_of(request: Request) -> House:
    """The house that this request came to."""
    return cast(House, request.app.state.house)


def author_of(request: Request) -> str:
    """Who sits at this browser, as they said; empty if they did not."""
    return unquote(request.cookies.get(WHO_COOKIE, ""))[:MOST_NAME].strip()


def author_cookie(author: str) -> str:
    """A name as a cookie holds it."""
    return quote(author.strip()[:MOST_NAME])


@contextmanager
def looking(request: Request) -> Iterator[Visit]:
    """A visit that changes nothing."""
    house = house_of(request)
    with reading(house.engine) as connection:
        yield Visit(house, connection, author_of(request))


@contextmanager
def acting(request: Request) -> Iterator[Visit]:
    """A visit in one transaction: all that it does, or nothing."""
    house = house_of(request)
    with writing(house.engine) as connection:
        yield Visit(house, connection, author_of(request))


def render(
    request: Request,
    template: str,
    *,
    status: int = 200,
    visit: Visit | None = None,
    **values: Any,
) -> HTMLResponse:
    """A page from its template, with what the frame of every page needs.

    Args:
        request: what was asked.
        template: its file.
        status: HTTP status.
        visit: the visit, if one is open already.
        values: what the template says that it needs.
    """
    house = house_of(request)
    if visit is None:
        with reading(house.engine) as connection:
            row = kitchens.one(connection, house.kitchen_id)
    else:
        row = kitchens.one(visit.connection, house.kitchen_id)
    frame = {
        "kitchen": row.name if row else "",
        "author": author_of(request),
        "is_demo": house.is_demo,
    }
    page = house.templates.get_template(template).render({**frame, **values})
    return HTMLResponse(page, status_code=status)


def environment() -> Environment:
    """The templates, strict: a misspelt name is an error and not a blank."""
    made = Environment(
        loader=PackageLoader("slabwright.web"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.globals.update(
        fig=figure_markup, standing=standing_markup, value_text=value_text
    )
    made.filters.update(
        grams=words.grams,
        mm=words.mm,
        percent=words.percent,
        money=words.money,
        counted=words.counted,
        when=_when,
        day=_day,
        on_page=for_page,
    )
    return made


def _when(at: datetime) -> str:
    """A moment as the shop's clock shows it."""
    return at.astimezone().strftime("%-d %B %Y, %H:%M")


def _day(day: date) -> str:
    return day.strftime("%-d %B %Y")
