"""Drafts, papers, pictures, kept files and results."""

from datetime import timedelta

import pytest
import sqlalchemy as sa

from slabwright.store import drafts, kept_files, papers, photos, results
from slabwright.store.errors import EditedMeanwhileError, MissingError, StoreError
from slabwright.store.photos import PhotoRow
from tests.store.kitchen import DAY, NOOR, TEXT, a_card, later, saved


def test_a_draft_is_kept_until_it_is_dropped(c: sa.Connection, kitchen: int) -> None:
    card = a_card(c, kitchen)
    drafts.keep(c, kitchen, "new", "Noor", TEXT, DAY)
    key = f"card-{card.id}"
    drafts.keep(c, kitchen, key, "Noor", "a", DAY, card_id=card.id, based_on=1)
    newer = drafts.keep(
        c, kitchen, key, "Noor", "b", later(1).at, card_id=card.id, based_on=2
    )
    sams = drafts.keep(c, kitchen, key, "Sam", "c", DAY)

    assert drafts.one(c, kitchen, key, "Noor") == newer
    assert (newer.text, newer.based_on, newer.card_id) == ("b", 2, card.id)
    assert [one.key for one in drafts.listed(c, kitchen, "Noor")] == [key, "new"]
    drafts.drop(c, kitchen, key, "Noor")
    assert drafts.one(c, kitchen, key, "Noor") is None
    assert drafts.one(c, kitchen, key, "Sam") == sams
    with pytest.raises(StoreError, match="The draft holds characters"):
        drafts.keep(c, kitchen, "new", "Noor", "\0", DAY)


def test_a_paper_has_its_history(c: sa.Connection, kitchen: int) -> None:
    assert papers.latest(c, kitchen, "prices.yaml") is None
    one = papers.save(c, kitchen, "prices.yaml", "- a\r\n", NOOR, based_on=0)
    two = papers.save(
        c, kitchen, "prices.yaml", "- b", later(1), based_on=1, has_bom=True
    )

    assert papers.latest(c, kitchen, "prices.yaml") == two
    assert papers.history(c, kitchen, "prices.yaml") == (two, one)
    assert papers.history(c, kitchen, "prices.yaml", start=1, limit=5) == (one,)
    assert (one.text, two.has_bom, two.number) == ("- a\r\n", True, 2)
    kitchen_yaml = papers.save(c, kitchen, "kitchen.yaml", "", NOOR, based_on=0)
    assert papers.listed(c, kitchen) == (kitchen_yaml, two)


def test_a_paper_saved_meanwhile_is_not_overwritten(
    c: sa.Connection, kitchen: int
) -> None:
    papers.save(c, kitchen, "larder.yaml", "one", NOOR, based_on=0)
    theirs = papers.save(c, kitchen, "larder.yaml", "two", NOOR, based_on=1)

    for number in (0, 1):
        with pytest.raises(
            EditedMeanwhileError, match=r"larder\.yaml was saved by Noor as revision 2"
        ) as caught:
            papers.save(c, kitchen, "larder.yaml", "x", NOOR, based_on=number)
        assert caught.value.theirs == theirs
    with pytest.raises(MissingError):
        papers.save(c, kitchen, "larder.yaml", "x", NOOR, based_on=3)
    assert papers.latest(c, kitchen, "larder.yaml") == theirs


@pytest.mark.parametrize("name", ["", "README.md", "Kitchen.yaml", "slabs/x.card"])
def test_only_a_kitchens_own_files_are_papers(
    c: sa.Connection, kitchen: int, name: str
) -> None:
    with pytest.raises(StoreError, match="no file of a kitchen's own"):
        papers.save(c, kitchen, name, "x", NOOR, based_on=0)


def a_photo(
    c: sa.Connection, kitchen: int, card_id: int, data: bytes = b"\xff\xd8 picture"
) -> PhotoRow:
    return photos.add(
        c,
        kitchen,
        card_id,
        data,
        later(3),
        media_type="image/jpeg",
        width=640,
        height=480,
        caption="the cut face",
        revision=1,
        step_line=7,
    )


def test_a_picture_is_kept_with_what_it_shows(c: sa.Connection, kitchen: int) -> None:
    card = a_card(c, kitchen)
    one = a_photo(c, kitchen, card.id)
    two = a_photo(c, kitchen, card.id, b"other")

    assert photos.listed(c, kitchen, card.id) == (one, two)
    assert photos.data(c, kitchen, one.id) == b"\xff\xd8 picture"
    assert (one.file, two.file) == ("lantern-walk-1.jpg", "lantern-walk-2.jpg")
    assert (one.size, one.width, one.height) == (10, 640, 480)
    assert (one.revision, one.step_line, one.caption) == (1, 7, "the cut face")
    assert (one.author, one.at) == ("Sam", later(3).at)
    photos.drop(c, kitchen, one.id)
    assert photos.one(c, kitchen, one.id) is None
    assert photos.data(c, kitchen, one.id) is None
    assert a_photo(c, kitchen, card.id).id > two.id


def test_a_picture_that_cannot_be_kept_is_refused(
    c: sa.Connection, kitchen: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    card = a_card(c, kitchen)

    def adding(data: bytes, media_type: str, revision: int | None = None) -> None:
        photos.add(
            c,
            kitchen,
            card.id,
            data,
            NOOR,
            media_type=media_type,
            width=1,
            height=1,
            revision=revision,
        )

    with pytest.raises(StoreError, match="kind 'image/svg"):
        adding(b"", "image/svg+xml")
    with pytest.raises(StoreError, match="at most 12"):
        adding(b"x" * (photos.MOST_BYTES + 1), "image/png")
    with pytest.raises(MissingError, match="revision"):
        adding(b"", "image/png", revision=2)
    monkeypatch.setattr(photos, "MOST_PER_CARD", 1)
    a_photo(c, kitchen, card.id)
    with pytest.raises(StoreError, match="1 pictures already"):
        a_photo(c, kitchen, card.id)


def test_a_picture_and_a_kept_file_never_share_a_path(
    c: sa.Connection, kitchen: int
) -> None:
    card = a_card(c, kitchen)
    kept_files.keep(c, kitchen, "photos/Lantern-Walk-1.JPG", b"", DAY)
    kept_files.keep(c, kitchen, "photos/lantern-walk-2.jpg.yaml", b"", DAY)

    assert a_photo(c, kitchen, card.id).file == "lantern-walk-3.jpg"
    kept_files.keep(c, kitchen, "photos/lantern-walk-4.jpg", b"", DAY)
    assert a_photo(c, kitchen, card.id).file == "lantern-walk-5.jpg"
    for path in ("photos/Lantern-walk-3.jpg", "photos/lantern-walk-3.jpg.yaml"):
        with pytest.raises(StoreError, match="the same to some file systems"):
            kept_files.keep(c, kitchen, path, b"", DAY)


def test_a_file_is_kept_at_its_path(c: sa.Connection, kitchen: int) -> None:
    kept_files.keep(c, kitchen, "records/2026/März.csv", b"\0\xff", DAY)
    kept_files.keep(c, kitchen, "README.md", b"old", DAY)
    kept_files.keep(c, kitchen, "README.md", b"new!", later(1).at)

    assert kept_files.data(c, kitchen, "records/2026/März.csv") == b"\0\xff"
    assert [(f.path, f.size, f.at) for f in kept_files.listed(c, kitchen)] == [
        ("README.md", 4, later(1).at),
        ("records/2026/März.csv", 2, DAY),
    ]
    with pytest.raises(StoreError, match=r"There is 'README\.md' already"):
        kept_files.keep(c, kitchen, "readme.MD", b"", DAY)
    kept_files.drop(c, kitchen, "README.md")
    assert kept_files.data(c, kitchen, "README.md") is None


@pytest.mark.parametrize(
    "path",
    ["kitchen.yaml", "slabs/x.card", "components/x.card", "history/x/0001.card"],
)
def test_what_the_store_writes_itself_is_no_kept_file(
    c: sa.Connection, kitchen: int, path: str
) -> None:
    with pytest.raises(StoreError, match="belongs to a card, a paper or a history"):
        kept_files.keep(c, kitchen, path, b"", DAY)


def test_kept_files_have_limits(
    c: sa.Connection, kitchen: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    big = b"x" * (kept_files.MOST_BYTES + 1)
    with pytest.raises(StoreError, match="at most 16"):
        kept_files.keep(c, kitchen, "big", big, DAY)
    monkeypatch.setattr(kept_files, "MOST_BYTES_IN_ALL", 5)
    kept_files.keep(c, kitchen, "a", b"12345", DAY)
    kept_files.keep(c, kitchen, "a", b"54321", DAY)  # in its own place there is room
    with pytest.raises(StoreError, match="keeps 1 files"):
        kept_files.keep(c, kitchen, "b", b"1", DAY)
    monkeypatch.setattr(kept_files, "MOST_FILES", 1)
    with pytest.raises(StoreError, match="keeps 1 files"):
        kept_files.keep(c, kitchen, "b", b"", DAY)


def test_a_result_is_kept_under_its_key(c: sa.Connection, kitchen: int) -> None:
    value = {"mean_g": 0.1 + 0.2, "edges": [1, 2.5], "text": "½ é", "none": None}
    results.keep(c, kitchen, "abc", "piece-mass", {"old": 1}, DAY)
    results.keep(c, kitchen, "abc", "piece-mass", value, later(1).at)
    results.keep(c, kitchen, "def", "piece-mass", {}, later(2).at)

    assert results.kept(c, kitchen, "abc") == value
    assert results.kept(c, kitchen, "xyz") is None
    with pytest.raises(ValueError, match="not JSON compliant"):
        results.keep(c, kitchen, "inf", "x", {"a": float("inf")}, DAY)
    assert results.forget_older(c, kitchen, later(2).at) == 1
    assert results.kept(c, kitchen, "abc") is None
    assert results.kept(c, kitchen, "def") == {}
    assert results.forget_older(c, kitchen, DAY - timedelta(days=1)) == 0


def test_a_draft_of_a_saved_card_outlives_the_saving(
    c: sa.Connection, kitchen: int
) -> None:
    card = a_card(c, kitchen)
    drafts.keep(c, kitchen, "new", "Noor", "unsaved", DAY, card_id=card.id)
    saved(c, card, "saved", 1)

    kept = drafts.one(c, kitchen, "new", "Noor")
    assert kept is not None
    assert kept.text == "unsaved"
