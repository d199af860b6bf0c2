"""Commands that write: amend, adopt, new, schema, demo, drawings."""

import json
from pathlib import Path

import jsonschema
import pytest

from slabwright.files.schemas import file_schemas
from slabwright.publish.schemas import output_schemas, reading_schema
from tests.cli.run import run

CARD = "demo/slabs/two-tides.card"
SCHEMAS = {
    **file_schemas(),
    **output_schemas(),
    "reading": reading_schema(file_schemas()["card"]),
}


@pytest.mark.usefixtures("bench")
def test_a_dry_run_shows_the_change_and_writes_nothing() -> None:
    before = Path(CARD).read_bytes()
    dry = run("amend", CARD, "tin", "23 x 23 cm", "--dry-run")
    assert Path(CARD).read_bytes() == before
    wet = run("amend", CARD, "tin", "23 x 23 cm")

    assert dry.out == wet.out == "line 2\n- tin 30 x 20 x 5 cm\n+ tin 23 x 23 cm\n"
    after = before.replace(b"tin 30 x 20 x 5 cm", b"tin 23 x 23 cm")
    assert Path(CARD).read_bytes() == after
    assert [path.name for path in Path("demo/slabs").glob(".*")] == []


@pytest.mark.usefixtures("bench")
def test_what_can_not_be_amended_is_said_and_left() -> None:
    before = Path(CARD).read_bytes()

    assert run("amend", CARD, "elephant", "5 g").code == 2
    assert run("amend", CARD, "tin", "5\n6").code == 2
    assert run("amend", "none.card", "tin", "5 cm").code == 2
    assert Path(CARD).read_bytes() == before


@pytest.mark.usefixtures("bench")
def test_a_pasted_recipe_becomes_a_card_that_reads_well() -> None:
    ran = run("adopt", "demo/pasted/lemon-slice.txt", "--to", "demo/slabs/new.card")
    checked = run("check", "demo/slabs/new.card")

    assert ran.code == 0
    assert "wrote demo/slabs/new.card" in ran.out
    assert checked.code in {0, 1}
    again = run("adopt", "demo/pasted/lemon-slice.txt", "--to", "demo/slabs/new.card")
    assert again.code == 2
    assert "is there already" in again.err
    assert run("adopt", CARD).code == 2


def test_a_new_card_reads_well(tmp_path: Path) -> None:
    text = run("new", "Two Tides").out
    file = tmp_path / "new.card"
    file.write_text(text, encoding="utf-8")

    assert text.startswith("slab Two Tides\n")
    assert run("check", str(file)).code == 0


@pytest.mark.parametrize("name", ["", " ", "a # b", "n" * 121])
def test_a_name_that_no_card_can_have_is_refused(name: str) -> None:
    assert run("new", name).code == 2


def test_a_new_kitchen_works_from_the_first_minute(tmp_path: Path) -> None:
    home = tmp_path / "home"
    made = run("new", str(home), "--kitchen")
    ran = run("spec", str(home / "slabs" / "first.card"))

    assert made.code == 0
    assert (ran.code, ran.err) == (0, "")
    # what is there already stays as it is
    (home / "kitchen.yaml").write_text("name: ours\n", encoding="utf-8")
    assert run("new", str(home), "--kitchen").code == 0
    assert (home / "kitchen.yaml").read_text(encoding="utf-8") == "name: ours\n"


@pytest.mark.usefixtures("bench")
def test_a_card_goes_to_json_and_back(tmp_path: Path) -> None:
    reading = json.loads(run("read", CARD, "--json").out)
    form = tmp_path / "form.json"
    form.write_text(json.dumps(reading["card"]), encoding="utf-8")
    ran = run("new", "x", "--from", str(form))
    again = run("read", "-", "--kitchen", "demo", "--json", data=ran.out.encode())

    assert ran.code == 0
    assert json.loads(again.out)["card"] == reading["card"]


@pytest.mark.parametrize(
    "form", ["", "{", "[]", '{"slab": 5}', '{"slab": "a", "x": 1}']
)
def test_a_form_that_is_none_is_told(form: str, tmp_path: Path) -> None:
    file = tmp_path / "form.json"
    file.write_text(form, encoding="utf-8")
    ran = run("new", "x", "--from", str(file))

    assert ran.code == 2
    assert "form.json" in ran.err
    assert "Traceback" not in ran.err


@pytest.mark.parametrize("theme", ["light", "dark", "paper"])
@pytest.mark.usefixtures("bench")
def test_a_drawing_is_written(theme: str) -> None:
    ran = run("spec", CARD, "--svg", "x.svg", "--theme", theme)
    piped = run("spec", CARD, "--svg", "-", "--theme", theme)

    assert (ran.code, piped.code) == (0, 0)
    assert Path("x.svg").read_text(encoding="utf-8").strip() == piped.out.strip()
    assert piped.out.lstrip().startswith("<")
    assert run("spec", CARD, "--svg", "x.svg", "--theme", "loud").code == 2
    assert run("spec", CARD, "--svg", "no/such/x.svg").code == 2


@pytest.mark.usefixtures("bench")
def test_the_demonstration_writes_what_it_says() -> None:
    ran = run("demo", "demo", "--out", "made")

    assert ran.code == 0
    stems = ["harbour-lamp", "lantern-walk", "two-tides"]
    ends = [
        "-shop-frame.sheet.pdf", ".allergen-card.pdf", ".face.svg", ".json",
        ".paper.svg", ".plan.svg", ".sheet.pdf", ".svg", ".txt",
    ]  # fmt: skip
    tickets = [  # two wait for an answer on their allergens
        "harbour-lamp.ticket.draft.pdf", "lantern-walk.ticket.draft.pdf",
        "two-tides.ticket.pdf",
    ]  # fmt: skip
    made = {path.name for path in Path("made").iterdir()}
    of_slabs = {f"{stem}{end}" for stem in stems for end in ends}
    assert made == of_slabs | {*tickets, "allergens.csv"}
    assert Path("made/allergens.csv").read_text("utf-8").count("Harbour Lamp") == 1
    for sheet in Path("made").glob("*.pdf"):
        assert sheet.read_bytes().startswith(b"%PDF-1.7")
    check = jsonschema.Draft202012Validator(SCHEMAS["specification"])
    for stem in stems:
        check.validate(json.loads(Path(f"made/{stem}.json").read_text("utf-8")))
    assert run("demo", "made").code == 2


# --- schemas --------------------


def test_a_schema_is_printed_listed_and_written(tmp_path: Path) -> None:
    listed = [line.split()[0] for line in run("schema").out.splitlines()]
    assert listed == list(SCHEMAS)
    for name in listed:
        assert json.loads(run("schema", name).out) == json.loads(
            json.dumps(SCHEMAS[name])
        )
    assert run("schema", "elephant").code == 2
    assert run("schema", "--to", str(tmp_path)).code == 0
    assert sorted(path.stem for path in tmp_path.iterdir()) == sorted(SCHEMAS)


def test_committed_schemas_are_those_that_are_exported(tmp_path: Path) -> None:
    run("schema", "--to", str(tmp_path))
    committed = Path(__file__).parents[2] / "schemas"

    made = {path.name: path.read_text("utf-8") for path in tmp_path.iterdir()}
    kept = {path.name: path.read_text("utf-8") for path in committed.iterdir()}
    assert kept == made, "stale: slabwright schema --to schemas"


@pytest.mark.parametrize("name", SCHEMAS)
def test_a_schema_is_one(name: str) -> None:
    jsonschema.Draft202012Validator.check_schema(SCHEMAS[name])
    assert SCHEMAS[name]["description"]
