"""Questions that are open, as they stand on paper."""

from slabwright.label.allergen.allergens import Question
from slabwright.publish.allergens import way_words
from slabwright.spec.allergens import allergen_words, reasons

Entry = tuple[str, tuple[str, ...]]
"""A line that stands out, and those below it."""


def question_entry(question: Question) -> Entry:
    """What is asked; why it isn't known, where, who may answer, and what to do."""
    ways = dict.fromkeys(way_words(doubt.way) for doubt in question.doubts)
    packs = f" The pack: {'; '.join(question.packs)}." if question.packs else ""
    return (
        f"{question.about}: does it hold {allergen_words(question.allergens)}?",
        (
            f"{reasons(question.doubts)}. {'; '.join(ways)}.",
            f"Ask {question.who}.{packs} {question.do}",
        ),
    )
