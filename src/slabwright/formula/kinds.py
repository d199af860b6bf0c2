"""Kinds of layer: how each looks, what a millilitre weighs, what it usually loses.

The table `kinds.csv` gives each figure its source. Densities and losses are assumed
ones: a ruler and a scale make them the maker's own.
"""

import csv
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Final, Literal

from rapidfuzz import process

from slabwright.source import Source, sources

_NEARLY: Final = 88.0
"""Score from 0 to 100 above which two names are taken for one misspelt. Our own."""


@dataclass(frozen=True, slots=True)
class Likely:
    """A typical value and the range around it."""

    low: float
    value: float
    high: float
    source: Source
    note: str = ""


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of layer."""

    name: str
    also: tuple[str, ...]
    texture: str
    """The texture of the drawing."""
    density_g_ml: Likely
    loses: Literal["water", "mix"]
    """Water in pan or oven, or mix that stays on bowl and tools."""
    loss_share: Likely
    """Share of the mass that usually goes."""
    water_share: Likely | None
    """Share of water in what is usually left, where that is what the cook aims at."""
    thin_mm: float
    """Under this it drags, tears or breaks. Common practice, no source."""


@cache
def kinds() -> Mapping[str, Kind]:
    """Every kind by its one name."""
    text = files("slabwright.formula").joinpath("kinds.csv").read_text("utf-8")
    return {row["kind"]: _kind(row) for row in csv.DictReader(text.splitlines())}


def kind_named(name: str) -> Kind | None:
    """The kind of this name, or of a name that means the same."""
    return _by_name().get(" ".join(name.casefold().split()))


def is_like_a_kind(words: str) -> bool:
    """Whether these words are nearly a kind's name, or just one."""
    plain = " ".join(words.casefold().split())
    return bool(process.extractOne(plain, _by_name().keys(), score_cutoff=_NEARLY))


@cache
def _by_name() -> Mapping[str, Kind]:
    found = {also: kind for kind in kinds().values() for also in kind.also}
    found.update(
        {texture: kind for kind in kinds().values() for texture in [kind.name]}
    )
    return found


def _kind(row: Mapping[str, str]) -> Kind:
    density = Likely(
        float(row["density_low"]),
        float(row["density"]),
        float(row["density_high"]),
        sources()[row["density_source"]],
        row["density_note"],
    )
    loss_source, note = sources()[row["loss_source"]], row["loss_note"]
    loss = _likely(row, "share", loss_source, note)
    water = _likely(row, "water", loss_source, note) if row["water"] else None
    loses: Literal["water", "mix"] = "water" if row["loses"] == "water" else "mix"
    thin_mm = float(row["deepest_thin_mm"])
    also = tuple(row["also"].split("|"))
    return Kind(row["kind"], also, row["texture"], density, loses, loss, water, thin_mm)


def _likely(row: Mapping[str, str], name: str, source: Source, note: str) -> Likely:
    low, value, high = (float(row[f"{name}{end}"]) for end in ("_low", "", "_high"))
    return Likely(low, value, high, source, note)


# --- guessing --------------------

_BY_NAME: Final = (
    ("curd", r"(?:pastry|confectioner.?s.?) (?:cream|custard)"),
    ("gelatine jelly", r"panna ?cotta"),
    ("condensed milk caramel", r"condensed.*caramel|caramel.*condensed|banoffee"),
    ("brittle", r"brittle|praline crunch|croquant|honeycomb|cinder toffee"),
    ("crumble", r"crumble|streusel"),
    ("frangipane", r"frangipan|almond cream|bakewell|almond sponge"),
    ("brownie", r"brownie"),
    ("cheesecake", r"cheesecake"),
    ("marshmallow", r"marshmallow|mallow"),
    ("soft meringue", r"(?:italian|swiss|soft|torched) meringue|meringue topping"),
    ("meringue", r"meringue|pavlova"),
    ("nougat", r"nougat|torrone"),
    ("buttercream", r"buttercream|frosting|butter icing"),
    ("mousse", r"mousse|bavarois|parfait"),
    ("whipped cream", r"whipped|chantilly"),
    ("oat base", r"flapjack|granola|oat base|oat bar|oaty base"),
    ("crumb base", r"crumb base|biscuit base|crushed biscuit|crumb$|digestive"),
    (
        "crisped cereal",
        r"crisp(?:ed|y)? (?:rice|cereal)|rice crisp|puffed|feuillet|cornflake",
    ),
    (
        "pressed biscuit",
        r"shortbread|shortcrust|sablé|sable|biscuit|cookie|pastry|sandy base",
    ),
    ("ganache", r"ganache|truffle"),
    ("glaze", r"glaze|tempered|chocolate (?:top|coat|layer)|^chocolate$|mirror"),
    ("icing", r"icing"),
    ("fudge", r"fudge|tablet|penuche"),
    ("fondant", r"fondant|marzipan|almond paste"),
    ("caramel", r"caramel|toffee|butterscotch|dulce"),
    ("curd", r"curd|custard|crème pât|creme pat|pastry cream|set cream"),
    ("jam", r"\bjam\b|marmalade|conserve"),
    ("jelly", r"jelly|gelée|gelee|pâte de fruit|pate de fruit|fruit paste"),
    ("compote", r"compote|poached|stewed|apple layer|fruit filling"),
    ("seed paste", r"tahini|sesame|poppy|seed (?:paste|layer)|halva"),
    ("coconut", r"coconut|macaroon"),
    ("pressed nut", r"\bnuts?\b|hazelnut|almond|pistachio|walnut|pecan|peanut|date"),
    ("sponge", r"sponge|cake|blondie|génoise|genoise|gingerbread|parkin|loaf"),
    ("whipped cream", r"\bcream\b"),
)  # fmt: skip
"""Words in a layer's name that tell its kind; the first that fits."""


_NEARER: Final = {
    "caramel": (("condensed milk caramel", r"condensed", r"cream"),),
}
"""Kinds whose lines tell a nearer one: which, what they hold, what speaks against."""


def guess(name: str, ingredient_ids: Iterable[str]) -> tuple[Kind, str]:
    """The likely kind of a layer that does not say, and what told it.

    Args:
        name: the layer's name.
        ingredient_ids: larder ids of its lines.

    Returns:
        The kind, `plain` if nothing tells, and in words what it was guessed from.
    """
    plain, lines = name.casefold(), " ".join(ingredient_ids)
    for kind, pattern in _BY_NAME:
        if re.search(pattern, plain):
            for nearer, holds, against in _NEARER.get(kind, ()):
                if re.search(holds, lines) and not re.search(against, lines):
                    return kinds()[nearer], "guessed from its name and lines"
            return kinds()[kind], "guessed from its name"
    told = _by_lines(lines)
    if told:
        return kinds()[told], "guessed from its lines"
    return kinds()["plain"], "nothing tells its kind"


_BY_LINES: Final = (
    ("jelly", r"pectin", r"flour"),
    ("gelatine jelly", r"gelatine|agar", r"flour|cream|egg-white"),
    ("marshmallow", r"gelatine.*(?:sugar|syrup)|egg-white.*sugar", r"flour|cream"),
    ("crisped cereal", r"crisp|puffed|cornflake|feuilletine", r"flour"),
    ("oat base", r"oats", r"wheat-flour|plain-flour|egg"),
    ("crumb base", r"biscuit", r"flour|egg"),
    ("sponge", r"flour.*egg|egg.*flour|self-raising", r"^$"),
    ("pressed biscuit", r"flour.*butter|butter.*flour|semolina", r"whole-egg"),
    ("ganache", r"chocolate.*cream|cream.*chocolate", r"flour|egg"),
    ("condensed milk caramel", r"condensed", r"flour|egg"),
    ("curd", r"egg.*(?:juice|puree|cream|milk)|(?:juice|puree|milk).*egg", r"flour"),
    ("caramel", r"(?:sugar|syrup).*cream|cream.*(?:sugar|syrup)", r"flour|egg|choc"),
    ("fudge", r"sugar.*milk|milk.*sugar", r"flour|egg|chocolate"),
    ("glaze", r"chocolate|couverture", r"flour|egg|cream"),
    ("buttercream", r"butter.*icing|icing.*butter", r"flour|whole-egg"),
    ("whipped cream", r"cream", r"flour|egg|sugar.*sugar"),
    ("seed paste", r"tahini|sesame|seeds", r"flour"),
    ("pressed nut", r"nut|almond|dates|pistachio|pecan", r"flour|egg"),
    ("jam", r"jam|marmalade", r"flour|butter"),
    ("compote", r"apple|berries|berry|puree", r"flour|butter"),
)  # fmt: skip
"""Ingredients that tell a kind when its name does not, and those that speak against."""


def _by_lines(ids: str) -> str:
    for kind, pattern, against in _BY_LINES:
        if re.search(pattern, ids) and not re.search(against, ids):
            return kind
    return ""
