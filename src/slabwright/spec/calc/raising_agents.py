"""The calculator of raising agents: swaps, and soda set against acids."""

from typing import Final

from slabwright.figure import Figure, Standing, withheld
from slabwright.physics.acid import acids
from slabwright.physics.raising import (
    GAS_PER_SODA,
    Raiser,
    acid_for,
    gas_ml,
    left_over,
    raisers,
)
from slabwright.spec.calc.calculator import (
    Answer,
    Asked,
    Calculator,
    Input,
    Shown,
    wrong,
)

_GAS: Final = tuple(key for key, one in raisers().items() if not one.is_acid)
_SOURS: Final = tuple(key for key, one in raisers().items() if one.is_acid)
_FOODS: Final = {
    "buttermilk_g": "buttermilk",
    "yoghurt_g": "natural-yoghurt",
    "soured_cream_g": "soured-cream",
    "lemon_juice_g": "lemon-juice",
    "vinegar_g": "cider-vinegar",
    "honey_g": "honey",
    "treacle_g": "black-treacle",
    "natural_cocoa_g": "cocoa-powder-20-22",
}
"""Acid foods that a batter holds, and their names in the larder."""
_ALSO: Final = {"baking-soda": "bicarbonate-of-soda"}
"""What the same is called elsewhere."""
_SAME: Final = {
    "soda": "bicarbonate-of-soda", "bicarb": "bicarbonate-of-soda",
    "bicarbonate": "bicarbonate-of-soda", "sodium-bicarbonate": "bicarbonate-of-soda",
    "hartshorn": "ammonium-bicarbonate", "bakers-ammonia": "ammonium-bicarbonate",
    "potassium-bitartrate": "cream-of-tartar", "monocalcium-phosphate": "mcp",
    "sodium-acid-pyrophosphate": "sapp", "sodium-aluminium-phosphate": "salp",
    "glucono-delta-lactone": "gdl", "self-rising-flour": "self-raising-flour",
}  # fmt: skip
"""Other words that are understood."""
_PURE: Final = {f"{key.replace('-', '_')}_g": key for key in _SOURS}
_HOLDS: Final = "fresh powder, all of it wet and hot in the end"
_SPARE: Final = 0.2
"""A balance within this share of the soda is even enough. Common practice."""


def _answer(asked: Asked) -> Answer:
    begin, end = (_ALSO.get(asked.word(one), asked.word(one)) for one in ("from", "to"))
    if begin or end:
        if not (begin and end):
            raise wrong(
                f"{'to' if begin else 'from'} is missing.",
                "Give both: from=baking-powder to=bicarbonate-of-soda mass_g=10.",
                "to" if begin else "from",
            )  # fmt: skip
        return _swap(asked, raisers()[begin], raisers()[end])
    if asked.optional("soda_g") is None:
        raise wrong(
            "Neither a swap nor a balance is asked for.",
            "Give from, to and mass_g; or soda_g and the acids beside it.", "soda_g",
        )  # fmt: skip
    return _balance(asked)


def _swap(asked: Asked, begin: Raiser, end: Raiser) -> Answer:
    mass = asked.optional("mass_g")
    if mass is None:
        raise wrong("mass_g is missing.", "Give it so: mass_g=10.", "mass_g")
    if begin.is_acid != end.is_acid:
        raise wrong(
            f"{begin.name} and {end.name} do different work: one gives gas, the other "
            "takes up soda.",
            "Swap soda, powder and ammonium for each other, and acids for each other.",
            "to",
        )  # fmt: skip
    if begin.is_acid:
        return _acid_swap(mass, begin, end)
    middle, low, high = _ratio(begin.soda_share, end.soda_share)
    sources = tuple(dict.fromkeys((begin.source, end.source)))
    soda = mass * sum(begin.soda_share) / 2
    first = Shown(
        "mass_to_g", f"grams of {end.name}",
        Figure(
            mass * middle, "g",
            f"{mass:g} g × {_share(begin)} ÷ {_share(end)} of soda = "
            f"{mass * middle:.3g} g",
            Standing.WORKED_OUT, *_ends(mass, low, high), sources,
            _HOLDS,
        ),
    )  # fmt: skip
    gas = soda * GAS_PER_SODA
    least, most = _ends(mass * GAS_PER_SODA, *begin.soda_share)
    volumes = [float(gas_ml(one)) for one in (gas, least or gas, most or gas)]
    also = [
        Shown(
            "gas_g", "carbon dioxide, all set free",
            Figure(
                gas, "g", f"{soda:.3g} g soda × {GAS_PER_SODA:.3f} = {gas:.3g} g",
                Standing.WORKED_OUT, least, most, sources, _HOLDS,
            ),
        ),
        Shown(
            "gas_ml", "its volume at 20 °C",
            Figure(
                volumes[0], "ml", f"{gas:.3g} g by the law of ideal gases, to 1 %",
                Standing.WORKED_OUT, 0.99 * volumes[1], 1.01 * volumes[2],
                sources, _HOLDS,
            ),
        ),
    ]  # fmt: skip
    notes = [f"{end.name}: acts {end.acts}."]
    if end.soda_share == (1.0, 1.0):
        also += _acids_beside(mass * middle)
        notes.append(
            "Soda needs an acid: one of those beside it, or as much acid food. Without "
            "one it gives half the gas, tastes of soap and browns."
        )
    if begin.soda_share == (1.0, 1.0) and not end.is_acid and end.ingredient:
        notes.append(
            f"{end.name} brings its own acid: what soured the soda before now stays "
            "sour. Put sweet milk for buttermilk, or leave a third of the soda in."
        )
    if end.agent == "ammonium-bicarbonate":
        notes.append("Only in what bakes thin and dry: elsewhere its ammonia stays.")
    return Answer(first, tuple(also), tuple(notes))


def _acid_swap(mass: float, begin: Raiser, end: Raiser) -> Answer:
    middle = mass * begin.neutralises[1] / end.neutralises[1]
    low = mass * begin.neutralises[0] / end.neutralises[2]
    high = mass * begin.neutralises[2] / end.neutralises[0]
    said = (
        f"{mass:g} g × {100 * begin.neutralises[1]:.3g} ÷ "
        f"{100 * end.neutralises[1]:.3g} = {middle:.3g} g"
    )
    sources = tuple(dict.fromkeys((begin.source, end.source)))
    soda = mass * begin.neutralises[1]
    first = Shown(
        "mass_to_g", f"grams of {end.name}",
        Figure(middle, "g", said, Standing.WORKED_OUT, low, high, sources,
               _HOLDS),
    )  # fmt: skip
    takes = Figure(
        soda, "g", f"{mass:g} g × {begin.neutralises[1]:.3g} = {soda:.3g} g",
        sources=(begin.source,),
    )  # fmt: skip
    notes = (f"{end.name}: acts {end.acts}.", f"{begin.name}: acts {begin.acts}.")
    return Answer(first, (Shown("soda_g", "soda that it takes up", takes),), notes)


def _balance(asked: Asked) -> Answer:
    soda = asked.number("soda_g")
    low = high = 0.0
    parts = []
    sources = []
    for name, key in _FOODS.items():
        grams = asked.optional(name)
        if grams:
            acid = acids()[key]
            low += grams * acid.soda_g_per_g[0]
            high += grams * acid.soda_g_per_g[1]
            parts.append(f"{grams:g} g {key.replace('-', ' ')}")
            sources.append(acid.acid_source)
    for name, key in _PURE.items():
        grams = asked.optional(name)
        if grams:
            one = raisers()[key]
            low += grams * one.neutralises[0]
            high += grams * one.neutralises[2]
            parts.append(f"{grams:g} g {one.name}")
            sources.append(one.source)
    left = left_over(soda, low, high)
    middle = soda - (low + high) / 2
    what = " and ".join(parts) or "no acid"
    said = f"{soda:g} g − {(low + high) / 2:.3g} g taken up by {what} = {middle:.3g} g"
    cited = tuple(dict.fromkeys(sources))
    first = Shown(
        "soda_left_g", "soda left over; under 0 it is acid",
        Figure(
            middle, "g", said, Standing.WORKED_OUT, float(left.low), float(left.high),
            cited, _HOLDS,
        ),
    )  # fmt: skip
    taken = Shown(
        "soda_taken_g", "soda that the acids take up",
        Figure(
            (low + high) / 2, "g", f"{low:.3g} to {high:.3g} g by {what}",
            Standing.WORKED_OUT, low, high, cited, _HOLDS,
        ),
    )  # fmt: skip
    met = min(soda, (low + high) / 2)
    gas = met * GAS_PER_SODA + (soda - met) * GAS_PER_SODA / 2
    gas_shown = Shown(
        "gas_g", "carbon dioxide, once it is hot",
        Figure(
            gas, "g",
            f"{met:.3g} g soda × {GAS_PER_SODA:.3f} and {soda - met:.3g} g × "
            f"{GAS_PER_SODA / 2:.3f} = {gas:.3g} g",
        ),
    )  # fmt: skip
    beside = _acids_beside(max(middle, 0.0)) if middle > _SPARE * soda else []
    return Answer(first, (taken, gas_shown, *beside), (_word(soda, low, high),))


def _word(soda: float, low: float, high: float) -> str:
    if soda > high * (1 + _SPARE) and soda > 0:
        return (
            f"Soda is left over: at least {soda - high:.2g} g tastes of soap and "
            f"darkens the crumb. Take {soda - high:.2g} g out, or add acid."
        )
    if soda < low * (1 - _SPARE):
        return (
            f"Acid is left over: at least as much as {low - soda:.2g} g of soda would "
            "take up. It stays sharp; gas there is no more for it."
        )
    return "Balanced, as far as anyone can tell without a measurement."


def _acids_beside(soda: float) -> list[Shown]:
    """Grams of the usual acids that take up this much soda."""
    shown = []
    for key in ("cream-of-tartar", "sapp", "mcp", "gdl"):
        one = raisers()[key]
        grams = float(acid_for(soda, 100 * one.neutralises[1]))
        low, high = (
            float(acid_for(soda, 100 * one.neutralises[end])) for end in (2, 0)
        )
        said = f"{soda:.3g} g ÷ {one.neutralises[1]:.3g} = {grams:.3g} g"
        figure = Figure(
            grams,
            "g",
            said,
            Standing.WORKED_OUT,
            *_ends(1.0, low, high),
            (one.source,),
            _HOLDS,
        )
        name = f"{key.replace('-', '_')}_g"
        shown.append(Shown(name, f"{one.name} for it", figure))
    lemon = acids()["lemon-juice"]
    juice = soda / (sum(lemon.soda_g_per_g) / 2)
    said = f"{soda:.3g} g ÷ {sum(lemon.soda_g_per_g) / 2:.3g} = {juice:.3g} g"
    figure = (
        Figure(
            juice, "g", said, Standing.WORKED_OUT,
            *_ends(1.0, soda / lemon.soda_g_per_g[1], soda / lemon.soda_g_per_g[0]),
            (lemon.acid_source,), _HOLDS,
        )
        if soda > 0
        else withheld("g", "no soda is left")
    )  # fmt: skip
    shown.append(Shown("lemon_juice_g", "or lemon juice", figure))
    return shown


def _ratio(
    top: tuple[float, float], under: tuple[float, float]
) -> tuple[float, float, float]:
    """Middle, low and high of one share over another."""
    return sum(top) / sum(under), top[0] / under[1], top[1] / under[0]


def _ends(mass: float, low: float, high: float) -> tuple[float | None, float | None]:
    """A range, where there is one."""
    if high - low <= 1e-9 * max(high, 1e-9):
        return None, None
    return mass * low, mass * high


def _share(one: Raiser) -> str:
    return f"{sum(one.soda_share) / 2:.3g}"


RAISING_AGENTS: Final = Calculator(
    name="raising-agents",
    title="Raising agents",
    what="One raising agent for another, or soda set against the acids beside it.",
    answer=_answer,
    inputs=(
        Input(
            "from", "", "what the formula has", kind="word",
            choices=(*raisers(), *_ALSO), same=_SAME,
            is_optional=True, also=("from_agent",),
        ),
        Input(
            "to", "", "what is at hand", kind="word",
            choices=(*raisers(), *_ALSO), same=_SAME,
            is_optional=True, also=("to_agent",),
        ),
        Input("mass_g", "g", "grams of the first", low=0, high=1e5, is_optional=True,
              also=("grams", "weight_g")),
        Input(
            "soda_g", "g", "bicarbonate of soda, for a balance", low=0, high=1e5,
            is_optional=True, also=("baking_soda_g", "bicarbonate_of_soda_g"),
        ),
        *(
            Input(
                name, "g", f"{name[:-2].replace('_', ' ')} beside it", low=0, high=1e6,
                is_optional=True,
            )
            for name in (*_FOODS, *_PURE)
        ),
    ),
    example="calc raising-agents from=baking-powder to=bicarbonate-of-soda mass_g=10",
    sources=(acid_for.source,),
    python="slabwright.physics.raising.acid_for",
)  # fmt: skip
