"""The weights of a cut's pieces as long work: rough, then tried on many slabs.

The better answer is held against the closed form, which shares no formula with it.
"""

import json
import time
from typing import Any

import pytest
from tests.desk.odd_work import InMemory
from tests.files.kitchens import worked

from slabwright.cut.simulate import Trial, simulate
from slabwright.desk.piece_mass import piece_mass, piece_mass_job
from slabwright.desk.work import Worker
from slabwright.desk.work_kinds import Job
from slabwright.errors import GeometryError
from slabwright.spec.cut_sheet import CutSheet, cut_sheet

SLAB = (
    "slab X\ntin {tin}\ncut {cut}\nlayer Base\n  kind plain\n  1800 g plain flour\n"
    "  loses 0 g\n  density 1 g/ml\n"
)
CUTS = [
    ("5 x 4, trim 5 mm", "30 x 20 x 5 cm"),
    ("5 x 4, trim 5 mm", "2 of 30 x 20 x 5 cm"),
    ("12 wedges", "round 23 cm, 5 cm deep"),
    ("60-75 g pieces", "30 x 20 x 5 cm"),
    ("20 pieces, trim to 28 x 18 cm", "30 x 20 x 5 cm"),
    ("diamonds 40 mm, 60 degrees", "30 x 20 x 5 cm"),
]


def sheet_of(cut: str, tin: str = "30 x 20 x 5 cm") -> CutSheet:
    spec = worked(SLAB.format(cut=cut, tin=tin))
    assert spec.errors == ()
    return cut_sheet(spec)


def run(job: Job, stop_after: int = 10**9) -> tuple[list[Any], Any, list[float]]:
    """Rough answers, the better one, and the shares that were reported."""
    shares: list[float] = []
    inputs = json.loads(json.dumps(job.inputs))  # as it comes to a process
    answers = piece_mass(inputs, shares.append, lambda: len(shares) >= stop_after)
    rough = []
    while True:
        try:
            rough.append(next(answers))
        except StopIteration as end:
            return rough, end.value, shares


@pytest.mark.parametrize(("cut", "tin"), CUTS)
def test_both_answers_agree_with_each_other_and_with_the_promise(
    cut: str, tin: str
) -> None:
    sheet = sheet_of(cut, tin)
    rough, found, _ = run(piece_mass_job(sheet, weighed=200_000))
    first = rough[0]

    assert first["slabs"] == 0
    assert found["mean_g"] == pytest.approx(sheet.cut.piece_mass_g.number, rel=2e-3)
    assert first["mean_g"] == pytest.approx(sheet.cut.piece_mass_g.number, rel=1e-6)
    assert first["promised_g"] == pytest.approx(sheet.cut.promised_g.number, rel=1e-6)
    assert found["promised_g"] == pytest.approx(first["promised_g"], rel=0.01)
    assert found["deviation_g"] == pytest.approx(first["deviation_g"], rel=0.05)


def test_it_is_what_one_trial_of_as_many_slabs_comes_to() -> None:
    sheet = sheet_of("5 x 4, trim 5 mm")
    _, found, _ = run(piece_mass_job(sheet, weighed=400_000))
    made, tin = sheet.cut.cutting, sheet.cut.tin.one
    one = simulate(
        made, tin, sheet.spec.height_mm.number, sheet.evenness, Trial(400_000)
    )

    assert found["slabs"] == one.slabs
    assert found["mean_g"] == pytest.approx(1800 * one.mean, rel=1e-3)
    assert found["promised_g"] == pytest.approx(1800 * one.reached_by(), rel=2e-3)


@pytest.mark.parametrize("weighed", [1, 130, 9_990])
def test_every_piece_of_every_slab_stands_in_the_histogram(weighed: int) -> None:
    rough, found, shares = run(piece_mass_job(sheet_of("5 x 4"), weighed=weighed))

    slabs = -(-weighed // 20)
    assert found["slabs"] == slabs
    assert found["pieces"] == sum(found["histogram"]["counts"]) == 20 * slabs
    assert shares == sorted(shares)
    assert shares[-1] == pytest.approx(1)
    for answer in (*rough, found):
        edges, counts = answer["histogram"]["edges_g"], answer["histogram"]["counts"]
        assert len(edges) == len(counts) + 1
        assert edges == sorted(edges)
        assert min(counts) >= 0
        assert edges[0] < answer["mean_g"] < edges[-1]


def test_rough_answers_hold_ever_more_slabs() -> None:
    rough, found, _ = run(piece_mass_job(sheet_of("5 x 4"), weighed=20_000))

    assert [one["slabs"] for one in rough] == [0, 50, 250, 500]
    assert found["slabs"] == 1000


def test_when_it_is_stopped_it_says_what_it_had() -> None:
    rough, found, _ = run(piece_mass_job(sheet_of("5 x 4"), weighed=20_000), 7)

    assert found is None
    assert rough[-1]["slabs"] == 350


def test_the_same_seed_is_the_same_work_and_another_is_not() -> None:
    sheet = sheet_of("5 x 4")
    one, same, other = (
        piece_mass_job(sheet, weighed=2_000, seed=seed) for seed in (1, 1, 2)
    )

    assert one.key() == same.key() != other.key()
    assert run(one) == run(same)
    assert run(one)[1]["promised_g"] != run(other)[1]["promised_g"]


def test_parts_of_the_work_are_not_alike() -> None:
    """Twenty parts of one slab each: the same seed for each would repeat one slab."""
    _, found, _ = run(piece_mass_job(sheet_of("5 x 4"), weighed=400))

    assert max(found["histogram"]["counts"]) < 200
    assert sum(count > 0 for count in found["histogram"]["counts"]) > 20


def test_a_knife_that_never_errs_on_a_level_slab() -> None:
    """Every piece is alike: a twentieth of 1800 g."""
    sheet = sheet_of("5 x 4")
    job = piece_mass_job(sheet, weighed=200)
    job.inputs.update(level_mm=0.0, knife_off_mm=0.0)
    rough, found, _ = run(job)

    for answer in (rough[0], found):
        assert answer["mean_g"] == pytest.approx(90)
        assert answer["promised_g"] == pytest.approx(90)
        assert answer["deviation_g"] == pytest.approx(0, abs=1e-4)


@pytest.mark.parametrize(
    "card",
    [
        "slab X\ntin 30 x 20 x 5 cm\ncut 5 x 4\nlayer Base\n  plain flour\n",
        SLAB.format(cut="1 x 1", tin="30 x 20 x 5 cm"),
    ],
)
def test_what_cannot_be_tried(card: str) -> None:
    with pytest.raises(GeometryError, match="no slab to cut"):
        piece_mass_job(cut_sheet(worked(card)))


def test_it_runs_in_a_process_of_its_own() -> None:
    kept = InMemory()
    worker = Worker(1, kept)
    key = worker.start(piece_mass_job(sheet_of("5 x 4, trim 5 mm"), weighed=20_000))
    end = time.monotonic() + 20
    while not worker.state(key).is_over and time.monotonic() < end:
        time.sleep(0.01)
    state = worker.state(key)
    worker.close()

    assert state.problem == ""
    assert state.result == kept.values[key]
    assert state.result is not None
    assert state.result["slabs"] == 1000
    assert state.rough is not None
