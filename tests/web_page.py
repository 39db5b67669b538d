"""A served design and a page of it, as a browser would have them: the real command, a real port."""

from __future__ import annotations

import json
import os
import signal
import struct
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import IO, Any
from urllib.error import HTTPError
from urllib.request import Request, urlopen

import numpy as np
from numpy.typing import NDArray
from websockets.sync.client import ClientConnection, connect

Message = dict[str, Any]
PATIENCE_S = 120.0
"""A solver may have to compile first."""


@dataclass
class Served:
    """A running `noonmark web`."""

    process: subprocess.Popen[str]
    address: str
    log: IO[str]

    @property
    def complaints(self) -> str:
        """What the server wrote to its standard error."""
        self.log.seek(0)
        return self.log.read()

    @property
    def origin(self) -> str:
        return self.address.rsplit("/", 2)[0]

    @property
    def desk(self) -> str:
        return self.address.replace("http", "ws") + "desk"

    def get(self, name: str, headers: dict[str, str] | None = None) -> tuple[int, bytes]:
        """Return status and body of an address after the token."""
        try:
            with urlopen(Request(self.address + name, headers=headers or {}), timeout=60) as found:
                return found.status, found.read()
        except HTTPError as error:
            return error.code, error.read()

    def kill(self) -> None:
        """End the server as a power cut does."""
        self.process.kill()
        self.process.wait()

    def children(self) -> list[int]:
        """Return the solver processes."""
        task = Path(f"/proc/{self.process.pid}/task/{self.process.pid}/children")
        return [int(word) for word in task.read_text("ascii").split()]


def run_on(processes: list[int], seconds: float = 30.0) -> list[int]:
    """Return which of some processes still run after a while; those that ended are waited for."""
    end = time.monotonic() + seconds
    while (left := [number for number in processes if _runs(number)]) and time.monotonic() < end:
        time.sleep(0.1)
    return left


def _runs(number: int) -> bool:
    try:
        state = Path(f"/proc/{number}/stat").read_text("ascii").rpartition(")")[2].split()[0]
    except OSError:
        return False
    return state != "Z"


@contextmanager
def served(file: Path, state: Path, *words: str) -> Iterator[Served]:
    """Run `noonmark web` on a file at a free port, ended by Ctrl-C."""
    command = [sys.executable, "-m", "noonmark", "web", str(file), "--no-open", "--port", "0"]
    with tempfile.TemporaryFile("w+", encoding="utf-8") as log:  # an unread pipe would fill
        process = subprocess.Popen(
            [*command, *words],
            stdout=subprocess.PIPE,
            stderr=log,
            text=True,
            env={**os.environ, "NOONMARK_STATE": str(state)},
            start_new_session=True,
        )
        assert process.stdout is not None
        try:
            yield Served(process, process.stdout.readline().strip(), log)
        finally:
            if process.poll() is None:
                process.send_signal(signal.SIGINT)
            try:
                process.wait(20)
            except subprocess.TimeoutExpired:
                process.kill()
            process.stdout.close()


@contextmanager
def opened(place: Served, **options: Any) -> Iterator[Page]:
    """Open a page of a served design."""
    with connect(place.desk, **{"origin": place.origin, "max_size": None, **options}) as socket:
        yield Page(socket)


@dataclass
class Page:
    """A page: says messages, hears messages; `seq` is the number of its last edit."""

    socket: ClientConnection
    seq: int = 0

    def say(self, **message: Any) -> None:
        self.socket.send(json.dumps(message))

    def edit(self, *words: str, hold: bool, building: str = "house") -> int:
        """Send an edit; return its number."""
        self.seq += 1
        self.say(type="edit", seq=self.seq, building=building, words=words, hold=hold)
        return self.seq

    def hear(self, timeout: float = PATIENCE_S) -> Message:
        """Return the next message; arrays of a frame lie under `series` by name and zone."""
        return told(self.socket.recv(timeout=timeout))

    def until(self, *kinds: str, where: Callable[[Message], bool] = lambda _: True) -> Message:
        """Return the next message of one of some kinds for which something holds."""
        while True:
            message = self.hear()
            if message["type"] in kinds and where(message):
                return message
            assert message["type"] != "refused" or "refused" in kinds, message


def told(message: str | bytes) -> Message:
    """Return a message as data."""
    if isinstance(message, str):
        found: Message = json.loads(message)
        return found
    (length,) = struct.unpack("<I", message[:4])
    assert length % 2 == 0
    found = json.loads(message[4 : 4 + length])
    numbers = np.frombuffer(message, "<i2", offset=4 + length)
    assert numbers.size == sum(item["count"] for item in found["arrays"])
    found["series"] = {
        (item["name"], item.get("zone")): _values(item, numbers) for item in found["arrays"]
    }
    return found


def _values(item: Message, numbers: NDArray[np.int16]) -> NDArray[np.float64]:
    steps = numbers[item["start"] : item["start"] + item["count"]]
    return np.where(steps == -32768, np.nan, steps * item["scale"])
