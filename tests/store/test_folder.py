"""A kitchen as a folder: out and in again, byte for byte."""

from collections.abc import Iterable
from dataclasses import replace

import pytest
import sqlalchemy as sa
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from ruamel.yaml import YAML

from slabwright.store import (
    cards,
    kept_files,
    kitchens,
    papers,
    photos,
    revisions,
)
from slabwright.store.folder import MOST_FILES, PutIn, put_in, taken_out
from slabwright.store.who import Who
from tests.store.kitchen import DAY, NOOR, TEXT, a_card, later, read_card, saved

Files = dict[str, bytes]
BRINGER = later(10_000, "Ann", "brought in")


def out(c: sa.Connection, kitchen: int) -> Files:
    listed = list(taken_out(c, kitchen))
    files = dict(listed)
    assert len(files) == len(listed)
    return files


def brought(c: sa.Connection, kitchen: int, files: Files) -> PutIn:
    return put_in(c, kitchen, files.items(), BRINGER, read_card)


def refused(put: PutIn) -> dict[str, str]:
    return {mistake.where.file: mistake.what for mistake in put.refused}


# any text that a store keeps, with what is likely to go wrong on the way
TEXTS = st.text(
    st.characters(exclude_categories=["Cs"], exclude_characters="\0")
    | st.sampled_from("\r\n\ufeff\u2028\x85\"\\:#'½")
)
NAMES = st.text(
    st.characters(exclude_categories=["Cs"], exclude_characters="\0"),
    min_size=1,
    max_size=20,
).filter(lambda name: bool(name.strip()))
ACTS = st.lists(
    st.tuples(
        st.sampled_from(
            [
                *("add", "component", "save", "save", "trial", "take up", "restore"),
                *("prove", "aside", "rename", "photo", "paper", "file"),
            ]
        ),
        TEXTS,
        NAMES,
        st.integers(0, 9),
        st.booleans(),
    ),
    max_size=14,
)


class Maker:
    """Does to a kitchen what a list of acts says, as far as it can be done."""

    def __init__(self, c: sa.Connection, kitchen: int) -> None:
        self.c, self.kitchen, self.minute = c, kitchen, 0

    def do(self, act: str, text: str, name: str, number: int, flag: bool) -> None:
        self.minute += 1
        c, kitchen, who = self.c, self.kitchen, later(self.minute, name, text)
        if act == "paper":
            paper = papers.NAMES[number % 3]
            before = papers.latest(c, kitchen, paper)
            based_on = before.number if before else 0
            papers.save(c, kitchen, paper, text, who, based_on=based_on, has_bom=flag)
        elif act == "file":
            path = ("README.md", "records/é/2", "photos/x.jpg", "slabs/a")[number % 4]
            kept_files.keep(c, kitchen, path, text.encode(), who.at)
        elif act in {"add", "component"}:
            kind = cards.KINDS[act == "component"]
            cards.add(c, kitchen, kind, name, text, who, has_bom=flag)
        else:
            self._do_to_card(act, text, name, number, flag, who)

    def _do_to_card(
        self, act: str, text: str, name: str, number: int, flag: bool, who: Who
    ) -> None:
        c, kitchen = self.c, self.kitchen
        found = [
            card for kind in cards.KINDS for card in cards.all_texts(c, kitchen, kind)
        ]
        if not found:
            return
        card = found[number % len(found)]
        any_number = number % card.latest + 1
        if act in {"save", "trial", "prove"}:
            revisions.save(
                c,
                kitchen,
                card.id,
                text,
                who,
                based_on=any_number if act == "trial" else card.current,
                as_trial=act == "trial",
                is_proved=act == "prove",
                name=name if flag else None,
                has_bom=flag,
            )
        elif act == "take up":
            for trial in revisions.trials(c, kitchen, card.id)[:1]:
                revisions.take_up(c, kitchen, card.id, trial.number, who)
        elif act == "restore":
            revisions.restore(c, kitchen, card.id, any_number, who)
        elif act == "aside":
            cards.set_aside(c, kitchen, card.id, flag)
        elif act == "rename":
            cards.rename(c, kitchen, card.id, name)
        elif act == "photo":
            photos.add(
                c,
                kitchen,
                card.id,
                text.encode(),
                replace(who, note=""),
                media_type=sorted(photos.ENDS)[number % 3],
                width=number,
                height=1,
                caption=name,
                revision=any_number if flag else None,
                step_line=number or None,
            )


@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(acts=ACTS)
def test_a_kitchen_goes_out_and_in_byte_for_byte(
    c: sa.Connection, acts: list[tuple[str, str, str, int, bool]]
) -> None:
    with c.begin_nested() as undone:
        first = kitchens.add(c, "First", DAY).id
        second = kitchens.add(c, "Second", DAY).id
        maker = Maker(c, first)
        for act in acts:
            maker.do(*act)
        files = out(c, first)
        put = brought(c, second, files)

        assert put.refused == ()
        assert out(c, second) == files
        assert {*put.came, *put.kept, *put.unchanged} == set(files)
        assert what_is_listed(c, second) == what_is_listed(c, first)
        again = brought(c, second, files)
        assert (again.came, again.kept, again.refused) == ((), (), ())
        assert set(again.unchanged) == set(files)
        assert out(c, second) == files
        undone.rollback()


def what_is_listed(c: sa.Connection, kitchen: int) -> list[object]:
    return [
        replace(card, id=0, kitchen_id=0)
        for kind in cards.KINDS
        for card in cards.all_texts(c, kitchen, kind)
    ]


def test_a_folder_holds_what_its_kitchen_holds(c: sa.Connection, kitchen: int) -> None:
    card = cards.add(
        c, kitchen, "slab", "Components", TEXT, NOOR, has_bom=True, stem="components"
    )
    saved(c, card, "trial", 1, is_trial=True)
    a_card(c, kitchen, "Ganache", "g", kind="component")
    papers.save(c, kitchen, "larder.yaml", "[]\n", NOOR, based_on=0)
    kept_files.keep(c, kitchen, "sales.csv", b"1,2\r\n", DAY)
    files = out(c, kitchen)

    assert sorted(files) == [
        "components/ganache.card",
        "history/components/0001.card",
        "history/components/0001.yaml",
        "history/components/0002.card",
        "history/components/0002.yaml",
        "history/components/card.yaml",
        "history/components/ganache/0001.card",
        "history/components/ganache/0001.yaml",
        "history/components/ganache/card.yaml",
        "history/papers/larder.yaml/0001.paper",
        "history/papers/larder.yaml/0001.yaml",
        "larder.yaml",
        "sales.csv",
        "slabs/components.card",
    ]
    assert files["slabs/components.card"] == b"\xef\xbb\xbf" + TEXT.encode()
    assert files["history/components/0002.card"] == b"trial"
    told = YAML(typ="safe").load(files["history/components/0002.yaml"])
    assert told == {
        "author": "Sam",
        "at": later(1).at.isoformat(),
        "note": "",
        "from": 1,
        "trial": True,
        "proved": False,
    }
    told = YAML(typ="safe").load(files["history/components/card.yaml"])
    assert told == {"name": "Components", "aside": False, "current": 1}


BY_HAND = {
    "kitchen.yaml": b"country: GB\r\n",
    "slabs/Two Tides.card": b"\xef\xbb\xbfslab Two Tides\r\nproved 2026\r\n",
    "slabs/no-name.card": b"",
    "slabs/lang.card": ("slab " + "x" * 300).encode(),
    "components/Gelée.card": "component Gelée\n".encode(),
    "README.md": b"read me",
    "records/oven.csv": b"\0\xff",
    "photos/cut.jpg": b"\xff\xd8",
}


def test_a_folder_written_by_hand_becomes_first_revisions(
    c: sa.Connection, kitchen: int
) -> None:
    put = brought(c, kitchen, BY_HAND)

    assert put.refused == ()
    assert put.kept == ("README.md", "photos/cut.jpg", "records/oven.csv")
    assert len(put.came) == 5
    card = cards.by_stem(c, kitchen, "slab", "Two Tides")
    assert card is not None
    assert (card.name, card.has_bom, card.is_proved) == ("Two Tides", True, True)
    (first,) = revisions.listed(c, kitchen, card.id)
    assert (first.author, first.at, first.note) == ("Ann", BRINGER.at, "brought in")
    named = {card.stem: card.name for card in cards.all_texts(c, kitchen, "slab")}
    assert named["no-name"] == "no-name"
    assert named["lang"] == "x" * 120
    (gelee,) = cards.all_texts(c, kitchen, "component")
    assert gelee.name == "Gelée"
    paper = papers.latest(c, kitchen, "kitchen.yaml")
    assert paper is not None
    assert (paper.number, paper.author) == (1, "Ann")
    files = out(c, kitchen)
    assert {path: files[path] for path in BY_HAND} == BY_HAND


def test_over_a_kitchen_other_texts_become_revisions(
    c: sa.Connection, kitchen: int
) -> None:
    brought(c, kitchen, BY_HAND)
    put = brought(
        c,
        kitchen,
        {
            "kitchen.yaml": b"country: FR\n",
            "slabs/lang.card": b"slab Lang\n",
            "slabs/new.card": b"slab New\n",
            "slabs/no-name.card": b"",
            "README.md": b"another",
            "records/oven.csv": b"\0\xff",
        },
    )

    assert put.refused == ()
    assert sorted(put.came) == ["kitchen.yaml", "slabs/lang.card", "slabs/new.card"]
    assert put.kept == ("README (2).md",)
    assert sorted(put.unchanged) == ["records/oven.csv", "slabs/no-name.card"]
    lang = cards.by_stem(c, kitchen, "slab", "lang")
    assert lang is not None
    assert (lang.current, lang.text, lang.name) == (2, "slab Lang\n", "Lang")
    history = papers.history(c, kitchen, "kitchen.yaml")
    assert [one.text for one in history] == ["country: FR\n", "country: GB\r\n"]
    files = out(c, kitchen)
    assert files["README.md"] == b"read me"
    assert files["README (2).md"] == b"another"
    again = brought(c, kitchen, {"README.md": b"another"})
    assert (again.kept, again.unchanged) == ((), ("README.md",))


def test_a_proved_card_is_not_overrun_by_a_folder(
    c: sa.Connection, kitchen: int
) -> None:
    card = a_card(c, kitchen, text="slab L\nproved", is_proved=True)
    brought(c, kitchen, {"slabs/lantern-walk.card": b"slab L\n"})

    (trial,) = revisions.trials(c, kitchen, card.id)
    assert (trial.text, trial.author) == ("slab L\n", "Ann")
    found = cards.one(c, kitchen, card.id)
    assert found is not None
    assert found.text == "slab L\nproved"


def test_an_older_export_does_not_push_newer_work_back(
    c: sa.Connection, kitchen: int
) -> None:
    card = a_card(c, kitchen, text="old")
    papers.save(c, kitchen, "larder.yaml", "old", NOOR, based_on=0)
    older = out(c, kitchen)
    saved(c, card, "new", 1)
    papers.save(c, kitchen, "larder.yaml", "new", NOOR, based_on=1)
    newer = out(c, kitchen)
    put = brought(c, kitchen, older)

    assert put.came == ()
    assert out(c, kitchen) == newer


def test_what_another_kitchen_went_on_to_is_kept_with_its_authors(
    c: sa.Connection, kitchen: int, theirs: int
) -> None:
    card = a_card(c, kitchen, text="one")
    papers.save(c, kitchen, "larder.yaml", "one", NOOR, based_on=0)
    brought(c, theirs, out(c, kitchen))
    (there,) = cards.all_texts(c, theirs, "slab")
    saved(c, there, "their two", 1)
    revisions.save(c, theirs, there.id, "their three", NOOR, based_on=2)
    papers.save(c, theirs, "larder.yaml", "their two", later(2), based_on=1)
    papers.save(c, theirs, "larder.yaml", "their three", later(3), based_on=2)
    saved(c, card, "our two", 1)
    papers.save(c, kitchen, "larder.yaml", "our two", NOOR, based_on=1)
    files = out(c, theirs)
    assert brought(c, kitchen, files).refused == ()

    history = revisions.listed(c, kitchen, card.id)
    assert [(one.text, one.author, one.is_trial) for one in history] == [
        ("their three", "Ann", False),
        ("their three", "Noor", True),
        ("their two", "Sam", True),
        ("our two", "Sam", False),
        ("one", "Noor", False),
    ]
    texts = [one.text for one in papers.history(c, kitchen, "larder.yaml")]
    assert texts == ["their three", "their two", "our two", "one"]
    after = out(c, kitchen)
    assert brought(c, kitchen, files).came == ()
    assert out(c, kitchen) == after


def test_a_fork_without_its_newest_text_leaves_ours_on_top(
    c: sa.Connection, kitchen: int, theirs: int
) -> None:
    papers.save(c, kitchen, "larder.yaml", "ours", NOOR, based_on=0)
    papers.save(c, theirs, "larder.yaml", "theirs", NOOR, based_on=0)
    card = a_card(c, kitchen, text="ours")
    a_card(c, theirs, text="theirs")
    files = out(c, theirs)
    del files["larder.yaml"], files["slabs/lantern-walk.card"]
    assert brought(c, kitchen, files).refused == ()

    texts = [one.text for one in papers.history(c, kitchen, "larder.yaml")]
    assert texts == ["ours", "theirs", "ours"]
    history = revisions.listed(c, kitchen, card.id)
    assert [(one.text, one.is_trial) for one in history] == [
        ("theirs", True),
        ("ours", False),
    ]


def test_a_trial_that_came_is_not_kept_twice_beside_a_proved_card(
    c: sa.Connection, kitchen: int, theirs: int
) -> None:
    card = a_card(c, kitchen, text="proved", is_proved=True)
    a_card(c, theirs, text="theirs")
    brought(c, kitchen, out(c, theirs))

    assert [one.text for one in revisions.trials(c, kitchen, card.id)] == ["theirs"]


def test_a_card_edited_in_an_export_is_a_revision_more(
    c: sa.Connection, kitchen: int, theirs: int
) -> None:
    a_card(c, kitchen, text="one")
    files = out(c, kitchen) | {"slabs/lantern-walk.card": b"slab Lamp\n"}
    brought(c, theirs, files)

    (card,) = cards.all_texts(c, theirs, "slab")
    assert (card.current, card.text, card.name) == (2, "slab Lamp\n", "Lamp")
    assert card.author == "Ann"


def test_a_card_of_which_only_the_history_came_is_whole(
    c: sa.Connection, kitchen: int, theirs: int
) -> None:
    card = a_card(c, kitchen, text="one")
    cards.set_aside(c, kitchen, card.id, True)
    files = out(c, kitchen)
    del files["slabs/lantern-walk.card"]
    brought(c, theirs, files)

    assert what_is_listed(c, theirs) == what_is_listed(c, kitchen)


@pytest.mark.parametrize(
    "path",
    [
        *("../x", "a/../../x", "/etc/x", "a//b", "./a", "a/.", "", "a/", "a\\b"),
        *("C:/x", "a\0b", "a\nb", "/".join("abcdefghi"), "x" * 241, "a/\ud800"),
        "é" * 130,
    ],
)
def test_a_path_that_leaves_the_folder_is_refused_by_name(
    c: sa.Connection, kitchen: int, path: str
) -> None:
    put = brought(c, kitchen, {path: b"x", "ok.txt": b"x"})

    assert put.kept == ("ok.txt",)
    assert len(put.refused) == 1
    assert path in {"", put.refused[0].where.file} or put.refused[0].where.file
    assert [file.path for file in kept_files.listed(c, kitchen)] == ["ok.txt"]


def test_paths_that_a_file_system_mixes_up_come_once(
    c: sa.Connection, kitchen: int
) -> None:
    files = [("slabs/A.card", b"1"), ("slabs/a.card", b"2"), ("slabs/A.card", b"3")]
    put = put_in(c, kitchen, files, BRINGER, read_card)

    assert [(card.stem, card.text) for card in cards.all_texts(c, kitchen, "slab")] == [
        ("A", "1")
    ]
    assert [mistake.where.file for mistake in put.refused] == [
        "slabs/a.card",
        "slabs/A.card",
    ]


AMISS: dict[str, tuple[Files, str]] = {
    "a gap": ({"0001.card": b""}, "lacks 0001.yaml"),
    "no card.yaml": ({"card.yaml": b""}, "lacks name"),
    "far beyond": ({"999999999.card": b""}, "lacks"),
    "current out of range": (
        {"card.yaml": b'name: "L"\naside: false\ncurrent: 3\n'},
        "Revision 3 can't be the current one",
    ),
    "current 0": (
        {"card.yaml": b'name: "L"\naside: false\ncurrent: 0\n'},
        "Revision 0 can't be the current one",
    ),
    "a trial as current": (
        {"card.yaml": b'name: "L"\naside: false\ncurrent: 2\n'},
        "Revision 2 can't be the current one",
    ),
    "no name": (
        {"card.yaml": b'name: " "\naside: false\ncurrent: 1\n'},
        "has no name",
    ),
    "not UTF-8": ({"0001.card": b"\xff"}, "not in UTF-8"),
    "NUL": ({"0001.card": b"\0"}, "not text"),
}


@pytest.mark.parametrize("case", AMISS)
def test_a_history_that_is_amiss_is_refused_and_the_card_comes_all_the_same(
    c: sa.Connection, kitchen: int, theirs: int, case: str
) -> None:
    card = a_card(c, kitchen, text="slab L\n")
    saved(c, card, "trial", 1, is_trial=True)
    changed, what = AMISS[case]
    files = out(c, kitchen)
    if case == "a gap":
        del files["history/lantern-walk/0001.yaml"]
    else:
        files |= {
            f"history/lantern-walk/{name}": data for name, data in changed.items()
        }
    put = brought(c, theirs, files)

    assert what in " ".join(refused(put).values())
    assert all(path.startswith("history/lantern-walk") for path in refused(put))
    (came,) = cards.all_texts(c, theirs, "slab")
    assert (came.text, came.author, came.latest) == ("slab L\n", "Ann", 1)
    assert put.came == ("slabs/lantern-walk.card",)


def test_a_history_that_leans_on_its_own_future_is_refused(
    c: sa.Connection, kitchen: int, theirs: int
) -> None:
    a_card(c, kitchen)
    files = out(c, kitchen)
    path = "history/lantern-walk/0001.yaml"
    files[path] = files[path].replace(b"from: 0", b"from: 1")

    put = brought(c, theirs, files)
    assert "can't come from a later one" in put.refused[0].what


@pytest.mark.parametrize(
    ("path", "data", "what"),
    [
        ("slabs/x.card", b"\xff", "not in UTF-8"),
        ("slabs/x.card", b"a\0", "not text"),
        ("slabs/x.card", b"x" * (1024 * 1024 + 1), "at most 1"),
        ("slabs/con.card", b"x", "can't be called 'con'"),
        ("slabs/.card", b"slab X", "can't be called ''"),
        ("slabs/0001.card.card", b"x", "can't be called"),
        ("kitchen.yaml", b"\xff", "not in UTF-8"),
        ("larder.yaml", b"\0", "not text"),
        ("history/x/notes.txt", b"x", "no part of a card's"),
        ("history/x", b"x", "no part of a card's"),
        ("history/papers/kitchen.yaml/0001.paper", b"x", "lacks 0001.yaml"),
        ("history/papers/mine.yaml/0001.paper", b"x", "no part of a card's"),
        ("history/x/00001.card", b"x", "no part of a card's"),
        ("big.bin", b"x" * (kept_files.MOST_BYTES + 1), "at most 16"),
    ],
)
def test_what_cannot_be_kept_is_refused_alone(
    c: sa.Connection, kitchen: int, path: str, data: bytes, what: str
) -> None:
    put = brought(c, kitchen, {path: data, "slabs/good.card": b"slab Good\n"})

    assert put.came == ("slabs/good.card",)
    assert what in " ".join(refused(put).values())
    assert [m.where.file.startswith(path.rpartition("/")[0]) for m in put.refused]
    assert out(c, kitchen)["slabs/good.card"] == b"slab Good\n"
    assert path not in out(c, kitchen)


def test_a_text_too_long_does_not_take_its_history_along(
    c: sa.Connection, kitchen: int, theirs: int
) -> None:
    a_card(c, kitchen, text="one")
    files = out(c, kitchen) | {"slabs/lantern-walk.card": b"\xff"}
    put = brought(c, theirs, files)

    assert list(refused(put)) == ["slabs/lantern-walk.card"]
    assert what_is_listed(c, theirs) == what_is_listed(c, kitchen)


def test_a_paper_comes_whole_or_not_at_all(
    c: sa.Connection, kitchen: int, theirs: int
) -> None:
    for number, text in enumerate(("one", "two")):
        papers.save(c, kitchen, "larder.yaml", text, NOOR, based_on=number)
    files = out(c, kitchen) | {"history/papers/larder.yaml/0002.paper": b"a\0"}
    put = brought(c, theirs, files)

    assert list(refused(put)) == ["history/papers/larder.yaml"]
    assert (put.came, put.unchanged) == (("larder.yaml",), ())
    (only,) = papers.history(c, theirs, "larder.yaml")
    assert (only.text, only.author) == ("two", "Ann")


def test_a_paper_that_cannot_be_kept_leaves_its_history(
    c: sa.Connection, kitchen: int, theirs: int
) -> None:
    papers.save(c, kitchen, "larder.yaml", "one", NOOR, based_on=0)
    put = brought(c, theirs, out(c, kitchen) | {"larder.yaml": b"a\0"})

    assert list(refused(put)) == ["larder.yaml"]
    assert all(path.startswith("history/papers/") for path in put.came)
    (only,) = papers.history(c, theirs, "larder.yaml")
    assert (only.text, only.author) == ("one", "Noor")


def test_two_pictures_alike_stay_two(
    c: sa.Connection, kitchen: int, theirs: int
) -> None:
    card = a_card(c, kitchen)
    for _ in range(2):
        photos.add(
            c, kitchen, card.id, b"x", NOOR, media_type="image/png", width=1, height=1
        )
    files = out(c, kitchen)
    brought(c, theirs, files)

    assert out(c, theirs) == files
    assert brought(c, theirs, files).came == ()


def test_a_picture_without_its_card_is_kept_as_a_file(
    c: sa.Connection, kitchen: int, theirs: int
) -> None:
    card = a_card(c, kitchen)
    photos.add(
        c, kitchen, card.id, b"x", NOOR, media_type="image/png", width=1, height=1
    )
    files = {p: data for p, data in out(c, kitchen).items() if p.startswith("photos/")}
    put = brought(c, theirs, files)

    assert set(put.kept) == set(files) == set(out(c, theirs))
    odd = {"photos/a.png": b"x", "photos/a.png.yaml": b"mine: 1\n"}
    assert set(brought(c, theirs, odd).kept) == set(odd)


def test_another_picture_of_the_same_name_gets_another(
    c: sa.Connection, kitchen: int, theirs: int
) -> None:
    for whose, data in ((kitchen, b"ours"), (theirs, b"theirs")):
        card = a_card(c, whose)
        photos.add(
            c,
            whose,
            card.id,
            data,
            NOOR,
            media_type="image/png",
            width=1,
            height=1,
            revision=1,
        )
    brought(c, kitchen, out(c, theirs))
    brought(c, kitchen, out(c, theirs))

    files = out(c, kitchen)
    assert files["photos/lantern-walk-1.png"] == b"ours"
    assert files["photos/lantern-walk-2.png"] == b"theirs"
    assert "photos/lantern-walk-3.png" not in files


def test_a_picture_of_a_revision_that_is_not_here_comes_without_its_number(
    c: sa.Connection, kitchen: int, theirs: int
) -> None:
    card = a_card(c, kitchen)
    saved(c, card, "two", 1)
    photos.add(
        c,
        kitchen,
        card.id,
        b"x",
        NOOR,
        media_type="image/png",
        width=1,
        height=1,
        revision=2,
    )
    here = a_card(c, theirs)
    files = out(c, kitchen)
    only_photos = {path: files[path] for path in files if path.startswith("photos")}
    brought(c, theirs, only_photos)

    (photo,) = photos.listed(c, theirs, here.id)
    assert photo.revision is None


def test_too_many_files_are_refused(
    c: sa.Connection, kitchen: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert MOST_FILES == 50_000
    monkeypatch.setattr("slabwright.store.folder.MOST_FILES", 2)
    put = brought(c, kitchen, {"a": b"", "b": b"", "c": b""})

    assert put.kept == ("a", "b")
    assert refused(put) == {"c": "The folder has more than 2 files."}


NOISE = st.dictionaries(
    st.lists(
        st.sampled_from(
            [
                *("slabs", "components", "history", "papers", "photos", "a", "a.card"),
                *("0001.card", "0001.yaml", "card.yaml", "kitchen.yaml", "0001.paper"),
                *("..", "", "CON.card", "a.jpg", "a.jpg.yaml"),
            ]
        ),
        min_size=1,
        max_size=4,
    ).map("/".join),
    st.binary(max_size=30)
    | st.sampled_from(
        [
            b'name: "x"\naside: false\ncurrent: 1\n',
            b'author: ""\nat: "2026-01-01T00:00:00+00:00"\nnote: ""\n',
            b'author: ""\nat: "2026-01-01T00:00:00+00:00"\nnote: ""\n'
            b"from: 0\ntrial: false\nproved: false\n",
        ]
    ),
    max_size=12,
)


@settings(max_examples=100, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(files=NOISE)
def test_noise_is_taken_or_refused_but_never_breaks(
    c: sa.Connection, files: Files
) -> None:
    with c.begin_nested() as undone:
        kitchen = kitchens.add(c, "Noise", DAY).id
        put = brought(c, kitchen, files)
        told = [*put.came, *put.kept, *put.unchanged]

        assert len(told) == len(set(told))
        assert set(told) <= set(files) | set(put.kept)
        once = out(c, kitchen)
        brought(c, kitchen, once)
        assert out(c, kitchen) == once
        undone.rollback()


def test_nothing_out_of_nothing(c: sa.Connection, kitchen: int) -> None:
    nothing: Iterable[tuple[str, bytes]] = ()

    assert put_in(c, kitchen, nothing, BRINGER, read_card) == PutIn((), (), (), ())
    assert out(c, kitchen) == {}
