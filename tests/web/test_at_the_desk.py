"""The desk in a real browser: typing, keeping, two hands, drafts, keys, paper."""

import re
from collections.abc import Callable

import pytest
from playwright.sync_api import Browser, Page, expect

from slabwright.store import cards, drafts, kitchens
from slabwright.store.engine import reading, writing
from tests.browser import Watched, watched
from tests.web.conftest import DEMO, NOW, Kitchen, Served, serving

Pages = Callable[..., Watched]
PASTED = (DEMO / "pasted/lemon-slice.txt").read_text("utf-8")


def typed(page: Page) -> str:
    return page.locator("#card").input_value()


def put_caret(page: Page, before: str) -> None:
    """The caret in front of the first place where this stands."""
    page.evaluate(
        """before => { const area = document.getElementById("card");
        const at = area.value.indexOf(before);
        area.focus(); area.setSelectionRange(at, at); }""",
        before,
    )


def followed(page: Page) -> None:
    """Until the page has caught up with what was typed."""
    page.locator('#desk[data-behind="no"]').wait_for(state="attached")


def keep(page: Page) -> None:
    """Keep the card, until the page that answers stands."""
    with page.expect_navigation():
        page.keyboard.press("Control+Enter")


def test_the_first_ten_minutes(browser: Browser, kitchen: Kitchen) -> None:
    with writing(kitchen.engine) as connection:
        empty = kitchens.add(connection, "New kitchen", NOW)
    new = Kitchen(kitchen.engine, empty.id, kitchen.id)
    with serving(new) as served, watched(browser, served.address) as seen:
        page = seen.page
        page.goto("/")
        expect(page.get_by_role("heading", level=1)).to_have_text("Paste a recipe")
        expect(page.get_by_text("An empty tin.")).to_be_visible()

        page.locator("#card").focus()
        page.keyboard.insert_text(PASTED)
        followed(page)
        # every layer stands, to scale, with every assumption marked
        expect(page.locator("#face svg.drawing").first).to_be_visible()
        expect(page.locator(".layers li")).to_have_count(3)
        assert page.locator(".layers .pv").count() >= 3
        expect(page.locator(".under .doubt")).to_have_text("1 jar blackcurrant jam")
        picks = page.locator("#below .pick")
        expect(picks.first).to_be_visible()
        picks.first.click()
        followed(page)
        expect(page.locator(".under .doubt")).to_have_count(0)

        # one ruler height fixes a density, and the text becomes a card
        page.locator("#first-depth").fill("14")
        page.keyboard.press("Enter")
        followed(page)
        assert typed(page).startswith("slab Lemon and blackcurrant slice")
        assert re.search(r"^ +deep 14 mm$", typed(page), re.MULTILINE)
        expect(page.locator(".layers li").nth(1)).to_contain_text("14.0")

        # another tin, with whole eggs
        page.get_by_role("button", name="23 cm square").click()
        page.wait_for_url("**/scale?tin=23+cm+square")
        expect(page.locator("main")).to_contain_text("eggs")

        # and the sheet
        page.get_by_role("link", name="Bench sheet", exact=True).click()
        page.wait_for_url("**/sheet*")
        with page.expect_download() as download:
            page.evaluate(
                """() => { const a = document.createElement("a");
                a.href = location.pathname.replace(/sheet.*/, "sheet.pdf");
                a.download = "sheet.pdf"; document.body.append(a); a.click(); }"""
            )
        assert download.value.path().read_bytes().startswith(b"%PDF")


def test_what_is_typed_moves_the_slab_and_is_kept(served: Served, pages: Pages) -> None:
    page = pages().page
    page.goto(f"/slabs/{served.kitchen.card_id('Harbour Lamp')}")
    put_caret(page, "95 g    double cream")
    for key in ("Delete", "Delete", "1", "2", "5"):
        page.keyboard.press(key)
    followed(page)

    expect(page.locator(".moved-b")).to_contain_text("double cream 48%, 95 to 125 g")
    caret = page.evaluate("document.getElementById('card').selectionStart")
    assert typed(page)[caret - 3 : caret + 2] == "125 g"
    assert page.evaluate("document.activeElement.id") == "card"
    expect(page.locator("#state")).to_contain_text("from v1")

    page.locator("#note").fill("looser")
    keep(page)
    expect(page.locator("#state")).to_contain_text("v2. Type")
    page.reload()
    assert "125 g" in typed(page)
    page.get_by_role("link", name="Trials", exact=True).click()
    expect(page.locator("#v2")).to_contain_text("looser")
    expect(page.locator("#v2")).to_contain_text("double cream 48%, 95 g to 125 g")


# a draft that is on its way until the card is kept, or for a second at most
SLOW_DRAFT = """
const plain = window.fetch;
const wait = (ms) => new Promise((go) => setTimeout(go, ms));
let isKept;
const kept = new Promise((go) => { isKept = go; });
window.fetch = async (where, what) => {
  const isDraft = String(where).endsWith("/draft");
  if (isDraft) {
    document.documentElement.dataset.drafting = "yes";
    await Promise.race([kept, wait(1000)]);
  }
  const answer = await plain(where, what);
  if (!isDraft && String(where).endsWith("/keep")) {
    isKept();
    await wait(500);
  }
  return answer;
};
"""


def test_a_draft_on_its_way_never_comes_after_the_card(
    served: Served, pages: Pages
) -> None:
    page = pages().page
    page.add_init_script(SLOW_DRAFT)
    page.goto(f"/slabs/{served.kitchen.card_id('Two Tides')}")
    put_caret(page, "85 g    caster sugar")
    page.keyboard.type("1")
    page.locator("html[data-drafting]").wait_for(state="attached")
    keep(page)
    expect(page.locator("#state")).to_have_text(re.compile(r"^\s*v2\. Type"))
    with reading(served.kitchen.engine) as connection:
        assert drafts.listed(connection, served.kitchen.id, "") == ()


def test_pressed_twice_it_is_kept_once(served: Served, pages: Pages) -> None:
    page = pages().page
    number = served.kitchen.card_id("Two Tides")
    page.goto(f"/slabs/{number}")
    put_caret(page, "85 g    caster sugar")
    page.keyboard.type("1")
    with page.expect_navigation():
        page.evaluate(
            """() => { const form = document.getElementById("desk");
            form.requestSubmit(); form.requestSubmit(); }"""
        )
    expect(page.get_by_role("heading", level=1)).to_have_text("Two Tides")
    expect(page.locator("#state")).to_contain_text("v2. Type")


def test_a_mistake_leaves_caret_and_the_rest(served: Served, pages: Pages) -> None:
    page = pages().page
    page.goto(f"/slabs/{served.kitchen.card_id('Two Tides')}")
    put_caret(page, "g   plain flour")
    page.keyboard.type("q")
    followed(page)

    expect(page.locator(".under .bad").first).to_be_attached()
    expect(page.locator("#wrong")).to_contain_text("Line")
    expect(page.locator(".layers li").nth(1)).to_contain_text("14.8")
    page.keyboard.press("Backspace")
    followed(page)
    expect(page.locator("#wrong")).to_have_count(0)


def test_two_editors_of_one_card(
    served: Served, browser: Browser, pages: Pages
) -> None:
    number = served.kitchen.card_id("Two Tides")
    first, second = (
        pages(extra_http_headers={"Cookie": f"slabwright-who={who}"})
        for who in ("Morwen", "Dov")
    )
    second.allowed.append("409")
    for one in (first, second):
        one.page.goto(f"/slabs/{number}")
    put_caret(first.page, "70 g   butter, unsalted, cold")
    first.page.keyboard.press("Delete")
    first.page.keyboard.type("6")
    keep(first.page)
    expect(first.page.locator("#state")).to_contain_text("v2. Type")

    put_caret(second.page, "85 g    caster sugar")
    second.page.keyboard.type("1")
    second.page.keyboard.press("Control+Enter")

    page = second.page
    expect(page.get_by_role("heading", level=1)).to_have_text("Two hands on Two Tides")
    expect(page.locator("main")).to_contain_text("160 g   butter, unsalted, cold")
    expect(page.locator("main")).to_contain_text("185 g    caster sugar")
    page.locator("#beside").click()
    page.wait_for_url("**/trials#v3")
    expect(page.locator("#v3")).to_contain_text("trial")
    with reading(served.kitchen.engine) as connection:
        row = cards.one(connection, served.kitchen.id, number)
    assert row is not None
    assert "160 g   butter" in row.text


def test_a_draft_survives_a_closed_tab_and_a_killed_server(
    browser: Browser, kitchen: Kitchen
) -> None:
    number = kitchen.card_id("Two Tides")
    with serving(kitchen) as served, watched(browser, served.address) as seen:
        page = seen.page
        page.goto(f"/slabs/{number}")
        put_caret(page, "85 g    caster sugar")
        with page.expect_response("**/draft"):
            page.keyboard.type("1")
        state = page.context.storage_state()
        port = int(served.address.rpartition(":")[2])
    # the server is gone now, and so is the tab
    with (
        serving(kitchen, port) as again,
        watched(browser, again.address, storage_state=state) as seen,
    ):
        page = seen.page
        page.goto(f"/slabs/{number}")
        assert "185 g    caster sugar" in typed(page)
        expect(page.locator("#state")).to_contain_text("from v1")


def test_what_the_server_never_got_waits_in_the_browser(
    browser: Browser, kitchen: Kitchen
) -> None:
    number = kitchen.card_id("Two Tides")
    with serving(kitchen) as served, watched(browser, served.address) as seen:
        seen.allowed += ["ERR_FAILED", "ERR_CONNECTION", "Failed to"]
        page = seen.page
        page.goto(f"/slabs/{number}")
        put_caret(page, "85 g    caster sugar")
        page.route("**/draft", lambda route: route.abort())
        page.route("**/follow", lambda route: route.abort())
        page.keyboard.type("1")
        expect(page.locator("#state")).to_contain_text(
            "does not answer", timeout=20_000
        )
        page.unroute("**/draft")
        page.unroute("**/follow")
        page.goto("/slabs")
        page.goto(f"/slabs/{number}")
        assert "185 g    caster sugar" in typed(page)


def test_everything_can_be_done_with_keys(served: Served, pages: Pages) -> None:
    page = pages().page
    page.goto("/slabs")
    page.keyboard.press("/")
    page.keyboard.type("tides")
    page.keyboard.press("Enter")
    page.wait_for_url("**/slabs?find=tides")
    link = page.get_by_role("link", name="Two Tides", exact=True)
    link.focus()
    page.keyboard.press("Enter")
    page.wait_for_url("**/slabs/*")
    page.locator("#card").focus()
    page.keyboard.press("Control+End")
    page.keyboard.type("\nlayer Top\n  20 g pla")
    expect(page.locator("#offered li").first).to_be_visible()
    page.keyboard.press("ArrowDown")
    page.keyboard.press("ArrowUp")
    page.keyboard.press("Enter")
    followed(page)
    assert typed(page).endswith("layer Top\n  20 g plain flour")
    page.keyboard.press("Alt+ArrowUp")
    assert typed(page).endswith("  20 g plain flour\nlayer Top")
    page.keyboard.press("Control+z")
    assert typed(page).endswith("layer Top\n  20 g plain flour")
    followed(page)
    expect(page.locator(".layers li")).to_have_count(4)
    # a figure opens, gives its sum, and folds; the focus comes back
    figure = page.locator(".plate .fig").first
    figure.focus()
    page.keyboard.press("Enter")
    expect(page.locator("#opened")).to_be_visible()
    expect(page.locator("#opened-sum")).not_to_be_empty()
    page.keyboard.press("Escape")
    expect(page.locator("#opened")).to_be_hidden()
    expect(figure).to_be_focused()


def test_a_figure_shows_its_sum_its_range_and_its_sources(
    served: Served, pages: Pages
) -> None:
    page = pages().page
    page.goto(f"/slabs/{served.kitchen.card_id('Two Tides')}")
    page.locator(".layers li").nth(1).locator(".fig").first.click()

    # demo.md: 969 g ÷ 600 cm² ÷ 1.09 g/ml = 14.8 mm
    expect(page.locator("#opened-sum")).to_contain_text("969")
    expect(page.locator("#opened-sum")).to_contain_text("1.09")
    expect(page.locator("#opened-facts")).to_contain_text("assumed")


def test_a_depth_by_the_ruler_is_written_into_the_card_alone(
    served: Served, pages: Pages
) -> None:
    page = pages().page
    page.goto(f"/slabs/{served.kitchen.card_id('Two Tides')}")
    before = typed(page)
    page.locator(".layers li").nth(1).locator(".fig").first.click()
    page.locator("#opened-edit-0").fill("15.2")
    page.keyboard.press("Enter")
    followed(page)

    added = [line for line in typed(page).split("\n") if "deep" in line]
    assert added == ["  deep 15.2 mm"]
    assert typed(page).replace("  deep 15.2 mm\n", "") == before
    page.locator("#undo").click()
    assert typed(page) == before


@pytest.mark.parametrize("width", [360, 820, 1920])
def test_no_page_scrolls_sideways(served: Served, pages: Pages, width: int) -> None:
    page = pages(width=width).page
    number = served.kitchen.card_id("Harbour Lamp")
    for path in ("/slabs", f"/slabs/{number}", "/start", f"/slabs/{number}/trials",
                 f"/slabs/{number}/trials/1", f"/slabs/{number}/photos",
                 f"/slabs/{number}/scale", f"/slabs/{number}/sheet", "/larder",
                 "/buying", "/kitchen", "/kitchen/moving"):  # fmt: skip
        page.goto(path)
        assert page.evaluate("document.documentElement.scrollWidth") <= width, path


def test_the_desk_prints_the_card_and_the_drawing(served: Served, pages: Pages) -> None:
    page = pages().page
    page.goto(f"/slabs/{served.kitchen.card_id('Two Tides')}")
    page.emulate_media(media="print")

    expect(page.locator("header.head")).to_be_hidden()
    expect(page.locator("#keep")).to_be_hidden()
    expect(page.locator("#face svg.drawing").first).to_be_visible()
    expect(page.locator("#under")).to_contain_text("190 g   plain flour")
    expect(page.locator("#under")).to_be_visible()
    assert page.pdf().startswith(b"%PDF")


def test_the_policy_holds_in_the_browser(served: Served, pages: Pages) -> None:
    seen = pages()
    seen.allowed += ["Content Security Policy", "violates"]
    page = seen.page
    page.goto(f"/slabs/{served.kitchen.card_id('Two Tides')}")
    # the page's own script must try it: what the test evaluates is let through
    page.evaluate(
        """() => { const s = document.createElement("script");
        s.textContent = "document.title = 'ran'"; document.head.append(s);
        document.body.setAttribute("onclick", "document.title = 'ran'");
        document.body.click(); }"""
    )

    assert page.title() != "ran"
    policy = page.request.get("/slabs").headers["content-security-policy"]
    assert "unsafe" not in policy


def test_keeping_while_the_program_is_away_loses_nothing(
    browser: Browser, kitchen: Kitchen
) -> None:
    number = kitchen.card_id("Two Tides")
    with serving(kitchen) as served, watched(browser, served.address) as seen:
        seen.allowed += ["ERR_FAILED", "ERR_CONNECTION", "Failed to"]
        page = seen.page
        page.goto(f"/slabs/{number}")
        put_caret(page, "85 g    caster sugar")
        page.route("**/slabs/*/*", lambda route: route.abort())
        page.keyboard.type("1")
        page.keyboard.press("Control+Enter")
        expect(page.locator("#state")).to_contain_text("does not answer")
        assert "185 g    caster sugar" in typed(page)
        page.unroute("**/slabs/*/*")
        page.reload()
        assert "185 g    caster sugar" in typed(page)


def test_on_a_telephone_the_page_goes_to_what_was_asked(
    pages: Callable[..., Watched], kitchen: Kitchen
) -> None:
    page = pages(width=360, height=800).page
    page.goto(f"/slabs/{kitchen.card_id('Two Tides')}/scale")
    page.locator("[name=tin]").first.fill("23 cm square")
    page.get_by_role("button", name="Scale it").click()
    expect(page.locator("#answer h3").first).to_be_in_viewport()
    page.get_by_role("button", name="Cut it so").click()
    expect(page.locator("#cut-answer h3, #cut-answer p").first).to_be_in_viewport()
