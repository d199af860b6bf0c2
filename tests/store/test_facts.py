"""The small files of a history: strict to read, and YAML for everybody else."""

from datetime import UTC, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st
from ruamel.yaml import YAML

from slabwright.store import facts
from slabwright.store.errors import StoreError

TEXTS = st.text(st.characters(exclude_categories=["Cs"]))
KINDS = {"a": (str,), "b": (int,), "c": (bool,), "d": (int, type(None))}
GOOD = b'a: "x"\nb: 12\nc: true\nd: null\n'


@given(TEXTS, st.integers(0, 2**31 - 1), st.booleans(), st.none() | st.integers(0, 9))
def test_facts_come_back_and_yaml_reads_the_same(
    a: str, b: int, c: bool, d: int | None
) -> None:
    given_facts: dict[str, facts.Fact] = {"a": a, "b": b, "c": c, "d": d}
    data = facts.written(given_facts)

    assert facts.read(data, "x", KINDS) == given_facts
    # against ruamel.yaml, another's reader of YAML 1.2
    assert YAML(typ="safe", pure=True).load(data.decode()) == given_facts


def test_line_ends_of_windows_are_read() -> None:
    assert facts.read(GOOD.replace(b"\n", b"\r\n"), "x", KINDS)["b"] == 12


@pytest.mark.parametrize(
    ("old", "new", "what"),
    [
        (b'a: "x"\n', b"", r"x: It lacks a\."),
        (b'a: "x"', b"a: x", "x:1:1: 'a' has a value that can't be read"),
        (b'a: "x"', b"a: 1", "'a' has a value that doesn't belong"),
        (b'a: "x"', b'a: "x" # why', "can't be read"),
        (b'a: "x"', b'a : "x"', "not `key: value`"),
        (b"12", b"true", "x:2:1: 'b' has a value that doesn't belong"),
        (b"12", b"1.5", "doesn't belong"),
        (b"12", b"-1", "doesn't belong"),
        (b"12", b"2147483648", "doesn't belong"),
        (b"12", b"9" * 5000, "can't be read"),
        (b"12", b"NaN", "doesn't belong"),
        (b"12", b"[" * 100_000, "doesn't belong"),
        (b"12", b"{}", "doesn't belong"),
        (b"true", b"1", "'c' has a value that doesn't belong"),
        (b"d: null", b"d: null\nd: 1", "x:5:1: 'd' stands here twice"),
        (b"d: null", b"d: null\n", "x:5:1: The line is not"),
        (b"d: null", b"d: null\ne: 1", "'e' is not known here"),
        (b"d: null\n", b"d: null", "The last line has no end"),
        (b"x", b"\xff", "not in UTF-8"),
        (b"x", b"x" * 300_000, "too long"),
        (GOOD, b"", "It lacks a, b, c, d"),
    ],
)
def test_what_was_not_written_so_is_named(old: bytes, new: bytes, what: str) -> None:
    with pytest.raises(StoreError, match=what):
        facts.read(GOOD.replace(old, new), "x", KINDS)


def test_every_odd_line_is_named() -> None:
    with pytest.raises(StoreError) as caught:
        facts.read(b"nothing\nb: 1\nc: 3\n", "x", KINDS)

    spans = [mistake.where.span for mistake in caught.value.mistakes]
    assert [span.line for span in spans if span] == [1, 3]


@given(st.binary(max_size=200))
def test_noise_is_refused_in_words(noise: bytes) -> None:
    with pytest.raises(StoreError):
        facts.read(noise, "x", KINDS)


@given(st.datetimes(timezones=st.timezones()))
def test_a_time_comes_back(at: datetime) -> None:
    utc = (
        at.astimezone(UTC)
        if at.year not in {1, 9999}
        else datetime(2026, 1, 1, tzinfo=UTC)
    )

    assert facts.moment(utc.isoformat(), "x") == utc


@pytest.mark.parametrize("odd", ["", "yesterday", "2026-11-25T06:30:00", "2026-13-01"])
def test_what_is_no_time_is_named(odd: str) -> None:
    with pytest.raises(StoreError, match="is no time"):
        facts.moment(odd, "x")
    with pytest.raises(StoreError, match="is no time"):
        facts.moment("0001-01-01T00:00:00+23:59", "x")
