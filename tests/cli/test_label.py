"""The commands label and net-weight, as a baker and a script ask for them."""

import json
import re
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from slabwright.publish.schemas import output_schemas
from tests.cli.run import Ran, run

TIDES, LAMP, WALK = (
    f"demo/slabs/{name}.card" for name in ("two-tides", "harbour-lamp", "lantern-walk")
)
WAYS = [
    "loose on the counter", "packed here", "packed for another shop", "sent by post",
    "catering tray",
]  # fmt: skip
FROZEN = ["--baked", "2026-11-26", "--frozen", "2026-11-27", "--thawed", "2026-12-01"]
PIECES = "74 73.5 75 74.2 73.8 74.6 75.1 73.9".split()
FULL = """slab Short
tin 30 x 20 x 5 cm
cut 5 x 4, trim 5 mm
keep chilled, below 5 C, 3 days
keep frozen, 4 weeks
sold loose on the counter, 3.20
sold packed here, box of 2, 6.40
sold packed for another shop, net 25 g, 2.10
called Shortbread
dated use by, 3 days, bake day counted
layer Base
  400 g plain flour
  300 g butter, unsalted
  100 g caster sugar
"""
pytestmark = pytest.mark.usefixtures("bench")


@pytest.fixture
def short(bench: Path) -> str:
    path = bench / "demo/slabs/short.card"
    path.write_text(FULL, "utf-8")
    return "demo/slabs/short.card"


def made(*asked: str) -> dict[str, Any]:
    ran = run("label", *asked, "--json")
    assert ran.code == 0, ran.err
    found: dict[str, Any] = json.loads(ran.out)
    return found


def refused(ran: Ran, *says: str) -> None:
    assert ran.code == 2
    assert "Traceback" not in ran.err
    assert ran.out == ""
    for words in says:
        assert words in ran.err


# --- label --------------------


@pytest.mark.parametrize("card", [TIDES, LAMP, WALK])
@pytest.mark.parametrize("more", [[], *(["--way", way] for way in WAYS), FROZEN])
def test_it_keeps_to_its_schema_and_its_width(card: str, more: list[str]) -> None:
    text = run("label", card, *more)

    jsonschema.validate(made(card, *more), output_schemas()["label"])
    assert text.code == 0
    assert max(map(len, text.out.splitlines())) <= 80
    assert not re.search(r"\bfree[- ]from\b|\bsafe\b|no allergens", text.out, re.I)
    assert "certifies nothing" in " ".join(text.out.split())


def test_each_way_of_a_card_has_its_label(short: str) -> None:
    found = made(short, "--baked", "2026-11-26")

    assert [one["way"] for one in found["labels"]] == WAYS[:3]
    assert [one["price"] for one in found["labels"]] == [3.2, 6.4, 2.1]
    shop = found["labels"][2]
    assert shop["net_g"] == 25
    assert shop["name"] == "Shortbread"
    assert shop["storage"] == ["Keep chilled, below 5 °C"]
    assert shop["date"]["day"] == "2026-11-28"
    assert shop["date"]["words"] == "Use by: 28 November 2026"
    assert (shop["date"]["rule"], shop["date"]["found"]) == (
        "DATE-05", "stored secondary",
    )  # fmt: skip


def test_every_particular_says_its_law_and_how_it_is_known(short: str) -> None:
    for one in made(short)["labels"]:
        for row in one["particulars"]:
            assert row["article"]
            assert row["source"]
            assert row["found"] in {
                "stored official", "stored secondary", "from memory",
            }  # fmt: skip
    text = run("label", short, "--way", "wholesale").out
    assert "(from memory)" in text
    assert "(stored secondary)" in text


def test_the_label_itself_stands_under_its_heading(short: str) -> None:
    out = run("label", short, "--way", "wholesale", "--baked", "2026-11-26").out
    body = out[out.index("The label") : out.index("How the days")]

    for line in ("Shortbread", "25 g", "Use by: 28 November 2026", "Price: £2.10"):
        assert f"\n  {line}\n" in body
    assert "\n  Keep chilled, below 5 °C.\n" in body
    assert "L 2026" not in body  # the date serves as the lot
    assert "none is proposed here" in " ".join(out.split())


def test_frozen_meanwhile_it_says_so_and_why(short: str) -> None:
    out = run("label", short, *FROZEN, "--way", "wholesale").out
    told = " ".join(out.split())

    assert "\n  Shortbread, defrosted\n" in out
    assert "Use by: 1 December 2026" in told
    assert "with one day left" in told
    assert "never restarts" in told


def test_a_card_that_does_not_say_how_it_is_sold_is_asked(bench: Path) -> None:
    (bench / "x.card").write_text(FULL.replace("sold", "note sold"), "utf-8")
    ran = run("label", "x.card", "--kitchen", "demo")

    assert ran.code == 0
    assert "How is Short sold?" in ran.out
    for way in WAYS:
        assert way in ran.out
    assert made("x.card", "--kitchen", "demo")["how_is_it_sold"] == [
        {"card_says": "", "nearest": WAYS}
    ]


def test_words_of_ones_own_are_asked_with_the_nearest(bench: Path) -> None:
    text = FULL.replace("sold packed here, box of 2", "sold in boxes of 2")
    (bench / "x.card").write_text(text, "utf-8")
    ran = run("label", "x.card", "--kitchen", "demo")

    assert "The card says “in boxes of 2”" in ran.out
    assert "packed here   (nearest)" in ran.out


def test_what_is_lifted_is_not_asked_and_says_why(short: str) -> None:
    asked = ["--way", "wholesale", "--unless", "by-number", "--unless",
             "small-and-direct"]  # fmt: skip
    found = {
        row["particular"]: row
        for row in made(short, *asked)["labels"][0]["particulars"]
    }

    assert "here: small quantities go straight" in found["nutrition"]["why"]
    assert "here: it is sold by number" in found["net_quantity"]["why"]


def test_a_number_of_the_shop_does_not_leave_it(bench: Path, short: str) -> None:
    # GS1-08
    kitchen = bench / "demo/kitchen.yaml"
    text = kitchen.read_text("utf-8")
    codes = "codes: {company_prefix: 5012345, in_store: 20-29, form: 20IIIIIVPPPPC}\n"
    kitchen.write_text(text + codes, "utf-8")

    numbers = [one["number"] for one in made(short, "--item", "17")["labels"]]
    assert numbers == ["2000000000176", "2000000000176", "5012345000176"]
    assert "5 012345 000176" in run("label", short, "--item", "17").out
    assert "in this shop alone" in run("label", short, "--item", "17").out
    assert [
        one["number"]
        for one in made(short, "--way", "loose", "--item", "17", "--value", "350")[
            "labels"
        ]
    ] == ["2000017303505"]
    whole = ["--way", "wholesale", "--code"]
    assert made(short, *whole, "5012345678900")["labels"][0]["number"] == (
        "5012345678900"
    )
    refused(run("label", short, *whole, "2000000000176"), "counts in one shop alone")
    refused(
        run("label", short, "--way", "by post", "--item", "17", "--value", "350"),
        "one shop alone",
    )


@pytest.mark.parametrize(
    ("asked", "says"),
    [
        (["--way", "by pigeon"], "none of the five ways"),
        (["--way", "loose or packed here"], "none of the five ways"),
        (["--way", "\x00"], "none of the five ways"),
        (["--way", "x" * 9999], "none of the five ways"),
        (["--nation", "France"], "no nation"),
        (["--nation", " "], "no nation"),
        (["--on", "tomorrow"], "is no day"),
        (["--on", "2026-02-30"], "is no day"),
        (["--on", "1999-01-01"], "begins on"),
        (["--baked", "26/11/2026"], "is no day"),
        (["--baked", "9" * 400], "is no day"),
        (["--frozen", "2026-11-26"], "thawed is missing"),
        (["--frozen", "nan", "--thawed", "inf"], "is no day"),
        (["--frozen", "2026-12-02", "--thawed", "2026-12-01"], "before it was frozen"),
        (["--baked", "2026-12-01", "--frozen", "2026-11-26", "--thawed", "2026-12-02"],
         "before it was made"),
        (["--unless", "i-say-so"], "lifts nothing"),
        (["--surface", "nan"], "no surface"),
        (["--surface", "inf"], "no surface"),
        (["--surface", "0"], "no surface"),
        (["--surface", "-5"], "no surface"),
        (["--surface", "1e9"], "no surface"),
        (["--item", "17"], "no company prefix"),
        (["--item", "x", "--way", "loose"], "no company prefix"),
        (["--value", "350", "--way", "loose"], "laid out"),
        (["--code", "5012345678901"], "should be 0"),
        (["--code", "12"], "no number of 8"),
        (["--code", "5012345678900", "--item", "1"], "besides"),
        (["--kitchen", "nowhere"], "nowhere"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused_in_words(
    short: str, asked: list[str], says: str
) -> None:
    refused(run("label", short, *asked), says)


@pytest.mark.parametrize(
    "data", [b"", b"\x00\x01", b"\xff\xfe\x00", b"hello", b"slab X\n", b"\x89PNG\r\n"]
)
def test_a_card_that_is_none_gives_no_fall(bench: Path, data: bytes) -> None:
    (bench / "x.card").write_bytes(data)
    for asked in ([], ["--way", "wholesale", "--baked", "2026-11-26"]):
        ran = run("label", "x.card", *asked)
        assert ran.code in {0, 1, 2}
        assert "Traceback" not in ran.err
        assert "Nothing is missing" not in ran.out


def test_a_line_that_cannot_be_read_holds_the_label(bench: Path) -> None:
    text = FULL.replace("  100 g caster sugar", "  100 g caster sugar\n  ends 9000 g")
    (bench / "x.card").write_text(text, "utf-8")
    ran = run("label", "x.card", "--kitchen", "demo", "--way", "loose")

    assert ran.code == 2
    assert "x.card" in ran.err
    assert "Short, loose on the counter" in ran.out


def test_a_kitchen_abroad_is_told_that_there_is_no_table(
    bench: Path, short: str
) -> None:
    path = bench / "demo/kitchen.yaml"
    path.write_text(path.read_text("utf-8").replace("country: GB", "country: NZ"))

    refused(run("label", short), "no table", "NZ", "--nation")
    assert "counter" in run("label", short, "--nation", "EU", "--way", "loose").out


# --- net-weight --------------------


def weighed(*arguments: str) -> dict[str, Any]:
    ran = run("net-weight", *arguments, "--json")
    assert ran.code == 0, ran.err
    found: dict[str, Any] = json.loads(ran.out)
    return found


@pytest.mark.parametrize(
    "asked",
    [PIECES, [*PIECES, "--nominal", "75"], [*PIECES, "--step", "1"], ["3", "3.1"]],
    ids=" ".join,
)
def test_net_weight_keeps_to_its_schema_and_its_width(asked: Sequence[str]) -> None:
    text = run("net-weight", *asked)

    jsonschema.validate(weighed(*asked), output_schemas()["net-weight"])
    assert text.code == 0
    assert max(map(len, text.out.splitlines())) <= 80
    assert "no e-mark is claimed" in " ".join(text.out.split())


def test_eight_pieces_by_hand() -> None:
    # sum 594.1; squares of deviations 2.35875, over 7; t is 1.895, from memory
    found = weighed(*PIECES)

    assert found["mean_g"]["value"] == pytest.approx(594.1 / 8)
    deviation = (2.35875 / 7) ** 0.5
    assert found["deviation_g"]["value"] == pytest.approx(deviation, rel=1e-4)
    least = 594.1 / 8 - 1.895 * deviation / 8**0.5
    assert found["mean_g"]["low"] == pytest.approx(least, abs=1e-3)
    assert found["nominal_g"]["value"] == 73
    assert found["tolerable_error_g"]["value"] == 4.5
    assert found["figures_least_mm"] == 3


def test_weights_come_from_a_file_as_well(bench: Path) -> None:
    text = "# Friday\n74 g; 73,5\n75, 74.2 73.8 g\n\n74.6\t75.1\n73.9  # the last\n"
    (bench / "pieces.txt").write_text(text, "utf-8")

    assert weighed("pieces.txt") == weighed(*PIECES)


def test_a_nominal_that_the_pieces_break_is_marked() -> None:
    out = run("net-weight", *PIECES, "--nominal", "75").out

    assert "[ ] on average not below 75 g" in out
    assert out.count("[x]") == 2


@pytest.mark.parametrize(
    ("asked", "says"),
    [
        (["nan", "74"], "'nan' is no weight"),
        (["inf", "74"], "'inf' is no weight"),
        (["0", "74"], "weight 1"),
        (["74", "0"], "weight 2"),
        (["-5", "74"], "'-5' is no weight"),
        (["1000000000", "74"], "is no piece"),
        (["1e9", "74"], "is no weight"),
        (["9" * 500, "74"], "is no piece"),
        (["74"], "1 weight given"),
        ([""], "0 weights given"),
        (["seventy", "74"], "'seventy' is no weight"),
        (["74", "75", "--nominal", "nan"], "outside the average system"),
        (["74", "75", "--nominal", "0"], "outside the average system"),
        (["74", "75", "--nominal", "-70"], "outside the average system"),
        (["74", "75", "--nominal", "1e9"], "outside the average system"),
        (["74", "75", "--step", "nan"], "no step"),
        (["74", "75", "--step", "-1"], "no step"),
        (["74", "75", "--step", "1e9"], "no step"),
        (["none.txt"], "is no weight"),
        (["demo"], "is no weight"),
    ],
)
def test_no_weights_no_proposal(asked: list[str], says: str) -> None:
    refused(run("net-weight", *asked), says)


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"", "0 weights given"),
        (b"# nothing yet\n", "0 weights given"),
        (b"\x00\x01\x02\xff", "not text"),
        (b"\x89PNG\r\n\x1a\n", "pieces.txt"),
        (b"74\n75\nheavy\n", "pieces.txt:3:1"),
    ],
)
def test_a_file_that_holds_none_is_named(bench: Path, data: bytes, says: str) -> None:
    (bench / "pieces.txt").write_bytes(data)

    refused(run("net-weight", "pieces.txt"), says)


def test_every_wrong_weight_is_named_at_once(bench: Path) -> None:
    (bench / "pieces.txt").write_text("74 light\n75 heavy\n", "utf-8")
    ran = run("net-weight", "pieces.txt")

    refused(ran, "pieces.txt:1:4", "pieces.txt:2:4")
