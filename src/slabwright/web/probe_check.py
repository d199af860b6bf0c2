"""The probe in boiling water: what it reads, against what it should."""

from dataclasses import dataclass, replace
from typing import Annotated, Final

from fastapi import APIRouter, Query, Request, Response
from starlette.responses import RedirectResponse

from slabwright.errors import FileError, Mistake
from slabwright.figure import Figure
from slabwright.files.yaml_edit import number_as_typed, with_fields
from slabwright.formula.step import Band
from slabwright.kitchen import Kitchen
from slabwright.spec.probe import (
    FROM_C,
    Reading,
    lower_here,
    probe_error,
    reading,
    water_boils,
)
from slabwright.web.fields import MOST_NUMBER
from slabwright.web.house import Visit, acting, looking, render
from slabwright.web.kitchen_fields import ORDER, PARTS, row_of
from slabwright.web.kitchen_paper_pages import overtaken
from slabwright.web.papers import (
    KITCHEN,
    OvertakenError,
    change,
    paper_of,
    without_file,
)
from slabwright.web.posted import Posted, whole

router = APIRouter(include_in_schema=False)

EXAMPLE_C: Final = 118.0
"""Where what the probe shows is said: the end of a soft caramel."""
_FAR_OFF: Final = 5.0
"""Beyond this a reading is doubted, not the probe [°C]. Common practice, no source."""
_TRUE: Final = 0.05
_RANGES: Final = {"probe_in_boiling_water_C": (80, 115), "altitude_m": (-450, 6000)}
"""What the kitchen's file takes."""

Number = Annotated[str, Query(max_length=40)]


@dataclass(frozen=True, slots=True)
class ProbeCheck:
    """What the check says of a kitchen's probe."""

    kitchen: Kitchen

    @property
    def boils(self) -> Figure:
        """Where water boils here."""
        return water_boils(self.kitchen)

    @property
    def error(self) -> Figure:
        """How much too high the probe reads."""
        return probe_error(self.kitchen)

    @property
    def lower(self) -> Figure | None:
        """How much lower a sugar boil ends here; None if that is little."""
        return lower_here(self.kitchen)

    @property
    def shows(self) -> Reading:
        """What the probe shows where it is truly 118 °C."""
        return reading(Band(EXAMPLE_C, EXAMPLE_C), self.kitchen)

    @property
    def is_far_off(self) -> bool:
        """Whether a slip is likelier than such a probe."""
        return self.error.known and abs(self.error.number) > _FAR_OFF

    @property
    def says(self) -> str:
        """How it reads, in words."""
        error = self.error
        if not error.known:
            return "not checked"
        if abs(error.number) < _TRUE:
            return "reads true"
        return "reads high" if error.number > 0 else "reads low"

    @property
    def off(self) -> Figure:
        """By how much, whichever way."""
        if not self.error.known:
            return self.error
        return replace(self.error, value=abs(self.error.number))


@router.get("/kitchen/probe")
def probe_page(
    request: Request, reads: Number | None = None, altitude: Number | None = None
) -> Response:
    """The check, for what was typed; else for what is kept."""
    with looking(request) as visit:
        kitchen = visit.desk.folder.kitchen
        kept = kitchen.probe_in_boiling_water_C
        if reads is None:
            reads = "" if kept is None else f"{kept:g}"
        if altitude is None:
            altitude = f"{kitchen.altitude_m:g}"
        return _form(request, visit, (reads, altitude), paper_of(visit, KITCHEN).number)


@router.post("/kitchen/probe")
def keep_probe(request: Request, posted: Posted) -> Response:
    """Keep what the probe reads, and the height of the kitchen."""
    typed = (posted.get("reads", ""), posted.get("altitude", ""))
    base = whole(posted, "base", MOST_NUMBER)
    row = row_of(PARTS["air"], dict(zip(_RANGES, typed, strict=True)))
    note = "probe checked in boiling water"
    try:
        with acting(request) as visit:
            change(visit, KITCHEN, base, lambda t: with_fields(t, row, ORDER), note)
    except OvertakenError as error:
        return overtaken(request, error, "/kitchen/probe")
    except FileError as error:
        with looking(request) as visit:
            return _form(request, visit, typed, base, error.mistakes)
    return RedirectResponse("/kitchen#air", status_code=303)


def _form(
    request: Request,
    visit: Visit,
    typed: tuple[str, str],
    base: int,
    mistakes: tuple[Mistake, ...] = (),
) -> Response:
    """The form, and what was typed comes to; what can't be read is said."""
    numbers = [_number(name, said) for name, said in zip(_RANGES, typed, strict=True)]
    wrong = tuple(one for one in numbers if isinstance(one, Mistake))
    reads, altitude = (None if isinstance(n, Mistake) else n for n in numbers)
    kitchen = visit.desk.folder.kitchen
    asked = replace(kitchen, altitude_m=altitude or 0.0, probe_in_boiling_water_C=reads)
    said = wrong or mistakes
    return render(
        request, "kitchen_probe.html", visit=visit, status=422 if said else 200,
        title="Probe check", here="Kitchen", reads=typed[0], altitude=typed[1],
        base=base, mistakes=without_file(said), from_C=FROM_C, example=EXAMPLE_C,
        probe=None if said else ProbeCheck(asked), is_kept=asked == kitchen,
    )  # fmt: skip


def _number(name: str, said: str) -> float | Mistake | None:
    """What was typed, as a number that the kitchen's file takes."""
    number = number_as_typed(said) if said.strip() else None
    low, high = _RANGES[name]
    if number is None:
        return None
    if isinstance(number, int | float) and low <= number <= high:
        return float(number)
    field = PARTS["air"].names[name]
    what = f"{field.label}: '{said:.40}' is no number from {low:,} to {high:,}"
    return Mistake(f"{what[:1].upper()}{what[1:]} {field.unit}.", "Mend it.")
