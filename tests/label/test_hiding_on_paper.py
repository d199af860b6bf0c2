"""Each of the 14, from every place where it can hide, to label, ticket and card."""

from functools import cache

import pytest
from tests.label.kitchen import DAY, card, cards_of, folder, hiding_kitchen, worked
from tests.label.test_hiding import CASES

from slabwright.desk.label import Asked
from slabwright.desk.label_print import Paper, paper_of
from slabwright.files.folder import Folder
from slabwright.label.allergen.annex import GROUPS, listed, plain_name
from slabwright.label.paper.face import Kind

REVISIONS = ("card v1", "larder 1")
KINDS: tuple[Kind, ...] = ("label", "ticket", "allergen card")


@cache
def paper(allergen: str, place: str, kind: Kind) -> Paper:
    text, home = cards_of(allergen)[place], hiding_kitchen()
    if place == "own overlay":
        row = f"- {{name: icing sugar, contains: ['{allergen}'], source: spec}}\n"
        home = folder(row)
    return printed(home, text, kind)


def printed(home: Folder, text: str, kind: Kind) -> Paper:
    way = "packed here" if kind == "label" else "loose on the counter"
    named = text.replace("tin ", "called test slice\ntin ", 1)
    return paper_of(worked(home, named), home, Asked(DAY, way), kind, REVISIONS)


def words(found: Paper, *, emphasised: bool = False) -> str:
    """All that stands on it, or what stands out alone."""
    face = found.face
    runs = [run for one in face.paragraphs for run in one.runs]
    text = [run.text for run in runs if run.is_emphasised or not emphasised]
    return " ".join(text).casefold()


def says(text: str, allergen: str) -> bool:
    """Whether a text names it, by any word of a declaration."""
    return any(word.casefold() in text for word in listed()[allergen].words)


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize(("allergen", "place"), CASES)
def test_it_stands_on_every_paper(allergen: str, place: str, kind: Kind) -> None:
    found = paper(allergen, place, kind)

    if place == "unknown":
        if kind == "allergen card":
            assert "any of the 14" in words(found)
        else:
            assert found.waits, "a paper of what is not known is a draft"
        assert not says(words(found, emphasised=True), allergen)
    elif place == "may contain":
        assert f"may contain {plain_name(allergen).casefold()}" in _joined(found)
    else:
        assert says(words(found, emphasised=kind != "allergen card"), allergen)
    if kind != "allergen card":
        for other in {one.partition(":")[0] for one in listed()} - {
            allergen.partition(":")[0]
        }:
            assert not any(
                says(words(found, emphasised=True), one)
                for one in listed()
                if one.partition(":")[0] == other
            )


def _joined(found: Paper) -> str:
    """Its paragraphs, each without a break between its runs."""
    if found.face.kind == "allergen card":
        said = {one.name: one.text for one in found.face.paragraphs}
        return f"may contain {said['may_contain']}".casefold()
    return " ".join(one.text for one in found.face.paragraphs).casefold()


@pytest.mark.parametrize("kind", KINDS)
def test_a_slab_of_sugar_is_never_said_to_be_without_any(kind: Kind) -> None:
    found = printed(folder(""), card("Sugar"), kind)

    text = words(found)
    for never in ("free from", "free of", "safe", "without", "does not contain"):
        assert never not in text
    assert len(GROUPS) == 14
