"""What a user can put right: places, mistakes, and errors that carry them."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, order=True)
class Span:
    """A stretch of one line of a text; lines and columns count from 1."""

    line: int
    column: int
    end: int
    """First column after the stretch."""


@dataclass(frozen=True, slots=True)
class Where:
    """The place of a mistake, as exactly as it is known."""

    file: str = ""
    span: Span | None = None
    field: str = ""

    def __str__(self) -> str:
        place = self.file
        if self.span:
            place += f":{self.span.line}:{self.span.column}"
        said = f"{place} ({self.field})" if self.field else place
        return said.lstrip(" :")


@dataclass(frozen=True, slots=True)
class Mistake:
    """One thing that a user must put right, and how."""

    what: str
    do: str
    where: Where = Where()
    nearest: tuple[str, ...] = ()

    def __str__(self) -> str:
        place = str(self.where)
        return f"{place}: {self.what} {self.do}" if place else f"{self.what} {self.do}"


class SlabwrightError(Exception):
    """Base of every error that a user can put right; it may hold several mistakes."""

    def __init__(self, *mistakes: Mistake) -> None:
        super().__init__("\n".join(map(str, mistakes)))
        self.mistakes = mistakes


class FileError(SlabwrightError):
    """A file that can't be read, or that holds what it must not."""


class GeometryError(SlabwrightError):
    """Sizes that no tin, slab or piece can have."""
