"""The kitchen in the browser: forms and text write one file; nothing else moves."""

import re
from dataclasses import replace
from html import unescape

import pytest
from fastapi import FastAPI
from starlette.testclient import TestClient

from slabwright.store import drafts, kitchens, papers
from slabwright.store.engine import reading, writing
from slabwright.store.papers import Paper
from slabwright.store.who import Who
from tests.web.conftest import DEMO, NOW, Kitchen

TEXT = (DEMO / "kitchen.yaml").read_text("utf-8")


def paper(kitchen: Kitchen, name: str = "kitchen.yaml") -> Paper:
    with reading(kitchen.engine) as connection:
        found = papers.latest(connection, kitchen.id, name)
    assert found is not None
    return found


def said_otherwise(text: str, was: str = TEXT) -> tuple[list[str], list[str]]:
    old, new = was.splitlines(), text.splitlines()
    return [x for x in old if x not in new], [x for x in new if x not in old]


def mistakes(page: str) -> str:
    found = re.search(r'<ul class="mistakes".*?</ul>', page, re.DOTALL)
    return unescape(re.sub("<[^>]+>", "", found[0])) if found else ""


def by_somebody_else(kitchen: Kitchen, was: str, now: str, name: str = "kitchen.yaml"
                     ) -> None:  # fmt: skip
    with writing(kitchen.engine) as connection:
        held = papers.latest(connection, kitchen.id, name)
        assert held is not None
        papers.save(
            connection, kitchen.id, name, held.text.replace(was, now),
            Who("Dov", NOW), based_on=held.number,
        )  # fmt: skip


# --- forms --------------------


def test_the_page_tells_all_of_the_kitchen(client: TestClient) -> None:
    page = client.get("/kitchen").text

    for said in ("Gannet Steps Bakehouse", "57 x 37 x 4.5 cm", "£15.20", "6%",
                 "roller cutter", "reads high", "fri 12:00-14:00; sat sun 08:00-16:00",
                 "5,000\u2009g", 'href="/kitchen/moving"'):  # fmt: skip
        assert said in page


def test_one_field_is_changed_and_every_other_line_stays(
    client: TestClient, kitchen: Kitchen
) -> None:
    sent = {"base": 1, "labour_per_hour": "16.50", "electricity_per_kWh": "0.26",
            "waste_share": "6"}  # fmt: skip

    answer = client.post("/kitchen/edit/money", data=sent, follow_redirects=False)

    assert (answer.status_code, answer.headers["location"]) == (303, "/kitchen#money")
    assert said_otherwise(paper(kitchen).text) == (
        ["labour_per_hour: 15.20"], ["labour_per_hour: 16.50"],
    )  # fmt: skip
    assert paper(kitchen).note == "Wages, power, waste changed"


def test_nothing_changed_is_no_new_revision(
    client: TestClient, kitchen: Kitchen
) -> None:
    for key in ("house", "air", "hand", "money", "vessels", "people", "ovens"):
        form = client.get(f"/kitchen/edit/{key}").text
        client.post(f"/kitchen/edit/{key}", data=fields_of(form))

    assert (paper(kitchen).number, paper(kitchen).text) == (1, TEXT)


def fields_of(form: str) -> dict[str, str]:
    """What a browser would send of a form as it stands."""
    found = {
        name: unescape(value)
        for name, value in re.findall(
            r'<input[^>]*?name="([^"]+)"[^>]*?value="([^"]*)"', form
        )
    }
    for name, inner in re.findall(
        r'<select name="([^"]+)".*?>(.*?)</select>', form, re.DOTALL
    ):
        chosen = re.search(r"<option selected>([^<]*)", inner)
        found[name] = unescape(chosen[1]) if chosen else ""
    return found


def test_rows_are_changed_taken_out_and_added(
    client: TestClient, kitchen: Kitchen
) -> None:
    sent = fields_of(client.get("/kitchen/edit/vessels").text)
    sent |= {"0.litres": "12.5", "1.name": "", "1.litres": "", "1.across_cm": "",
             "n0.name": "copper pan", "n0.litres": "5,5"}  # fmt: skip

    client.post("/kitchen/edit/vessels", data=sent)

    assert said_otherwise(paper(kitchen).text) == (
        ["  - {name: wide pan, litres: 12, across_cm: 32}",
         "  - {name: small pan, litres: 3, across_cm: 20}"],
        ["  - {name: wide pan, litres: 12.5, across_cm: 32}",
         "  - {name: copper pan, litres: 5.5}"],
    )  # fmt: skip


def test_shifts_are_written_in_words(client: TestClient, kitchen: Kitchen) -> None:
    sent = fields_of(client.get("/kitchen/edit/people").text)
    sent |= {
        "n0.name": "Ines",
        "n0.shifts": "Monday tue 6:00 to 14.30; sat 08:00-12:00",
    }

    client.post("/kitchen/edit/people", data=sent)

    assert "mon tue 6:00-14.30; sat 08:00-12:00" in client.get("/kitchen").text


@pytest.mark.parametrize(
    ("key", "field", "value", "said"),
    [
        ("air", "altitude_m", "9000", "altitude_m"),
        ("air", "altitude_m", "1,500", "altitude_m"),
        ("house", "country", "Britain", "country"),
        ("money", "waste_share", "120", "waste_share"),
        ("hand", "knife_mm", "thin", "knife_mm"),
        ("tins", "n0.size", "big", "'big' is not the size of a tin"),
        ("vessels", "0.name", "", "vessels.0.name"),
        ("people", "0.shifts", "when she likes", "'when she likes' is no shift"),
        ("ovens", "0.shelf", "60", "'60' is not the size of a shelf"),
    ],
)
def test_what_the_file_refuses_is_said_and_what_was_typed_stays(
    client: TestClient, kitchen: Kitchen, key: str, field: str, value: str, said: str
) -> None:
    sent = fields_of(client.get(f"/kitchen/edit/{key}").text) | {field: value}
    if field == "n0.size":
        sent["n0.name"] = "odd tin"

    answer = client.post(f"/kitchen/edit/{key}", data=sent)

    assert answer.status_code == 422
    assert said in mistakes(answer.text)
    assert fields_of(answer.text)[field] == value
    assert paper(kitchen).number == 1


def test_country_and_currency_may_be_typed_small(
    client: TestClient, kitchen: Kitchen
) -> None:
    sent = fields_of(client.get("/kitchen/edit/house").text)

    client.post("/kitchen/edit/house", data=sent | {"country": "ie", "currency": "eur"})

    assert said_otherwise(paper(kitchen).text)[1] == ["country: IE", "currency: EUR"]


def test_the_name_of_the_kitchen_follows_its_file(
    client: TestClient, kitchen: Kitchen
) -> None:
    sent = fields_of(client.get("/kitchen/edit/house").text) | {
        "name": "Quay Bakehouse"
    }

    client.post("/kitchen/edit/house", data=sent)

    with reading(kitchen.engine) as connection:
        row = kitchens.one(connection, kitchen.id)
        other = kitchens.one(connection, kitchen.other_id)
    assert row is not None
    assert other is not None
    assert (row.name, other.name) == ("Quay Bakehouse", "The other one")


def test_line_ends_of_the_file_stay(client: TestClient, kitchen: Kitchen) -> None:
    by_somebody_else(kitchen, "\n", "\r\n")
    sent = fields_of(client.get("/kitchen/edit/air").text) | {"altitude_m": "250"}

    client.post("/kitchen/edit/air", data=sent)

    wanted = TEXT.replace("altitude_m: 5", "altitude_m: 250").replace("\n", "\r\n")
    assert paper(kitchen).text == wanted


def test_a_kitchen_without_a_file_begins_one(client: TestClient, app: FastAPI,
                                             kitchen: Kitchen) -> None:  # fmt: skip
    app.state.house = replace(app.state.house, kitchen_id=kitchen.other_id)
    assert "Nothing is said of this kitchen yet" in client.get("/kitchen").text

    client.post(
        "/kitchen/edit/tins",
        data={"base": 0, "n0.name": "tray", "n0.size": "30 x 20 x 5 cm"},
    )

    with reading(kitchen.engine) as connection:
        made = papers.latest(connection, kitchen.other_id, "kitchen.yaml")
    assert made is not None
    assert made.text == "tins:\n- name: tray\n  size: 30 x 20 x 5 cm\n"
    assert paper(kitchen).text == TEXT


@pytest.mark.parametrize("address", ["/kitchen/edit/nothing", "/kitchen/papers/x.yaml",
                                     "/kitchen/papers/kitchen.yaml/7",])  # fmt: skip
def test_what_is_not_there_is_a_page_that_says_so(
    client: TestClient, address: str
) -> None:
    assert client.get(address).status_code == 404


# --- the probe --------------------


def test_the_probe_check_says_where_water_boils(client: TestClient) -> None:
    """94.98 °C at 1,500 m: see the reference in tests/physics/test_water.py."""
    page = client.get(
        "/kitchen/probe", params={"reads": "96.0", "altitude": "1500"}
    ).text

    assert "95.0<" in page
    assert "reads high" in page
    assert "1.0<" in page
    assert "119.0<" in page
    assert "5.0<" in page  # a sugar boil ends so much lower


def test_a_true_probe_is_called_true(client: TestClient) -> None:
    page = client.get("/kitchen/probe", params={"reads": "100", "altitude": "0"}).text

    assert "reads true" in page


def test_keeping_the_check_writes_both_and_the_comment_stays(
    client: TestClient, kitchen: Kitchen
) -> None:
    sent = {"base": "1", "reads": "99.5", "altitude": "5"}

    client.post("/kitchen/probe", data=sent)

    assert said_otherwise(paper(kitchen).text) == (
        ["probe_in_boiling_water_C: 101.0   # reads 1.0 C high here"],
        ["probe_in_boiling_water_C: 99.5    # reads 1.0 C high here"],
    )


@pytest.mark.parametrize(
    ("reads", "altitude"), [("hot", "5"), ("20", "5"), ("100", "9000")]
)
def test_an_odd_reading_is_refused_by_both_buttons(
    client: TestClient, kitchen: Kitchen, reads: str, altitude: str
) -> None:
    sent = {"base": "1", "reads": reads, "altitude": altitude}

    looked, kept = (
        client.get("/kitchen/probe", params=sent),
        client.post("/kitchen/probe", data=sent),
    )

    for answer in (looked, kept):
        assert answer.status_code == 422
        assert "is no number from" in mistakes(answer.text)
    assert paper(kitchen).number == 1


# --- who is here --------------------


def test_a_name_is_kept_in_a_cookie_that_no_script_and_no_other_site_gets(
    client: TestClient,
) -> None:
    answer = client.post(
        "/kitchen/who", data={"who": " Zoë  \N{ROCKET}; x=1 "}, follow_redirects=False
    )

    cookie = answer.headers["set-cookie"]
    assert answer.headers["location"] == "/kitchen#who"
    for part in ("HttpOnly", "SameSite=strict", "Path=/", "Max-Age=31536000"):
        assert part in cookie
    assert "Zoë \N{ROCKET}; x=1 sits at this browser" in client.get("/kitchen").text


def test_a_name_is_let_go(client: TestClient) -> None:
    client.post("/kitchen/who", data={"who": "Dov"})
    client.post("/kitchen/who", data={"who": ""})

    assert "Say who you are" in client.get("/kitchen").text


def test_what_is_kept_bears_the_name(client: TestClient, kitchen: Kitchen) -> None:
    client.post("/kitchen/who", data={"who": "Morwen"})
    client.post("/kitchen/probe", data={"base": "1", "reads": "100.5", "altitude": "5"})

    assert (paper(kitchen).author, paper(kitchen).at) == ("Morwen", NOW)


# --- the text --------------------


def test_the_text_is_kept_byte_for_byte(client: TestClient, kitchen: Kitchen) -> None:
    typed = TEXT + "# and a note\n"
    sent = {"text": typed.replace("\n", "\r\n"), "base": 1, "note": "a note"}

    client.post("/kitchen/papers/kitchen.yaml", data=sent)

    assert paper(kitchen).text == TEXT + "# and a note\n"
    assert "a note" in client.get("/kitchen/papers/kitchen.yaml").text


def test_a_text_with_mistakes_is_not_kept_but_stays_as_a_draft(
    client: TestClient, kitchen: Kitchen
) -> None:
    typed = TEXT.replace("altitude_m: 5", "altitude_m: high").replace("57 x 37", "wide")

    answer = client.post(
        "/kitchen/papers/kitchen.yaml", data={"text": typed, "base": 1}
    )

    assert answer.status_code == 422
    assert "Line 7" in mistakes(answer.text)
    assert '<i class="bad">altitude_m: high</i>' in answer.text
    assert paper(kitchen).text == TEXT
    with reading(kitchen.engine) as connection:
        draft = drafts.one(connection, kitchen.id, "paper-kitchen.yaml", "")
    assert draft is not None
    assert draft.text == typed
    again = client.get("/kitchen/papers/kitchen.yaml").text
    assert "altitude_m: high" in again
    client.post("/kitchen/papers/kitchen.yaml/drop")
    assert "altitude_m: high" not in client.get("/kitchen/papers/kitchen.yaml").text


@pytest.mark.parametrize(
    "typed", ["a: [", "a: &b 1\nc: *b", "- 1", "{" * 30, "name: 'x", "\tx: 1"]
)
def test_no_text_breaks_the_page_or_another(
    client: TestClient, kitchen: Kitchen, typed: str
) -> None:
    answer = client.post(
        "/kitchen/papers/kitchen.yaml", data={"text": typed, "base": 1}
    )

    assert answer.status_code == 422
    assert len(mistakes(answer.text)) > 20
    assert "To put right" in answer.text
    assert paper(kitchen).text == TEXT
    assert client.get("/kitchen").status_code == 200


@pytest.mark.parametrize("name", ["kitchen.yaml", "larder.yaml", "prices.yaml"])
def test_a_paper_that_came_broken_breaks_no_page(
    client: TestClient, kitchen: Kitchen, name: str
) -> None:
    held = paper(kitchen, name).text
    by_somebody_else(kitchen, held, held + "\n- [broken: {\n", name)

    for address in ("/slabs", "/kitchen", "/larder", "/larder/butter-unsalted",
                    "/buying", "/buying/costs", "/buying/list",
                    f"/kitchen/papers/{name}", "/kitchen/probe"):  # fmt: skip
        assert client.get(address).status_code == 200, address
    assert "To put right" in client.get("/kitchen").text
    assert "Line" in mistakes(client.get(f"/kitchen/papers/{name}").text)


@pytest.mark.parametrize(
    ("name", "typed"),
    [("larder.yaml", "- {like: plain flour}"), ("prices.yaml", "- {pack: 1 kg}")],
)
def test_no_paper_is_kept_of_which_nothing_could_be_used(
    client: TestClient, kitchen: Kitchen, name: str, typed: str
) -> None:
    answer = client.post(f"/kitchen/papers/{name}", data={"text": typed, "base": 1})

    assert answer.status_code == 422
    assert "is missing" in mistakes(answer.text)
    assert paper(kitchen, name).number == 1


def test_a_price_list_with_a_row_too_many_is_kept_and_the_row_is_named(
    client: TestClient, kitchen: Kitchen
) -> None:
    typed = paper(kitchen, "prices.yaml").text + (
        "- {ingredient: moon dust, pack: 1 kg, price: 1}\n"
    )

    client.post("/kitchen/papers/prices.yaml", data={"text": typed, "base": 1})

    assert paper(kitchen, "prices.yaml").text == typed
    page = client.get("/buying").text
    assert "The larder has no 'moon dust'" in mistakes(page)
    assert "not used: the larder has no such name" in page


def test_the_text_is_followed_while_it_is_typed(client: TestClient) -> None:
    answer = client.post(
        "/kitchen/papers/kitchen.yaml/follow", data={"text": "eggs: giant\r\nname: x"}
    )

    assert '<i class="bad">eggs: giant</i>' in answer.text
    assert "1 to put right." in answer.text


def test_an_older_text_is_shown_and_taken_up_again(
    client: TestClient, kitchen: Kitchen
) -> None:
    client.post("/kitchen/probe", data={"base": "1", "reads": "99.5", "altitude": "5"})

    page = client.get("/kitchen/papers/kitchen.yaml/1").text
    client.post("/kitchen/papers/kitchen.yaml", data={"text": TEXT, "base": 2})

    assert "Take up revision 1 again" in page
    assert (paper(kitchen).number, paper(kitchen).text) == (3, TEXT)


# --- two hands --------------------


def test_the_second_to_save_is_told_and_both_changes_can_be_kept(
    client: TestClient, kitchen: Kitchen
) -> None:
    by_somebody_else(kitchen, "altitude_m: 5", "altitude_m: 30")
    sent = {"base": 1, "labour_per_hour": "16.50", "electricity_per_kWh": "0.26",
            "waste_share": "6"}  # fmt: skip

    answer = client.post("/kitchen/edit/money", data=sent)

    assert answer.status_code == 409
    assert "Dov saved revision 2" in answer.text
    assert "altitude_m: 30" in answer.text
    assert "labour_per_hour: 16.50" in answer.text
    assert "labour_per_hour: 15.20" in paper(kitchen).text
    both = re.search(
        r"<textarea[^>]*>\n(.*?)</textarea>.*?id=\"both\"", answer.text, re.DOTALL
    )
    assert both is not None
    client.post(
        "/kitchen/papers/kitchen.yaml", data={"text": unescape(both[1]), "base": 2}
    )
    assert said_otherwise(paper(kitchen).text) == (
        ["altitude_m: 5", "labour_per_hour: 15.20"],
        ["altitude_m: 30", "labour_per_hour: 16.50"],
    )


def test_where_both_changed_one_line_nobody_chooses_for_them(
    client: TestClient, kitchen: Kitchen
) -> None:
    by_somebody_else(kitchen, "altitude_m: 5", "altitude_m: 30")

    answer = client.post(
        "/kitchen/probe", data={"base": "1", "reads": "101.0", "altitude": "40"}
    )

    assert answer.status_code == 409
    assert 'id="both"' not in answer.text
    assert 'id="mine"' in answer.text
    assert "altitude_m: 30" in paper(kitchen).text


def test_a_revision_that_never_was_is_no_ground_to_save_on(
    client: TestClient, kitchen: Kitchen
) -> None:
    answer = client.post(
        "/kitchen/probe", data={"base": "9", "reads": "101", "altitude": "40"}
    )

    assert answer.status_code == 404
    assert paper(kitchen).number == 1
