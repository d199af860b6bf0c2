"""Fields of forms that several pages take, each with its limit."""

from typing import Annotated, Final

from fastapi import Form, Path, Query

MOST_CARD: Final = 1024 * 1024
"""Characters of a card, as of a card's file."""
MOST_NUMBER: Final = 2**31 - 1
"""Largest number of a row: what the narrower of both databases holds."""

CardText = Annotated[str, Form(max_length=MOST_CARD)]
Note = Annotated[str, Form(max_length=2000)]
Name = Annotated[str, Form(max_length=120)]
Flag = Annotated[str, Form(max_length=10)]
Base = Annotated[int, Form(ge=0, le=MOST_NUMBER)]
CardId = Annotated[int, Path(ge=1, le=MOST_NUMBER)]
RevisionNumber = Annotated[int, Path(ge=1, le=MOST_NUMBER)]
Find = Annotated[str, Query(max_length=200)]
Start = Annotated[int, Query(ge=0, le=1_000_000)]
DraftKey = Annotated[str, Query(max_length=60)]
DraftField = Annotated[str, Form(max_length=60)]
"""The key of a draft, or when it was kept."""
