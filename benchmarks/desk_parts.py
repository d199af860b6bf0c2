"""What following a card is made of, within the app's own process."""

import gc

from benchmarks.cards import DEMO, card
from benchmarks.clock import Taken, side_by_side
from benchmarks.one_slab import DAY
from slabwright.desk.worked import Desk
from slabwright.files.folder import open_folder
from slabwright.web.desk_view import DeskView
from slabwright.web.house import environment

_FIRST = 1000
"""Numbers of cards from here on have been worked out before."""


def desk_parts(rounds: int = 20) -> tuple[Taken, ...]:
    """First: a card that was typed to every part of the page that hangs on it."""
    desk = Desk(1, open_folder(DEMO), DAY)
    follow = environment().get_template("_follow.html")
    before = desk.worked(card()).spec
    warm = 3
    typed = [desk.worked(card(_FIRST + n)) for n in range(rounds + warm)]
    views = [DeskView(one, before) for one in typed]
    for view in views:
        follow.render(view=view)

    def fresh(number: int) -> DeskView:
        """One of which nothing was shown yet."""
        return DeskView(typed[number], before)

    def whole(number: int) -> str:
        return follow.render(view=DeskView(desk.worked(card(1 + number)), before))

    gc.freeze()  # or clearing away before every call takes longer than all calls
    return side_by_side(
        {
            "card to the page's parts": whole,
            "  read and worked out": lambda n: desk.worked(card(_FIRST * 2 + n)),
            "  section drawn": lambda n: fresh(n).section,
            "  piece drawn": lambda n: fresh(n).mini,
            "  plan drawn": lambda n: fresh(n).plan,
            "  compared": lambda n: fresh(n).moved,
            "  said beside each line": lambda n: fresh(n).notes,
            "  template, all that made": lambda n: follow.render(view=views[n]),
        },
        rounds=rounds,
        warm=warm,
    )
