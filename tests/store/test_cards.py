"""Cards: what is listed, found, named and set aside."""

import re
from threading import Barrier, Thread

import pytest
import sqlalchemy as sa
from hypothesis import given
from hypothesis import strategies as st

from slabwright.store import cards, kitchens, papers, revisions, stems
from slabwright.store.engine import reading, writing
from slabwright.store.errors import MissingError, StoreError
from slabwright.store.who import Who
from tests.store.kitchen import DAY, NOOR, TEXT, a_card, later, saved


def names(c: sa.Connection, kitchen: int, **asked: object) -> list[str]:
    found = cards.listed(c, kitchen, "slab", **asked)  # type: ignore[arg-type]
    return [card.name for card in found]


def test_a_card_is_kept_as_it_was_typed(c: sa.Connection, kitchen: int) -> None:
    card = cards.add(
        c, kitchen, "slab", "Lantern Walk", TEXT, NOOR, has_bom=True, is_proved=True
    )

    assert cards.one(c, kitchen, card.id) == card
    assert (card.text, card.has_bom, card.is_proved) == (TEXT, True, True)
    assert (card.stem, card.name, card.kind) == ("lantern-walk", "Lantern Walk", "slab")
    assert (card.current, card.latest, card.is_aside) == (1, 1, False)
    assert (card.author, card.at, card.changed_at) == ("Noor", DAY, DAY)
    (first,) = revisions.listed(c, kitchen, card.id)
    assert (first.number, first.from_number, first.note) == (1, 0, "first try")


def test_texts_of_every_character_come_back(c: sa.Connection, kitchen: int) -> None:
    odd = "".join(map(chr, (*range(1, 0x250), 0x2028, 0xFEFF, 0xFFFF, 0x1F34B)))

    assert a_card(c, kitchen, text=odd).text == odd


@pytest.mark.parametrize("text", ["a\0b", "\udc80", "x" * (1024 * 1024 + 1)])
def test_what_no_text_file_holds_is_refused(
    c: sa.Connection, kitchen: int, text: str
) -> None:
    with pytest.raises(StoreError, match=r"The card (holds characters|has 1\.0 MiB)"):
        a_card(c, kitchen, text=text)
    assert cards.counted(c, kitchen, "slab") == 0


def test_the_longest_text_is_taken(c: sa.Connection, kitchen: int) -> None:
    assert len(a_card(c, kitchen, text="x" * 1024 * 1024).text) == 1024 * 1024


@pytest.mark.parametrize(
    "who", [Who("x" * 121, DAY), Who("a\0", DAY), Who("", DAY, "x" * 10_001)]
)
def test_an_author_or_note_that_cannot_be_kept_is_refused(
    c: sa.Connection, kitchen: int, who: Who
) -> None:
    with pytest.raises(StoreError):
        cards.add(c, kitchen, "slab", "Lantern", TEXT, who)
    assert cards.counted(c, kitchen, "slab") == 0


def test_the_one_changed_last_comes_first(c: sa.Connection, kitchen: int) -> None:
    one, _, three = (a_card(c, kitchen, name) for name in ("One", "Two", "Three"))
    saved(c, three, "three", 1)
    saved(c, one, "one, a trial", 1, is_trial=True)
    if c.dialect.name == "postgresql":  # join in the order of ids, if it's let
        for manner in ("nestloop", "hashjoin"):
            c.execute(sa.text(f"SET LOCAL enable_{manner} = off"))

    # both one minute later; of equals the younger card comes first
    assert names(c, kitchen) == ["Three", "One", "Two"]
    assert names(c, kitchen, start=1, limit=1) == ["One"]
    assert names(c, kitchen, start=3) == []


def test_slabs_and_components_are_listed_apart(c: sa.Connection, kitchen: int) -> None:
    a_card(c, kitchen, "Slab")
    a_card(c, kitchen, "Ganache", kind="component")

    assert names(c, kitchen) == ["Slab"]
    assert [x.name for x in cards.all_texts(c, kitchen, "component")] == ["Ganache"]
    assert cards.counted(c, kitchen, "component") == 1


def test_a_card_set_aside_is_out_of_the_way(c: sa.Connection, kitchen: int) -> None:
    a_card(c, kitchen, "One")
    two = a_card(c, kitchen, "Two")

    assert cards.set_aside(c, kitchen, two.id, True).is_aside
    assert names(c, kitchen, is_aside=False) == ["One"]
    assert names(c, kitchen, is_aside=True) == ["Two"]
    assert names(c, kitchen) == ["Two", "One"]
    assert cards.counted(c, kitchen, "slab", is_aside=True) == 1
    assert [x.name for x in cards.all_texts(c, kitchen, "slab")] == ["One", "Two"]
    assert not cards.set_aside(c, kitchen, two.id, False).is_aside


FOUND = {
    "lantern": True,
    "LANTERN walk": True,
    "walk  lantern": True,
    "lan alk": True,
    "lantern lemon": False,
    "CRÈME": True,
    "straße": True,
    "STRASSE": True,
    "100%": True,
    "1%": False,
    "a_b": True,
    "a_c": False,
    "/": True,
    "\\": True,
    "'": False,
    "": True,
    " \t": True,
    "cre\u0300me": True,
    "ΣΊΣΥΦΟΣ": True,
    "x" * 60_000: False,
    "lantern " * 30_000: True,
    "a\0": False,
    "\ud800": False,
}


@pytest.mark.parametrize("find", FOUND, ids=range(len(FOUND)))
def test_every_word_must_occur_in_name_or_text(
    c: sa.Connection, kitchen: int, find: str
) -> None:
    text = "slab x\n1 Crème Strasse 100% a_b 10 / \\ abc Σίσυφος\n"
    a_card(c, kitchen, "Lantern Walk", text)
    a_card(c, kitchen, "Other", "nothing but flour")

    wanted = FOUND[find]
    count = cards.counted(c, kitchen, "slab", find=find)
    assert ("Lantern Walk" in names(c, kitchen, find=find)) is wanted
    assert count == (2 if not find.strip() else int(wanted))


def test_what_is_found_follows_text_and_name(c: sa.Connection, kitchen: int) -> None:
    card = a_card(c, kitchen, "Lantern", "barley")
    saved(c, card, "rye", 1)
    saved(c, card, "spelt", 2, is_trial=True)

    assert names(c, kitchen, find="rye lantern") == ["Lantern"]
    assert names(c, kitchen, find="barley") == []  # an older revision
    assert names(c, kitchen, find="spelt") == []  # a trial
    cards.rename(c, kitchen, card.id, "Lamp")
    assert names(c, kitchen, find="rye lamp") == ["Lamp"]
    assert names(c, kitchen, find="lantern") == []


def test_a_renamed_card_keeps_text_and_file(c: sa.Connection, kitchen: int) -> None:
    card = a_card(c, kitchen)
    renamed = cards.rename(c, kitchen, card.id, "Süßes 甘")

    assert (renamed.name, renamed.stem) == ("Süßes 甘", "lantern-walk")
    assert (renamed.text, renamed.latest) == (TEXT, 1)
    with pytest.raises(StoreError, match="The card has no name"):
        cards.rename(c, kitchen, card.id, " ")


STEMS = {
    "Lantern Walk": "lantern-walk",
    "  Two -- Tides!  ": "two-tides",
    "Crème brûlée": "creme-brulee",
    "Straße": "strasse",
    "Smørrebrød": "smorrebrod",
    "Sam's slab": "sams-slab",
    "レモン": "slab",
    "../../etc/passwd": "etc-passwd",
    "..\\C:\\x": "c-x",
    "CON": "slab-con",
    "lpt1": "slab-lpt1",
    "console": "console",
    "nul.card": "nul-card",
    "½ & ﬁg": "12-fig",
    "x" * 120: "x" * 70,
    "a\r\nb\u202ec": "a-bc",
}


@pytest.mark.parametrize("name", STEMS)
def test_a_file_is_named_for_its_card(
    c: sa.Connection, kitchen: int, name: str
) -> None:
    assert a_card(c, kitchen, name).stem == STEMS[name]


@given(st.text(min_size=1, max_size=120))
def test_any_name_makes_a_sound_file(name: str) -> None:
    stem = stems.made(name, "slab")

    assert re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", stem)
    assert len(stem) <= stems.MOST_STEM - 4
    assert stems.checked(stem) == stem == stems.key(stem)


def test_equal_names_get_files_of_their_own(c: sa.Connection, kitchen: int) -> None:
    first = a_card(c, kitchen, "Lemon")
    a_card(c, kitchen, "Lemon 3")
    others = [a_card(c, kitchen, "LEMON").stem for _ in range(3)]

    assert first.stem == "lemon"
    assert others == ["lemon-2", "lemon-4", "lemon-5"]
    assert a_card(c, kitchen, "Lemon", kind="component").stem == "lemon"
    long = [a_card(c, kitchen, "y" * 120).stem for _ in range(2)]
    assert long == ["y" * 70, f"{'y' * 70}-2"]


def test_a_file_keeps_the_name_that_it_came_with(
    c: sa.Connection, kitchen: int
) -> None:
    card = cards.add(c, kitchen, "slab", "Lemon", "x", NOOR, stem="Zitrone à 2")

    assert card.stem == "Zitrone à 2"
    assert cards.by_stem(c, kitchen, "slab", "Zitrone à 2") == card
    assert cards.by_stem(c, kitchen, "component", "Zitrone à 2") is None
    for alike in ("zitrone À 2", "Zitrone a\u0300 2"):
        with pytest.raises(StoreError, match=r"in a file called .* already"):
            cards.add(c, kitchen, "slab", "Lemon", "x", NOOR, stem=alike)
    assert a_card(c, kitchen, "Lemon").stem == "lemon"  # the transaction still works


@pytest.mark.parametrize(
    "stem",
    [
        *("a/b", "..", ".", ".hidden", "a.", " a", "a ", "a\\b", "C:", "a\nb", "a\0b"),
        *("con", "Aux.txt", "com1", "x.card", "0001.YAML", "x" * 81, "\U0001f34b" * 60),
    ],
)
def test_a_file_name_that_some_system_cannot_keep_is_refused(
    c: sa.Connection, kitchen: int, stem: str
) -> None:
    with pytest.raises(StoreError, match=r"can't be called|The file's name"):
        cards.add(c, kitchen, "slab", "Lemon", "x", NOOR, stem=stem)


def test_cards_added_at_once_all_get_a_file(store: sa.Engine) -> None:
    with writing(store) as c:
        kitchen = kitchens.add(c, "Harbour", DAY).id
    start = Barrier(4)

    def adding() -> None:
        start.wait()
        for _ in range(5):
            with writing(store) as c:
                a_card(c, kitchen, "Lemon")

    threads = [Thread(target=adding) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()

    with reading(store) as c:
        found = {card.stem for card in cards.all_texts(c, kitchen, "slab")}
    assert len(found) == 20
    assert len({re.sub(r"-\d+$", "", stem) for stem in found}) == 1


def test_the_mark_moves_with_components_and_papers_alone(
    c: sa.Connection, kitchen: int, theirs: int
) -> None:
    slab = a_card(c, kitchen)
    ganache = a_card(c, kitchen, "Ganache", kind="component")
    trial = saved(c, ganache, "x", 1, is_trial=True)
    marks = [cards.revision_mark(c, kitchen)]
    for act in (
        lambda: saved(c, ganache, "more", 1),
        lambda: cards.rename(c, kitchen, ganache.id, "Dark ganache"),
        lambda: revisions.take_up(c, kitchen, ganache.id, trial.number, later(3)),
        lambda: papers.save(c, kitchen, "larder.yaml", "[]", NOOR, based_on=0),
        lambda: papers.save(c, kitchen, "larder.yaml", "[ ]", NOOR, based_on=1),
        lambda: a_card(c, kitchen, "Jelly", kind="component"),
    ):
        act()
        marks.append(cards.revision_mark(c, kitchen))

    assert marks == sorted(set(marks))
    saved(c, slab, "more", 1)
    cards.rename(c, kitchen, slab.id, "Lamp")
    a_card(c, theirs, "Ganache", kind="component")
    assert cards.revision_mark(c, kitchen) == marks[-1]
    assert cards.revision_mark(c, theirs) == 1


def test_no_card_without_a_kitchen(c: sa.Connection, theirs: int) -> None:
    with pytest.raises(MissingError, match="no such kitchen"):
        a_card(c, theirs + 1)
