"""Putting in a kitchen's own files, with or without their histories."""

from dataclasses import replace

from slabwright.errors import Mistake, Where
from slabwright.store import folder_files as form
from slabwright.store import papers
from slabwright.store.errors import StoreError
from slabwright.store.folder_put import Putting
from slabwright.store.papers import Paper


def put_paper(put: Putting, name: str) -> None:
    """Take in what the folder has of this paper."""
    history = _history(put, name)
    data = put.waiting.get(name)
    with put.refusing(name):
        here = papers.latest(put.c, put.kitchen_id, name)
        known = {_said(one) for one in papers.history(put.c, put.kitchen_id, name)}
        wanted = None if data is None else form.decoded(data, name)
        is_new = wanted is not None and wanted not in known
        last = _added(put, history, known, here)
        if wanted is not None and is_new:
            last = _on_top(put, name, wanted, last)
        elif here is not None and last is not None:
            _on_top(put, name, _said(here), last)  # what came is older than ours
        if data is not None:
            (put.came if is_new else put.unchanged).append(name)
    put.take(name)


def _said(paper: Paper) -> tuple[str, bool]:
    return paper.text, paper.has_bom


def _history(put: Putting, name: str) -> tuple[Paper, ...]:
    """All that a paper was; nothing, and refused, if any of it is amiss."""
    folder = form.paper_history_path(name)
    files = put.files_in(folder)
    numbers = sorted({n for file in files if (n := form.number_in(file))})
    paths = [f"{folder}/{file}" for file in files if form.number_in(file)]
    put.take(*paths)
    try:
        return tuple(_read(name, number, files) for number in numbers)
    except StoreError as error:
        put.refuse(folder, *error.mistakes)
        return ()


def _read(name: str, number: int, files: dict[str, bytes]) -> Paper:
    for end in ("paper", "yaml"):
        if f"{number:04}.{end}" not in files:
            what = f"The history lacks {number:04}.{end}."
            do = "Put the history back as it was exported, or leave it out."
            folder = form.paper_history_path(name)
            raise StoreError(Mistake(what, do, Where(folder)))
    text, data = files[f"{number:04}.paper"], files[f"{number:04}.yaml"]
    return form.read_paper(name, number, text, data)


def _added(
    put: Putting,
    history: tuple[Paper, ...],
    known: set[tuple[str, bool]],
    here: Paper | None,
) -> Paper | None:
    """Add what was never said here, as it came; the last of it, if there was any.

    A kitchen without this paper takes the whole history, twice the same text too.
    """
    number, last = here.number if here else 0, None
    for paper in history:
        path = f"{form.paper_history_path(paper.name)}/{paper.number:04}"
        both = (f"{path}.paper", f"{path}.yaml")
        if here is not None and _said(paper) in known:
            put.unchanged.extend(both)
            continue
        number += 1
        last = papers.add(put.c, put.kitchen_id, replace(paper, number=number))
        put.came.extend(both)
    return last


def _on_top(
    put: Putting, name: str, text: tuple[str, bool], last: Paper | None
) -> Paper:
    """This text as the latest, unless it is."""
    before = papers.latest(put.c, put.kitchen_id, name)
    if before is not None and _said(before) == text:
        return before
    number = before.number if before else 0
    return papers.save(
        put.c,
        put.kitchen_id,
        name,
        text[0],
        put.who,
        based_on=number,
        has_bom=text[1],
    )
