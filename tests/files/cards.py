"""Cards for property tests: what a maker could write, line by line."""

from hypothesis import strategies as st

FOODS = (
    "plain flour", "caster sugar", "butter, unsalted", "whole milk", "honey",
    "dark chocolate 60%", "double cream 48%", "lemon juice", "fine salt", "water",
)  # fmt: skip
NAMES = ("Shortbread", "Malt caramel", "Lemon curd", "Jelly", "Top coat 2", "Crème")

grams = st.integers(1, 4000).map(lambda n: f"{n / 10:g}")
masses = st.builds("{} {}".format, grams, st.sampled_from(["g", "kg", "oz", "lb"]))
ranges = st.integers(1, 500).map(lambda n: f"{n}-{n + 10} g")
spoons = st.builds(
    "{} {}".format,
    st.sampled_from(["1", "2", "½", "1½", "1 1/2", "0,5"]),
    st.sampled_from(["tsp", "tbsp", "cup", "heaped tbsp", "US cup", "fl oz", "pint"]),
)
packs = st.builds("{} x {} g packs".format, st.integers(1, 9), st.integers(1, 900))
plain_lines = st.builds(
    "{} {}".format, masses | ranges | spoons | packs, st.sampled_from(FOODS)
)
notes = st.sampled_from(
    ["", ", cold", ", melted to 40 C", " (sifted)", " = 80 g weighed"]
)
counts = st.sampled_from(
    [
        "6 eggs, medium", "5 egg yolks = 90 g", "1 tin condensed milk",
        "juice of 2 lemons", "a pinch of fine salt", "fine salt to taste",
        "butter for greasing", "1 lb 2 oz plain flour", "170 g/6 oz butter, unsalted",
        "60 g moon dust",
    ]
)  # fmt: skip
lines = st.builds("{}{}".format, plain_lines, notes) | counts
steps = st.sampled_from(
    [
        "bake 160 C fan     20-23 min, until gold at the edge",
        "boil to 118 C, 34 min hands, large ring",
        "pour, within 4 min, over 95 C",
        "stir, strain, then rest",
        "chill  until under 8 C",
        "set overnight, covered",
    ]
)
words = st.sampled_from(
    [
        "loses 4 g in the bowl", "loses 1 %", "loses 2 % on the sheet, weighed",
        "into small pan", "into the mixer", "note as the old card has it",
    ]
)  # fmt: skip
once = st.lists(
    st.sampled_from(["density 1.1 g/ml", "deep 10 mm", "kind sponge"]),
    unique=True,
    max_size=2,
)


@st.composite
def blocks(draw: st.DrawFn, opener: str) -> str:
    """A block: its opener, lines, steps and card words in any order."""
    inside = draw(st.lists(lines | steps | words, min_size=1, max_size=6))
    inside = draw(st.permutations([*inside, *draw(once)]))
    return "\n".join([opener, *(f"  {line}" for line in inside)])


@st.composite
def cards(draw: st.DrawFn) -> str:
    """A card: head, components, layers bottom first, and a finish."""
    names = draw(st.lists(st.sampled_from(NAMES), min_size=1, unique=True))
    tins = ["30 x 20 x 5 cm", "round 23 cm, 7 cm deep", "9 x 13 in", "20 cm square"]
    head = [
        "slab Two Tides",
        f"tin {draw(st.sampled_from(tins))}",
        *draw(
            st.lists(
                st.sampled_from(
                    ["cut 5 x 4, trim 5 mm", "keep chilled, 3 days", "note Pale gold."]
                ),
                unique=True,
            )
        ),
    ]
    parts = [draw(blocks(f"component Part {name}")) for name in names[:1]]
    layers = [draw(blocks(f"layer {name}")) for name in names]
    takes = st.sampled_from(["", ", 40 g", ", 3 mm", ", 0.5 batch"])
    layers.append(f"layer Last from Part {names[0]}{draw(takes)}")
    end = draw(st.sampled_from(["", "finish\n  trim, cut, box  22 min hands"]))
    return "\n\n".join(["\n".join(head), *parts, *layers, end]).rstrip() + "\n"
