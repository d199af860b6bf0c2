"""The kitchen: country, measures, tins, vessels, scales, places and people."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction
from typing import Literal

from slabwright.errors import Span
from slabwright.quantity.units import Regime
from slabwright.slab.tin import Tin


@dataclass(frozen=True, slots=True)
class Scale:
    """A scale: how far it weighs and in what steps [g]."""

    to_g: float
    step_g: float


@dataclass(frozen=True, slots=True)
class Vessel:
    """A pan, a bowl, a mixer."""

    name: str
    litres: float | None = None
    across_cm: float | None = None
    empty_g: float | None = None


@dataclass(frozen=True, slots=True)
class Cutter:
    """A roller with wheels in a row: how far apart they can be set [mm]."""

    name: str
    wheels: int
    from_mm: float
    to_mm: float


@dataclass(frozen=True, slots=True)
class Place:
    """An oven, a ring, a fridge, a freezer or a shelf."""

    name: str
    what: Literal["oven", "ring", "fridge", "freezer", "shelf"]
    temperature_C: float | None = None
    shelves: int | None = None
    shelf_mm: tuple[float, float] | None = None
    power_kW: float | None = None
    has_fan: bool | None = None
    note: str = ""


@dataclass(frozen=True, slots=True)
class Shift:
    """When somebody works, in minutes from midnight."""

    days: tuple[str, ...]
    from_minute: int
    to_minute: int


@dataclass(frozen=True, slots=True)
class Person:
    """Somebody who works here."""

    name: str
    shifts: tuple[Shift, ...] = ()


@dataclass(frozen=True, slots=True)
class Codes:
    """The numbers that this business may put under a bar code."""

    company_prefix: str = ""
    """Digits that it was allocated; empty without any."""
    in_store: tuple[str, ...] = ()
    """Beginnings that it uses inside its own shop: `20` to `29`, or `02`."""
    form: str = ""
    """How a number with a price or weight in it is laid out: `20IIIIIVPPPPC`."""


@dataclass(frozen=True, slots=True)
class Told:
    """What a making bears beside its ingredients, as its maker tells it."""

    kind: Literal["hands", "oven", "energy", "money"]
    low: Decimal
    """Minutes of hands or of the oven, kWh, or money in the kitchen's currency."""
    high: Decimal
    per: Literal["batch", "tray", "piece", "box"] = "batch"
    """A batch is one making, of however many trays."""
    what: str = ""
    """What it is for, in the maker's words."""
    text: str = ""
    span: Span | None = None
    """On the card; None if the kitchen's file says it."""

    @property
    def facts(self) -> dict[str, object]:
        """What it says, without its place."""
        names = ("kind", "low", "high", "per", "what", "text")
        return {name: getattr(self, name) for name in names}


@dataclass(frozen=True, slots=True)
class TaxRule:
    """What the shop has decided about tax, from a day on, and why."""

    rate: Fraction | None
    """Share of the price before tax, 0 to 1; None: not registered, charges none."""
    from_day: date
    reason: str
    ways: tuple[str, ...] = ()
    """Ways of selling for which it holds; empty for all."""
    eaten: Literal["", "here", "away"] = ""
    """Eaten in or taken away; empty for both."""
    slabs: tuple[str, ...] = ()
    """Slabs for which it holds; empty for all."""


@dataclass(frozen=True, slots=True)
class MakersLine:
    """Under what a piece must not fall: a margin, a mark-up, or so much money left."""

    kind: Literal["margin", "mark-up", "left"]
    value: Fraction
    """A share (0.6 is 60 %), or money for what is sold."""
    text: str = ""


@dataclass(frozen=True, slots=True)
class Shop:
    """How the shop prices what it makes; each can be left out, and is asked then."""

    line: MakersLine | None = None
    ends: tuple[Decimal, ...] = ()
    """How its prices end: 0.20, 0.50, 0.95."""
    told: tuple[Told, ...] = ()
    """What every slab bears, whatever its card says."""
    tax: tuple[TaxRule, ...] = ()


@dataclass(frozen=True, slots=True)
class Kitchen:
    """Everything about a kitchen that a figure may lean on; all can be left out."""

    name: str = ""
    address: str = ""
    """Of the business, as it stands on a label."""
    phone: str = ""
    nation: str = ""
    """Within the United Kingdom, where rules differ; empty if it isn't said."""
    codes: Codes = Codes()
    country: str = "GB"
    currency: str = "GBP"
    eggs: str = "medium"
    spoons: Regime = "metric"
    altitude_m: float = 0.0
    probe_in_boiling_water_C: float | None = None
    scales: tuple[Scale, ...] = (Scale(5000.0, 1.0),)
    labour_per_hour: Decimal | None = None
    electricity_per_kWh: Decimal | None = None
    waste_share: float = 0.0
    knife_mm: float = 0.0
    level_mm: float | None = None
    """How much higher one side of a slab stands; None for what is usual."""
    knife_off_mm: float | None = None
    """How far a stroke lies off its line, one standard deviation; None for usual."""
    cutters: tuple[Cutter, ...] = ()
    tins: tuple[tuple[str, Tin], ...] = ()
    vessels: tuple[Vessel, ...] = ()
    places: tuple[Place, ...] = ()
    people: tuple[Person, ...] = ()
    shop: Shop = Shop()
    is_said: bool = False
    """Whether a kitchen file said any of it."""

    def tin(self, name: str) -> Tin | None:
        """The kitchen's own tin of this name."""
        plain = " ".join(name.casefold().split())
        return next((t for n, t in self.tins if n.casefold() == plain), None)

    def vessel(self, name: str) -> Vessel | None:
        """The kitchen's vessel of this name."""
        plain = " ".join(name.casefold().removeprefix("the ").split())
        return next((v for v in self.vessels if v.name.casefold() == plain), None)

    def scale_for(self, grams: float) -> Scale | None:
        """The finest scale that can carry this much; None if none can."""
        able = [scale for scale in self.scales if grams <= scale.to_g]
        return min(able, key=lambda scale: scale.step_g, default=None)
