"""Saves revision after revision and says each number, until somebody kills it."""

import sys

from slabwright.store import kitchens, revisions
from slabwright.store.engine import open_store, writing
from tests.store.kitchen import DAY, a_card, later


def text_of(number: int) -> str:
    """What revision `number` says: long enough to spread over pages."""
    return f"slab Lantern Walk\n# {number}\n" * 400


def main(url: str, most: int) -> None:
    """Save until `most`; a number is said only once its revision is kept."""
    store = open_store(url)
    with writing(store) as c:
        kitchen = kitchens.add(c, "Harbour", DAY).id
        card = a_card(c, kitchen, text=text_of(1)).id
    for number in range(1, most):
        sys.stdout.write(f"{number}\n")
        sys.stdout.flush()
        with writing(store) as c:
            text = text_of(number + 1)
            revisions.save(c, kitchen, card, text, later(number), based_on=number)
    sys.stdout.write(f"{most}\n")


if __name__ == "__main__":
    main(sys.argv[1], int(sys.argv[2]))
