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
    here = papers.latest(put.c, put.kitchen_id, name)
    known = {_said(one) for one in papers.history(put.c, put.kitchen_id, name)}
    last: Paper | None = None
    with put.refusing(form.paper_history_path(name)):
        last = _added(put, history, known)
    with put.refusing(name):
        is_new = False
        if name in put.waiting:
            wanted = form.decoded(put.waiting[name], name)
            is_new = wanted not in known
            (put.came if is_new else put.unchanged).append(name)
            if is_new:
                _on_top(put, name, wanted)
        if not is_new and here is not None and last is not None:
            _on_top(put, name, _said(here))  # what came is older than ours
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
    put: Putting, history: tuple[Paper, ...], known: set[tuple[str, bool]]
) -> Paper | None:
    """Add what was never said here, as it came; the last of it, if there was any."""
    last: Paper | None = None
    for paper in history:
        path = f"{form.paper_history_path(paper.name)}/{paper.number:04}"
        both = (f"{path}.paper", f"{path}.yaml")
        if _said(paper) in known:
            put.unchanged.extend(both)
            continue
        number = _number(put, paper.name) + 1
        last = papers.add(put.c, put.kitchen_id, replace(paper, number=number))
        put.came.extend(both)
    return last


def _on_top(put: Putting, name: str, text: tuple[str, bool]) -> None:
    """This text as the latest, unless it is."""
    before = papers.latest(put.c, put.kitchen_id, name)
    if before is None or _said(before) != text:
        papers.save(
            put.c,
            put.kitchen_id,
            name,
            text[0],
            put.who,
            based_on=_number(put, name),
            has_bom=text[1],
        )


def _number(put: Putting, name: str) -> int:
    """Of a paper's latest revision; 0 where it has none."""
    latest = papers.latest(put.c, put.kitchen_id, name)
    return latest.number if latest else 0
