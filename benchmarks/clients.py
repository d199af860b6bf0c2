"""Many at the desk at once: how many cards are followed in a second, and how soon."""

import asyncio
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import count
from pathlib import Path
from statistics import median, quantiles
from time import perf_counter
from typing import Final

import httpx2

from benchmarks.cards import card
from benchmarks.served import fill, serving

CLIENTS: Final = (1, 8, 32)
_ASKED: Final = 96
"""Cards that are sent by all clients together."""


@dataclass(frozen=True, slots=True)
class ClientsTaken:
    """What so many clients got, each asking again as soon as it is answered."""

    clients: int
    a_second: float
    """Answers to all of them."""
    p50_ms: float
    p95_ms: float


def clients(scratch: Path) -> tuple[ClientsTaken, ...]:
    """No text is sent twice, so that nothing can be remembered.

    Args:
        scratch: where a store may be written.

    Raises:
        httpx2.HTTPError: if an answer is none, or an error.
    """
    (number,) = fill(scratch / "clients", [card()])
    texts = (card(n) for n in count(1))
    with serving(scratch / "clients") as served:
        address = f"{served.address}/slabs/{number}/follow"
        asyncio.run(_asked(address, 1, 8, texts))
        return tuple(asyncio.run(_asked(address, n, _ASKED, texts)) for n in CLIENTS)


async def _asked(
    address: str, number: int, asked: int, texts: Iterator[str]
) -> ClientsTaken:
    times: list[float] = []
    async with httpx2.AsyncClient(timeout=120) as client:

        async def one() -> None:
            for _ in range(asked // number):
                form = {"card": next(texts), "base": "1"}
                sent = perf_counter()
                answer = await client.post(address, data=form)
                times.append((perf_counter() - sent) * 1000)
                answer.raise_for_status()

        begun = perf_counter()
        await asyncio.gather(*(one() for _ in range(number)))
        took_s = perf_counter() - begun
    return ClientsTaken(
        number, len(times) / took_s, median(times), quantiles(times, n=20)[-1]
    )
