"""Calculators: the list of them, each with its form and answer, and the same as JSON.

The form is a GET, so that every answer has an address; typing replaces the answer.
"""

from typing import Annotated, Any

from fastapi import APIRouter, Path, Request, Response
from starlette.exceptions import HTTPException

from slabwright.desk.calc import around_of
from slabwright.errors import FileError, Mistake
from slabwright.publish.calc import Defaults
from slabwright.publish.calc_json import answer_json, calculator_json, list_json
from slabwright.publish.nature_words import likely_words
from slabwright.spec.calc.calculated import calculated, calculator_at, default_of
from slabwright.spec.calc.calculator import CalcError, Calculator
from slabwright.spec.calc.calculators import CALCULATORS
from slabwright.web.calc_view import MOST_TYPED, CalcView
from slabwright.web.house import Visit, looking, render

router = APIRouter(include_in_schema=False)
api = APIRouter(prefix="/api", tags=["calculators"])

Name = Annotated[str, Path(max_length=MOST_TYPED)]


@router.get("/calculators")
def list_page(request: Request) -> Response:
    """Every calculator, in the order of the work."""
    with looking(request) as visit:
        return render(
            request, "calculators.html", visit=visit, title="Calculators",
            here="Calculators", calculators=CALCULATORS,
        )  # fmt: skip


@router.get("/calculators/{name}")
def calculator_page(request: Request, name: Name) -> Response:
    """The form with its answer; before anything is typed, its example's."""
    with looking(request) as visit:
        view = _view(request, visit, name)
        return render(
            request, "calculator.html", visit=visit, title=view.calculator.title,
            here="Calculators", view=view, likely_words=likely_words,
        )  # fmt: skip


@router.get("/calculators/{name}/answer")
def calculator_answer(request: Request, name: Name) -> Response:
    """Every part of the page that hangs on the form, as typed now."""
    with looking(request) as visit:
        view = _view(request, visit, name, is_typed=True)
        return render(
            request, "calculator_answer.html", visit=visit, view=view,
            likely_words=likely_words,
        )  # fmt: skip


def _view(
    request: Request, visit: Visit, name: str, *, is_typed: bool = False
) -> CalcView:
    """What the form or the address asks of a calculator.

    Raises:
        HTTPException: 404 if there is none.
        FileError: for a field that is too long.
    """
    calculator, given = _named(name), _given(request)
    folder = visit.desk.folder
    return CalcView(calculator, folder, given, is_example=not (given or is_typed))


@api.get("/calculators")
def calculators(request: Request) -> dict[str, Any]:
    """Every calculator with its inputs, their ranges and its sources."""
    with looking(request) as visit:
        return list_json([(one, _defaults(one, visit)) for one in CALCULATORS])


@api.get("/calculators/{name}")
def calculator(request: Request, name: Name) -> dict[str, Any]:
    """The answer to the query, `?sucrose=80&water=20`; the calculator without one."""
    one, given = _named(name), _given(request)
    with looking(request) as visit:
        if not given:
            return calculator_json(one, _defaults(one, visit))
        return answer_json(calculated(one, given, around_of(visit.desk.folder)))


def _named(name: str) -> Calculator:
    try:
        return calculator_at(name)
    except CalcError as error:
        (mistake,) = error.mistakes
        raise HTTPException(404, f"{mistake.what} {mistake.do}") from error


def _given(request: Request) -> list[tuple[str, str]]:
    """What the address asks, each text no longer than a field."""
    given = request.query_params.multi_items()
    for key, value in given:
        if len(key) > MOST_TYPED or len(value) > MOST_TYPED:
            what = f"A field holds more than {MOST_TYPED} characters."
            raise FileError(Mistake(what, "Write it shorter."))
    return given


def _defaults(one: Calculator, visit: Visit) -> Defaults:
    kitchen = visit.desk.folder.kitchen
    return {field.name: default_of(field, kitchen) for field in one.inputs}
