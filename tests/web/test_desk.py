import re
from datetime import UTC, datetime

from starlette.testclient import TestClient

from slabwright.store import cards, drafts, revisions
from slabwright.store.engine import reading, writing
from slabwright.store.who import Who
from tests.web.conftest import DEMO, Kitchen

TIDES = (DEMO / "slabs/two-tides.card").read_text("utf-8")
SWEETER = TIDES.replace("85 g    caster sugar", "95 g    caster sugar")


def card_of(kitchen: Kitchen, name: str = "Two Tides") -> cards.CardRow:
    with reading(kitchen.engine) as connection:
        row = cards.one(connection, kitchen.id, kitchen.card_id(name))
    assert row is not None
    return row


def test_the_desk_shows_the_figures_of_the_demo(
    client: TestClient, kitchen: Kitchen
) -> None:
    page = client.get(f"/slabs/{kitchen.card_id('Two Tides')}").text

    # demo.md: 10.0, 14.8 and 6.1 mm, 30.9 in all; 20 pieces of 86 g
    for number in ("10.0", "14.8", "6.1", "30.9", "86"):
        assert re.search(rf">{re.escape(number)}<span", page), number
    assert "190 g   plain flour" in page
    assert 'aria-label="What was understood, line by line"' in page


def test_allergens_follow_what_is_typed(client: TestClient, kitchen: Kitchen) -> None:
    number = kitchen.card_id("Two Tides")
    assert "Contains wheat, egg and milk." in client.get(f"/slabs/{number}").text
    nutty = TIDES.replace("4 g     lemon zest", "4 g     roasted hazelnuts", 1)
    assert nutty != TIDES
    part = client.post(f"/slabs/{number}/follow", data={"card": nutty, "base": "1"})
    assert "Contains wheat, egg, milk and hazelnuts." in part.text
    unknown = TIDES.replace("4 g     lemon zest", "4 g     moon dust", 1)
    part = client.post(f"/slabs/{number}/follow", data={"card": unknown, "base": "1"})
    assert "Held: 1 question open." in part.text
    empty = client.post("/start/follow", data={"card": ""})
    assert "14" not in empty.text


def test_what_is_typed_is_followed_and_set_against_the_revision(
    client: TestClient, kitchen: Kitchen
) -> None:
    number = kitchen.card_id("Two Tides")

    part = client.post(
        f"/slabs/{number}/follow", data={"card": SWEETER, "base": "1"}
    ).text

    assert 'id="face"' in part
    assert 'id="readings"' in part
    assert "What that moved" in part
    assert "caster sugar, 85 to 95 g" in part
    assert card_of(kitchen).text == TIDES


def test_a_mistake_is_marked_in_place_and_leaves_the_rest_worked_out(
    client: TestClient, kitchen: Kitchen
) -> None:
    number = kitchen.card_id("Two Tides")
    broken = TIDES.replace("190 g   plain flour", "190 gq   plain flour")

    part = client.post(
        f"/slabs/{number}/follow", data={"card": broken, "base": "1"}
    ).text

    assert "To put right" in part
    assert '<i class="bad">' in part
    assert "14.8<span" in part, "the curd is still worked out"


def test_a_revision_is_kept_with_its_note_and_the_draft_is_let_go(
    client: TestClient, kitchen: Kitchen
) -> None:
    number = kitchen.card_id("Two Tides")
    client.post(f"/slabs/{number}/draft", data={"card": SWEETER, "base": "1"})
    assert "Draft of v2, from v1." in client.get(f"/slabs/{number}").text

    answer = client.post(
        f"/slabs/{number}/keep",
        data={"card": SWEETER, "base": "1", "note": "sweeter base"},
        follow_redirects=False,
    )

    assert answer.status_code == 303
    assert answer.headers["location"] == f"/slabs/{number}"
    assert card_of(kitchen).text == SWEETER
    with reading(kitchen.engine) as connection:
        kept = revisions.listed(connection, kitchen.id, number)
        assert drafts.one(connection, kitchen.id, f"card-{number}", "") is None
    assert [(one.number, one.note) for one in kept] == [
        (2, "sweeter base"),
        (1, "from a folder"),
    ]


def test_the_second_of_two_hands_is_shown_both_and_loses_nothing(
    client: TestClient, kitchen: Kitchen
) -> None:
    number = kitchen.card_id("Two Tides")
    theirs = TIDES.replace("170 g   butter", "150 g   butter")
    with writing(kitchen.engine) as connection:
        who = Who("Morwen", datetime(2026, 11, 26, 10, 12, tzinfo=UTC), "less butter")
        revisions.save(connection, kitchen.id, number, theirs, who, based_on=1)

    answer = client.post(f"/slabs/{number}/keep", data={"card": SWEETER, "base": "1"})

    assert answer.status_code == 409
    assert "Morwen saved v2" in answer.text
    for line in ("150 g   butter", "95 g    caster sugar"):
        assert line in answer.text
    assert card_of(kitchen).text == theirs
    with reading(kitchen.engine) as connection:
        mine = drafts.one(connection, kitchen.id, f"card-{number}", "")
    assert mine is not None
    assert mine.text == SWEETER

    beside = {"card": SWEETER, "base": "1", "as_trial": "1"}
    assert client.post(f"/slabs/{number}/keep", data=beside).status_code == 200
    assert card_of(kitchen).text == theirs
    with reading(kitchen.engine) as connection:
        (trial,) = revisions.trials(connection, kitchen.id, number)
    assert trial.text == SWEETER


def test_a_what_if_never_touches_a_proved_revision(
    client: TestClient, kitchen: Kitchen
) -> None:
    number = kitchen.card_id("Two Tides")
    proved = TIDES.replace("keep chilled", "proved 2026-03-14\nkeep chilled", 1)
    client.post(f"/slabs/{number}/keep", data={"card": proved, "base": "1"})
    assert card_of(kitchen).is_proved

    unproved = SWEETER
    client.post(f"/slabs/{number}/keep", data={"card": unproved, "base": "2"})

    row = card_of(kitchen)
    assert (row.text, row.current, row.latest) == (proved, 2, 3)
    assert "a trial" in client.get(f"/slabs/{number}/trials/3").text


def test_taking_up_a_trial_adds_a_revision_and_keeps_the_old_ones(
    client: TestClient, kitchen: Kitchen
) -> None:
    number = kitchen.card_id("Two Tides")
    client.post(
        f"/slabs/{number}/keep", data={"card": SWEETER, "base": "1", "as_trial": "1"}
    )

    client.post(f"/slabs/{number}/take-up", data={"number": "2"})

    row = card_of(kitchen)
    assert (row.text, row.current) == (SWEETER, 3)
    page = client.get(f"/slabs/{number}/trials?beside=1&beside=3").text
    assert "Side by side" in page
    assert re.search(r"caster sugar.*>85<.*>95<", page, re.DOTALL)


def test_a_card_with_the_line_ends_of_another_system_keeps_them(
    client: TestClient, kitchen: Kitchen
) -> None:
    dos = TIDES.replace("\n", "\r\n")
    with writing(kitchen.engine) as connection:
        row = cards.add(
            connection, kitchen.id, "slab", "Two Tides, from elsewhere", dos,
            Who("", datetime(2026, 11, 26, tzinfo=UTC)),
        )  # fmt: skip

    client.post(f"/slabs/{row.id}/keep", data={"card": SWEETER, "base": "1"})

    with reading(kitchen.engine) as connection:
        kept = revisions.one(connection, kitchen.id, row.id, 2)
    assert kept is not None
    assert kept.text == SWEETER.replace("\n", "\r\n")


def test_an_edit_beside_the_drawing_rewrites_its_span_alone(client: TestClient) -> None:
    asked = {"text": TIDES, "what": "pieces", "value": "24"}

    made = client.post("/api/edit", json=asked).json()

    after = TIDES[: made["start"]] + made["value"] + TIDES[made["end"] :]
    assert after == TIDES.replace(
        "cut 5 x 4, trim 5 mm\n", "cut 24 pieces, trim 5 mm\n"
    )


def test_an_edit_of_what_is_no_card_is_refused_in_words(client: TestClient) -> None:
    asked = {"text": "For the base:\n190 g flour", "what": "tin", "value": "20 x 20 cm"}

    answer = client.post("/api/edit", json=asked)

    assert answer.status_code == 422
    assert "slab" in answer.json()["errors"][0]["do"]
    adopted = client.post("/api/edit", json={**asked, "adopt": True}).json()
    assert "tin 20 x 20 cm" in adopted["value"]


def test_a_pasted_recipe_is_kept_as_a_card_with_all_its_lines(
    client: TestClient, kitchen: Kitchen
) -> None:
    pasted = (DEMO / "pasted/lemon-slice.txt").read_text("utf-8")

    answer = client.post(
        "/start/keep", data={"card": pasted, "then": "20 cm square"},
        follow_redirects=False,
    )  # fmt: skip

    place = answer.headers["location"]
    assert re.fullmatch(r"/slabs/\d+/scale\?tin=20\+cm\+square", place)
    number = int(place.split("/")[2])
    with reading(kitchen.engine) as connection:
        row = cards.one(connection, kitchen.id, number)
    assert row is not None
    assert row.text.startswith("slab ")
    assert "Nutrition per piece" in row.text


def test_an_empty_kitchen_greets_with_one_thing_to_do(
    client: TestClient, kitchen: Kitchen
) -> None:
    with writing(kitchen.engine) as connection:
        for row in cards.listed(connection, kitchen.id, "slab"):
            cards.set_aside(connection, kitchen.id, row.id, is_aside=True)
    assert "In the drawer" in client.get("/slabs").text

    assert client.get("/slabs?find=nothing+has+this").status_code == 200
    page = client.get("/start").text
    assert "Paste a recipe" in page
    assert "An empty tin." in page
    assert "price" not in page.casefold().split("<main")[1].split("<footer")[0]


def test_the_shelf_finds_a_slab_by_an_ingredient(client: TestClient) -> None:
    page = client.get("/slabs?find=tahini").text

    assert "Lantern Walk" in page
    assert "Two Tides" not in page


def test_a_zip_without_a_kitchen_is_told_apart(client: TestClient) -> None:
    backup = client.get("/kitchen/backup").content
    folder = client.get("/kitchen/export.zip").content

    answer = client.post("/kitchen/import", files={"folder": ("b.backup", backup)})
    assert answer.status_code == 422
    assert "back-up of a whole store" in answer.text

    answer = client.post("/kitchen/verify", files={"file": ("k.zip", folder)})
    assert answer.status_code == 422
    assert "slabwright-" not in answer.text
    good = client.post("/kitchen/verify", files={"file": ("b.backup", backup)})
    assert "The back-up is sound" in good.text
    again = client.post("/kitchen/import", files={"folder": ("k.zip", folder)})
    assert "0 files new" in again.text


def test_two_windows_of_one_person_lose_nothing(
    client: TestClient, kitchen: Kitchen
) -> None:
    number = kitchen.card_id("Two Tides")
    other = TIDES.replace("170 g   butter", "160 g   butter")
    first = client.post(
        f"/slabs/{number}/draft", data={"card": SWEETER, "base": "1"}
    ).json()

    second = client.post(
        f"/slabs/{number}/draft", data={"card": other, "base": "1"}
    ).json()

    assert second["key"] != first["key"]
    page = client.get(f"/slabs/{number}", params={"draft": second["key"]}).text
    assert "160 g   butter" in page
    assert "Another draft" in page
    assert "95 g    caster sugar" in client.get(
        f"/slabs/{number}", params={"draft": first["key"]}
    ).text  # fmt: skip
    # the window that knows its draft goes on with it
    more = SWEETER.replace("2 g     fine salt", "3 g     fine salt", 1)
    again = client.post(
        f"/slabs/{number}/draft",
        data={"card": more, "base": "1", "draft": first["key"], "seen": first["at"]},
    ).json()
    assert again["key"] == first["key"]
    with reading(kitchen.engine) as connection:
        kept = drafts.listed(connection, kitchen.id, "")
    assert {one.text for one in kept} == {other, more}


def test_a_text_of_endless_lines_is_refused_at_once(client: TestClient) -> None:
    endless = "slab A\n" + "layer B\n" * 50_000

    answer = client.post("/api/spec", json={"text": endless})

    assert answer.status_code == 422
    assert "50,002 lines" in answer.json()["errors"][0]["what"]
    assert client.post("/start/follow", data={"card": endless}).status_code == 422
