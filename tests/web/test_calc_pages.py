"""Calculators in the app: every example, the form while it is typed, the API."""

import re
import shlex
from collections.abc import Callable
from html import unescape
from typing import Any

import jsonschema
import pytest
from starlette.testclient import TestClient

from slabwright.publish.schemas import output_schemas
from slabwright.spec.calc.calculator import Calculator
from slabwright.spec.calc.calculators import CALCULATORS
from tests.browser import Watched
from tests.web.conftest import Served

Pages = Callable[..., Watched]
EVERY = pytest.mark.parametrize("calculator", CALCULATORS, ids=lambda one: one.name)


def shown(client: TestClient, path: str, **ask: str) -> str:
    answer = client.get(f"/calculators/{path}", params=ask)
    assert answer.status_code == 200, answer.text
    return " ".join(unescape(answer.text).split())


def example(calculator: Calculator) -> dict[str, str]:
    words = (one.partition("=") for one in shlex.split(calculator.example)[2:])
    return {key: value for key, _, value in words}


def wrong(page: str, field: str) -> str:
    found = re.search(rf'id="wrong-{field}">(.*?)</p>', page)
    assert found
    return found[1]


def test_the_list_leads_to_every_calculator(client: TestClient) -> None:
    page = client.get("/calculators").text
    for one in CALCULATORS:
        assert f'href="/calculators/{one.name}">' in page
        assert one.what in unescape(page)


@EVERY
def test_a_page_begins_with_its_example_and_answers_it(
    client: TestClient, calculator: Calculator
) -> None:
    fresh = shown(client, calculator.name)
    asked = shown(client, calculator.name, **example(calculator))
    said = client.get(f"/api/calculators/{calculator.name}", params=example(calculator))
    answer = said.json()
    jsonschema.validate(answer, output_schemas()["calc"])

    for page in (fresh, asked):
        assert f'<p class="the-sum">{answer["sum"]}</p>' in page
        assert all(note in page for note in answer["notes"])
        assert all(source["text"] in page for source in answer["leans_on"])
    assert ("An example." in fresh, "An example." in asked) == (True, False)
    for value in example(calculator).values():
        assert f'value="{value}"' in fresh


def test_rows_and_names_ask_the_same(client: TestClient) -> None:
    rows = {"part_1": "sucrose", "mass_1": "80", "part_7": "water", "mass_7": "20"}
    by_row = shown(client, "glass-transition/answer", **rows)
    by_name = shown(client, "glass-transition/answer", sucrose="80", water="20")

    made = re.compile(r'id="answer".*?</div>')
    assert made.findall(by_row) == made.findall(by_name)


def test_what_is_wrong_stands_beside_its_field_and_nothing_is_lost(
    client: TestClient,
) -> None:
    page = shown(
        client, "glass-transition", part_1="sucrose", mass_1="eighty", part_2="watr",
        mass_2="20", part_3="", mass_3="5", part_4="honey", mass_4="",
        temperature_C="<b>",
    )  # fmt: skip
    assert "which is no number" in wrong(page, "row-1")
    assert "Perhaps water?" in wrong(page, "row-2")
    assert wrong(page, "row-3")
    assert "which is no number" in wrong(page, "row-4")
    assert wrong(page, "row-5") == ""
    assert "'<b>'" in wrong(page, "temperature_C")
    assert "temperature_C=" not in wrong(page, "temperature_C")
    for typed in ("sucrose", "eighty", "watr", "20", "5", "honey", "<b>"):
        assert f'value="{typed}"' in page


def test_another_name_in_the_address_fills_its_field(client: TestClient) -> None:
    ask = {"sucrose": "1", "water": "2", "temp_C": "31"}
    page = shown(client, "syrup", **ask)
    assert re.search(r'name="temperature_C"[^>]*value="31"', page)
    api = client.get("/api/calculators/syrup", params=ask).json()
    assert f'<p class="the-sum">{api["sum"]}</p>' in page


def test_a_key_in_another_unit_is_told_on_the_page_and_by_the_api(
    client: TestClient,
) -> None:
    ask = {"sucrose": "80", "water": "20", "altitude_ft": "3000"}
    page = shown(client, "boiling-point", **ask)
    assert "3000 ft is 914.4 m" in page
    said = client.get("/api/calculators/boiling-point", params=ask)
    assert said.status_code == 422
    assert "914.4" in said.text


def test_a_row_keeps_its_number_while_it_is_typed(client: TestClient) -> None:
    page = shown(client, "glass-transition/answer", part_3="watr", mass_3="1")

    assert wrong(page, "row-1") == ""
    assert "Perhaps water?" in wrong(page, "row-3")


def test_there_is_room_for_four_parts_more_than_none(client: TestClient) -> None:
    page = shown(client, "glass-transition", sucrose="1", water="1", glucose="1")
    empty = re.findall(r'name="part_\d+" value=""', page)
    assert len(empty) >= 4
    many = shown(client, "glass-transition", temperature_C="20")
    assert len(re.findall(r'name="part_\d+" value=""', many)) >= 4


def test_the_kitchen_gives_what_is_usual(client: TestClient) -> None:
    listed = client.get("/api/calculators").json()
    jsonschema.validate(listed, output_schemas()["calc"])
    asked = [
        (one["name"], field)
        for one in listed["calculators"]
        for field in one["inputs"]
        if field["of_kitchen"] and field["default"] is not None
    ]
    for name, field in asked:
        page = shown(client, name, **{field["name"]: ""})
        usual = field["default"]
        said = usual if isinstance(usual, str) else f"{usual:g}"
        chosen = f'<option value="{said}" selected>'
        assert chosen in page or f'placeholder="{said}"' in page


def test_the_api_tells_mistakes_and_what_there_is(client: TestClient) -> None:
    bad = client.get("/api/calculators/dew-point", params={"room_C": "nan", "x": "1"})
    assert bad.status_code == 422
    assert [one["field"] for one in bad.json()["errors"]] == ["room_C", "x"]
    assert client.get("/api/calculators/dew-pt").status_code == 404
    assert client.get("/calculators/dew-pt").status_code == 404
    assert "dew-point" in client.get("/calculators/dew-pont").text
    one: dict[str, Any] = client.get("/api/calculators/dew-point").json()
    assert one["inputs"][0]["name"] == "room_C"


@pytest.mark.parametrize("path", ["/calculators/{}", "/calculators/{}/answer"])
@pytest.mark.parametrize(
    "ask",
    [{"sucrose": "9" * 300}, {"x" * 300: "1"}],
)
def test_what_is_too_long_is_refused(
    client: TestClient, path: str, ask: dict[str, str]
) -> None:
    there = path.format("glass-transition")
    assert client.get(there, params=ask).status_code == 422


@EVERY
def test_nonsense_gets_words(client: TestClient, calculator: Calculator) -> None:
    hostile = "|nan|-1e999|½|\x00|<script>|0|-1|1e12|٣|\ud7ff"
    address = f"/api/calculators/{calculator.name}"
    for text in hostile.split("|"):
        ask = dict.fromkeys((one.name for one in calculator.inputs), text)
        ask |= {"part_1": "water", "mass_1": text, "part_2": text, "mass_2": "3"}
        page = client.get(f"/calculators/{calculator.name}", params=ask)
        assert page.status_code == 200
        assert "<script>" not in page.text
        assert client.get(address, params=ask).status_code in {200, 422}


def test_the_answer_follows_while_it_is_typed(served: Served, pages: Pages) -> None:
    page = pages().page
    page.goto("/calculators/glass-transition")
    rows = page.locator("#parts tbody tr")
    before = page.locator(".first-of b").inner_text()
    count = rows.count()
    page.locator('[name="mass_2"]').fill("12")
    page.locator('form[data-followed="1"]').wait_for()
    assert page.locator(".first-of b").inner_text() != before
    assert "mass_2=12" in page.url

    for number in range(3, count + 1):
        page.locator(f'[name="part_{number}"]').fill(
            "glucose" if number == 3 else "salt"
        )
    assert rows.count() == count + 1
    page.locator(f"#wrong-row-{count}").get_by_text("given twice").wait_for()
    page.reload()
    assert page.locator('[name="part_3"]').input_value() == "glucose"
    page.locator(".first-of, #answer .q").first.wait_for()


def test_it_works_without_scripts(served: Served, pages: Pages) -> None:
    page = pages(java_script_enabled=False).page
    page.goto("/calculators/tin-factor")
    page.locator('[name="to_tin"]').fill("20 x 20 cm")
    page.locator("#go").click()
    assert "from_tin=" in page.url
    assert "cm²" in page.locator(".the-sum").inner_text()


def test_a_figure_opens(served: Served, pages: Pages) -> None:
    page = pages().page
    page.goto("/calculators/glass-transition")
    page.locator(".first-of .fig").click()
    assert "Gordon" in page.locator("dialog[open]").inner_text()
