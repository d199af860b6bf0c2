from datetime import UTC, date, datetime

from bs4 import BeautifulSoup
from starlette.testclient import TestClient

from slabwright.desk.worked import open_desk
from slabwright.figure import Figure
from slabwright.store import cards, papers
from slabwright.store.engine import reading, writing
from slabwright.store.who import Who
from slabwright.web.desk_view import DeskView
from slabwright.web.shown import opened_form
from tests.web.conftest import DEMO, NOW, Kitchen

DESK = open_desk(1, {}, [], date(2026, 11, 26))
LAMP = (DEMO / "slabs/harbour-lamp.card").read_text("utf-8")
TIDES = (DEMO / "slabs/two-tides.card").read_text("utf-8")
WHO = Who("", datetime(2026, 11, 26, tzinfo=UTC))


def view(text: str, before: str = "") -> DeskView:
    was = DESK.worked(before).spec if before else None
    return DeskView(DESK.worked(text), was)


def test_an_opened_figure_says_its_likely_range() -> None:
    form = opened_form(Figure(14.7, "mm", "", low=14.04, high=15.53), "depth")

    assert form["likely"] == "14.0 to 15.5 mm"
    assert "likely" not in opened_form(Figure(14.7, "mm", ""), "depth")


def test_a_weighing_of_what_left_mix_in_the_bowl_knows_what_there_was() -> None:
    # the ganache loses 4 g in the bowl: 414 g stood in it before; the base lost water
    base, _, ganache = range(3)

    (in_bowl,) = view(LAMP).mass_edits(ganache)
    (baked,) = view(LAMP).mass_edits(base)

    assert in_bowl["mix_g"] == 414
    assert baked["mix_g"] is None


def test_the_mass_of_what_was_boiled_takes_what_the_pan_read() -> None:
    _, reading = view(LAMP).mass_edits(1)
    line = LAMP.splitlines()[reading["line"] - 1]

    assert reading["what"] == "boil_reading"
    assert "boil to 118 C" in line
    assert reading["value"].endswith(" g at 118 C")


def test_a_card_that_lost_its_first_line_is_not_taken_for_a_recipe() -> None:
    (wrong,) = view(LAMP.replace("slab ", "slob ", 1), LAMP).mistakes

    assert "does not begin with slab" in wrong.what
    assert wrong.line == 1
    assert view("For the base:\n190 g plain flour\n").mistakes == ()
    assert view("", LAMP).mistakes == ()


def test_figures_that_moved_say_whose_they_are() -> None:
    sweeter = TIDES.replace("85 g    caster sugar", "185 g    caster sugar")

    names = [one.name for one in view(sweeter, TIDES).moved]

    assert "slab: height" in names
    assert "Lemon semolina shortbread: depth" in names
    assert len(names) == len(set(names))


def test_a_kitchen_that_changed_is_read_anew(
    client: TestClient, kitchen: Kitchen
) -> None:
    number = kitchen.card_id("Two Tides")
    before = client.get(f"/api/slabs/{number}/spec").json()
    assert before["kitchen"]["eggs"] == "medium"
    with reading(kitchen.engine) as connection:
        paper = papers.latest(connection, kitchen.id, "kitchen.yaml")
    assert paper is not None
    with writing(kitchen.engine) as connection:
        text = paper.text.replace("eggs: medium", "eggs: large")
        papers.save(
            connection, kitchen.id, "kitchen.yaml", text, WHO, based_on=paper.number
        )

    after = client.get(f"/api/slabs/{number}/spec").json()

    assert after["kitchen"]["eggs"] == "large"


def test_a_long_shelf_has_pages(client: TestClient, kitchen: Kitchen) -> None:
    with writing(kitchen.engine) as connection:
        for number in range(30):
            text = f"slab Tray {number:02}\ntin 20 cm square\nlayer A\n  9 g honey\n"
            cards.add(
                connection, kitchen.id, "slab", f"Tray {number:02}", text,
                Who("", NOW.replace(hour=11, minute=number)),
            )  # fmt: skip

    first, second = client.get("/slabs").text, client.get("/slabs?start=24").text

    assert "1 to 24 of 33" in first
    assert "25 to 33 of 33" in second
    shown = [f"Tray {n:02}" for n in range(30) if f">Tray {n:02}<" in first]
    rest = [f"Tray {n:02}" for n in range(30) if f">Tray {n:02}<" in second]
    assert len(shown) == 24
    assert sorted(shown + rest) == [f"Tray {n:02}" for n in range(30)]


def test_no_two_slabs_on_the_shelf_share_an_id(
    client: TestClient, kitchen: Kitchen
) -> None:
    """Textures are found by their ids: a face drawn once is drawn for one slab."""
    with writing(kitchen.engine) as connection:
        text = (DEMO / "slabs" / "two-tides.card").read_text("utf-8")
        cards.add(connection, kitchen.id, "slab", "Its twin", text, Who("", NOW))
    soup = BeautifulSoup(client.get("/slabs").text, "html.parser")
    ids = [str(tag["id"]) for tag in soup.find_all(id=True)]
    assert sum(one.startswith("face-") for one in ids) > 3
    assert len(ids) == len(set(ids))


def test_a_slab_without_a_line_has_no_trim_and_still_its_page(
    client: TestClient,
) -> None:
    card = "slab Empty\ntin 30 x 20 x 5 cm\ncut 5 x 4\nlayer A\nlayer B\n"
    made = client.post("/api/slabs", json={"text": card})

    assert made.is_success
    assert view(card).trim_words == ""
    assert client.get(f"/slabs/{made.json()['id']}").status_code == 200
