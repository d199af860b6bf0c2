"""What the heads of two cards say otherwise: tin, cuts, keeping, price, notes."""

from collections.abc import Iterator, Sequence

from slabwright.finding import Ask
from slabwright.spec.card import Card, Dated, Sold
from slabwright.spec.compare_blocks import note_entry
from slabwright.spec.compare_meaning import meaning, of_cut, of_keep, plain
from slabwright.spec.compare_pairs import Pair
from slabwright.spec.compare_said import Said, differs, said_of_lists
from slabwright.spec.compare_twins import Entry
from slabwright.spec.specification import Specification


def said_of_heads(
    before: Specification, after: Specification, layers: Sequence[Pair]
) -> Iterator[Said]:
    """What stands above the layers otherwise, and the layers' own order.

    Args:
        before: the slab of the one card.
        after: that of the other.
        layers: which layer is which.
    """
    name, old, new = after.name, before.card, after.card
    yield from differs(name, "name", old.name, new.name)
    yield from differs(name, "card", _what(old), _what(new))
    yield from _tin(before, after)
    for entries in (_cuts, _keeps):
        yield from said_of_lists(name, entries(old), entries(new))
    yield from said_of_lists(name, _sales(old), _sales(new))
    yield from said_of_lists(name, _costs(old), _costs(new))
    yield from differs(name, "called", old.called, new.called)
    pictured = (", ".join(card.pictured) for card in (old, new))
    yield from differs(name, "pictured", *pictured)
    if _of_dated(old.dated) != _of_dated(new.dated):
        said = (plain(card.dated.text) if card.dated else "" for card in (old, new))
        yield Said(name, "dated", *said)
    yield from differs(name, "proved", str(old.proved or ""), str(new.proved or ""))
    yield from said_of_lists(
        name, *([note_entry(text) for text in card.notes] for card in (old, new))
    )
    if not (old.is_pasted or new.is_pasted):
        yield from said_of_lists(name, *(_asks(card) for card in (old, new)))
    yield from _order(before, after, layers)


def _what(card: Card) -> str:
    return "component" if card.is_component else "slab"


def _tin(before: Specification, after: Specification) -> Iterator[Said]:
    said = before.card.tin, after.card.tin
    tins = [one.tin if one else None for one in said]
    if meaning(tins[0]) == meaning(tins[1]):
        return
    words = [tin.describe() if tin else "" for tin in tins]
    if words[0] == words[1]:  # closer than it is told in words
        words = [plain(one.text) if one else "" for one in said]
    yield Said(after.name, "tin", *words)


def _cuts(card: Card) -> list[Entry]:
    return [Entry("cut", of_cut(one), plain(one.text)) for one in card.cuts]


def _keeps(card: Card) -> list[Entry]:
    return [Entry("keep", of_keep(one), plain(one.text)) for one in card.keeps]


def _asks(card: Card) -> list[Entry]:
    """Questions that stand on the card: deleted, they are answered."""

    def said(ask: Ask) -> tuple[str, ...]:
        readings = (f"{one.text}: {one.does}" for one in ask.readings)
        return tuple(map(plain, (ask.question, *readings)))

    return [Entry("question", said(ask), " · ".join(said(ask))) for ask in card.asks]


def _of_dated(dated: Dated | None) -> tuple[object, ...]:
    """The same however it is worded: 2 weeks are 14 days."""
    if dated is None:
        return ()
    return dated.kind, dated.days, dated.months, dated.counts_bake_day


def _sales(card: Card) -> list[Entry]:
    return [Entry("sold", _of_sold(one), _sold(one)) for one in card.sales]


def _costs(card: Card) -> list[Entry]:
    return [
        Entry("costs", (c.kind, c.low, c.high, c.per, plain(c.what)), plain(c.text))
        for c in card.costs
    ]


def _of_sold(sold: Sold) -> tuple[object, ...]:
    return plain(sold.how), sold.price, sold.from_day, sold.net_g


def _sold(sold: Sold) -> str:
    price = "" if sold.price is None else f"{sold.price:.2f}"
    net = "" if sold.net_g is None else f"net {sold.net_g:g} g"
    since = "" if sold.from_day is None else f"from {sold.from_day}"
    return ", ".join(part for part in (plain(sold.how), net, price, since) if part)


def _order(
    before: Specification, after: Specification, layers: Sequence[Pair]
) -> Iterator[Said]:
    """One entry, where layers that stayed lie in another order."""
    at = {id(layer): n for n, layer in enumerate(after.layers)}
    stayed = [at[id(one.after)] for one in layers if one.before and one.after]
    if stayed != sorted(stayed):
        names = (", ".join(one.name for one in spec.layers) for spec in (before, after))
        yield Said(after.name, "order of layers", *names)
