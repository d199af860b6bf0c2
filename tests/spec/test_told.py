"""What holds for many layers is told once, by one number on the list and drawing."""

from collections import Counter

from slabwright.finding import Finding, Severity
from slabwright.publish.draw import drawn
from slabwright.publish.json_form import spec_json
from slabwright.publish.terminal import Manner, spec_text, watch_text
from slabwright.spec.told import told
from tests.files.kitchens import worked

JELLY = "layer Jelly {0}\n  kind jelly\n  100 g raspberry puree\n  60 g caster sugar\n"
THIN = "layer Thin {0}\n  kind caramel\n  50 g double cream\n  30 g caster sugar\n"
MANY = "slab X\ntin 30 x 20 x 20 cm\n" + "".join(
    (THIN if at % 3 == 0 else JELLY).format(at) for at in range(1, 61)
)
LAYERS = tuple("ABCDEFGHIJ")


def note(name: str, what: str = "It is so.", code: str = "x") -> Finding:
    return Finding(code, Severity.NOTE, name, what, "Why.", "Do.")


def places(*findings: Finding) -> list[str]:
    return [one.where for one in told(findings, LAYERS)]


def test_two_layers_are_called_by_name_and_more_by_number() -> None:
    assert places(note("A")) == ["A"]
    assert places(note("A"), note("C")) == ["A and C"]
    assert places(*map(note, "CEFGHI")) == ["Layers 3, 5 to 9 from the bottom"]
    assert places(*map(note, "ABDE")) == ["Layers 1, 2, 4, 5 from the bottom"]
    assert places(*map(note, LAYERS)) == ["Layers 1 to 10 from the bottom"]
    lines = [note(f"{name}: salt") for name in "ABC"]
    assert places(*lines) == ["Layers 1 to 3 from the bottom: salt"]


def test_only_what_is_alike_is_told_together() -> None:
    assert places(note("A"), note("B", "It is otherwise.")) == ["A", "B"]
    assert places(note("A"), note("B", code="y")) == ["A", "B"]
    assert places(note("A: salt"), note("B: sugar")) == ["A: salt", "B: sugar"]
    assert places(note("slab"), note("finish")) == ["slab", "finish"]
    # its own name in the words makes no difference, a number does
    assert places(note("A", "A is thin."), note("B", "B is thin.")) == ["A and B"]
    assert places(note("A", "A is 2 mm."), note("B", "B is 3 mm.")) == ["A", "B"]


def test_sixty_layers_are_short_to_read_and_whole_for_programs() -> None:
    spec = worked(MANY)
    lines = list(watch_text(spec.findings, Manner(), layers=spec.layer_names))
    heads = [line for line in lines if line[:6].strip() and line[:2] == "  "]

    assert len(spec.findings) > 120
    assert len(heads) == len(spec.told) < 15
    assert sum(len(one.every) for one in spec.told) == len(spec.findings)
    assert len(spec_json(spec)["findings"]) == len(spec.findings)


def test_the_drawing_has_the_numbers_of_the_list() -> None:
    spec = worked(MANY)
    slab = drawn(spec)
    by_number = {one.number: one for one in spec.told}

    assert max(mark.number for mark in slab.marks) <= len(spec.told)
    for mark in slab.marks:
        assert mark.layer in {one.layer for one in by_number[mark.number].every}
    # no layer is marked twice with one number
    assert max(Counter((m.layer, m.number) for m in slab.marks).values()) == 1
    text = spec_text(spec, slab, Manner())
    assert text.count("The layer is ") == 1
