"""A process that is killed while it saves loses nothing that it said was kept."""

import random
from pathlib import Path

import pytest

from tests.store.kill import killed


@pytest.mark.parametrize("round_", range(5))
def test_no_save_is_lost_with_its_process(tmp_path: Path, round_: int) -> None:
    # kill -9 only: a power cut is not tried, the synced commits are counted elsewhere
    left = killed(tmp_path, random.Random(round_))  # noqa: S311

    assert left.faults == ()
    assert left.was_killed
    # what was being saved at that moment may be there or not
    assert left.said <= left.kept <= left.said + 1
