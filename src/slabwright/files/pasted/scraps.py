"""What stands on a page beside the recipe: portions, times, adverts, nutrition."""

import re
from typing import Final

_SCRAP: Final = re.compile(
    r"""^\W*(?:
      (?:serves?|servings?|portions?|feeds|yields?|makes)\b(?!.*\b(?:batter|mixture)\b)
    | (?:prep(?:aration)?|cook(?:ing)?|bak(?:e|ing)|total|chill(?:ing)?|ready|resting
        |active|hands-on)\s*(?:time)?\s*[:\-–]?\s*(?:in\s+)?(?:about\s+)?\d
    | (?:prep|cook|total)(?:\s+time)?\s*$
    | (?:difficulty|course|cuisine|category|keywords?|author|source|recipe\s+by|by|from
        |posted|published|updated|last\s+updated|photo(?:graph)?s?|credit)\b\s*[:\-–]?\s
    | (?:jump\s+to|print(?:\s+recipe)?$|pin(?:\s+it|\s+recipe)?$|save(?:\s+recipe)?$
        |share|rate\s+this|review|leave\s+a|comments?\b|repl(?:y|ies)|subscribe
        |sign\s+up
        |newsletter|advert|sponsored|shop\s+now|buy\s+now|you\s+may\s+also|related|more
        \s+recipes|click|tap|follow\s+us|log\s*in|cookie\s+polic|privacy|menu$|home$
        |search$|next$|previous$|read\s+more|show\s+more|skip\s+to|back\s+to|scroll
        |accept|advertisement|continue\s+reading|watch\s+the|video|cook\s+mode|scale$
        |1x|us\s+customary|metric$|tags?\b)
    | (?:nutrition|calories?|kcal|energy|kj|fat|saturates|of\s+which|carb|sugars?|fibre
        |fiber|protein|salt|sodium|cholesterol)\b[^a-z]*:?\s*\d[\d.,]*\s*(?:k?cal
        |kj|g|mg)?
        \s*(?:per|\(|;|,|$)
    | nutrition(?:al)?\b
    | did\s+you\s+make|tag\s+us|follow\s+along|enjoy!?$
    | [\d.]+\s+(?:from|of|out\s+of)\s+\d+\s+(?:votes?|ratings?|reviews?)
    | per\s+(?:serving|portion|slice|piece|100\s*g)
    | (?:page|p\.)\s*\d+\s*(?:of\s*\d+)?$
    | \d+\s*(?:comments?|reviews?|ratings?|stars?|votes?|shares?|likes?)\b
    | [\d.]+\s*(?:out\s+of|/)\s*5\b
    | [★☆⭐]+
    | \d{1,2}(?:st|nd|rd|th)?[\s/.-]+(?:\d{1,2}|jan|feb|mar|apr|may|jun|jul|aug|sep
        |oct|nov
        |dec)[a-z]*[\s/.,-]+\d{2,4}\s*$
    | (?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*\s+\d{1,2},?\s+\d{4}
    | [^»›]+\s[»›]\s
    | (?:©|\(c\)|copyright|all\s+rights)
    | https?:|www\.|\S+@\S+\.\w
    )""",
    re.IGNORECASE | re.VERBOSE,
)
_YIELD: Final = re.compile(
    r"\b(?:makes|yields?|cuts?\s+into|gives|yield)\s*:?\s*(?:about\s+|approx\.?\s+)?"
    r"(?P<n>\d{1,3})\b(?:\s*(?:-|–|to)\s*\d{1,3})?\s*"
    r"(?P<what>(?:\w+\s+)?(?:squares|bars|pieces|fingers|slices|bites|rectangles))?",
    re.IGNORECASE,
)
_MAKES: Final = re.compile(
    r"^\W*makes\s*:?\s*(?:about\s+)?(?P<n>\d{1,3})\s*(?:[.,;(|]|\W*$)", re.IGNORECASE
)
_TELLS_YIELD: Final = re.compile(
    r"^\W*(?:serves?|servings?|portions?|feeds|yields?|makes)\b", re.IGNORECASE
)
_PLACE: Final = re.compile(
    r"^\W*(?P<what>ingredients?|you(?:'|’)?ll need|you will need|what you need"
    r"|shopping list|method|instructions?|directions?|preparation|steps?"
    r"|how to make(?: it)?|to make|notes?|tips?|cook'?s notes?|recipe notes?|storage"
    r"|to store|equipment|nutrition(?:al)?(?: information| info| facts| per \w+)?"
    r"|comments?|reviews?|faqs?|about this recipe|why you(?:'|’)?ll love.*|variations?"
    r"|substitutions?)\s*(?:\(.*\))?\s*:?\W*$",
    re.IGNORECASE,
)
_TIP: Final = re.compile(
    r"^\W*(?:(?:note|tip|top tip|cook'?s tip|nb|n\.b|ps|p\.s)\b\s*[:.–-]"
    r"|keeps?\s+(?:for|well|in)\b|stores?\s+(?:for|well)"
    r"|freezes?\s+well|best eaten|suitable for)",
    re.IGNORECASE,
)
_LASTS: Final = re.compile(
    r"^\W*(?:(?:it|this|they)\s+)?(?:will\s+)?(?:keeps?|stores?)\b(?:\s+(?:for|well))*"
    r"\s+(?P<lasts>[^.]*\d\s*(?:days?|weeks?|months?)\b[^.]*)\.?\s*$",
    re.IGNORECASE,
)
_PLACES: Final = (
    ("ingredients", ("ingredient", "you", "what you", "shopping")),
    ("method", ("method", "instruction", "direction", "preparation", "step", "how to",
                "to make")),
)  # fmt: skip


def is_scrap(text: str) -> bool:
    """Whether this line stands on pages beside the recipe, and is no part of it."""
    return _SCRAP.match(text) is not None


def tells_yield(text: str) -> bool:
    """Whether a line begins with how many it feeds or makes."""
    return _TELLS_YIELD.match(text) is not None


def pieces(text: str) -> int | None:
    """How many pieces it makes, where it says pieces and not people."""
    alone = _MAKES.match(text)
    found = _YIELD.search(text)
    if alone is None and (found is None or not found["what"]):
        return None
    count = alone or found
    return int(count["n"]) or None if count else None


def is_tip(text: str) -> bool:
    """Whether a line is a word of advice, and no step."""
    return _TIP.match(text) is not None


def how_long(text: str) -> str:
    """Where and how long it keeps, if a line says just that; else empty."""
    found = _LASTS.match(text)
    return " ".join(found["lasts"].replace("#", " ").split()) if found else ""


def place_of(text: str) -> str:
    """ingredients, method or aside, if this line heads such a part; else empty."""
    found = _PLACE.match(text)
    if found is None:
        return ""
    words = found["what"].casefold()
    for place, starts in _PLACES:
        if words.startswith(starts) and not words.startswith("why"):
            return place
    return "aside"
