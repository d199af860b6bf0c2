"""A pasted recipe, read: every line accounted for, doubts asked about."""

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

from slabwright.errors import Span
from slabwright.files.card.answers_cups import US_CUPS, cups_of_nowhere
from slabwright.files.card.cuts import read_cut
from slabwright.files.card.draft import Block, Draft
from slabwright.files.card.head import Tins, read_keep
from slabwright.files.card.lines import LONGEST_LINE, CardLine, lines_of
from slabwright.files.card.names import Names
from slabwright.files.card.reader import CardRead, LineRead
from slabwright.files.card.steps import read_step
from slabwright.files.pasted.message import split_message
from slabwright.files.pasted.odd import more_of, odd_amount
from slabwright.files.pasted.scraps import pieces
from slabwright.files.pasted.sheet import PastedLine, is_page, pasted_line
from slabwright.files.pasted.sorter import Sorted, sort_lines
from slabwright.files.pasted.table import lines_of_table, rows_of
from slabwright.files.pasted.tins import TinSeen, tins_in
from slabwright.finding import Ask, Reading
from slabwright.formula.book import slug
from slabwright.formula.line import Line
from slabwright.spec.card import SaidCut, SaidTin

UNNAMED: Final = "Pasted recipe"
_MOST_ASKS: Final = 200
_STOP: Final = re.compile(r"(?<=[a-z\d)°][.!?])\s+(?=[A-Z])|(?<=[a-z]{3})\.(?=[A-Z])")
_AMERICAN: Final = re.compile(
    r"\d\s?°?\s?F\b|\bsticks?\b|all[- ]purpose|confectioners|half[- ]and[- ]half"
    r"|heavy (?:whipping )?cream|kosher salt|graham cracker",
    re.IGNORECASE,
)
"""Words that a recipe from America has and one from elsewhere hardly ever."""


def read_pasted(text: str, names: Names, tins: Tins, file: str = "") -> CardRead:
    """The card that a pasted recipe comes to.

    Args:
        text: whatever was pasted: text, a page's HTML, a table.
        names: what this kitchen's larder calls things.
        tins: the tins that this kitchen knows by name.
        file: where it came from.
    """
    sheet = sheet_of(text, names)
    rows = sort_lines(sheet, names)
    builder = _Builder(rows, names, file)
    for number, row in enumerate(rows):
        builder.take(row, heads_lines=_heads_lines(rows, number))
    return builder.finished(text)


def sheet_of(text: str, names: Names) -> tuple[PastedLine, ...]:
    """The lines of a pasted text, whatever it came as."""
    if is_page(text):
        from slabwright.files.pasted.page import lines_of_page

        found = lines_of_page(text)
        return tuple(pasted_line(i, line, h) for i, (line, h) in enumerate(found, 1))
    rows = rows_of(text)
    if rows is not None:
        table = lines_of_table(rows)
        return tuple(pasted_line(i, line, h) for i, (line, h) in enumerate(table, 1))
    plain = tuple(
        pasted_line(
            line.number, line.raw, "scrap" if len(line.raw) > LONGEST_LINE else ""
        )
        for line in lines_of(text)
    )
    return split_message(plain, names)


class _Builder:
    """Puts sorted lines into layers; keeps how each was read, and what to ask."""

    def __init__(self, rows: tuple[Sorted, ...], names: Names, file: str) -> None:
        self._names = names
        self._draft = Draft(file)
        self._draft.name = _title(rows)
        self._read: list[LineRead] = []
        self._asks: list[Ask] = []
        self._odd: set[int] = set()
        self._tins: list[tuple[TinSeen, Span]] = []
        self._steps: list[tuple[Sorted, Block | None]] = []
        self._method_layer: Block | None = None
        self._in_method = False

    def take(self, row: Sorted, *, heads_lines: bool = False) -> None:
        """Add one line; a heading may have ingredients below it."""
        line, reads_as = row.pasted.line, row.reads_as
        if reads_as in {"step", "tin", "note", "yield"}:
            seen = tins_in(line.text)
            self._tins.extend((one, line.span(one.start, one.end)) for one in seen)
        if reads_as == "ingredient":
            self._ingredient(row)
        elif reads_as == "heading":
            self._heading(row, heads_lines=heads_lines)
        elif reads_as == "step":
            self._in_method = True
            self._steps.append((row, self._method_layer))
            if count := pieces(line.text):
                self._cut(line, str(count))
        elif reads_as == "yield" and row.name:
            self._cut(line, row.name)
        elif reads_as == "keep":
            self._draft.say("keep", read_keep(line, row.name))
        elif reads_as == "note":
            self._draft.notes.append(line.text)
        self._read.append(LineRead(line, reads_as, "", tuple(row.lines)))

    def _ingredient(self, row: Sorted) -> None:
        line = row.pasted.line
        block = self._draft.block_here(line.span())
        block.events.extend(row.lines)
        if row.doubt == "more":
            self._more(row)
        elif row.doubt and len(self._asks) < _MOST_ASKS:
            name = row.lines[0].name if row.lines else line.text
            what = f"How much {name}? No amount is given."
            likely: tuple[Reading, ...] = ()
            if row.doubt == "amount":
                self._odd.add(line.number)
                odd = odd_amount(line, self._names)
                name, what, likely = odd.name or name, odd.question, odd.readings
            readings = (
                Reading("left out", "it is in no figure until it has a weight"),
                *likely,
                Reading("so many grams", "write them before its name: 50 g"),
            )
            self._asks.append(Ask(name, what, readings, line.span()))

    def _more(self, row: Sorted) -> None:
        """A line that takes of one thing twice, once in its notes."""
        name, more = row.lines[0].name, more_of(row.lines)
        what = f"Is '{more}' taken besides?"
        readings = (
            Reading("a note", "only the amount in front of it counts"),
            Reading(more, f"write it on a line of its own: {more.split()[0]} {name}"),
        )
        if len(self._asks) < _MOST_ASKS:
            self._asks.append(Ask(name, what, readings, row.pasted.line.span()))

    def _heading(self, row: Sorted, *, heads_lines: bool) -> None:
        if not row.name:
            return
        known = {slug(block.name): block for block in self._draft.blocks}
        same = known.get(slug(row.name))
        if same is not None or (self._in_method and not heads_lines):
            self._method_layer = same
            return
        interleaved = self._in_method
        self._draft.open(Block("layer", row.name, row.pasted.line.span()))
        self._method_layer = self._draft.block if interleaved else None

    def _cut(self, line: CardLine, count: str) -> None:
        said = read_cut(line, f"{count} pieces", Tins(lambda _: None))
        if isinstance(said, SaidCut) and not self._draft.cuts:
            self._draft.cuts.append(replace(said, span=line.span()))

    # --- the end --------------------

    def finished(self, text: str) -> CardRead:
        """The card, when every line has been taken."""
        self._place_steps()
        self._drop_empty()
        self._settle_tin()
        self._ask_empty()
        self._ask_cups(text)
        self._ask_name()
        card = replace(self._draft.card(), asks=tuple(self._asks), is_pasted=True)
        return CardRead(
            card, tuple(self._read), (), text, self._draft.file, is_pasted=True
        )

    def _place_steps(self) -> None:
        """Each step to the layer that it speaks of; the last ones to the whole slab."""
        layers = [block for block in self._draft.blocks if block.what == "layer"]
        last = layers[0] if layers else None
        talk = _Talk(layers)
        for row, told in self._steps:
            for sentence in _sentences(row.pasted.line):
                step = replace(read_step(sentence, self._names), misread="")
                chosen = told or talk.layer_of(step.text, last) or last
                if chosen is None:
                    chosen = self._draft.block_here(row.pasted.line.span())
                chosen.events.append(step)
                last = chosen

    def _drop_empty(self) -> None:
        """Headings below which nothing stands are words, not layers."""
        kept = [block for block in self._draft.blocks if block.events]
        gone = [block for block in self._draft.blocks if not block.events]
        self._draft.blocks = kept
        self._draft.notes.extend(block.name for block in gone if block.what == "layer")

    def _settle_tin(self) -> None:
        """The first tin that is named; asked about if another one is named too."""
        if not self._tins:
            return
        first, span = self._tins[0]
        self._draft.tin = SaidTin(first.text, first.tin, span)
        others = [seen for seen, _ in self._tins if seen.tin.base != first.tin.base]
        if others:
            readings = (
                Reading(first.text, "it is named first"),
                *(Reading(o.text, f"write tin {o.text}") for o in others[:3]),
            )
            self._asks.append(Ask("tin", "Which tin? The text names more.", readings))

    def _ask_cups(self, text: str) -> None:
        """A recipe that reads American and measures in cups: ours are larger."""
        cups = cups_of_nowhere(
            amount
            for block in self._draft.blocks
            for event in block.events
            if isinstance(event, Line)
            for amount in event.amounts
        )
        is_ours = self._names.country == "US" or not any(cups)
        if is_ours or not _AMERICAN.search(text):
            return
        readings = (
            Reading("the kitchen's cup", "it counts: 250 ml where spoons are metric"),
            Reading("US, 237 ml", US_CUPS),
        )
        what = "Which cup? The recipe reads American."
        self._asks.append(Ask("cups", what, readings))

    def _ask_name(self) -> None:
        """A card whose name was forgotten is read as a pasted recipe, which is odd."""
        said = (line for line in (one.line for one in self._read) if line.text)
        plain = (line for line in said if not line.raw.lstrip().startswith("#"))
        first = next(plain, None)
        word = first.text.strip(" :").casefold() if first else ""
        if first is None or word not in {"slab", "component"}:
            return
        named = f"{word} {UNNAMED}"
        readings = (
            Reading("a pasted recipe", "it is read as one"),
            Reading(named, "a card: write it so"),
        )
        what = f"Is it a card? Its first line says {word}, and no name."
        self._asks.append(Ask("first line", what, readings, first.span()))

    def _ask_empty(self) -> None:
        """Layers none of whose lines has a weight."""
        for block in self._draft.blocks:
            lines = [event for event in block.events if isinstance(event, Line)]
            has_some = any(
                line.amounts or line.stated_g or line.span.line in self._odd
                for line in lines
            )
            if lines and not has_some:
                readings = (
                    Reading("not known", "its depth and all above it are withheld"),
                    Reading("its grams", "write them before each name"),
                )
                what = f"{block.name} has no quantities."
                self._asks.append(Ask(block.name, what, readings, block.span))


def _heads_lines(rows: Sequence[Sorted], number: int) -> bool:
    """Whether an ingredient stands below this line before the next heading."""
    for row in rows[number + 1 :]:
        if row.reads_as == "heading":
            return False
        if row.reads_as == "ingredient":
            return True
    return False


def _title(rows: tuple[Sorted, ...]) -> str:
    named = next((row.name for row in rows if row.reads_as == "title"), UNNAMED)
    plain = re.sub(r"\s+", " ", named.replace("#", " ")).strip()
    return plain[:120] or UNNAMED


def _sentences(line: CardLine) -> Iterator[CardLine]:
    """The sentences of a step, each with its own place."""
    at = 0
    ends = [found.end() for found in _STOP.finditer(line.text)]
    for end in (*ends, len(line.text)):
        text = line.text[at:end].strip()
        if text:
            skip = at + len(line.text[at:end]) - len(line.text[at:end].lstrip())
            yield replace(line, text=text.rstrip("."), column=line.column + skip)
        at = end


def _words(text: str) -> set[str]:
    found = re.findall(r"[^\W\d_]{3,}", text.casefold())
    return {word.removesuffix("s") for word in found} - _LITTLE


_LITTLE: Final = frozenset(
    "the and for with into over until then from that this add mix stir pour heat bake "
    "tin pan bowl oven min minute layer cool chill cold hot room temperature "
    "golden brown".split()
)


_ONTO: Final = re.compile(
    r"\b(?:over|onto|on top of|on)\s+(?:the\s+)?[^,.;]{0,30}", re.IGNORECASE
)
"""`pour over the base`: the layer below, and not the one that is made."""


_GOES_ON: Final = 0.6
"""What it counts for a layer that the sentence before spoke of it: less than one word
that no other layer has."""


class _Talk:
    """Which layer a sentence speaks of, by names and ingredients."""

    def __init__(self, layers: Sequence[Block]) -> None:
        self._known = [
            (
                block,
                _words(block.name),
                Counter(
                    word
                    for event in block.events
                    if isinstance(event, Line)
                    for word in _words(event.name)
                ),
            )
            for block in layers
        ]
        self._layers_with = Counter(
            word for _, _, lines in self._known for word in lines
        )
        """How many layers have a word: what one alone has tells the most."""

    def layer_of(self, text: str, last: Block | None) -> Block | None:
        """The layer that these words speak of most; None if they speak of none.

        A method goes on where it was: of two nearly alike, the last one is meant.
        """
        said = _words(_ONTO.sub("", text))
        best: tuple[float, Block] | None = None
        for block, name, lines in self._known:
            shared = said & lines.keys()
            score = 3.0 * len(said & name)
            score += sum(lines[word] / self._layers_with[word] for word in shared)
            if score and block is last:
                score += _GOES_ON
            if score and (best is None or score > best[0]):
                best = (score, block)
        return best[1] if best else None
