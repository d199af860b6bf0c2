"""Every calculator, in the order of the work."""

from typing import Final

from slabwright.spec.calc.boil_minutes import BOIL_MINUTES
from slabwright.spec.calc.boiling_point import BOILING_POINT
from slabwright.spec.calc.calculator import Calculator
from slabwright.spec.calc.chocolate_exchange import CHOCOLATE_EXCHANGE
from slabwright.spec.calc.dairy_exchange import DAIRY_EXCHANGE
from slabwright.spec.calc.dew_point import DEW_POINT
from slabwright.spec.calc.egg_exchange import EGG_EXCHANGE
from slabwright.spec.calc.ganache import GANACHE
from slabwright.spec.calc.gelatine_exchange import GELATINE_EXCHANGE
from slabwright.spec.calc.glass_transition import GLASS_TRANSITION
from slabwright.spec.calc.raising_agents import RAISING_AGENTS
from slabwright.spec.calc.stop_weight import STOP_WEIGHT
from slabwright.spec.calc.sucrose_solubility import SUCROSE_SOLUBILITY
from slabwright.spec.calc.sugar_stages import SUGAR_STAGES
from slabwright.spec.calc.syrup import SYRUP, SYRUP_DENSITY
from slabwright.spec.calc.syrup_exchange import SYRUP_EXCHANGE
from slabwright.spec.calc.tin_factor import TIN_FACTOR
from slabwright.spec.calc.water_activity import WATER_ACTIVITY
from slabwright.spec.calc.water_left import WATER_LEFT

CALCULATORS: Final[tuple[Calculator, ...]] = (
    BOILING_POINT,
    WATER_LEFT,
    STOP_WEIGHT,
    BOIL_MINUTES,
    SUGAR_STAGES,
    SYRUP,
    SYRUP_DENSITY,
    SUCROSE_SOLUBILITY,
    SYRUP_EXCHANGE,
    WATER_ACTIVITY,
    GLASS_TRANSITION,
    GELATINE_EXCHANGE,
    GANACHE,
    CHOCOLATE_EXCHANGE,
    DAIRY_EXCHANGE,
    EGG_EXCHANGE,
    RAISING_AGENTS,
    DEW_POINT,
    TIN_FACTOR,
)


def calculator_named(name: str) -> Calculator | None:
    """The calculator of this name, hyphens and spaces alike."""
    plain = "-".join(name.casefold().replace("_", " ").replace("-", " ").split())
    return next((one for one in CALCULATORS if one.name == plain), None)
