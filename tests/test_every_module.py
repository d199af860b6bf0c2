"""Rules that every module of the program keeps."""

import ast
import importlib
import inspect
import pkgutil
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

import slabwright
from slabwright import errors
from slabwright.errors import Mistake, SlabwrightError

ROOT = Path(__file__).parents[1]
MODULES = sorted((ROOT / "src" / "slabwright").rglob("*.py"))
EVERY = pytest.mark.parametrize(
    "path", MODULES, ids=lambda path: str(path.relative_to(ROOT / "src"))
)
LONGEST = 400
"""Lines of a module, by CONTRIBUTING.md."""


@EVERY
def test_a_module_says_what_it_is_for(path: Path) -> None:
    assert ast.get_docstring(ast.parse(path.read_text("utf-8")))


@EVERY
def test_a_module_is_short(path: Path) -> None:
    assert len(path.read_text("utf-8").splitlines()) <= LONGEST


@EVERY
def test_no_rule_is_silenced_in_a_module(path: Path) -> None:
    found = re.findall(r"#\s*(?:noqa|type:\s*ignore)", path.read_text("utf-8"))

    assert found == []


@EVERY
def test_no_module_calls_anything_safe(path: Path) -> None:
    words = [
        node.value
        for node in ast.walk(ast.parse(path.read_text("utf-8")))
        if isinstance(node, ast.Constant) and isinstance(node.value, str)
    ]

    assert not [text for text in words if re.search(r"\bsafe(?:ly|ty)?\b", text)]


@EVERY
def test_a_module_catches_nothing_that_it_does_not_name(path: Path) -> None:
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.ExceptHandler):
            assert node.type is not None
            assert ast.unparse(node.type) not in {"Exception", "BaseException"}


def test_every_module_can_be_imported() -> None:
    found = pkgutil.walk_packages(slabwright.__path__, "slabwright.")
    names = [one.name for one in found if not one.name.endswith("__main__")]

    assert len(names) + 2 == len(MODULES)  # the package itself and its front step
    for name in names:
        importlib.import_module(name)


def subclasses() -> Iterator[type[SlabwrightError]]:
    for _, one in inspect.getmembers(errors, inspect.isclass):
        if issubclass(one, SlabwrightError) and one is not SlabwrightError:
            yield one


@pytest.mark.parametrize("error", list(subclasses()), ids=lambda e: e.__name__)
def test_every_error_is_raised_by_the_program_and_looked_for_by_a_test(
    error: type[SlabwrightError],
) -> None:
    code = "\n".join(path.read_text("utf-8") for path in MODULES)
    tests = "\n".join(
        path.read_text("utf-8") for path in (ROOT / "tests").rglob("test_*.py")
    )

    raised = rf"(?:raise|return|->) {error.__name__}\b"
    assert re.search(raised, code)
    assert re.search(rf"pytest\.raises\({error.__name__}\b", tests)
    assert error.__doc__


def test_an_error_carries_every_mistake_in_its_words() -> None:
    error = errors.FileError(Mistake("A is wrong.", "Mend A."), Mistake("B.", "C."))

    assert str(error) == "A is wrong. Mend A.\nB. C."
    assert [mistake.do for mistake in error.mistakes] == ["Mend A.", "C."]
