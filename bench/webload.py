"""Pages that drag: a bounded load on a served design, and what they waited for."""

from __future__ import annotations

import asyncio
import json
import time
from dataclasses import dataclass, field
from pathlib import Path

import numpy as np
from websockets.asyncio.client import ClientConnection, connect

from web_page import Served, told

EDITS_PER_S = 30.0
BURST_S = 2.0
"""How long a hand holds before it rests, and is waited for."""

PATIENCE_S = 10.0


@dataclass
class Waited:
    """How long answers took [s], and how many last edits of a hold got none."""

    seconds: list[float] = field(default_factory=list)
    unanswered: int = 0

    def percentile(self, share: float) -> float:
        """Return what `share` [%] of the answers took at most [ms]."""
        return 1e3 * float(np.percentile(self.seconds, share))


@dataclass
class Load:
    """What a soak comes to; memory is that of server and solvers [MB]."""

    alone: Waited
    five: Waited
    dropped: int
    memory_begin: float
    memory_end: float


def soak(place: Served, seconds: float, *, idle: int = 50) -> Load:
    """Let one page drag for two fifths of the time, then five, while `idle` pages stay open."""
    return asyncio.run(_soak(place, seconds, idle))


async def _soak(place: Served, seconds: float, idle: int) -> Load:
    quiet = [await _open(place) for _ in range(idle)]
    listening = [asyncio.create_task(_listen(socket)) for socket in quiet]
    await _drag(place, Waited(), 3.0, 0)  # compiles, and fills what is kept at hand
    begin = memory(place)
    alone, five = Waited(), Waited()
    await _drag(place, alone, 0.4 * seconds, 1)
    await asyncio.gather(*(_drag(place, five, 0.6 * seconds, 2 + page) for page in range(5)))
    dropped = sum(task.done() for task in listening)
    end = memory(place)
    for task in listening:
        task.cancel()
    for socket in quiet:
        await socket.close()
    return Load(alone, five, dropped, begin, end)


async def _open(place: Served) -> ClientConnection:
    return await connect(place.desk, origin=place.origin, max_size=None)  # type: ignore[arg-type]


async def _listen(socket: ClientConnection) -> None:
    async for _ in socket:
        pass


async def _drag(place: Served, waited: Waited, seconds: float, page: int) -> None:
    """Drag the eave out and in, in bursts; the last edit of each is waited for."""
    socket = await _open(place)
    sent: dict[int, float] = {}
    answered = asyncio.Event()

    async def hear() -> None:
        async for message in socket:
            now = time.perf_counter()
            found = told(message)
            seq = found.get("seq")
            if found["type"] == "year" and seq in sent:
                waited.seconds.append(now - sent[seq])
                if seq == max(sent):
                    answered.set()

    hearing = asyncio.create_task(hear())
    end, seq = time.perf_counter() + seconds, 0
    while time.perf_counter() < end:
        rest = time.perf_counter() + BURST_S
        while time.perf_counter() < rest:
            seq += 1
            answered.clear()
            sent[seq] = time.perf_counter()
            await socket.send(_edit(seq, page))
            await asyncio.sleep(max(0.0, sent[seq] + 1.0 / EDITS_PER_S - time.perf_counter()))
        try:
            await asyncio.wait_for(answered.wait(), PATIENCE_S)
        except TimeoutError:
            waited.unanswered += 1
    hearing.cancel()
    await socket.close()


def _edit(seq: int, page: int) -> str:
    projection = 0.3 + 0.9 * abs((seq * 0.0137 + 0.13 * page) % 2.0 - 1.0)
    words = [f"house.eave.projection={projection:.5f} m"]
    return json.dumps(
        {"type": "edit", "seq": seq, "building": "house", "words": words, "hold": True}
    )


def memory(place: Served) -> float:
    """Return what server and solvers hold of memory that others do not [MB]."""
    return sum(_private(number) for number in [place.process.pid, *place.children()]) / 1e3


def _private(number: int) -> float:
    text = Path(f"/proc/{number}/smaps_rollup").read_text("ascii")
    rows = {line.split(":")[0]: line.split()[1] for line in text.splitlines()[1:]}
    return float(rows["Pss"])
