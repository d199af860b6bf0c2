from hypothesis import given
from hypothesis import strategies as st

from slabwright.files.card.lines import LINE_END
from slabwright.web.typed import as_typed, shown

WORDS = st.text("ab g9", max_size=6)
ENDS = st.sampled_from(["\n", "\r\n", "\r"])
CARDS = st.lists(st.tuples(WORDS, ENDS), max_size=12).map(
    lambda lines: "".join(text + end for text, end in lines)
)


@given(CARDS)
def test_what_was_only_shown_comes_back_as_it_was(card: str) -> None:
    sent = shown(card).replace("\n", "\r\n")  # as every browser sends it

    assert as_typed(sent, card) == card


@given(CARDS, st.integers(0, 60), WORDS)
def test_a_change_leaves_every_other_lines_end_alone(
    card: str, at: int, value: str
) -> None:
    plain = shown(card)
    at = min(at, len(plain))
    changed = plain[:at] + value + plain[at:]

    kept = as_typed(changed, card)

    assert shown(kept) == changed
    before = LINE_END.findall(card)
    assert LINE_END.findall(kept) == before


def test_a_new_line_ends_as_most_of_the_card_does() -> None:
    card = "slab A\r\nlayer B\r\n  9 g flour\n"

    kept = as_typed("slab A\nlayer B\n  8 g sugar\n  9 g flour\n", card)

    assert kept == "slab A\r\nlayer B\r\n  8 g sugar\r\n  9 g flour\n"
