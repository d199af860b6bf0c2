"""Printing from the command label: labels, sheets, tickets, allergen cards, records."""

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from slabwright.cli import desk
from slabwright.errors import FileError, Mistake, Where

if TYPE_CHECKING:
    from slabwright.desk.label import Asked
    from slabwright.desk.label_paper import Done, PaperAsked
    from slabwright.desk.label_print import Numbered, Paper
    from slabwright.label.paper.face import Kind

PrintOption = Annotated[
    Path | None, typer.Option("--print", help="Print it: write this PDF.")
]
SizeOption = Annotated[
    str, typer.Option("--size", help="Of a label, width x height in mm: 60x40.")
]
SheetOption = Annotated[
    str, typer.Option("--sheet", help="Labels on a sheet, across x down: 3x7.")
]
PaperOption = Annotated[
    str, typer.Option("--paper", help="Of the sheet: A4, A5, 210x297.")
]
MarginsOption = Annotated[
    str, typer.Option("--margins", help="Of the sheet, left x top in mm; else centred.")
]
GapsOption = Annotated[
    str, typer.Option("--gaps", help="Between labels, across x down in mm: 2.5x0.")
]
StartOption = Annotated[
    int,
    typer.Option("--start", help="The first label of the sheet that is still there."),
]
CopiesOption = Annotated[
    int | None, typer.Option("--copies", help="How many; else one, or one sheet full.")
]
TicketOption = Annotated[
    bool, typer.Option("--ticket", help="Print a ticket for the counter.")
]
AllergenCardOption = Annotated[
    bool, typer.Option("--allergen-card", help="Print the allergens and their ways.")
]
NutritionOption = Annotated[
    bool,
    typer.Option("--nutrition", help="Nutrition too, where no law asks it on a label."),
]
StaleOption = Annotated[
    Path | None,
    typer.Option("--stale", help="What changed since this record was printed."),
]


@dataclass(frozen=True, slots=True)
class Printing:
    """What was asked of the printing, as it was typed."""

    to: Path | None = None
    size: str = ""
    sheet: str = ""
    paper: str = ""
    margins: str = ""
    gaps: str = ""
    start: int = 1
    copies: int | None = None
    is_ticket: bool = False
    is_allergen_card: bool = False
    stale: Path | None = None
    has_nutrition: bool = False

    @property
    def is_asked(self) -> bool:
        """Whether anything of it was."""
        return self != Printing()

    @property
    def paper_asked(self) -> "PaperAsked":
        """The paper alone."""
        from slabwright.desk.label_paper import PaperAsked

        return PaperAsked(
            self.size, self.sheet, self.paper, self.margins, self.gaps, self.start,
            self.copies,
        )  # fmt: skip

    @property
    def kind(self) -> "Kind":
        """What is printed."""
        if self.is_allergen_card:
            return "allergen card"
        return "ticket" if self.is_ticket else "label"


def printed(
    card: str,
    opened: desk.Opened,
    asked: "Asked",
    numbered: "Numbered",
    printing: Printing,
    *,
    json: bool,
) -> bool:
    """Print what is asked for, or compare a record; whether it must wait, or is stale.

    Raises:
        FileError: for what can't be printed, and what would fit.
    """
    spec = opened.spec
    if not (spec.layers or spec.components):
        desk.tell(spec.errors)
        what = f"'{card}' has no layers to print anything of."
        raise FileError(Mistake(what, "Name a slab's card."))
    if printing.stale is not None:
        return _compared(card, opened, asked, printing.stale, json=json)
    if printing.to is None:
        what = "Nothing says where the print should go."
        raise FileError(Mistake(what, "Give --print label.pdf.", Where(field="print")))
    if printing.is_ticket and printing.is_allergen_card:
        what = "A ticket and an allergen card are two papers."
        raise FileError(Mistake(what, "Ask for one of the two.", Where(field="ticket")))
    from slabwright.desk.label_paper import done, record_of
    from slabwright.desk.label_print import Extras, paper_of
    from slabwright.publish.print.record import done_json, printed_json

    to, beside = printing.to, _beside(printing.to)
    paper = paper_of(
        spec, opened.folder, asked, printing.kind, _revisions(card, opened),
        Extras(numbered, printing.has_nutrition),
    )  # fmt: skip
    found = done(paper, printing.paper_asked, asked.on)
    _write(to, found.pdf)
    if found.is_draft:
        _tell_draft(paper, found, to, json=json)
        return True
    record = record_of(paper, asked, numbered, found)
    _write(beside, desk.json_text(printed_json(record)).encode())
    if json:
        desk.print_json(done_json((str(to), str(beside)), (), record, _bars(found)))
        return False
    _tell(paper, found, to)
    typer.echo(f"wrote {beside}: what was printed; later: --stale {beside}")
    return False


def _tell(paper: "Paper", found: "Done", to: Path) -> None:
    face, made = paper.face, found.made
    if made is None:
        typer.echo(f"wrote {to}: allergens of {face.slab}")
        count = len(paper.label.allergens.questions)
        if count:
            many = "" if count == 1 else "s"
            typer.echo(f"{count} question{many} open; they stand on it.")
        return
    count, on = found.pages.count, len(found.pages.places)
    kind = f"{count} {face.kind}{'' if count == 1 else 's'} of {found.size.words}"
    typer.echo(f"wrote {to}: {kind} on {on} page{'' if on == 1 else 's'}")
    least = f"at least {face.least_x_mm:g} mm"
    typer.echo(f"A small x stands {made.x_mm:g} mm high; {least}.")
    bars = _bars(found)
    if bars is not None:
        module_mm, high_mm, uncut_mm = bars
        cut = ""
        if high_mm < uncut_mm - 0.01:
            cut = f", cut from {uncut_mm:.1f}: a till reads them from fewer sides"
        sizes = f"a module of {module_mm:g} mm, {high_mm:.1f} mm high{cut}"
        typer.echo(f"Bars: {sizes}. Their sizes are from memory: try one at your till.")


def _tell_draft(paper: "Paper", found: "Done", to: Path, *, json: bool) -> None:
    from slabwright.publish.print.record import done_json

    if json:
        desk.print_json(done_json((str(to),), paper.waits, None))
        return
    typer.echo(f"wrote {to}: a draft, no {paper.face.kind}; it waits for an answer")
    for one in paper.waits:
        typer.echo(f"  {one}")
    if found.refused:
        typer.echo("  It would not fit as it is.")


def _bars(found: "Done") -> tuple[float, float, float] | None:
    """Width of a module, height of the bars, and their height uncut [mm]."""
    made = found.made
    if made is None:
        return None
    sizes = (made.module_mm, made.bars_mm, made.bars_usual_mm)
    known = [one for one in sizes if one is not None]
    return (known[0], known[1], known[2]) if len(known) == len(sizes) else None


def _compared(
    card: str, opened: desk.Opened, asked: "Asked", record: Path, *, json: bool
) -> bool:
    from slabwright.desk.label_print import compared
    from slabwright.files.print_record import read_print_record
    from slabwright.publish.print.record import stale_json, stale_text
    from slabwright.publish.terminal import Manner

    before = read_print_record(record)
    revisions = _revisions(card, opened)
    changes, waits = compared(before, opened.spec, opened.folder, asked, revisions)
    if json:
        desk.print_json(stale_json(before, changes, waits, revisions))
    else:
        manner = Manner(desk.columns(), bold=desk.bold)
        typer.echo(stale_text(before, changes, waits, revisions, manner), nl=False)
    return bool(changes or waits)


def _revisions(card: str, opened: desk.Opened) -> tuple[str, ...]:
    path = Path(card)
    is_file = card != "-" and path.is_file()
    text = path.read_bytes() if is_file else opened.read.text.encode()
    return revisions_at(text, opened.folder.path)


def revisions_at(card: bytes, home: Path | None) -> tuple[str, ...]:
    """Which card and which larder a paper is printed from.

    Args:
        card: the card, as it stands in its file.
        home: the kitchen's folder, if there is one.
    """
    from slabwright.desk.label_print import card_revision, larder_revision

    larder = home / "larder.yaml" if home is not None else None
    own = b""
    if larder is not None and larder.is_file():
        try:
            own = larder.read_bytes()
        except OSError:
            own = b"can't be read"  # which the folder's own mistakes tell
    return card_revision(card), larder_revision(own)


def _beside(to: Path) -> Path:
    """Where the record goes.

    Raises:
        FileError: if the PDF's name is none, or something else stands there.
    """
    from slabwright.files.print_record import read_print_record

    if to.suffix.casefold() != ".pdf":
        what = f"'{to}' is no name of a PDF."
        raise FileError(Mistake(what, "Give --print label.pdf.", Where(field="print")))
    beside = to.with_suffix(".json")
    if beside.exists():
        try:
            read_print_record(beside)
        except FileError:
            what = f"'{beside}' is there already, and is no record of a print."
            do = "Take another name for the PDF: its record stands beside it."
            raise FileError(Mistake(what, do, Where(field="print"))) from None
    return beside


def _write(path: Path, data: bytes) -> None:
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(data)
    except OSError as error:
        what = f"'{path}' can't be written: {error.strerror}."
        raise FileError(Mistake(what, "Name another place.")) from error
