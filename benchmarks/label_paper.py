"""Labels on paper: letters chosen, a label and a sheet of 50 printed, one refused."""

from benchmarks.clock import Taken, side_by_side
from slabwright.label.paper.face import Face, Paragraph, Run
from slabwright.label.paper.sheet import A4, Sheet, Size, laid
from slabwright.publish.print.fit import Fitted, Refused, fitted
from slabwright.publish.print.pdf import labels_pdf

_SIZE = Size(60.0, 60.0)
_SHEET = Sheet(Size(2 * A4.width_mm, 2 * A4.height_mm), 5, 10, gap_across_mm=1.0)
_SMALL = Size(80.0, 56.0)


def on_paper(rounds: int = 20) -> tuple[Taken, ...]:
    """Warm. First: the largest letters that fit; each round has words of its own."""

    def made(number: int, size: Size = _SIZE) -> Fitted:
        found = fitted(_face(number, 12), size)
        if isinstance(found, Refused):
            raise TypeError(found.mistake.what)
        return found

    return side_by_side(
        {
            "choosing the letters": made,
            "and one label as PDF": lambda n: labels_pdf(made(n), laid(_SIZE, 1)),
            "and a sheet of 50": lambda n: labels_pdf(
                made(n, _SMALL), laid(_SMALL, 50, _SHEET)
            ),
            "300 ingredients refused": lambda n: fitted(_face(n, 300), _SIZE),
        },
        rounds=rounds,
        warm=3,
    )


def _face(number: int, count: int) -> Face:
    parts = [
        Run(f"ingredient {n} of {number}, ", is_emphasised=n % 5 == 0)
        for n in range(count)
    ]
    return Face(
        "label",
        f"Slab {number}",
        "packed here",
        "Lemon and blackcurrant slice",
        "70 g",
        70.0,
        (Paragraph("ingredients", tuple(parts)),),
        date="Best before: 30 November 2026",
        storage=("Keep chilled",),
        number="2001234567893",
        revisions=("card 3f2a91c0", "larder 91ab22cd"),
        least_figures_mm=3.0,
    )
