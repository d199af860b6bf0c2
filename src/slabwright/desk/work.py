"""Long work: begun, watched, stopped, and never done twice.

Each piece of work runs in a process of its own kind (`work_hand`), driven by a thread
here, and gives a rough answer before the better one. Results are kept under a hash of
all that they depend on, so one that is kept is never stale.
"""

import json
from collections import OrderedDict
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import partial
from threading import Lock, Thread, current_thread
from time import monotonic
from typing import Any, Final

from slabwright.desk.work_hand import FAILED, Ended, Hand
from slabwright.desk.work_kinds import KINDS, Job, Kind, as_json
from slabwright.desk.work_state import Kept, WorkError, WorkState
from slabwright.errors import Mistake

MOST_WAITING: Final = 50
"""So many pieces of work wait for a process; more are refused."""
MOST_REMEMBERED: Final = 200
"""So many that are over are remembered here; results are kept beyond that."""
_CLOSES_WITHIN_S: Final = 0.5
_TELLING: Final = (0.2, 0.02)
"""After so many seconds and this share, what is left can be told."""


@dataclass(slots=True)
class _Task:
    """A piece of work that was asked for here."""

    job: Job
    state: WorkState
    at: tuple[Hand, int] | None = None
    """The process that it is with, and its number there."""
    begun_at: float | None = None

    def changed(self, **changes: Any) -> None:
        self.state = replace(self.state, **changes)


class Worker:
    """Takes on long work, so many pieces at a time. Made for many threads."""

    def __init__(
        self, processes: int, kept: Kept, kinds: Mapping[str, Kind] = KINDS
    ) -> None:
        """Start nothing yet: processes begin with the first work.

        Args:
            processes: how many pieces are worked on at once, 1 or more.
            kept: where results are kept.
            kinds: the kinds of work that there are.
        """
        self._processes = processes
        self._kept = kept
        self._kinds = kinds
        self._lock = Lock()
        self._tasks: OrderedDict[str, _Task] = OrderedDict()
        self._waiting: OrderedDict[str, _Task] = OrderedDict()
        self._hands: list[Hand] = []
        self._idle: list[Hand] = []
        self._threads: set[Thread] = set()
        self._is_closed = False

    def start(self, job: Job) -> str:
        """Take on a piece of work; nothing is done twice, also while it is done.

        Returns:
            Its key.

        Raises:
            WorkError: if too much is waiting, or nothing is taken on any more.
            KeyError: for a kind that there is not.
            ValueError: for inputs that JSON can't say.
        """
        key = job.key(self._kinds)
        with self._lock:
            if self._has(key):
                return key
        result = self._kept.get(key)  # without the lock: it may take its time
        with self._lock:
            if self._has(key):
                return key
            task = _Task(job, WorkState(key, job.kind))
            if result is not None:
                task.changed(share_done=1.0, result=result)
            else:
                self._insist_on_room()
                self._waiting[key] = task
            self._tasks[key] = task
            self._tasks.move_to_end(key)
            self._forget_old()
            self._start_next()
        return key

    def state(self, key: str) -> WorkState:
        """How far a piece of work has come.

        Raises:
            WorkError: for one that is not known.
        """
        with self._lock:
            task = self._tasks.get(key)
            if task is not None:
                return replace(task.state, seconds_left=_seconds_left(task))
        result = self._kept.get(key)
        if result is None:
            what = "Nothing of that name is being worked out."
            raise WorkError(Mistake(what, "Ask for it again."))
        return WorkState(key, "", share_done=1.0, result=result)

    def stop(self, key: str) -> None:
        """Leave a piece of work; what rough answer there is stays."""
        with self._lock:
            task = self._tasks.get(key)
            if task is None or task.state.is_over:
                return
            task.changed(is_stopped=True)
            self._waiting.pop(key, None)
            at = task.at
        if at is not None:
            hand, number = at
            hand.stop(number)

    def forget(self, key: str) -> None:
        """Leave a piece of work and its rough answer; a result that is kept stays."""
        self.stop(key)
        with self._lock:
            self._tasks.pop(key, None)

    def close(self) -> None:
        """Leave everything, at once, and end all processes."""
        with self._lock:
            self._is_closed = True
            self._waiting.clear()
            for task in self._tasks.values():
                if not task.state.is_over:
                    task.changed(is_stopped=True)
            hands, threads = list(self._hands), list(self._threads)
        for hand in hands:
            hand.end()
        until = monotonic() + _CLOSES_WITHIN_S
        for thread in threads:
            thread.join(max(until - monotonic(), 0.0))

    def _has(self, key: str) -> bool:
        """Whether it is done, or going to be."""
        task = self._tasks.get(key)
        if task is None:
            return False
        return not (task.state.is_stopped or task.state.problem)

    def _insist_on_room(self) -> None:
        if self._is_closed:
            what = "Nothing more is worked out: the program is ending."
            raise WorkError(Mistake(what, "Start it again first."))
        if len(self._waiting) >= MOST_WAITING:
            what = f"{MOST_WAITING} pieces of work are waiting already."
            raise WorkError(Mistake(what, "Wait until one is done, or stop one."))

    def _forget_old(self) -> None:
        over = [key for key, task in self._tasks.items() if task.state.is_over]
        for key in over[: max(len(over) - MOST_REMEMBERED, 0)]:
            del self._tasks[key]

    def _start_next(self) -> None:
        """Give waiting work to whoever is free; the lock is held."""
        while self._waiting and len(self._threads) < self._processes:
            _, task = self._waiting.popitem(last=False)
            thread = Thread(target=self._drive, args=(task,), daemon=True)
            self._threads.add(thread)
            thread.start()

    def _drive(self, task: _Task) -> None:
        """One piece of work from its start to its end."""
        hand = None
        ended = Ended("unbegun")
        function = self._kinds[task.job.kind].function
        inputs = as_json(task.job.inputs)
        try:
            while ended.how == "unbegun":  # an idle process may have ended unnoticed
                self._put_back(hand)
                hand = None  # should there be no other
                hand = self._free_hand()
                with self._lock:
                    if task.state.is_stopped:
                        return
                    number = hand.take()
                    task.at = hand, number
                ended = hand.work(number, function, inputs, partial(self._hear, task))
            self._settle(task, ended)
        finally:  # whatever went wrong, the next one gets its turn
            self._put_back(hand)
            with self._lock:
                task.at = None
                if not task.state.is_over:
                    task.changed(problem=FAILED)
                self._threads.discard(current_thread())
                self._start_next()

    def _free_hand(self) -> Hand:
        """A process that is idle, or a new one."""
        with self._lock:
            while self._idle:
                hand = self._idle.pop()
                if hand.is_fit:
                    return hand
                self._hands.remove(hand)
        hand = Hand()
        with self._lock:
            self._hands.append(hand)
            is_closed = self._is_closed
        if is_closed:
            hand.end()
        return hand

    def _put_back(self, hand: Hand | None) -> None:
        with self._lock:
            if hand is None:
                return
            if hand.is_fit:
                self._idle.append(hand)
            else:
                self._hands.remove(hand)

    def _settle(self, task: _Task, ended: Ended) -> None:
        """Note how it ended, and keep its result."""
        result = json.loads(ended.said) if ended.how == "done" else None
        with self._lock:
            if result is not None:  # perhaps just before it was told to stop
                task.changed(share_done=1.0, result=result, is_stopped=False)
            elif ended.how == "stopped":
                task.changed(is_stopped=True)
            elif not task.state.is_stopped:
                task.changed(problem=ended.said)
        if result is not None:
            self._kept.put(task.state.key, task.job.kind, result)

    def _hear(self, task: _Task, what: str, said: Any) -> None:
        """Note what is heard while work goes on."""
        with self._lock:
            if what == "begun":
                task.begun_at = monotonic()
            elif what == "rough":
                task.changed(rough=json.loads(said))
            elif not task.state.is_stopped:
                task.changed(share_done=min(max(said, 0.0), 1.0))


def _seconds_left(task: _Task) -> float | None:
    """About how long it will take yet, if it goes on as it has."""
    share = task.state.share_done
    if task.state.is_over or task.begun_at is None:
        return None
    gone_s = monotonic() - task.begun_at
    least_s, least_share = _TELLING
    if gone_s < least_s or share < least_share:
        return None
    return gone_s * (1 - share) / share
