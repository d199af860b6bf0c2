"""Hold the physics against every published row, and write the page with its drawings.

`make evidence` runs it; `tests/docs/test_evidence.py` finds what is stale.
"""

import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Final

from slabwright.publish.drawing.chart import chart_svg
from slabwright.publish.evidence import evidence_page, summary
from slabwright.publish.evidence_charts import charts
from slabwright.spec.evidence.compared import evidence

DOCS: Final = Path(__file__).parents[2] / "docs"


def written() -> Iterator[tuple[Path, str]]:
    """Every file with what ought to stand in it."""
    every = evidence()
    yield DOCS / "evidence.md", evidence_page(every)
    for name, chart in charts(every):
        path = DOCS / "pictures" / f"evidence-{name}.svg"
        yield path, chart_svg(chart, prefix=f"evidence-{name}", theme="paper")


def _main() -> None:
    for path, text in written():
        if not path.exists() or path.read_text("utf-8") != text:
            path.write_text(text, encoding="utf-8")
            sys.stdout.write(f"wrote {path.relative_to(DOCS.parent)}\n")
    sys.stdout.write(f"{summary(evidence())}\n")


if __name__ == "__main__":
    _main()
