"""Buying in the browser: prices, costs and the list, as the terminal works them out."""

import json
import re
from base64 import b64encode
from dataclasses import replace
from hashlib import sha256
from html import unescape
from typing import Any

import pytest
from fastapi import FastAPI
from starlette.testclient import TestClient

from slabwright.store import cards, papers
from slabwright.store.engine import reading, writing
from slabwright.store.papers import Paper
from slabwright.store.who import Who
from tests.cli.run import run
from tests.web.conftest import DEMO, NOW, Kitchen

TEXT = (DEMO / "prices.yaml").read_text("utf-8")
ON = ("--on", "2026-11-26")
"""The day of the app's clock; the terminal's own stands still on another."""
CARDS = {name: str(DEMO / "slabs" / f"{name.lower().replace(' ', '-')}.card")
         for name in ("Two Tides", "Harbour Lamp", "Lantern Walk")}  # fmt: skip


def paper(kitchen: Kitchen) -> Paper:
    with reading(kitchen.engine) as connection:
        found = papers.latest(connection, kitchen.id, "prices.yaml")
    assert found is not None
    return found


def words(page: str) -> str:
    """What a page says, without its markup."""
    return " ".join(unescape(re.sub("<[^>]+>", " ", page)).split())


def figures(page: str) -> dict[str, dict[str, Any]]:
    """Every figure on a page, by its name."""
    found = [
        json.loads(unescape(f)) for f in re.findall(r'data-figure="([^"]*)"', page)
    ]
    return {one["name"]: one for one in found}


def told(*arguments: str) -> dict[str, Any]:
    ran = run(*arguments, "--json")
    assert ran.out, ran.err
    found: dict[str, Any] = json.loads(ran.out)
    return found


def with_slab(kitchen: Kitchen, text: str) -> int:
    with writing(kitchen.engine) as connection:
        row = cards.add(connection, kitchen.id, "slab", "Odd One", text, Who("", NOW))
        return row.id


ODD = """\
slab Odd One
tin 20 x 20 x 5 cm
cut 4 x 4

layer base
100 g plain flour
50 g pistachio paste
20 g moon dust
"""

# --- prices --------------------


def test_every_price_stands_there_with_what_it_counts_for(client: TestClient) -> None:
    page = client.get("/buying").text

    kilogram = figures(page)["price of a kilogram of unsalted butter"]
    assert kilogram["value"] == "£7.20"  # 1.80 for 250 g
    assert "1.80 GBP ÷ 250 g × 1000 = 7.2000" in kilogram["sum"]
    said = words(page)
    assert (
        "250 g, the merchant £1.80 5 January 2026 counts, the cheapest by the gram"
        in said
    )
    assert "250 g, the merchant £1.95 4 January 2027 to come" in said
    assert "250 g, the merchant £1.65 2 June 2025 past" in said
    assert "2,000 g in stock" in said
    assert len(re.findall(r'href="/buying/prices/\d+"', page)) == TEXT.count("- {")


def test_what_is_in_use_and_has_no_price_stands_first(
    client: TestClient, kitchen: Kitchen
) -> None:
    with_slab(kitchen, ODD)

    page = client.get("/buying").text

    assert (
        page.index('id="missing"') < page.index('id="add"') < page.index('id="prices"')
    )
    missing = words(page[page.index('id="missing"') : page.index('id="add"')])
    assert "pistachio paste" in missing
    assert "moon dust the larder does not know it" in missing
    assert "plain flour" not in missing
    assert "Odd One" in missing


def test_old_prices_are_marked(client: TestClient, kitchen: Kitchen) -> None:
    with writing(kitchen.engine) as connection:
        old = TEXT.replace(
            "price: 24.00, from: 2026-01-05", "price: 24.00, from: 2025-11-20"
        )
        papers.save(
            connection, kitchen.id, "prices.yaml", old, Who("", NOW), based_on=1
        )

    page = client.get("/buying").text

    assert re.findall(r">([^<]+)</a> <b class=\"old\">over a year old", page) == [
        "cocoa butter"
    ]


def price(**more: object) -> dict[str, object]:
    form: dict[str, object] = {
        "ingredient": "plain flour", "pack": "16 kg", "price": "13.20",
        "since": "2026-11-01", "supplier": "the merchant", "base": 1,
    }  # fmt: skip
    return form | more


def test_a_price_is_added_and_the_one_before_is_history(
    client: TestClient, kitchen: Kitchen
) -> None:
    client.post("/buying/prices", data=price(price="£13.20", stock_g="8000"))

    row = (
        "- {ingredient: plain flour, pack: 16 kg, price: 13.20, from: 2026-11-01, "
        "supplier: the merchant, stock_g: 8000}\n"
    )
    assert paper(kitchen).text == TEXT + row
    said = words(client.get("/buying", params={"find": "plain flour"}).text)
    assert "16 kg, the merchant £13.20 1 November 2026 counts" in said
    assert "16 kg, the merchant £12.48 5 January 2026 past" in said
    assert "10,000 g in stock" in said


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ({"ingredient": "moon dust"}, "The larder has no 'moon dust'"),
        ({"pack": "16 bags"}, "has no weight that can be read"),
        ({"price": "dear"}, "price"),
        ({"price": "-1"}, "price"),
        ({"price": "1,350"}, "price"),
        ({"since": "2026-02-31"}, "from"),
        ({"until": "2026-01-01"}, "ends before it begins"),
        ({"stock_g": "-5"}, "stock_g"),
        ({"ingredient": ""}, "ingredient"),
    ],
)
def test_a_price_that_would_not_count_is_refused_and_stays_typed(
    client: TestClient, kitchen: Kitchen, more: dict[str, str], said: str
) -> None:
    answer = client.post("/buying/prices", data=price(**more))

    assert answer.status_code == 422
    assert said in words(answer.text)
    assert paper(kitchen).text == TEXT
    ((field, value),) = more.items()
    assert re.search(rf'name="{field}"[^>]*value="{re.escape(value)}"', answer.text)


def row_of(ingredient: str, since: str) -> int:
    rows = [line for line in TEXT.splitlines() if line.startswith("- {")]
    return next(
        i for i, r in enumerate(rows) if ingredient in r and f"from: {since}" in r
    )


def test_a_row_is_changed_alone(client: TestClient, kitchen: Kitchen) -> None:
    number = row_of("tahini", "2026-01-05")
    page = client.get(f"/buying/prices/{number}").text
    form = {
        name: unescape(value)
        for name, value in re.findall(
            r'<input[^>]*?name="([^"]+)"[^>]*?value="([^"]*)"', page
        )
        if name != "costing"
    }

    client.post(f"/buying/prices/{number}", data=form)
    assert paper(kitchen).number == 1
    client.post(f"/buying/prices/{number}", data=form | {"stock_g": "400"})

    was = next(line for line in TEXT.splitlines() if "tahini" in line)
    assert paper(kitchen).text == TEXT.replace(was, was[:-1] + ", stock_g: 400}")


def test_a_row_is_taken_out(client: TestClient, kitchen: Kitchen) -> None:
    number = row_of("tahini", "2026-01-05")

    client.post(f"/buying/prices/{number}/remove", data={"base": 1})

    was = next(line for line in TEXT.splitlines() if "tahini" in line)
    assert paper(kitchen).text == TEXT.replace(was + "\n", "")
    assert "tahini" in words(client.get("/buying").text).split("Add a price")[0]


@pytest.mark.parametrize("address", ["/buying/prices/999", "/buying/costs/999"])
def test_what_is_not_there_is_said(client: TestClient, address: str) -> None:
    assert client.get(address).status_code == 404


@pytest.mark.parametrize("number", ["-1", "x", str(2**31), "9" * 40])
def test_an_odd_number_is_refused(client: TestClient, number: str) -> None:
    assert client.get(f"/buying/prices/{number}").status_code in {404, 422}


def test_the_second_to_add_is_told_and_both_rows_can_stand(
    client: TestClient, kitchen: Kitchen
) -> None:
    client.post("/buying/prices", data=price())

    answer = client.post("/buying/prices", data=price(ingredient="tahini", pack="2 kg"))

    assert answer.status_code == 409
    both = re.search(
        r"<textarea[^>]*>\n(.*?)</textarea>.*?id=\"both\"", answer.text, re.DOTALL
    )
    assert both is not None
    client.post(
        "/kitchen/papers/prices.yaml", data={"text": unescape(both[1]), "base": 2}
    )
    assert len(paper(kitchen).text.splitlines()) == len(TEXT.splitlines()) + 2


# --- costs --------------------


@pytest.mark.parametrize("name", sorted(CARDS))
def test_a_slab_costs_what_the_terminal_says(
    client: TestClient, kitchen: Kitchen, name: str
) -> None:
    said = told("cost", CARDS[name], *ON)["slabs"][0]

    page = client.get("/buying/costs").text
    slab = client.get(f"/buying/costs/{kitchen.card_id(name)}").text

    found = figures(page)
    text = run("cost", CARDS[name], *ON).out
    whole = re.search(r"^Ingredients +£([\d.]+)$", text, re.MULTILINE)
    piece = re.search(r"a piece of \d+ +£([\d.]+)$", text, re.MULTILINE)
    assert whole is not None
    assert piece is not None
    assert found[f"ingredients of {name}"]["value"] == f"£{whole[1]}"
    assert found[f"ingredients of a piece of {name}"]["value"] == f"£{piece[1]}"
    shown = words(slab)
    for line in re.findall(r"^  (\S.*?) {2,}[\d,.]+ +([\d.]+)$", text, re.MULTILINE):
        assert line[0] in shown
        assert f"£{line[1]}" in shown
    assert said["slab"] == name


def test_opened_packs_and_left_overs_are_those_of_the_terminal(
    client: TestClient, kitchen: Kitchen
) -> None:
    text = " ".join(
        run("cost", CARDS["Two Tides"], "--trays", "2", *ON, columns=200).out.split()
    )

    page = client.get(
        f"/buying/costs/{kitchen.card_id('Two Tides')}", params={"trays": 2}
    ).text

    shown = words(page)
    for said in (
        "14 to 30 days, chilled, wrapped",
        "of 10 medium eggs",
        "of 9.6 lemons",
    ):
        assert said in text
        assert said in shown
    left = figures(page)["egg white left"]
    assert f"egg white: {left['value']} g (likely" in text
    assert "2 trays £20.78" in text
    assert figures(page)["ingredients of all trays"]["value"] == "£20.78"


def test_the_bar_of_a_slab_shows_its_layers_by_cost(
    client: TestClient, kitchen: Kitchen
) -> None:
    page = client.get("/buying/costs").text

    id = kitchen.card_id("Harbour Lamp")
    sentence = re.search(rf'<desc id="cost-{id}-desc">(.*?)</desc>', page)
    assert sentence is not None
    assert "Rye and oat shortbread 21.4%" in sentence[1]  # 1.8105 of 8.4655
    assert "style=" not in page


def test_what_has_no_price_is_named(client: TestClient, kitchen: Kitchen) -> None:
    id = with_slab(kitchen, ODD)

    page = words(client.get("/buying/costs").text)
    slab = words(client.get(f"/buying/costs/{id}").text)

    assert "Without pistachio paste, pure, moon dust: no price" in page
    assert "No price, and in no sum: pistachio paste, pure, moon dust" in slab


def test_what_if_butter_costs_20_per_cent_more(client: TestClient) -> None:
    text = run("cost", str(DEMO / "slabs"), "--price", "butter +20 %", *ON).out

    page = client.get("/buying/costs", params={"what_if": "butter +20 %"}).text

    effects = page[page.index('id="effects"') : page.index("What the slabs cost")]
    rows = re.findall(r"<tr><th scope=\"row\">.*?</tr>", effects)
    shown = [words(row) for row in rows]
    for i, name in enumerate(("Two Tides", "Harbour Lamp", "Lantern Walk")):
        line = next(one for one in text.splitlines() if one.startswith(name))
        before, after, rise, slab, share = line.removeprefix(name).split()
        assert shown[i].replace("£", "") == (
            f"{name} {before} {after} {rise.lstrip('+')} {slab} {share}"
        )


def test_several_changes_and_moves_since_a_day(client: TestClient) -> None:
    asked = {"what_if": "butter +20 %; caster sugar = 6.00", "since": "2026-01-01"}

    shown = words(client.get("/buying/costs", params=asked).text)

    assert "caster sugar = 6.00 hits caster sugar." in shown
    assert "unsalted butter £6.60 £7.20 +9.1%" in shown
    assert "dark chocolate 60% £11.00 £12.50 +13.6%" in shown
    assert "No price on 1 January 2026: plain flour;" in shown


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        ({"what_if": "butter 20"}, "is no change of a price"),
        ({"what_if": "moon dust +5 %"}, "Nothing called 'moon dust' has a price"),
        ({"on": "tomorrow"}, "'tomorrow' is no day"),
        ({"since": "31/12/2025"}, "'31/12/2025' is no day"),
        ({"what_if": "x" * 1001}, "1000"),
    ],
)
def test_what_cannot_be_asked_is_said(
    client: TestClient, asked: dict[str, str], said: str
) -> None:
    answer = client.get("/buying/costs", params=asked)

    assert answer.status_code == 422
    assert said in words(answer.text)


def test_another_day_has_its_own_prices(client: TestClient) -> None:
    found = figures(client.get("/buying/costs", params={"on": "2027-02-01"}).text)
    said = run("cost", CARDS["Two Tides"], "--on", "2027-02-01").out

    whole = re.search(r"^Ingredients +£([\d.]+)$", said, re.MULTILINE)
    assert whole is not None
    assert found["ingredients of Two Tides"]["value"] == f"£{whole[1]}"
    assert whole[1] != "10.39"


# --- the list --------------------


def asked_for(kitchen: Kitchen, **more: str) -> dict[str, str | int]:
    return {
        f"t{kitchen.card_id('Two Tides')}": 2,
        f"t{kitchen.card_id('Harbour Lamp')}": 1,
        f"t{kitchen.card_id('Lantern Walk')}": "",
        **more,
    }


def bought(*more: str) -> list[str]:
    return ["buy", f"{CARDS['Harbour Lamp']}=1", f"{CARDS['Two Tides']}=2", *ON, *more]


@pytest.mark.parametrize("waste", [False, True])
def test_the_list_is_that_of_the_terminal(
    client: TestClient, kitchen: Kitchen, waste: bool
) -> None:
    option = ["--waste"] if waste else []
    more = {"waste": "1"} if waste else {}

    text = run(*bought(*option), columns=200).out
    page = client.get("/buying/list", params=asked_for(kitchen, **more))
    shown = words(page.text)

    total = re.search(r"In all +(£[\d.,]+)", text)
    assert total is not None
    assert f"In all {total[1]}" in shown
    for name, packs in re.findall(
        r"^  (\S.*?) {2,}(\d+ × .*?) {2,}", text, re.MULTILINE
    ):
        assert f"{name} " in shown
        assert packs in shown
    assert "plain flour: 550 g of 2,000 g" in shown
    assert "12 medium eggs" in shown
    assert "egg white: 339 g" in shown
    assert "lemon zest: 33 g" in shown  # of 2 trays, as for one slab above
    assert "of 9.6 lemons" in shown
    assert "14 to 30 days, chilled, wrapped" in shown


def test_the_table_is_that_of_the_terminal(
    client: TestClient, kitchen: Kitchen
) -> None:
    answer = client.get("/buying/list.csv", params=asked_for(kitchen))

    ran = run(*bought("--csv", "-"))
    assert sorted(answer.text.splitlines()) == sorted(ran.out.splitlines())
    assert answer.headers["content-type"].startswith("text/csv")
    assert 'filename="to-buy-2026-11-26.csv"' in answer.headers["content-disposition"]


def test_the_page_to_print_may_use_its_own_style_and_no_other(
    client: TestClient, kitchen: Kitchen
) -> None:
    answer = client.get("/buying/list/print", params=asked_for(kitchen))

    policy = answer.headers["content-security-policy"]
    assert "To buy" in answer.text
    style = re.search(r"<style>(.*?)</style>", answer.text, re.DOTALL)
    assert style is not None
    digest = b64encode(sha256(style[1].encode()).digest()).decode()
    assert f"style-src 'sha256-{digest}';" in policy
    assert "unsafe" not in policy
    assert "default-src 'none'" in policy


def test_nothing_chosen_gives_the_form(client: TestClient, kitchen: Kitchen) -> None:
    page = client.get("/buying/list")

    assert page.status_code == 200
    assert "To buy" not in words(page.text)
    zero = client.get("/buying/list", params={f"t{kitchen.card_id('Two Tides')}": 0})
    assert "No trays were asked for." in zero.text


@pytest.mark.parametrize("trays", ["-1", "1.5", "x", "1001", "9" * 30])
@pytest.mark.parametrize("address", ["list", "list.csv", "list/print"])
def test_odd_numbers_of_trays_are_refused(
    client: TestClient, kitchen: Kitchen, address: str, trays: str
) -> None:
    name = f"t{kitchen.card_id('Two Tides')}"

    answer = client.get(f"/buying/{address}", params={name: trays})

    assert answer.status_code == 422
    assert "is no whole number from 0 to 1,000" in words(answer.text)


@pytest.mark.parametrize("address", ["list.csv", "list/print"])
def test_no_list_without_a_slab(client: TestClient, address: str) -> None:
    answer = client.get(f"/buying/{address}", params={"t424242": 1})

    assert answer.status_code == 422
    assert "not there any more" in words(answer.text)


def test_nothing_of_another_kitchen_is_bought_or_costed(
    client: TestClient, app: FastAPI, kitchen: Kitchen
) -> None:
    id = kitchen.card_id("Two Tides")
    app.state.house = replace(app.state.house, kitchen_id=kitchen.other_id)

    assert client.get(f"/buying/costs/{id}").status_code == 404
    assert client.get("/buying/list", params={f"t{id}": 1}).status_code == 422
    assert "Two Tides" not in client.get("/buying/list").text
    assert client.get("/buying").status_code == 200
    assert "No prices yet" in client.get("/buying").text
