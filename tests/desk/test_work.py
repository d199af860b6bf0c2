"""Long work: its answers, its progress, and all that can cut it short."""

import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from statistics import median
from threading import Barrier, Thread

import pytest
from tests.desk.odd_work import KINDS, InMemory

from slabwright.desk import work as work_module
from slabwright.desk.work import MOST_WAITING, Worker
from slabwright.desk.work_kinds import Job, Json, Kind
from slabwright.desk.work_state import WorkError, WorkState

LONGEST_S = 10.0
"""A slow machine may take this to start a process."""


@pytest.fixture(autouse=True)
def found_by_processes(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.syspath_prepend(str(Path(__file__).parent))


@pytest.fixture
def kept() -> InMemory:
    return InMemory()


@pytest.fixture
def worker(kept: InMemory) -> Iterator[Worker]:
    made = Worker(2, kept, KINDS)
    yield made
    made.close()


def until(worker: Worker, key: str, holds: Callable[[WorkState], object]) -> WorkState:
    """The first state for which it holds."""
    end = time.monotonic() + LONGEST_S
    while time.monotonic() < end:
        state = worker.state(key)
        if holds(state):
            return state
        time.sleep(0.005)
    raise AssertionError(f"It never came to that: {worker.state(key)}")


def over(worker: Worker, key: str) -> WorkState:
    return until(worker, key, lambda state: state.is_over)


def is_there(pid: int) -> bool:
    """Whether a process runs; one that has ended and waits to be reaped does not."""
    try:
        status = Path(f"/proc/{pid}/stat").read_text("ascii")
    except OSError:
        return False
    return status.rpartition(")")[2].split()[0] != "Z"


def gone_within(pid: int, seconds: float) -> bool:
    end = time.monotonic() + seconds
    while is_there(pid) and time.monotonic() < end:
        time.sleep(0.01)
    return not is_there(pid)


# --- answers ----------------


def test_a_rough_answer_comes_first_and_the_better_one_is_kept(
    worker: Worker, kept: InMemory
) -> None:
    key = worker.start(Job("paced", {"steps": 60}))
    first = until(worker, key, lambda state: state.rough)

    assert first.result is None
    assert not first.is_over
    last = over(worker, key)
    assert last.result == {"steps": 60}
    assert (last.share_done, last.problem, last.is_stopped) == (1.0, "", False)
    assert last.seconds_left is None
    assert kept.values == {key: {"steps": 60}}
    assert kept.puts == ["paced"]


def test_progress_grows_and_tells_how_long_it_takes_yet(worker: Worker) -> None:
    key = worker.start(Job("paced", {"steps": 100}))
    seen: list[tuple[float, WorkState]] = []

    def is_over(state: WorkState) -> bool:
        seen.append((time.monotonic(), state))
        return state.is_over

    until(worker, key, is_over)

    shares = [state.share_done for _, state in seen]
    assert shares == sorted(shares)
    assert len(set(shares)) > 5
    end = seen[-1][0]
    ratios = [
        state.seconds_left / (end - at)
        for at, state in seen
        if state.seconds_left is not None and 0.3 < state.share_done < 0.5
    ]
    assert 0.6 < median(ratios) < 1.6


def test_a_share_is_never_more_than_all(worker: Worker) -> None:
    key = worker.start(Job("silent", {}))
    seen = until(worker, key, lambda state: state.share_done)

    assert seen.share_done == 1.0
    assert over(worker, key).rough is None


def test_what_json_makes_of_it_is_what_is_given_now_and_later(
    worker: Worker, kept: InMemory, tmp_path: Path
) -> None:
    job = Job("counted", {"x": 3, "marks": str(tmp_path / "marks")})
    key = worker.start(job)
    first = over(worker, key).result
    again = Worker(1, kept, KINDS)
    assert again.start(job) == key

    assert again.state(key).result == first
    assert again.state(key).kind == "counted"
    assert (tmp_path / "marks").read_text("utf-8") == "3\n"
    again.close()


# --- the key ----------------


def test_the_same_inputs_have_the_same_key() -> None:
    one = Job("paced", {"a": 1, "b": [1.5, "x"]})
    other = Job("paced", {"b": [1.5, "x"], "a": 1})

    assert one.key(KINDS) == other.key(KINDS)
    assert len(one.key(KINDS)) == 64


def test_other_inputs_kinds_and_models_have_other_keys(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    job = Job("paced", {"a": 1})
    newer = {"paced": Kind(KINDS["paced"].function, 2)}
    keys = {
        job.key(KINDS),
        Job("paced", {"a": 2}).key(KINDS),
        Job("deaf", {"a": 1}).key(KINDS),
        job.key(newer),
    }
    monkeypatch.setattr("slabwright.desk.work_kinds.__version__", "99")
    keys.add(job.key(KINDS))

    assert len(keys) == 5


def test_inputs_that_are_no_json_and_kinds_that_are_none(worker: Worker) -> None:
    with pytest.raises(ValueError, match="not JSON compliant"):
        worker.start(Job("paced", {"steps": float("nan")}))
    with pytest.raises(KeyError):
        worker.start(Job("unheard", {}))


# --- never twice ----------------


def test_the_same_is_not_done_twice_while_it_is_done(
    worker: Worker, tmp_path: Path
) -> None:
    job = Job("counted", {"x": 4, "marks": str(tmp_path / "marks"), "for_s": 0.3})
    barrier = Barrier(8)
    keys: list[str] = []

    def ask() -> None:
        barrier.wait()
        keys.append(worker.start(job))

    threads = [Thread(target=ask) for _ in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()

    assert len(set(keys)) == 1
    over(worker, keys[0])
    worker.start(job)
    assert (tmp_path / "marks").read_text("utf-8") == "4\n"


def test_two_that_ask_for_one_thing_while_the_store_is_slow(tmp_path: Path) -> None:
    class Slow(InMemory):
        both = Barrier(2)

        def get(self, key: str) -> Json | None:
            self.both.wait(LONGEST_S)  # both have seen that nobody is at it
            return super().get(key)

    two = Worker(2, Slow(), KINDS)
    job = Job("counted", {"x": 5, "marks": str(tmp_path / "marks")})
    threads = [Thread(target=two.start, args=(job,)) for _ in range(2)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()

    over(two, job.key(KINDS))
    two.close()
    assert (tmp_path / "marks").read_text("utf-8") == "5\n"


def test_as_many_run_at_once_as_there_are_processes(
    worker: Worker, tmp_path: Path
) -> None:
    marks = str(tmp_path / "marks")
    jobs = [Job("counted", {"x": n, "marks": marks, "for_s": 0.05}) for n in range(9)]
    keys = [worker.start(job) for job in jobs]
    found = [over(worker, key).result for key in keys]

    assert [one and one["square"] for one in found] == [n * n for n in range(9)]
    assert len({one and one["pid"] for one in found}) == 2


# --- stopped ----------------


def test_stopped_work_keeps_its_last_rough_answer(
    worker: Worker, kept: InMemory
) -> None:
    key = worker.start(Job("paced", {"steps": 10_000}))
    pid = (until(worker, key, lambda state: state.rough).rough or {})["pid"]
    worker.stop(key)

    assert worker.state(key).is_stopped
    state = until(worker, key, lambda one: one.rough and one.rough["about"] == 2)
    assert (state.result, state.problem, state.seconds_left) == (None, "", None)
    assert kept.values == {}
    assert is_there(pid)  # the process is ready for other work


def test_stopped_work_can_be_begun_again(worker: Worker) -> None:
    job = Job("paced", {"steps": 40})
    key = worker.start(job)
    until(worker, key, lambda state: state.rough)
    worker.stop(key)
    assert worker.start(job) == key

    assert not worker.state(key).is_stopped
    assert over(worker, key).result == {"steps": 40}


def test_the_next_work_of_a_process_is_not_stopped_with_the_last(
    kept: InMemory,
) -> None:
    one = Worker(1, kept, KINDS)
    key = one.start(Job("paced", {"steps": 10_000}))
    pid = (until(one, key, lambda state: state.rough).rough or {})["pid"]
    one.stop(key)
    after = over(one, one.start(Job("paced", {"steps": 5})))

    assert after.result == {"steps": 5}
    assert (after.rough or {})["pid"] == pid
    one.close()


def test_work_that_waits_is_stopped_before_it_begins(
    kept: InMemory, tmp_path: Path
) -> None:
    one = Worker(1, kept, KINDS)
    first = one.start(Job("paced", {"steps": 20}))
    waits = one.start(Job("counted", {"x": 1, "marks": str(tmp_path / "marks")}))
    one.stop(waits)

    assert one.state(waits).is_stopped
    over(one, first)
    after = one.start(Job("paced", {"steps": 1}))
    assert over(one, after).result
    assert not (tmp_path / "marks").exists()
    one.close()


def test_stopping_what_is_done_or_unknown_changes_nothing(worker: Worker) -> None:
    key = worker.start(Job("paced", {"steps": 1}))
    before = over(worker, key)
    worker.stop(key)
    worker.stop("unknown")

    assert worker.state(key) == before


def test_work_that_does_not_listen_loses_its_process(
    kept: InMemory, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("slabwright.desk.work_hand.STOPS_WITHIN_S", 0.3)
    one = Worker(1, kept, KINDS)
    key = one.start(Job("deaf", {"for_s": 60}))
    pid = (until(one, key, lambda state: state.rough).rough or {})["pid"]
    one.stop(key)

    assert gone_within(pid, 3)
    assert one.state(key).is_stopped
    assert one.state(key).problem == ""
    assert one.state(key).rough == {"about": 1, "pid": pid}
    assert over(one, one.start(Job("paced", {"steps": 1}))).result
    one.close()


def test_forgotten_work_is_left_and_unknown(worker: Worker) -> None:
    key = worker.start(Job("paced", {"steps": 10_000}))
    until(worker, key, lambda state: state.rough)
    worker.forget(key)

    with pytest.raises(WorkError, match=r"Nothing of that name .* Ask for it again"):
        worker.state(key)


def test_a_result_outlives_its_being_forgotten(worker: Worker) -> None:
    key = worker.start(Job("paced", {"steps": 1}))
    over(worker, key)
    worker.forget(key)

    assert worker.state(key).result == {"steps": 1}


def test_what_is_over_is_forgotten_in_the_end(
    worker: Worker, kept: InMemory, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(work_module, "MOST_REMEMBERED", 3)
    keys = []
    for steps in range(6):
        keys.append(worker.start(Job("paced", {"steps": steps})))
        over(worker, keys[-1])
    kept.values.clear()

    with pytest.raises(WorkError):
        worker.state(keys[0])
    assert worker.state(keys[-1]).result == {"steps": 5}


# --- what goes wrong ----------------


def test_a_killed_process_is_told_in_words_and_its_neighbour_goes_on(
    worker: Worker,
) -> None:
    struck = worker.start(Job("deaf", {"for_s": 60}))
    other = worker.start(Job("paced", {"steps": 80}))
    pid = (until(worker, struck, lambda state: state.rough).rough or {})["pid"]
    os.kill(pid, signal.SIGKILL)
    state = over(worker, struck)

    assert "ended from outside" in state.problem
    assert "Try again" in state.problem
    assert state.rough is not None
    assert over(worker, other).result == {"steps": 80}
    again = worker.start(Job("paced", {"steps": 2}))
    assert over(worker, again).result == {"steps": 2}


def test_work_that_kills_its_process_every_time_harms_nothing_else(
    worker: Worker,
) -> None:
    doomed = [worker.start(Job("doomed", {"n": n})) for n in range(4)]
    sound = worker.start(Job("paced", {"steps": 3}))

    assert all("ended from outside" in over(worker, key).problem for key in doomed)
    assert over(worker, sound).result == {"steps": 3}
    again = worker.start(Job("doomed", {"n": 0}))
    assert over(worker, again).problem


def test_an_idle_process_that_is_killed_is_replaced(kept: InMemory) -> None:
    one = Worker(1, kept, KINDS)
    key = one.start(Job("paced", {"steps": 1}))
    pid = (over(one, key).rough or {})["pid"]
    for steps in (2, 3):  # noticed or not
        os.kill(pid, signal.SIGKILL)
        if steps == 2:
            assert gone_within(pid, 3)
        state = over(one, one.start(Job("paced", {"steps": steps})))
        assert state.result == {"steps": steps}
        pid = (state.rough or {})["pid"]
    one.close()


def test_a_fault_says_that_the_log_knows_and_the_log_does(
    worker: Worker, capfd: pytest.CaptureFixture[str]
) -> None:
    state = over(worker, worker.start(Job("faulty", {"by": 0})))

    assert state.problem.startswith("It failed; the log says why.")
    assert "ZeroDivisionError" in capfd.readouterr().err
    assert over(worker, worker.start(Job("paced", {"steps": 1}))).result


@pytest.mark.parametrize("kind", ["numberless", "missing"])
def test_an_answer_or_a_function_that_is_none(
    worker: Worker, kind: str, capfd: pytest.CaptureFixture[str]
) -> None:
    assert over(worker, worker.start(Job(kind, {}))).problem.startswith("It failed")
    assert capfd.readouterr().err


def test_a_mistake_of_the_user_is_said_in_its_own_words(worker: Worker) -> None:
    state = over(worker, worker.start(Job("mistaken", {})))

    assert state.problem == "The tin is full. Take a larger one."
    assert state.rough == {"about": 1}


@pytest.mark.filterwarnings("ignore::pytest.PytestUnhandledThreadExceptionWarning")
def test_a_store_that_fails_loses_nothing_but_what_it_was_to_keep() -> None:
    class Full(InMemory):
        def put(self, key: str, kind: str, value: Json) -> None:
            raise OSError("no space left")

    one = Worker(1, Full(), KINDS)
    key = one.start(Job("paced", {"steps": 1}))

    assert over(one, key).result == {"steps": 1}
    assert over(one, one.start(Job("paced", {"steps": 2}))).result
    one.close()


def test_too_much_is_not_taken_on(kept: InMemory) -> None:
    one = Worker(1, kept, KINDS)
    busy = one.start(Job("deaf", {"for_s": 60}))
    keys = [one.start(Job("paced", {"steps": n})) for n in range(MOST_WAITING)]
    with pytest.raises(WorkError, match=rf"{MOST_WAITING} pieces .* waiting already"):
        one.start(Job("paced", {"steps": MOST_WAITING}))
    one.stop(keys[0])

    assert one.start(Job("paced", {"steps": MOST_WAITING}))
    assert one.start(Job("deaf", {"for_s": 60})) == busy
    one.close()


# --- the end ----------------


def test_closing_ends_all_processes_within_a_second(kept: InMemory) -> None:
    two = Worker(2, kept, KINDS)
    keys = [two.start(Job("deaf", {"for_s": 60, "n": n})) for n in range(3)]
    rough = [until(two, key, lambda state: state.rough).rough or {} for key in keys[:2]]
    start = time.monotonic()
    two.close()

    assert time.monotonic() - start < 1
    assert all(gone_within(one["pid"], 0.5) for one in rough)
    assert all(two.state(key).is_stopped for key in keys)
    assert not any(two.state(key).problem for key in keys)
    with pytest.raises(WorkError, match="the program is ending"):
        two.start(Job("paced", {"steps": 1}))
    two.close()


def test_closing_while_a_process_starts(kept: InMemory) -> None:
    one = Worker(1, kept, KINDS)
    key = one.start(Job("deaf", {"for_s": 60}))
    start = time.monotonic()
    one.close()

    assert time.monotonic() - start < 1
    assert one.state(key).is_stopped


PROGRAM = """
import sys, time
from slabwright.desk.work import Worker
from slabwright.desk.work_kinds import Job
from odd_work import KINDS, InMemory

if __name__ == "__main__":
    worker = Worker(1, InMemory(), KINDS)
    key = worker.start(Job("deaf", {"for_s": 60}))
    while not worker.state(key).rough:
        time.sleep(0.01)
    print(worker.state(key).rough["pid"], flush=True)
    if sys.argv[1] == "stay":
        time.sleep(60)
"""


@pytest.mark.parametrize("how", ["killed", "left"])
def test_no_process_outlives_the_program(tmp_path: Path, how: str) -> None:
    script = tmp_path / "program.py"
    script.write_text(PROGRAM, "utf-8")
    home = str(Path(__file__).parent)
    with subprocess.Popen(  # noqa: S603
        [sys.executable, str(script), "stay" if how == "killed" else "go"],
        stdout=subprocess.PIPE,
        env={**os.environ, "PYTHONPATH": os.pathsep.join((home, *sys.path))},
    ) as program:
        assert program.stdout is not None
        pid = int(program.stdout.readline())
        if how == "killed":
            assert is_there(pid)
            program.kill()
        assert program.wait(5) is not None

    assert gone_within(pid, 2)
