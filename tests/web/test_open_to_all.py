"""Every screen as assistive technology meets it: in its worst states too."""

from collections.abc import Callable
from typing import Literal

import pytest

from slabwright.store import cards, revisions
from slabwright.store.engine import writing
from slabwright.store.who import Who
from tests.browser import Watched, axe
from tests.web.conftest import NOW, Kitchen, Served

Pages = Callable[..., Watched]
LONG = "Überaus-langer-Name-der-nirgends-umbricht-" * 2 + "ends here"
WORST = (
    f"slab {LONG}\ntin 30 x 20 x 5 cm\ncut 5 x 4, trim 5 mm\n"
    "note " + "a note that goes on and on " * 12 + "\n"
    + "".join(
        f"\nlayer {LONG} number {i}\n  {10 + i} g plain flour\n  20 g buter\n"
        f"  4 gq nonsense\n  3 g moon dust, grated finely, in three goes\n"
        for i in range(9)
    )
    + "\nlayer Empty\n\ntin 9 x\n"
)  # fmt: skip


@pytest.fixture
def worst(kitchen: Kitchen) -> int:
    """A slab with long names, many layers, and mistakes on most lines."""
    who = Who("Somebody with a rather long name of their own", NOW, "why " * 40)
    with writing(kitchen.engine) as connection:
        row = cards.add(connection, kitchen.id, "slab", LONG, WORST, who)
        more = WORST.replace("30 x 20", "28 x 19")
        revisions.save(
            connection, kitchen.id, row.id, more, who, based_on=1, as_trial=True
        )
        cards.set_aside(
            connection, kitchen.id, kitchen.card_id("Lantern Walk"), is_aside=True
        )
    return row.id


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [360, 1280])
def test_nobody_is_shut_out(
    worst: int,
    served: Served,
    pages: Pages,
    width: int,
    scheme: Literal["light", "dark"],
) -> None:
    seen = pages(width=width, scheme=scheme)
    seen.allowed += ["404", "409", "422"]
    good = served.kitchen.card_id("Two Tides")
    for number in (worst, good):
        for stop in ("", "/layers", "/layers?layer=Empty", "/scale", "/sheet",
                     "/trials", "/trials/1",
                     "/trials?beside=1&beside=2", "/photos", "/allergens",
                     "/ingredients", "/label", "/nutrition", "/price",
                     "/net-weight?weights=74+73.5+75+x", "/net-weight?weights=74+75",
                     "/price?tax=20&line=margin+90+%25", "/price?tax=x",
                     "/label?way=packed+here&baked=2026-11-26&surface=x"):  # fmt: skip
            look(seen, f"/slabs/{number}{stop}", width)
    for path in ("/slabs", "/slabs?find=zzz", "/start", "/larder", "/larder?find=buter",
                 "/larder/plain-flour", "/larder/own/add", "/buying",
                 "/buying/costs", "/buying/list", "/price", "/allergens", "/kitchen",
                 "/price?tax=0&line=60+%25&what_if=butter+%2B20+%25",
                 "/calculators", "/calculators/boiling-point",
                 "/calculators/tin-factor",
                 "/calculators/dew-point?room_C=x&" + "a" * 100 + "=2",
                 "/calculators/glass-transition?watr=2&temperature_C=" + "9" * 60,
                 "/evidence", "/kitchen/moving", "/nothing-here"):  # fmt: skip
        look(seen, path, width)


def look(seen: Watched, path: str, width: int) -> None:
    page = seen.page
    page.goto(path)
    if page.locator("#card").count() and path == "/start":
        page.locator("#card").focus()
        page.keyboard.insert_text("For the base:\n100 g glucose\n3 pectin\nsalt\n")
        page.locator('#desk[data-behind="no"]').wait_for(state="attached")
    page.evaluate(
        "document.querySelectorAll('details').forEach((d, i) => { d.open = i < 6; })"
    )
    assert page.locator("h1").count() == 1, path
    assert page.evaluate("document.documentElement.scrollWidth") <= width, path
    assert axe(page) == [], path


def test_an_opened_figure_shuts_nobody_out(served: Served, pages: Pages) -> None:
    page = pages().page
    page.goto(f"/slabs/{served.kitchen.card_id('Two Tides')}")
    page.locator(".layers .fig").first.click()

    assert axe(page) == []
