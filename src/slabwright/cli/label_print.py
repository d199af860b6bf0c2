"""Printing from the command label: labels, sheets, tickets, allergen cards, records."""

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from slabwright.cli import desk
from slabwright.errors import FileError, Mistake, Where

if TYPE_CHECKING:
    from slabwright.desk.label import Asked
    from slabwright.desk.label_print import Numbered, Paper
    from slabwright.label.face import Kind
    from slabwright.label.printed import Printed
    from slabwright.label.sheet import Laid, Size

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
_TICKET_SIZE = "90x60"
"""Our own choice."""


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
    from slabwright.desk.label_print import Extras, paper_of

    found = paper_of(
        spec, opened.folder, asked, printing.kind, _revisions(card, opened),
        Extras(numbered, printing.has_nutrition),
    )  # fmt: skip
    if printing.is_allergen_card:
        return _allergen_card(found, asked, printing, json=json)
    size, pages = _laid(printing)
    if found.waits:
        return _draft(found, size, printing.to, json=json)
    _label(found, size, pages, (asked, numbered, printing), json=json)
    return False


def _label(
    found: "Paper",
    size: "Size",
    pages: "Laid",
    asked: "tuple[Asked, Numbered, Printing]",
    *,
    json: bool,
) -> None:
    from slabwright.publish.print.fit import Refused, fitted
    from slabwright.publish.print.pdf import labels_pdf
    from slabwright.publish.print.record import done_json

    made = fitted(found.face, size)
    if isinstance(made, Refused):
        raise FileError(made.mistake)
    order, numbered, printing = asked
    to = printing.to or Path("label.pdf")
    _write(to, labels_pdf(made, pages))
    record = _record(found, order, numbered, size, pages.count, made.x_mm)
    beside = _write_record(to, record)
    if json:
        bars = None
        if made.module_mm and made.bars_mm and made.bars_usual_mm:
            bars = (made.module_mm, made.bars_mm, made.bars_usual_mm)
        desk.print_json(done_json((str(to), str(beside)), (), record, bars))
        return
    many = "" if pages.count == 1 else "s"
    on = len(pages.places)
    kind = f"{pages.count} {found.face.kind}{many} of {size.words}"
    typer.echo(f"wrote {to}: {kind} on {on} page{'' if on == 1 else 's'}")
    least = f"at least {found.face.least_x_mm:g} mm"
    typer.echo(f"A small x stands {made.x_mm:g} mm high; {least}.")
    if made.module_mm is not None and made.bars_mm is not None:
        cut = ""
        if made.bars_usual_mm and made.bars_mm < made.bars_usual_mm - 0.01:
            cut = (
                f", cut from {made.bars_usual_mm:.1f}: a till reads them from fewer "
                "sides"
            )
        sizes = f"a module of {made.module_mm:g} mm, {made.bars_mm:.1f} mm high{cut}"
        typer.echo(f"Bars: {sizes}. Their sizes are from memory: try one at your till.")
    typer.echo(f"wrote {beside}: what was printed; later: --stale {beside}")


def _draft(found: "Paper", size: "Size", to: Path, *, json: bool) -> bool:
    from slabwright.publish.print.draft import Draft, draft_pdf
    from slabwright.publish.print.fit import Refused, fitted

    made = fitted(found.face, size)
    refused = ""
    if isinstance(made, Refused):
        refused = f"{made.mistake.what} {made.mistake.do}"
    so_far = None if isinstance(made, Refused) else made
    pdf = draft_pdf(
        Draft(
            found.label,
            found.face,
            found.waited,
            found.mistakes,
            found.asks,
            so_far,
            refused,
        )
    )
    _write(to, pdf)
    if json:
        from slabwright.publish.print.record import done_json

        desk.print_json(done_json((str(to),), found.waits, None))
    else:
        typer.echo(f"wrote {to}: a draft, no {found.face.kind}; it waits for an answer")
        for one in found.waits:
            typer.echo(f"  {one}")
        if refused:
            typer.echo("  It would not fit as it is.")
    return True


def _allergen_card(
    found: "Paper", asked: "Asked", printing: Printing, *, json: bool
) -> bool:
    from slabwright.files.paper_size import read_size
    from slabwright.publish.print.allergen_card import allergen_card_pdf

    to = printing.to or Path("allergens.pdf")
    paper = read_size(printing.size or printing.paper or "A4")
    allergens = found.label.allergens
    _write(
        to,
        allergen_card_pdf(
            allergens, asked.on, found.face.revisions, found.face.name, paper
        ),
    )
    from slabwright.desk.label_print import Numbered

    record = _record(found, asked, Numbered(), paper, 1, None)
    beside = _write_record(to, record)
    if json:
        from slabwright.publish.print.record import done_json

        desk.print_json(done_json((str(to), str(beside)), (), record))
        return False
    typer.echo(f"wrote {to}: allergens of {found.face.slab}")
    if allergens.questions:
        count = len(allergens.questions)
        typer.echo(
            f"{count} question{'' if count == 1 else 's'} open; they stand on it."
        )
    typer.echo(f"wrote {beside}: what was printed; later: --stale {beside}")
    return False


def _laid(printing: Printing) -> "tuple[Size, Laid]":
    from slabwright.files.paper_size import AskedSheet, read_sheet, read_size
    from slabwright.label.sheet import laid

    size = read_size(printing.size) if printing.size else None
    if size is None and printing.is_ticket and not printing.sheet:
        size = read_size(_TICKET_SIZE)
    asked = AskedSheet(printing.sheet, printing.paper, printing.margins, printing.gaps)
    if not asked.is_asked:
        if printing.paper:
            what = "A paper is of a sheet, and no sheet is asked for."
            raise FileError(Mistake(what, "Add --sheet 3x7.", Where(field="paper")))
        if size is None:
            what = "Nothing says how large the label is."
            do = "Measure it: --size 60x40, or a sheet of them: --sheet 3x7."
            raise FileError(Mistake(what, do, Where(field="size")))
        copies = 1 if printing.copies is None else printing.copies
        return size, laid(size, copies, None, printing.start)
    size, sheet = read_sheet(asked, size)
    full = max(sheet.count - printing.start + 1, 1)
    count = full if printing.copies is None else printing.copies
    return size, laid(size, count, sheet, printing.start)


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
    from slabwright.desk.label_print import revisions_of

    path = Path(card)
    is_file = card != "-" and path.is_file()
    return revisions_of(
        path.read_bytes() if is_file else opened.read.text, opened.folder
    )


def _record(
    found: "Paper",
    asked: "Asked",
    numbered: "Numbered",
    size: "Size",
    copies: int,
    x_mm: float | None,
) -> "Printed":
    from slabwright.label.printed import FORMAT, Printed

    return Printed(
        FORMAT, asked.on, found.face, found.label.order.nation, asked.made,
        asked.frozen, asked.thawed, asked.unless, asked.surface_cm2, numbered.item,
        numbered.code, numbered.value, bool(found.face.nutrition), size.width_mm,
        size.height_mm, copies, x_mm,
    )  # fmt: skip


def _write_record(to: Path, record: "Printed") -> Path:
    beside = Path(f"{to}.json") if to.suffix == ".json" else to.with_suffix(".json")
    from slabwright.publish.print.record import printed_json

    _write(beside, desk.json_text(printed_json(record)).encode())
    return beside


def _write(path: Path, data: bytes) -> None:
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(data)
    except OSError as error:
        what = f"'{path}' can't be written: {error.strerror}."
        raise FileError(Mistake(what, "Name another place.")) from error
