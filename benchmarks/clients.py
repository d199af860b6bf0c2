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
_ROUNDS: Final = 3
_ASKED: Final = 64
"""Cards that are sent by all clients of a round together."""


@dataclass(frozen=True, slots=True)
class ClientsTaken:
    """What so many clients got, each asking again as soon as it is answered."""

    clients: int
    a_second: float
    """Answers to all of them."""
    p50_ms: float
    p95_ms: float


def clients(scratch: Path) -> tuple[ClientsTaken, ...]:
    """So many clients, by turns. No text is sent twice, so that nothing is remembered.

    Args:
        scratch: where a store may be written.

    Raises:
        httpx2.HTTPError: if an answer is none, or an error.
    """
    (number,) = fill(scratch / "clients", [card()])
    texts = (card(n) for n in count(1))
    times: dict[int, list[float]] = {n: [] for n in CLIENTS}
    took_s = dict.fromkeys(CLIENTS, 0.0)
    with serving(scratch / "clients") as served:
        address = f"{served.address}/slabs/{number}/follow"
        asyncio.run(_asked(address, 1, texts))
        for _ in range(_ROUNDS):
            for n in CLIENTS:
                begun = perf_counter()
                times[n] += asyncio.run(_asked(address, n, texts))
                took_s[n] += perf_counter() - begun
    return tuple(
        ClientsTaken(n, len(one) / took_s[n], median(one), quantiles(one, n=20)[-1])
        for n, one in times.items()
    )


async def _asked(address: str, number: int, texts: Iterator[str]) -> list[float]:
    """How long each answer took [ms]."""
    times: list[float] = []
    async with httpx2.AsyncClient(timeout=120) as client:

        async def one() -> None:
            for _ in range(_ASKED // number):
                form = {"card": next(texts), "base": "1"}
                sent = perf_counter()
                answer = await client.post(address, data=form)
                times.append((perf_counter() - sent) * 1000)
                answer.raise_for_status()

        await asyncio.gather(*(one() for _ in range(number)))
    return times
