"""The solver processes and the line that jobs wait in for them."""

from __future__ import annotations

import asyncio
import logging
import os
import pickle
import subprocess
import sys
from collections import OrderedDict
from collections.abc import Callable, Hashable
from dataclasses import dataclass

from noonmark.errors import Problem
from noonmark.web.jobs import LENGTH, Job, Refusal, Reply

MOST_PROCESSES = 2

PATIENCE_S = 120.0
"""A process that takes longer for a job is taken for dead."""

WARMING_S = 900.0
"""The same for its first job, before which a slow machine may have to compile."""

_TRIES = 2
_log = logging.getLogger("noonmark.web")


@dataclass(frozen=True)
class Work:
    """A job, and who is told when it is done; told nothing when a newer one took its place."""

    job: Job
    done: Callable[[Reply], None]


class Line:
    """Where work waits: first come, first served, the newest of a key in the oldest one's place.

    So a session that sends edits faster than they are reckoned has one waiting, and
    waits no longer and no less than any other. Work put `later` is taken when
    nothing else waits.
    """

    def __init__(self) -> None:
        """Start empty."""
        self._now: OrderedDict[Hashable, Work] = OrderedDict()
        self._later: OrderedDict[Hashable, Work] = OrderedDict()
        self._some = asyncio.Event()

    def put(self, key: Hashable, work: Work, *, later: bool = False) -> None:
        """Let work wait under a key."""
        (self._later if later else self._now)[key] = work
        self._some.set()

    def drop(self, key: Hashable) -> None:
        """Forget what waits under a key."""
        self._now.pop(key, None)
        self._later.pop(key, None)

    async def take(self) -> Work:
        """Wait for the next work."""
        while not (self._now or self._later):
            self._some.clear()
            await self._some.wait()
        return (self._now or self._later).popitem(last=False)[1]


class Solver:
    """Processes that do the work of a line; one that dies is replaced and its job done again."""

    def __init__(self, line: Line, *, processes: int | None = None) -> None:
        """Take the line; `processes` are as many as cores, two at most, unless told."""
        self.line = line
        self.count = processes or min(MOST_PROCESSES, os.cpu_count() or 1)
        self._tasks: list[asyncio.Task[None]] = []
        self._warmed = asyncio.Event()
        self.processes: dict[int, asyncio.subprocess.Process] = {}

    def start(self, warm: Job | None, ready: Callable[[], None]) -> None:
        """Start the processes; each reckons `warm` first, and `ready` is told.

        The first one has the processor to itself, for it may have to compile what
        the others then find on disk.
        """
        for index in range(self.count):
            self._tasks.append(asyncio.create_task(self._serve(index, warm, ready)))

    async def stop(self) -> None:
        """End the processes."""
        for task in self._tasks:
            task.cancel()
        await asyncio.gather(*self._tasks, return_exceptions=True)
        for index in list(self.processes):
            await self._end(index)

    async def _serve(self, index: int, warm: Job | None, ready: Callable[[], None]) -> None:
        if index > 0:
            await self._warmed.wait()
        if warm is not None:
            await self._reply(index, warm, WARMING_S)
        self._warmed.set()
        ready()
        while True:
            work = await self.line.take()
            reply = await self._reply(index, work.job)
            try:
                work.done(reply)
            except Exception:  # a solver outlives what goes wrong with one answer
                _log.exception("telling an answer")

    async def _reply(self, index: int, job: Job, patience: float = PATIENCE_S) -> Reply:
        """Return the answer of process `index`, or of one in its place."""
        for _ in range(_TRIES):
            try:
                return await asyncio.wait_for(self._ask(index, job), patience)
            except (OSError, EOFError, asyncio.IncompleteReadError, TimeoutError):
                await self._end(index)
            except Exception:
                _log.exception("reading an answer")
                await self._end(index)
        return Refusal((Problem("web.solver_died"),))

    async def _ask(self, index: int, job: Job) -> Reply:
        if index not in self.processes:
            self.processes[index] = await _start()
        process = self.processes[index]
        assert process.stdin is not None
        assert process.stdout is not None
        data = pickle.dumps(job)
        process.stdin.write(LENGTH.pack(len(data)) + data)
        await process.stdin.drain()
        (length,) = LENGTH.unpack(await process.stdout.readexactly(LENGTH.size))
        reply: Reply = pickle.loads(await process.stdout.readexactly(length))
        return reply

    async def _end(self, index: int) -> None:
        process = self.processes.pop(index, None)
        if process is None:
            return
        if process.stdin is not None:
            process.stdin.close()  # a solver ends when its input does
        if process.returncode is None:
            process.kill()
        await process.wait()


async def _start() -> asyncio.subprocess.Process:
    """Start a solver apart from the terminal, whose Ctrl-C is for the server alone."""
    return await asyncio.create_subprocess_exec(
        sys.executable,
        "-m",
        "noonmark.web.worker",
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        limit=1 << 20,
        start_new_session=os.name == "posix",
    )
