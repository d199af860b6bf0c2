"""Small tables on standard output."""

import sys
from collections.abc import Sequence

from benchmarks.clock import Taken


def table(heading: str, rows: Sequence[Taken]) -> None:
    """Times of tasks [ms], each as a ratio to the first."""
    say(f"{heading:<32}{'ms':>9}{'least':>9}{'most':>9}{'ratio':>9}")
    for row in rows:
        ratio = row.median_ms / rows[0].median_ms
        times = (row.median_ms, row.least_ms, row.most_ms)
        say(f"  {row.task:<30}{''.join(f'{t:9.1f}' for t in times)}{ratio:9.2f}")
    say("")


def say(line: str) -> None:
    """One line, at once."""
    sys.stdout.write(f"{line}\n")
    sys.stdout.flush()
