"""kitchen.yaml: country, measures, tins, vessels, scales, places and people."""

from collections.abc import Iterator, Sequence
from decimal import Decimal
from typing import Annotated, Any, Literal, cast

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, TypeAdapter

from slabwright.errors import FileError, GeometryError, Mistake, Where
from slabwright.files.card.sizes import lengths, read_tin
from slabwright.files.kitchen_codes import CodesFile, codes_of
from slabwright.files.kitchen_shop import ShopFile, shop_of
from slabwright.files.raw import Text
from slabwright.files.yaml_file import joined, read_sound
from slabwright.kitchen import Cutter, Kitchen, Person, Place, Scale, Shift, Vessel
from slabwright.quantity.units import Regime
from slabwright.slab.tin import Tin


def as_text(value: object) -> object:
    """A number as the text that it stood as: prices keep their pennies."""
    return str(value) if isinstance(value, int | float) else value


Money = Annotated[
    Decimal, BeforeValidator(as_text), Field(ge=0, le=100_000, allow_inf_nan=False)
]
Name = Annotated[str, Field(min_length=1, max_length=120)]
Clock = Annotated[str, Field(pattern=r"^([01]?\d|2[0-4])[:.]?[0-5]\d$")]
Nation = Literal["England", "Wales", "Scotland", "Northern Ireland"]
Day = Literal["mon", "tue", "wed", "thu", "fri", "sat", "sun"]


class Strict(BaseModel):
    """What a user's file may say and no more."""

    model_config = ConfigDict(extra="forbid", allow_inf_nan=False)


class _Scale(Strict):
    to_g: float = Field(gt=0, le=1e6)
    step_g: float = Field(gt=0, le=1000)


class _Tin(Strict):
    name: Name
    size: str = Field(min_length=1, max_length=200)


class _Vessel(Strict):
    name: Name
    litres: float | None = Field(None, gt=0, le=1000)
    across_cm: float | None = Field(None, gt=0, le=300)
    empty_g: float | None = Field(None, gt=0, le=1e5)


class _Cutter(Strict):
    name: Name
    wheels: int = Field(ge=2, le=50)
    from_mm: float = Field(gt=0, le=1000)
    to_mm: float = Field(gt=0, le=1000)


class _Place(Strict):
    name: Name
    temperature_C: float | None = Field(None, ge=-80, le=400)
    shelves: int | None = Field(None, ge=1, le=100)
    shelf: str | None = Field(None, max_length=100)
    fan: bool | None = None
    power_kW: float | None = Field(None, gt=0, le=100)
    note: str = Field("", max_length=500)


class _Shift(Strict):
    days: list[Day] = Field(default_factory=list)
    begins: Clock = Field(alias="from")
    ends: Clock = Field(alias="to")


class _Person(Strict):
    name: Name
    shifts: list[_Shift] = Field(default_factory=list)


class KitchenFile(Strict):
    """A kitchen as its file says it."""

    name: str = Field("", max_length=120)
    address: str = Field("", max_length=300)
    phone: str = Field("", max_length=60)
    country: str = Field("GB", pattern=r"^[A-Z]{2}$")
    nation: Nation | None = None
    currency: str = Field("GBP", pattern=r"^[A-Z]{3}$")
    eggs: Literal["small", "medium", "large", "very large"] = "medium"
    spoons: Literal["metric", "US", "AU"] = "metric"
    altitude_m: float = Field(0, ge=-450, le=6000)
    probe_in_boiling_water_C: float | None = Field(None, ge=80, le=115)
    scales: list[_Scale] = Field(default_factory=list, max_length=20)
    labour_per_hour: Money | None = None
    electricity_per_kWh: Money | None = None
    waste_share: float = Field(0, ge=0, lt=1)
    knife_mm: float = Field(0, ge=0, le=20)
    level_mm: float | None = Field(None, ge=0, le=50)
    knife_off_mm: float | None = Field(None, ge=0, le=20)
    cutters: list[_Cutter] = Field(default_factory=list, max_length=20)
    tins: list[_Tin] = Field(default_factory=list, max_length=200)
    vessels: list[_Vessel] = Field(default_factory=list, max_length=200)
    ovens: list[_Place] = Field(default_factory=list, max_length=50)
    rings: list[_Place] = Field(default_factory=list, max_length=50)
    fridges: list[_Place] = Field(default_factory=list, max_length=50)
    freezers: list[_Place] = Field(default_factory=list, max_length=50)
    shelves: list[_Place] = Field(default_factory=list, max_length=50)
    people: list[_Person] = Field(default_factory=list, max_length=200)
    codes: CodesFile = Field(default_factory=CodesFile)
    shop: ShopFile = Field(default_factory=ShopFile)


ADAPTER: TypeAdapter[KitchenFile] = TypeAdapter(KitchenFile)


def read_kitchen(text: Text) -> Kitchen:
    """The kitchen in this file.

    Raises:
        FileError: with every mistake in it.
    """
    kitchen, wrong = sound_kitchen(text)
    if wrong:
        raise FileError(*wrong)
    return kitchen


def sound_kitchen(text: Text) -> tuple[Kitchen, tuple[Mistake, ...]]:
    """The kitchen in this file as far as it is sound, and what is wrong in the rest.

    Raises:
        FileError: if nothing of it can be read.
    """
    said, unread = read_sound(text, ADAPTER, KitchenFile())
    tins = [(tin.name, _tin(tin, text.file, i)) for i, tin in enumerate(said.tins)]
    wrong = [mistake for _, mistake in tins if isinstance(mistake, Mistake)]
    for what in ("tins", "vessels", "cutters"):
        wrong.extend(_named_twice(getattr(said, what), what, text.file))
    for what in ("ovens", "rings", "fridges", "freezers", "shelves"):
        for number, place in enumerate(getattr(said, what)):
            if place.shelf and len(lengths(place.shelf)[0]) < len("xy"):
                where = Where(text.file, field=f"{what}.{number}.shelf")
                size = f"'{place.shelf}' is not the size of a shelf."
                wrong.append(Mistake(size, "Write it so: 60 x 40 cm.", where))
    for number, cutter in enumerate(said.cutters):
        if cutter.from_mm > cutter.to_mm:
            where = Where(text.file, field=f"cutters.{number}.from_mm")
            far = f"Its wheels stand from {cutter.from_mm:g} to {cutter.to_mm:g} mm."
            wrong.append(Mistake(far, "Write the closest setting first.", where))
    places = [
        _place(place, cast("Any", what.removesuffix("s").replace("shelve", "shelf")))
        for what in ("ovens", "rings", "fridges", "freezers", "shelves")
        for place in getattr(said, what)
    ]
    codes, wrong_codes = codes_of(said.codes, text.file)
    wrong.extend(wrong_codes)
    shop, wrong_shop = shop_of(said.shop, text.file)
    wrong.extend(wrong_shop)
    if said.nation and said.country != "GB":
        where = Where(text.file, field="nation")
        what = f"{said.nation} is not in the country {said.country}."
        wrong.append(Mistake(what, "Write country: GB, or leave nation out.", where))
    regime: Regime = said.spoons
    kitchen = Kitchen(
        name=said.name,
        address=" ".join(said.address.split()),
        phone=said.phone,
        country=said.country,
        nation=said.nation or "",
        codes=codes,
        shop=shop,
        currency=said.currency,
        eggs=said.eggs,
        spoons=regime,
        altitude_m=said.altitude_m,
        probe_in_boiling_water_C=said.probe_in_boiling_water_C,
        scales=tuple(Scale(s.to_g, s.step_g) for s in said.scales) or Kitchen().scales,
        labour_per_hour=said.labour_per_hour,
        electricity_per_kWh=said.electricity_per_kWh,
        waste_share=said.waste_share,
        knife_mm=said.knife_mm,
        level_mm=said.level_mm,
        knife_off_mm=said.knife_off_mm,
        cutters=tuple(
            Cutter(c.name, c.wheels, c.from_mm, c.to_mm)
            for c in said.cutters
            if c.from_mm <= c.to_mm
        ),
        tins=tuple((name, tin) for name, tin in tins if isinstance(tin, Tin)),
        vessels=tuple(
            Vessel(v.name, v.litres, v.across_cm, v.empty_g) for v in said.vessels
        ),
        places=tuple(places),
        people=tuple(_person(person) for person in said.people),
        is_said=True,
    )
    return kitchen, joined(unread, wrong)


def _named_twice(
    said: Sequence[_Tin | _Vessel | _Cutter], what: str, file: str
) -> Iterator[Mistake]:
    """Two of one name: a card that names it means the first."""
    seen: set[str] = set()
    for number, one in enumerate(said):
        plain = " ".join(one.name.casefold().split())
        if plain in seen:
            where = Where(file, field=f"{what}.{number}.name")
            twice = f"Two of the {what} are called '{one.name}'."
            yield Mistake(twice, "Give one of them another name.", where)
        seen.add(plain)


def _tin(said: _Tin, file: str, number: int) -> Tin | Mistake:
    where = Where(file, field=f"tins.{number}.size")
    try:
        tin = read_tin(said.size)
    except GeometryError as error:
        return Mistake(error.mistakes[0].what, error.mistakes[0].do, where)
    except ValueError:
        tin = None
    what = f"'{said.size}' is not the size of a tin."
    return tin or Mistake(what, "Write inner sizes: 57 x 37 x 4.5 cm.", where)


def _place(
    said: _Place, what: Literal["oven", "ring", "fridge", "freezer", "shelf"]
) -> Place:
    shelf = lengths(said.shelf)[0] if said.shelf else ()
    return Place(
        said.name,
        what,
        said.temperature_C,
        said.shelves,
        (shelf[0], shelf[1]) if len(shelf) > 1 else None,
        said.power_kW,
        said.fan,
        said.note,
    )


def _person(said: _Person) -> Person:
    return Person(
        said.name,
        tuple(
            Shift(tuple(shift.days), _minute(shift.begins), _minute(shift.ends))
            for shift in said.shifts
        ),
    )


def _minute(clock: str) -> int:
    digits = clock.replace(":", "").replace(".", "").zfill(4)
    return int(digits[:2]) * 60 + int(digits[2:])
