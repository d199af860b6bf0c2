"""How we know: every published row with ours beside it, and how far off it lies."""

from collections.abc import Sequence

from fastapi import APIRouter, Request, Response

from slabwright.publish import evidence as said
from slabwright.publish.drawing.chart import chart_svg
from slabwright.publish.evidence_charts import charts
from slabwright.spec.evidence.compared import Evidence, evidence
from slabwright.web.house import render
from slabwright.web.shown import drawing

router = APIRouter(include_in_schema=False)


@router.get("/evidence")
def evidence_page(request: Request) -> Response:
    """Every table, each source apart, with its errors and its drawing."""
    every = evidence()
    return render(
        request, "evidence.html", title="How we know", here="Calculators", said=said,
        every=every, drawings=[
            (topic, drawing(svg)) for topic, svg in _drawings(every)
        ],
    )  # fmt: skip


def _drawings(every: Sequence[Evidence]) -> list[tuple[str, str]]:
    """Drawings with the topic that each belongs to."""
    return [
        (one.topic, chart_svg(chart, prefix=f"e-{name}"))
        for one in every
        for name, chart in charts([one])
    ]
