"""Revisions are only added; a proved one stays; nobody overwrites anybody."""

from dataclasses import replace
from threading import Barrier, Thread

import pytest
import sqlalchemy as sa
from sqlalchemy.exc import DBAPIError

from slabwright.store import cards, kitchens, papers, revisions
from slabwright.store.engine import reading, writing
from slabwright.store.errors import EditedMeanwhileError, MissingError, StoreError
from tests.store.kitchen import DAY, NOOR, a_card, later, saved


def state(c: sa.Connection, kitchen: int, card_id: int) -> tuple[int, int, str]:
    """Current and latest revision, and the current text."""
    card = cards.one(c, kitchen, card_id)
    assert card is not None
    return card.current, card.latest, card.text


def test_a_saved_revision_is_the_current_one(c: sa.Connection, kitchen: int) -> None:
    card = a_card(c, kitchen)
    revision = revisions.save(
        c,
        kitchen,
        card.id,
        "two\r\n",
        later(5, "Sam", "less sugar"),
        based_on=1,
        name="Lamp",
        has_bom=True,
    )

    assert state(c, kitchen, card.id) == (2, 2, "two\r\n")
    found = cards.one(c, kitchen, card.id)
    assert found is not None
    assert (found.name, found.stem, found.author) == ("Lamp", "lantern-walk", "Sam")
    assert found.at == found.changed_at == later(5).at
    assert found.has_bom
    assert revisions.one(c, kitchen, card.id, 2) == revision
    assert (revision.number, revision.from_number, revision.note) == (
        2,
        1,
        "less sugar",
    )
    assert (revision.is_trial, revision.is_proved) == (False, False)


def test_revisions_are_listed_newest_first(c: sa.Connection, kitchen: int) -> None:
    card = a_card(c, kitchen)
    for number in (1, 2, 3):
        saved(c, card, f"text {number}", number)

    numbers = [r.number for r in revisions.listed(c, kitchen, card.id)]
    page = [r.number for r in revisions.listed(c, kitchen, card.id, start=1, limit=2)]
    assert numbers == [4, 3, 2, 1]
    assert page == [3, 2]


def test_who_edited_an_older_one_is_told_whose_is_current(
    c: sa.Connection, kitchen: int
) -> None:
    card = a_card(c, kitchen)
    theirs = saved(c, card, "theirs", 1)

    with pytest.raises(
        EditedMeanwhileError, match="'Lantern Walk' was saved by Sam as revision 2"
    ) as caught:
        saved(c, card, "mine", 1)
    assert caught.value.theirs == theirs
    assert state(c, kitchen, card.id) == (2, 2, "theirs")
    saved(c, card, "mine over theirs", 2)
    assert state(c, kitchen, card.id) == (3, 3, "mine over theirs")


def test_a_trial_stands_beside_the_card(c: sa.Connection, kitchen: int) -> None:
    card = a_card(c, kitchen, text="one")
    saved(c, card, "two", 1)
    trial = saved(c, card, "what if", 1, is_trial=True)  # of an older one

    assert (trial.number, trial.is_trial, trial.from_number) == (3, True, 1)
    assert state(c, kitchen, card.id) == (2, 3, "two")
    of_trial = saved(c, card, "what if, more", 3, is_trial=True)
    assert revisions.trials(c, kitchen, card.id) == (of_trial, trial)
    saved(c, card, "three", 2)  # though 3 and 4 came since
    assert state(c, kitchen, card.id) == (5, 5, "three")


def test_no_revision_is_based_on_a_trial_as_if_it_were_current(
    c: sa.Connection, kitchen: int
) -> None:
    card = a_card(c, kitchen, text="one")
    saved(c, card, "what if", 1, is_trial=True)

    with pytest.raises(EditedMeanwhileError):
        saved(c, card, "two", 2)


def test_a_trial_gives_the_card_no_name(c: sa.Connection, kitchen: int) -> None:
    card = a_card(c, kitchen)
    revisions.save(
        c, kitchen, card.id, "x", NOOR, based_on=1, as_trial=True, name="Lamp"
    )

    found = cards.one(c, kitchen, card.id)
    assert found is not None
    assert found.name == "Lantern Walk"


def test_a_proved_revision_stays_current(c: sa.Connection, kitchen: int) -> None:
    card = a_card(c, kitchen, text="proved", is_proved=True)
    beside = saved(c, card, "less sugar", 1)

    assert beside.is_trial
    assert state(c, kitchen, card.id) == (1, 2, "proved")
    again = revisions.save(
        c, kitchen, card.id, "proved again", NOOR, based_on=1, is_proved=True
    )
    assert (again.is_trial, again.is_proved) == (False, True)
    assert state(c, kitchen, card.id) == (3, 3, "proved again")
    with pytest.raises(EditedMeanwhileError):
        revisions.save(c, kitchen, card.id, "x", NOOR, based_on=1, is_proved=True)


def test_a_proved_trial_stays_beside_where_it_was_asked_for(
    c: sa.Connection, kitchen: int
) -> None:
    card = a_card(c, kitchen, text="one")
    trial = revisions.save(
        c, kitchen, card.id, "x", NOOR, based_on=1, is_proved=True, as_trial=True
    )

    assert (trial.is_trial, trial.is_proved) == (True, True)
    assert state(c, kitchen, card.id) == (1, 2, "one")


def test_a_trial_is_taken_up_as_a_new_revision(c: sa.Connection, kitchen: int) -> None:
    card = a_card(c, kitchen, text="proved", is_proved=True)
    saved(c, card, "less sugar", 1)
    up = revisions.take_up(c, kitchen, card.id, 2, later(9, "Ann", "better"), name="L")

    assert (up.number, up.from_number, up.text) == (3, 2, "less sugar")
    assert (up.is_trial, up.is_proved) == (False, False)
    assert (up.author, up.at, up.note) == ("Ann", later(9).at, "better")
    assert state(c, kitchen, card.id) == (3, 3, "less sugar")
    assert [r.is_trial for r in revisions.listed(c, kitchen, card.id)] == [
        False,
        True,
        False,
    ]
    with pytest.raises(StoreError, match="Revision 3 is no trial"):
        revisions.take_up(c, kitchen, card.id, 3, NOOR)


def test_an_older_revision_is_restored_as_a_new_one(
    c: sa.Connection, kitchen: int
) -> None:
    card = cards.add(c, kitchen, "slab", "L", "one", NOOR, has_bom=True, is_proved=True)
    revisions.save(c, kitchen, card.id, "two", NOOR, based_on=1, is_proved=True)
    back = revisions.restore(c, kitchen, card.id, 1, later(9))

    assert (back.number, back.from_number, back.text) == (3, 1, "one")
    assert (back.has_bom, back.is_proved) == (True, True)
    assert state(c, kitchen, card.id) == (3, 3, "one")
    assert cards.counted(c, kitchen, "slab", find="two") == 0


def test_nothing_is_based_on_what_is_not_there(c: sa.Connection, kitchen: int) -> None:
    card = a_card(c, kitchen)

    for number in (0, 2, -1):
        with pytest.raises(MissingError, match="no such revision"):
            saved(c, card, "x", number, is_trial=True)
        with pytest.raises(MissingError, match="no such revision"):
            revisions.restore(c, kitchen, card.id, number, NOOR)
    assert state(c, kitchen, card.id)[1] == 1


@pytest.mark.parametrize("text", ["a\0b", "x" * (1024 * 1024 + 1)])
def test_a_text_that_cannot_be_kept_changes_nothing(
    c: sa.Connection, kitchen: int, text: str
) -> None:
    card = a_card(c, kitchen, text="one")

    with pytest.raises(StoreError):
        saved(c, card, text, 1)
    with pytest.raises(StoreError):
        revisions.save(c, kitchen, card.id, "x", NOOR, based_on=1, name="")
    assert state(c, kitchen, card.id) == (1, 1, "one")


@pytest.mark.parametrize("table", ["revision", "paper_revision"])
@pytest.mark.parametrize(
    "act",
    [
        "UPDATE {} SET text = 'x'",
        "UPDATE {} SET note = note WHERE number = 1",
        "DELETE FROM {}",
        "REPLACE INTO {} SELECT * FROM {}",
        "TRUNCATE {} CASCADE",
    ],
)
def test_no_one_can_change_or_remove_a_revision(
    store: sa.Engine, table: str, act: str
) -> None:
    engine = store.dialect.name
    if (
        act.split(maxsplit=1)[0]
        in {"sqlite": ("TRUNCATE",), "postgresql": ("REPLACE",)}[engine]
    ):
        return  # words that this engine doesn't know
    with writing(store) as c:
        kitchen = kitchens.add(c, "Harbour", DAY).id
        a_card(c, kitchen, text="one")
        papers.save(c, kitchen, "larder.yaml", "one", NOOR, based_on=0)

    refused = pytest.raises(DBAPIError, match="revisions are only added")
    with refused, store.begin() as c:
        c.execute(sa.text(act.format(table, table)))
    with reading(store) as c:
        texts = c.execute(sa.text(f"SELECT text FROM {table}")).scalars()  # noqa: S608
        assert list(texts) == ["one"]


def test_the_engine_holds_every_row_to_its_kitchen(
    c: sa.Connection, kitchen: int, theirs: int
) -> None:
    card = a_card(c, kitchen)

    for table in ("draft", "photo"):
        assert {
            tuple(key["constrained_columns"])
            for key in sa.inspect(c).get_foreign_keys(table)
        } >= {("kitchen_id",), ("kitchen_id", "card_id")}
    first = revisions.one(c, kitchen, card.id, 1)
    assert first is not None
    moved = replace(first, number=2)
    with pytest.raises(sa.exc.IntegrityError), c.begin_nested():
        revisions.insert(c, theirs, moved)


def at_once(store: sa.Engine, savers: int, kitchen: int, act: object) -> list[str]:
    """What came of so many who do the same at the same time."""
    start, outcomes = Barrier(savers), list[str]()

    def saving(name: str) -> None:
        try:
            with writing(store) as c:
                start.wait()
                act(c, name)  # type: ignore[operator]
        except EditedMeanwhileError as error:
            outcomes.append(f"told of {error.theirs.text}")
        else:
            outcomes.append(name)

    def in_turn(name: str) -> None:
        # SQLite lets one writer begin at a time, so these can't meet inside
        try:
            start.wait()
            with writing(store) as c:
                act(c, name)  # type: ignore[operator]
        except EditedMeanwhileError as error:
            outcomes.append(f"told of {error.theirs.text}")
        else:
            outcomes.append(name)

    run = in_turn if store.dialect.name == "sqlite" else saving
    threads = [Thread(target=run, args=(f"text {n}",)) for n in range(savers)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return outcomes


def a_kitchen(store: sa.Engine) -> tuple[int, int]:
    with writing(store) as c:
        kitchen = kitchens.add(c, "Harbour", DAY).id
        papers.save(c, kitchen, "larder.yaml", "one", NOOR, based_on=0)
        return kitchen, a_card(c, kitchen, text="one").id


def test_of_those_who_save_at_once_exactly_one_gets_on(store: sa.Engine) -> None:
    kitchen, card_id = a_kitchen(store)
    outcomes = at_once(
        store,
        5,
        kitchen,
        lambda c, text: revisions.save(c, kitchen, card_id, text, NOOR, based_on=1),
    )

    (winner,) = [one for one in outcomes if not one.startswith("told")]
    assert sorted(outcomes) == sorted([winner, *[f"told of {winner}"] * 4])
    with reading(store) as c:
        assert state(c, kitchen, card_id) == (2, 2, winner)


def test_of_those_who_save_a_paper_at_once_exactly_one_gets_on(
    store: sa.Engine,
) -> None:
    kitchen, _ = a_kitchen(store)
    outcomes = at_once(
        store,
        5,
        kitchen,
        lambda c, text: papers.save(c, kitchen, "larder.yaml", text, NOOR, based_on=1),
    )

    (winner,) = [one for one in outcomes if not one.startswith("told")]
    assert sorted(outcomes) == sorted([winner, *[f"told of {winner}"] * 4])


def test_of_those_who_begin_a_paper_at_once_exactly_one_gets_on(
    store: sa.Engine,
) -> None:
    kitchen, _ = a_kitchen(store)
    outcomes = at_once(
        store,
        5,
        kitchen,
        lambda c, text: papers.save(c, kitchen, "prices.yaml", text, NOOR, based_on=0),
    )

    assert len([one for one in outcomes if not one.startswith("told")]) == 1


def test_trials_at_once_are_all_kept(store: sa.Engine) -> None:
    kitchen, card_id = a_kitchen(store)
    at_once(
        store,
        5,
        kitchen,
        lambda c, text: revisions.save(
            c, kitchen, card_id, text, NOOR, based_on=1, as_trial=True
        ),
    )

    with reading(store) as c:
        found = revisions.trials(c, kitchen, card_id)
        assert sorted(one.text for one in found) == [f"text {n}" for n in range(5)]
        assert [one.number for one in found] == [6, 5, 4, 3, 2]
        assert state(c, kitchen, card_id) == (1, 6, "one")
