"""Every slab of a kitchen folder at once, with a summary to read over tea."""

import json
import textwrap
from pathlib import Path
from time import perf_counter
from typing import TYPE_CHECKING

import typer

from slabwright.cli import desk
from slabwright.errors import FileError, Mistake

if TYPE_CHECKING:
    from slabwright.files.folder import Folder
    from slabwright.label.paper.face import Kind
    from slabwright.spec.specification import Specification
    from slabwright.spec.work_out import Order


def work_out_folder(folder: Path, out: Path) -> None:
    """Work out each card, write its drawings and figures, print the summary.

    Raises:
        FileError: if there are no cards, or the folder can't be written to.
        typer.Exit: once all is written, if a card has mistakes or is stopped.
    """
    from slabwright.files.folder import open_folder
    from slabwright.files.raw import read_text
    from slabwright.publish.summary import summary_text
    from slabwright.spec.work_out import Order, work_out

    begun = perf_counter()
    cards = sorted((folder / "slabs").glob("*.card"))
    if not cards:
        what = f"'{folder}' has no cards in slabs/."
        raise FileError(Mistake(what, "Name a kitchen folder, such as demo."))
    home = open_folder(folder)
    desk.tell(home.mistakes)
    order = Order(home.kitchen, home.book, home.prices, desk.today())
    specs = []
    for card in cards:
        read = home.read(read_text(card))
        spec = work_out(read.card, order, read.mistakes)
        desk.tell(spec.errors)
        specs.append(spec)
        _write(spec, out / card.stem)
        _write_sheets(spec, card, order, out)
        _write_labels(spec, card, home, out)
    _write_matrix(specs, home, out)
    typer.echo(summary_text(specs, home.kitchen, desk.columns(), desk.bold), nl=False)
    took = perf_counter() - begun
    said = (
        "Bench sheets, tickets, allergen cards, drawings, figures and text of "
        f"{len(specs)} slabs are in {out}/ ({took:.1f} s)."
    )
    typer.echo(textwrap.fill(said, desk.columns(), break_long_words=False))
    mistakes = bool(home.mistakes) or any(spec.errors for spec in specs)
    desk.end(mistakes=mistakes, stops=any(desk.stopping(s.findings) for s in specs))


def _write(spec: "Specification", stem: Path) -> None:
    from slabwright.publish.draw import drawn
    from slabwright.publish.drawing.cut_face import cut_face_svg
    from slabwright.publish.drawing.section import section_svg
    from slabwright.publish.json_form import spec_json
    from slabwright.publish.terminal import Manner, spec_text

    picture = drawn(spec)
    cut = {}
    if spec.cut is not None:
        from slabwright.publish.draw_cut import drawn_plan
        from slabwright.publish.drawing.cut_plan import cut_plan_svg

        plan = drawn_plan(spec, spec.cut)
        cut = {".plan.svg": cut_plan_svg(plan, theme="paper")}
    texts = {
        **cut,
        ".svg": section_svg(picture),
        ".paper.svg": section_svg(picture, theme="paper"),
        ".face.svg": cut_face_svg(picture),
        ".json": json.dumps(spec_json(spec), ensure_ascii=False, indent=1) + "\n",
        ".txt": spec_text(spec, picture, Manner(full=True)),
    }
    try:
        stem.parent.mkdir(parents=True, exist_ok=True)
        for end, text in texts.items():
            stem.with_name(stem.name + end).write_text(text, encoding="utf-8")
    except OSError as error:
        what = f"'{stem.parent}' can't be written to: {error.strerror}."
        raise FileError(Mistake(what, "Name another folder with --out.")) from error


def _write_sheets(spec: "Specification", card: Path, order: "Order", out: Path) -> None:
    """The bench sheet for the slab's own tin, and for each other one that it names."""
    from slabwright.cli.sheet import revision, write
    from slabwright.formula.book import slug
    from slabwright.spec.bench import Making, bench_sheet
    from slabwright.spec.friendly_lines import Asked
    from slabwright.spec.scaled_choices import offers
    from slabwright.spec.scaling import scale
    from slabwright.spec.wanted import NamedTin, ScalingError, Wanted

    said = revision(str(card))
    own = bench_sheet(spec, Making(desk.today(), revision=said))
    write(own, out / f"{card.stem}.sheet.pdf", None)
    for cut in spec.other_cuts:
        try:
            wanted = Wanted((NamedTin(cut.tin_name, cut.tin),))
            scaled = scale(spec, wanted, order)
        except ScalingError:
            continue  # a depth is not known: the card's own findings say which
        found = offers(scaled.making, Asked(), order).offers
        made = found[0].spec if found else scaled.making
        words = f"card × {scaled.multiplier.number:.4g}"
        sheet = bench_sheet(made, Making(desk.today(), words=words, revision=said))
        name = slug(f"{card.stem} {cut.tin_name}")
        write(sheet, out / f"{name}.sheet.pdf", None)


def _write_labels(spec: "Specification", card: Path, home: "Folder", out: Path) -> None:
    """The ticket for the counter, or the draft of it, and the allergen card."""
    from slabwright.cli.label_print import revisions_at
    from slabwright.desk.label import Asked
    from slabwright.desk.label_paper import PaperAsked, done
    from slabwright.desk.label_print import paper_of

    today = desk.today()
    kinds: tuple[Kind, ...] = ("ticket", "allergen card")
    revisions = revisions_at(card.read_bytes(), home.path)
    for kind in kinds:
        try:
            paper = paper_of(spec, home, Asked(today), kind, revisions)
            made = done(paper, PaperAsked(), today)
        except FileError:
            continue  # not sold loose, or not sold yet: slabwright label says why
        draft = ".draft" if made.is_draft else ""
        path = out / f"{card.stem}.{kind.replace(' ', '-')}{draft}.pdf"
        path.write_bytes(made.pdf)


def _write_matrix(specs: "list[Specification]", home: "Folder", out: Path) -> None:
    """The counter against the 14, for a spreadsheet."""
    from slabwright.desk.allergens import allergens_of_counter
    from slabwright.publish.allergen_matrix import matrix_csv

    found = allergens_of_counter(specs, home, desk.today())
    (out / "allergens.csv").write_text(matrix_csv(found), "utf-8", newline="")
