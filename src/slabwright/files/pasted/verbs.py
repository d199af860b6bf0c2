"""Words with which a cook's sentence begins: what the hand is to do."""

import re
from typing import Final

_VERBS: Final = re.compile(
    r"^(?:first(?:ly)?|next|then|now|meanwhile|finally|once|when|while|after|to (?:make"
    r"|serve|finish|assemble)|pre-?heat|heat|melt|grease|line|butter (?:and|the|a)|mix"
    r"|stir|whisk|beat|rub|press|tip|pour|spread|bake|boil|simmer|cook|cool|chill|leave"
    r"|set|cut|slice|remove|take|place|put|add|combine|blend|blitz|fold|cream (?:the"
    r"|together)|sift|sieve|soak|strain|bring|dissolve|allow|let|return|turn|transfer"
    r"|scatter|sprinkle|drizzle|dust|trim|store|keep|serve|prick|dock|roll|knead|warm"
    r"|roast|toast|chop|weigh|level|smooth|scrape|work|use|make|prepare|begin|start"
    r"|check|test|dip|temper|decorate|top|finish|swirl|stand|rest|freeze|wrap|mark"
    r"|score"
    r"|flood|lift|squeeze|grate|peel|halve|crush|bash|pulse|process|microwave|stew"
    r"|poach"
    r"|reduce|divide|repeat|arrange|cover|reserve|crumble|measure|fill|gently"
    r"|slowly|carefully|quickly|using|in a|in the|on a|with a|pop|whip|shape)\b",
    re.IGNORECASE,
)


def begins_with_verb(text: str) -> bool:
    """Whether a line begins as a step of a method does.

    >>> begins_with_verb("Melt the butter"), begins_with_verb("butter, melted")
    (True, False)
    """
    return _VERBS.match(text) is not None
