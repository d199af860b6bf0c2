"""Every kitchen that is open in this process: read anew when its papers change."""

from collections.abc import Callable
from datetime import date
from threading import Lock

import sqlalchemy as sa

from slabwright.desk.worked import Desk, open_desk
from slabwright.files.folder import PAPERS
from slabwright.files.raw import Text
from slabwright.store import cards, papers


class Desks:
    """Opens kitchens and keeps them open while nothing in them changes."""

    def __init__(self, today: Callable[[], date]) -> None:
        self._today = today
        self._open: dict[int, tuple[int, Desk]] = {}
        self._lock = Lock()

    def desk(self, connection: sa.Connection, kitchen_id: int) -> Desk:
        """This kitchen as it stands now."""
        mark = cards.revision_mark(connection, kitchen_id)
        day = self._today()
        with self._lock:
            found = self._open.get(kitchen_id)
        if found is not None and found[0] == mark and found[1].day == day:
            return found[1]
        desk = _opened(connection, kitchen_id, day)
        with self._lock:
            self._open[kitchen_id] = (mark, desk)
        return desk


def _opened(connection: sa.Connection, kitchen_id: int, day: date) -> Desk:
    kept = (papers.latest(connection, kitchen_id, name) for name in PAPERS)
    texts = {
        paper.name: Text(paper.text, paper.name, paper.has_bom)
        for paper in kept
        if paper is not None
    }
    components = [
        (row.stem, Text(row.text, f"components/{row.stem}.card", row.has_bom))
        for row in cards.all_texts(connection, kitchen_id, "component")
    ]
    return open_desk(kitchen_id, texts, components, day)
