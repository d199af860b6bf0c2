"""Web pages: the recipe that the page declares, and the lines that a reader sees."""

import json
import re
from collections.abc import Iterator
from typing import Any, Final

from bs4 import BeautifulSoup
from bs4.element import NavigableString, Tag

from slabwright.files.pasted.sheet import Hint

_UNSEEN: Final = ["script", "style", "noscript", "nav", "svg", "template", "form"]
_BLOCKS: Final = frozenset(
    "p div li ul ol h1 h2 h3 h4 h5 h6 section article header footer aside tr main "
    "table dt dd dl blockquote br hr figcaption label summary details td th".split()
)
_HEADS: Final = frozenset("h2 h3 h4 h5 h6".split())
Found = tuple[str, Hint]


def lines_of_page(text: str) -> tuple[Found, ...]:
    """The lines that a reader of the page sees, each with what the page says it is."""
    soup = BeautifulSoup(text, "html.parser")
    recipe = _declared(soup)
    for tag in soup(_UNSEEN):
        tag.decompose()
    seen = list(_merged(_seen(soup)))
    if recipe is None:
        return tuple(seen)
    told = _told(recipe)
    known = {_plain(line): hint for line, hint in told}
    shown = {_plain(line) for line, _ in seen}
    wanted = [line for line, hint in told if hint == "ingredient"]
    if sum(_plain(line) in shown for line in wanted) < len(wanted):
        rest = [(line, "scrap") for line, _ in seen if _plain(line) not in known]
        return (*told, *((line, _hint(hint)) for line, hint in rest))
    return tuple((line, known.get(_plain(line), hint)) for line, hint in seen)


def _hint(word: str) -> Hint:
    return "scrap" if word == "scrap" else ""


def _plain(text: str) -> str:
    return re.sub(r"\W+", " ", text).casefold().strip()


# --- what the page shows --------------------


def _seen(soup: Tag) -> Iterator[Found]:
    """Runs of text, broken where the page breaks them; an empty one for each break."""
    for node in soup.descendants:
        if isinstance(node, Tag):
            if node.name in _BLOCKS:
                yield "\n", ""
            continue
        if not isinstance(node, NavigableString) or type(node) is not NavigableString:
            continue
        text = re.sub(r"\s+", " ", str(node))
        if text:
            yield text, _place(node) if text.strip() else ""
            if _last_in_block(node):
                yield "\n", ""


def _last_in_block(node: NavigableString) -> bool:
    parent = node.parent
    return parent is not None and parent.name in _BLOCKS and node.next_sibling is None


def _place(node: NavigableString) -> Hint:
    for parent in node.parents:
        if parent.name in {"h1", "title"}:
            return "title"
        if parent.name in _HEADS or parent.name in {"legend", "caption"}:
            return "heading"
        prop = str(parent.get("itemprop", "")) if isinstance(parent, Tag) else ""
        if prop in {"recipeIngredient", "ingredients"}:
            return "ingredient"
        if prop in {"recipeInstructions", "step"}:
            return "step"
        if prop == "recipeYield":
            return "yield"
    return ""


def _merged(runs: Iterator[Found]) -> Iterator[Found]:
    """Runs of one line put together."""
    text, hint = "", ""
    last: Hint = ""
    for run, place in runs:
        if run == "\n":
            if text.strip():
                yield re.sub(r"\s+", " ", text).strip(), last
            text, last = "", ""
            continue
        touches = text[-1:].isalnum() and run[:1].isalnum()
        text += f" {run}" if touches else run  # 100</b><b>g
        last = last or place
        hint = place
    if text.strip():
        yield re.sub(r"\s+", " ", text).strip(), last or _none(hint)


def _none(hint: str) -> Hint:
    return "heading" if hint == "heading" else ""


# --- what the page declares --------------------


def _declared(soup: BeautifulSoup) -> dict[str, Any] | None:
    """The page's schema.org Recipe in JSON-LD, if it holds one."""
    for script in soup.find_all("script", type="application/ld+json"):
        try:
            data = json.loads(script.string or "")
        except (ValueError, RecursionError):
            continue
        for found in _objects(data, 0):
            kinds = found.get("@type", "")
            if "Recipe" in (kinds if isinstance(kinds, list) else [kinds]):
                return found
    return None


def _objects(data: Any, depth: int) -> Iterator[dict[str, Any]]:
    if depth > len("graph of graphs"):
        return
    if isinstance(data, dict):
        yield data
        for value in data.values():
            if isinstance(value, dict | list):
                yield from _objects(value, depth + 1)
    elif isinstance(data, list):
        for value in data:
            yield from _objects(value, depth + 1)


def _told(recipe: dict[str, Any]) -> tuple[Found, ...]:
    """The declared recipe as lines: title, yield, ingredients, method."""
    lines: list[Found] = []
    if name := _text(recipe.get("name")):
        lines.append((name, "title"))
    amount = recipe.get("recipeYield")
    for one in amount if isinstance(amount, list) else [amount]:
        if text := _text(one):
            lines.append((text, "yield"))
    for one in _list(recipe.get("recipeIngredient") or recipe.get("ingredients")):
        lines.extend((line, "ingredient") for line in _text(one).split("\n") if line)
    lines.extend(_steps(recipe.get("recipeInstructions"), 0))
    return tuple(lines)


def _steps(value: Any, depth: int) -> Iterator[Found]:
    if depth > len("deep"):
        return
    for one in _list(value):
        if isinstance(one, dict) and one.get("@type") == "HowToSection":
            if name := _text(one.get("name")):
                yield name, "heading"
            yield from _steps(one.get("itemListElement"), depth + 1)
        elif isinstance(one, dict):
            text = _text(one.get("text") or one.get("name"))
            yield from ((line, "step") for line in text.split("\n") if line)
        else:
            yield from ((line, "step") for line in _text(one).split("\n") if line)


def _list(value: Any) -> list[Any]:
    if value is None:
        return []
    return value if isinstance(value, list) else [value]


def _text(value: Any) -> str:
    """Plain text of a declared value; markup in it taken out."""
    if isinstance(value, int | float):
        return f"{value:g}"
    if not isinstance(value, str):
        return ""
    text = BeautifulSoup(value, "html.parser").get_text("\n") if "<" in value else value
    return "\n".join(
        re.sub(r"[ \t]+", " ", line).strip() for line in text.split("\n")
    ).strip()
