"""Cards that no kitchen writes, and that every command answers all the same."""

from typing import Final

HOSTILE: Final = {
    "empty": "",
    "no layer": "slab X\ntin 20 x 20 x 5 cm\n",
    "no line": "slab X\ntin 20 x 20 x 5 cm\nlayer A\n",
    "an unread line": "slab X\nlayer A\n  100 g caster sugar\n  12..4 g butter\n",
    "nobody knows it": "slab X\nlayer A\n  100 g flurbian moss\n  ends 90 g\n",
    "no weight": "slab X\nlayer A\n  3 pieces of flurbian moss\n  ends 90 g\n",
    "far too much": "slab X\nlayer A\n  99999999 kg caster sugar\n",
    "nothing of it": "slab X\nlayer A\n  0 g caster sugar\n",
    "in circles": "slab X\nlayer A\n  10 g B\ncomponent B\n  10 g B\n",
    "loses all": "slab X\nlayer A\n  100 g whole milk\n  loses 100 %\n",
    "only water": "slab X\nlayer A\n  100 g water\n",
    "only salt": "slab X\nlayer A\n  100 g fine salt\n",
    "only alcohol": "slab X\nlayer A\n  100 g brandy\n  boil to 100 C\n",
    "boiled dry": "slab X\nlayer A\n  100 g water\n  100 g sugar\n  boil to 190 C\n",
    "boiled cold": "slab X\nlayer A\n  100 g water\n  100 g sugar\n  boil to 3 C\n",
    "same names": "slab X\nlayer A\n  9 g sugar\nlayer A\n  9 g water\nlayer A\n"
    "  9 g butter\n",
    "a component": "component B\n  10 g butter\n",
    "a foam": "slab X\nlayer A\n  100 g egg white\n  200 g caster sugar\n  whip\n",
    "a name to break": "slab X\nlayer <b>𝔘</b> \u202e back\n  9 g oats\n",
    "in finish": "slab X\nlayer A\n  100 g butter\nfinish\n  20 g icing sugar\n",
    "noise": "\x00\x01\x02",
}  # fmt: skip
