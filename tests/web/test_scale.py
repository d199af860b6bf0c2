"""Scale and cut: the page says what the terminal says, and keeps what it is asked."""

import io
import re
from collections.abc import Iterator
from html import unescape
from urllib.parse import parse_qs, urlsplit

import pypdf
import pytest
from bs4 import BeautifulSoup, Tag
from starlette.testclient import TestClient

from slabwright.store import cards, drafts, revisions
from slabwright.store.engine import reading, writing
from slabwright.store.who import Who
from tests.cli.run import run
from tests.web.conftest import DEMO, NOW, Kitchen

CARD = str(DEMO / "slabs" / "two-tides.card")
TINS = {"tin": ["23 cm square", "2 of 30 x 20 x 5 cm"]}
BETWEEN = {"low": "60", "high": "75", "least": "40"}


@pytest.fixture
def slab(kitchen: Kitchen) -> int:
    return kitchen.card_id("Two Tides")


def page(
    client: TestClient, address: str, **fields: str | int | list[str]
) -> BeautifulSoup:
    answer = client.get(address, params=fields)
    assert answer.status_code == 200, answer.text
    return BeautifulSoup(answer.text, "html.parser")


def words(tag: Tag | None) -> str:
    assert tag is not None
    return " ".join(tag.get_text(" ").split())


def cells(soup: BeautifulSoup, table: str, name: str) -> list[list[str]]:
    """The cells of every row of this name."""
    return [
        [words(cell) for cell in row.find_all("td")]
        for row in soup.select(f"{table} tr")
        if (head := row.find("th")) and words(head).startswith(name)
    ]


def told(out: str, name: str) -> Iterator[list[str]]:
    """Figures of every row of the terminal's table that begins with this name."""
    for row in out.splitlines():
        if row.strip().startswith(name):
            figures = row.strip()[len(name) :]
            yield re.findall(r"\d+ = [\d.]+|[-+]?\d[\d,.]*%?", figures)


def bare(cell: str) -> str:
    """A cell without its change against the exact amount, and without a unit."""
    return re.sub(r"\s*[+-]\d+\.\d+%$| (?:g|mm)$", "", cell).replace(" g", "")


def test_amounts_and_choices_are_the_terminals(client: TestClient, slab: int) -> None:
    soup = page(client, f"/slabs/{slab}/scale", **TINS)
    args = [part for tin in TINS["tin"] for part in ("--tin", tin)]
    out = run("scale", CARD, *args).out
    assert words(soup.select_one(".times b")) == "× 2.882"
    assert words(soup.select_one(".times span")) in out
    for name in ("plain flour", "eggs", "egg yolks", "pectin NH", "caster sugar"):
        seen = [[bare(cell) for cell in row] for row in cells(soup, ".weigh", name)]
        assert seen == list(told(out, name)), name
    assert len(cells(soup, ".weigh", "caster sugar")) == 4
    finished = [bare(cell) for cell in cells(soup, ".weigh", "finished")[0]]
    assert [finished] == list(told(out, "finished, g"))
    eggs = [cell.replace(" ", "") for cell in cells(soup, ".weigh", "egg")[-1]]
    assert [eggs[1:]] == list(told(out, "egg  "))
    off = [cell.replace(" ", "") for cell in cells(soup, ".weigh", "off the")[0]]
    assert [off[1:]] == list(told(out, "off the formula"))
    changes = [cell.split()[-1] for cell in cells(soup, ".weigh", "eggs")[0][1:]]
    assert changes == ["-1.7%", "-1.7%", "+4.1%", "+0.1%"], "850, 900, 865 of 864.5 g"
    choice = words(soup.select(".told-choices dd")[1])
    assert choice.startswith("17 eggs + 16 egg yolks; left over: 16 egg whites, about")


def test_what_each_choice_does_is_the_terminals(client: TestClient, slab: int) -> None:
    soup = page(client, f"/slabs/{slab}/scale", tin="23 cm square")
    out = run("scale", CARD, "--tin", "23 cm square").out
    for name, said in (
        ("Baked lemon curd", "Baked lemon curd, mm"),
        ("Blackcurrant jelly", "Blackcurrant jelly, mm"),
        ("slab", "slab, mm"),
        ("a piece", "a piece, g"),
    ):
        row = next(r for r in cells(soup, ".weigh", name) if r)
        assert [[bare(cell) for cell in row]] == list(told(out, said)), name
    costs = cells(soup, ".weigh", "ingredients")[0]
    assert [[cost.strip("£ ") for cost in costs]] == list(told(out, "ingredients, £"))


def test_each_tin_is_told_as_the_terminal_tells_it(
    client: TestClient, slab: int
) -> None:
    soup = page(client, f"/slabs/{slab}/scale", **TINS)
    square, frame = soup.select(".tin-in")
    assert words(square.select_one("h3")) == "23 cm square 23 × 23 cm"
    assert "1,645 g" in words(square)
    assert "head room" not in words(square)
    assert "18 pieces of 73.3 × 36.7 mm" in words(square)
    assert "head room 19.1 mm" in words(frame)
    assert cells(soup, ".lays", "Baked lemon curd") == [
        ["0.8817", "14.8 mm", "14.8 mm", "890 g", "854 g"],
        ["2", "14.8 mm", "14.8 mm", "2,018 g", "1,938 g"],
    ]
    scales = [words(svg.find("title")) for svg in soup.select(".face-in svg")]
    assert scales == ["Two Tides in its tin, 1 : 1"] * 2
    sizes = {str(svg["width"]) for svg in soup.select(".face-in svg")}
    assert len(sizes) == 1, "as wide as one another, so one scale at any width"


@pytest.mark.parametrize(
    ("fields", "option"),
    [
        ({"pieces": "50"}, ["--pieces", "50"]),
        ({"trays": "4"}, ["--trays", "4"]),
        ({"by": "1.5"}, ["--by", "1.5"]),
        ({"whole_batch": "1", "tin": "shop frame"},
         ["--whole-batch", "--tin", "shop frame"]),
        ({"mass": "2.5 kg"}, ["--mass", "2.5kg"]),
        ({"rim": "1"}, ["--to-rim"]),
        ({"head_room": "5"}, ["--head-room", "5mm"]),
        ({"height": "45 mm"}, ["--height", "45mm"]),
        ({"deep": ["9 mm"]}, ["--layer", "Blackcurrant jelly = 9 mm"]),
        ({"tin": "23 cm square", "packs": "butter; caster sugar = 500 g"},
         ["--tin", "23 cm square", "--packs", "butter", "--packs",
          "caster sugar = 500 g"]),
        ({"tin": "23 cm square", "allow": "12%", "care": "1", "depth_counts": "0.2"},
         ["--tin", "23 cm square", "--allow", "12%", "--care", "1",
          "--depth-counts", "0.2"]),
    ],
)  # fmt: skip
def test_every_way_to_ask(
    client: TestClient, slab: int, fields: dict[str, str], option: list[str]
) -> None:
    soup = page(client, f"/slabs/{slab}/scale", **fields)
    out = run("scale", CARD, *option).out
    by = words(soup.select_one(".times b"))
    assert out.splitlines()[0].endswith(by)
    for name in ("eggs", "butter, unsalted", "egg yolks"):
        seen = [[bare(cell) for cell in row] for row in cells(soup, ".weigh", name)]
        assert seen
        assert seen == list(told(out, name))
    off = [cell.replace(" ", "") for cell in cells(soup, ".weigh", "off the")[0]]
    assert [off[1:]] == list(told(out, "off the formula"))


def test_a_layers_depth_is_asked_by_its_place(client: TestClient, slab: int) -> None:
    soup = page(client, f"/slabs/{slab}/scale", deep=["9 mm", "", ""])
    assert cells(soup, ".lays", "Blackcurrant jelly")[0][2] == "9.0 mm"
    assert cells(soup, ".lays", "Lemon semolina shortbread")[0][2] == "10.0 mm"
    fields = [str(one["value"]) for one in soup.select("#ask input[name=deep]")]
    assert fields == ["9 mm", "", ""], "the top layer stands first"
    names = [words(one) for one in soup.select(".deeps label")]
    assert names[0] == "Blackcurrant jelly"


@pytest.mark.parametrize(
    ("fields", "field", "what"),
    [
        ({"tin": "no such tin"}, "Tins", "no tin that is known"),
        ({"trays": "two"}, "Trays", "no whole number"),
        ({"pieces": "-1"}, "Pieces", "no whole number"),
        ({"by": "abc"}, "Times as much", "no number"),
        ({"by": "nan"}, "", ""),
        ({"mass": "5 spoons"}, "Mass", "no mass"),
        ({"height": "tall"}, "Height", "no length"),
        ({"deep": ["", "", "", "9 mm"]}, "A layer's depth", "3 layers only"),
        ({"packs": "moon dust"}, "Whole packs", "has no 'moon dust'"),
        ({"allow": "lots"}, "Change of depth", "no share"),
        ({"care": "much"}, "Care for salt", "no number"),
        ({"care": "inf"}, "", "care for salt"),
        ({"choice": "Q"}, "", "no choice 'Q'"),
        ({"by": "2", "height": "40"}, "", "can't all be had"),
        ({"trays": "2", "pieces": "40"}, "", "both given"),
        ({"pieces": "99999999999999999999"}, "", ""),
    ],
)
def test_what_can_not_be_read_stands_beside_what_was_typed(
    client: TestClient,
    slab: int,
    fields: dict[str, str | list[str]],
    field: str,
    what: str,
) -> None:
    soup = page(client, f"/slabs/{slab}/scale", **fields)
    said = words(soup.select_one("#answer .mistakes"))
    assert field in said
    assert what in said
    assert not soup.select(".weigh"), "nothing is guessed"
    name, value = next(iter(fields.items()))
    if isinstance(value, str) and name != "choice":
        there = [str(one["value"]) for one in soup.select(f"#ask [name={name}]")]
        assert value in there
    assert soup.select_one("#cut-answer .facts"), "the cut is told all the same"


def test_the_answer_alone_is_what_the_page_has(client: TestClient, slab: int) -> None:
    whole = page(client, f"/slabs/{slab}/scale", **TINS, **BETWEEN)
    parts = page(client, f"/slabs/{slab}/scale/answer", **TINS, **BETWEEN)
    for part in ("answer", "cut-answer"):
        assert str(parts.find(id=part)) == str(whole.find(id=part))
    said = words(parts.find(id="sentence"))
    assert said.startswith("Times 2.882. 23 cm square: 30.9 mm tall.")
    assert not parts.find("html")


def test_what_scaling_brings_up_is_told(client: TestClient, slab: int) -> None:
    soup = page(client, f"/slabs/{slab}/scale", height="60 mm")
    out = run("scale", CARD, "--height", "60mm").out
    listed = [words(one) for one in soup.select(".new-watch li")]
    assert listed[0].startswith("Stop.")
    assert len(listed) == len(re.findall(r"(?m)^ *(?:STOP|LOOK|NOTE) +\d", out)) == 4
    assert "over the rim" in words(soup.select_one(".face-in svg"))


def test_the_amounts_are_kept_as_a_trial(
    client: TestClient, kitchen: Kitchen, slab: int
) -> None:
    soup = page(client, f"/slabs/{slab}/scale", tin="23 cm square", choice="B")
    form = soup.select_one("form.keep")
    assert form is not None
    fields = {
        str(one["name"]): str(one.get("value", "")) for one in form.find_all("input")
    }
    assert fields["choice"] == "B"
    assert "comments are left behind" in words(form)
    answer = client.post(str(form["action"]), data=fields, follow_redirects=False)
    assert (answer.status_code, answer.headers["location"]) == (
        303, f"/slabs/{slab}/trials#v2",
    )  # fmt: skip
    with reading(kitchen.engine) as c:
        first, second = (revisions.one(c, kitchen.id, slab, n) for n in (1, 2))
    assert first is not None
    assert second is not None
    assert second.is_trial
    assert second.from_number == 1
    assert second.note == "card × 0.8817 for 23 cm square, choice B"
    args = ("--tin", "23 cm square", "--choice", "B", "--to", "-")
    assert second.text == run("scale", CARD, *args).out
    assert "#" not in second.text
    again = page(client, f"/slabs/{slab}/scale", v=2)
    assert "This is v2, a trial" in words(again.find("main"))


def test_keeping_what_can_not_be_made_keeps_nothing(
    client: TestClient, kitchen: Kitchen, slab: int
) -> None:
    for data in ({"by": "0"}, {"choice": "Q"}, {"v": "7"}, {"note": "a\0b"}):
        answer = client.post(f"/slabs/{slab}/scale/keep", data=data)
        assert answer.status_code in {404, 422}
    with reading(kitchen.engine) as c:
        assert len(revisions.listed(c, kitchen.id, slab)) == 1


# --- the cut --------------------


def test_the_cards_own_cut_is_told_in_full(client: TestClient, slab: int) -> None:
    said = words(page(client, f"/slabs/{slab}/scale").find(id="cut-answer"))
    out = " ".join(run("cut", CARD).out.split())
    assert "As the card says." in said
    for part in (
        "14 have a side on the slab's edge", "wheels 58 mm apart, 2 passes",
        "lay its first wheel 5 mm from the near edge",
        "The order is common practice",
    ):  # fmt: skip
        assert part in out
        assert part in said
    assert "99 of 100 weigh at least 77 g" in said
    assert "at least 77 g" in out
    assert "152 g trimmed edges" in said
    assert "152 g trimmed edges" in out
    assert "5, 63, 121, 179, 237, 295 mm" in said


def test_choices_between_two_masses_are_the_terminals(
    client: TestClient, slab: int
) -> None:
    soup = page(client, f"/slabs/{slab}/scale", **BETWEEN)
    out = run("cut", CARD, "--between", "60-75g", "--least", "40mm").out
    rows = [words(row) for row in soup.select("#cut-answer table tbody tr")]
    choices = [row for row in rows if "on the card" in row]
    first = re.search(r"6 x 4 +24 +(\S+ × \S+ mm) +71\.4 +88% +64\.3", out)
    assert first
    assert choices[0].startswith(f"6 x 4 24 {first[1]} 71.4 g 88% 64.3 g")
    assert choices[1].startswith("7 x 4 28")
    values = [str(one["value"]) for one in soup.select("#cut-answer [name=words]")]
    assert values == [
        "6 x 4, trim 5 mm", "7 x 4, trim 5 mm",
        "60 to 75 g pieces, at least 40 mm, trim 5 mm",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("fields", "heading"),
    [
        ({"count": "24"}, "24 pieces, trim 5 mm"),
        ({"size": "60 x 40"}, "60 x 40 mm, trim 5 mm"),
        ({"cut": "6 x 3"}, "6 x 3"),
        (
            {"count": "60", "within": "shop frame"},
            "60 pieces, trim 5 mm, in shop frame",
        ),
        ({"within": "shop frame"}, "12 x 6, trim 5 mm, in shop frame"),
    ],
)
def test_other_cuts_keep_the_trim(
    client: TestClient, slab: int, fields: dict[str, str], heading: str
) -> None:
    soup = page(client, f"/slabs/{slab}/scale", **fields)
    found = soup.select_one("#cut-answer h3")
    assert words(found).startswith(heading)


def test_how_even_it_is_lowers_the_promise(client: TestClient, slab: int) -> None:
    soup = page(client, f"/slabs/{slab}/scale", level="3", knife_off="2 mm")
    out = run("cut", CARD, "--level", "3mm", "--knife-off", "2mm").out
    promise = re.search(r"99 of 100 weigh at least \d+ g", out)
    assert promise
    assert promise[0] != "99 of 100 weigh at least 77 g"
    assert promise[0] in words(soup.find(id="cut-answer"))


@pytest.mark.parametrize(
    ("fields", "what"),
    [
        ({"cut": "in half an hour"}, "The cut"),
        ({"count": "0"}, ""),
        ({"count": "many"}, "no whole number"),
        ({"cut": "5 x 4", "count": "20"}, "several ways"),
        ({"least": "40"}, "needs the masses"),
        ({"low": "60", "high": "oats"}, ""),
        ({"level": "-1"}, "Out of level"),
        ({"size": "500 x 500 mm"}, ""),
        ({"within": "bath"}, "'bath'"),
    ],
)
def test_a_cut_that_can_not_be_is_said(
    client: TestClient, slab: int, fields: dict[str, str], what: str
) -> None:
    soup = page(client, f"/slabs/{slab}/scale", **fields)
    assert what in words(soup.select_one("#cut-answer .mistakes"))
    assert soup.select(".weigh"), "what is to be weighed is told all the same"


def test_a_cut_is_written_on_the_card_at_the_desk(
    client: TestClient, kitchen: Kitchen, slab: int
) -> None:
    address = f"/slabs/{slab}/scale/cut"

    def write(text: str) -> list[str]:
        answer = client.post(address, data={"words": text}, follow_redirects=False)
        assert (answer.status_code, answer.headers["location"]) == (
            303, f"/slabs/{slab}",
        )  # fmt: skip
        with reading(kitchen.engine) as c:
            draft = drafts.one(c, kitchen.id, f"card-{slab}", "")
        return draft.text.splitlines() if draft else []

    own = (DEMO / "slabs" / "two-tides.card").read_text("utf-8").splitlines()
    lines = write("6 x 4, trim 5 mm")
    assert [a for a, b in zip(lines, own, strict=True) if a != b] == [
        "cut 6 x 4, trim 5 mm"
    ]
    lines = write("10 x 6, in shop frame")
    assert "cut 10 x 6, in shop frame" in lines
    assert "cut 6 x 4, trim 5 mm" in lines
    lines = write("3 x 3, in development tin")
    at = lines.index("cut 3 x 3, in development tin")
    assert lines[at - 1] == "cut 10 x 6, in shop frame", "a new line below the others"
    soup = page(client, f"/slabs/{slab}/scale")
    assert "A draft from v1 stands" in words(soup.find("main"))
    assert words(soup.select_one("#cut-answer h3")).startswith("5 x 4, trim 5 mm")
    answer = client.post(address, data={"words": "in half an hour"})
    assert answer.status_code == 422


def test_ruler_strips_come_as_a_pdf(client: TestClient, slab: int) -> None:
    answer = client.get(f"/slabs/{slab}/ruler.pdf", params={"cut": "6 x 4"})
    assert answer.headers["content-type"] == "application/pdf"
    disposition = 'attachment; filename="two-tides-ruler.pdf"'
    assert answer.headers["content-disposition"] == disposition
    assert answer.content.startswith(b"%PDF")
    text = pypdf.PdfReader(io.BytesIO(answer.content)).pages[0]
    assert "Print at 100%" in text.extract_text()


def test_another_kitchens_slab_is_not_there(
    client: TestClient, kitchen: Kitchen, slab: int
) -> None:
    for path in ("scale", "scale/answer", "ruler.pdf"):
        assert client.get(f"/slabs/{slab + 1000}/{path}").status_code == 404
        assert client.get(f"/slabs/{slab}/{path}", params={"v": 9}).status_code == 404
    with writing(kitchen.engine) as c:
        theirs = cards.add(
            c, kitchen.other_id, "slab", "Theirs", "slab Theirs\n", Who("", NOW)
        )
    assert client.get(f"/slabs/{theirs.id}/scale").status_code == 404
    for path in ("scale/keep", "scale/cut"):
        data = {"words": "5 x 4"}
        assert client.post(f"/slabs/{theirs.id}/{path}", data=data).status_code == 404


def test_a_card_without_layers_is_told_so(client: TestClient, kitchen: Kitchen) -> None:
    with writing(kitchen.engine) as c:
        row = cards.add(c, kitchen.id, "slab", "Bare", "slab Bare\n", Who("", NOW))
    soup = page(client, f"/slabs/{row.id}/scale")
    assert "no layers to scale" in words(soup.select_one("#answer .mistakes"))
    assert "no cut" in words(soup.select_one("#cut-answer .mistakes"))


def test_an_odd_name_of_a_tin_is_only_text(client: TestClient, slab: int) -> None:
    odd = '"><script>alert(1)</script>'
    answer = client.get(f"/slabs/{slab}/scale", params={"tin": odd})
    assert "<script>alert" not in answer.text
    assert odd in unescape(answer.text)


def test_the_form_has_an_address(client: TestClient, slab: int) -> None:
    soup = page(client, f"/slabs/{slab}/scale", **TINS, deep=["", "20", ""], by="")
    link = soup.select_one("#to-sheet")
    assert link is not None
    query = parse_qs(urlsplit(str(link["href"])).query, keep_blank_values=True)
    assert query == {"tin": TINS["tin"], "deep": ["", "20"], "choice": ["A"]}


def test_it_says_no_more_than_it_may(client: TestClient, slab: int) -> None:
    text = client.get(f"/slabs/{slab}/scale", params=TINS).text
    assert " style=" not in text
    assert not re.search(r"\son[a-z]+=", text)
    assert not re.search(r"\bsafe\b|free from", text, re.IGNORECASE)
    ids = re.findall(r'\sid="([^"]+)"', text)
    assert len(ids) == len(set(ids))
