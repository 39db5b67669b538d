"""`noonmark web`: which file, which port, and the server until Ctrl-C."""

from __future__ import annotations

import socket
import sys
import webbrowser
from contextlib import suppress
from importlib.resources import files
from pathlib import Path

import uvicorn

from noonmark.cards.speech import Speech
from noonmark.design.file import load_design, write_atomically, written_units
from noonmark.errors import InputError, Problem, Sentence
from noonmark.web.desk import Desk
from noonmark.web.journal import Journal, folder_of, state_folder, token_of
from noonmark.web.server import LARGEST_MESSAGE, make_app

HOST = "127.0.0.1"
PORT = 8123
_NEXT_PORTS = 50
MOST_CONNECTIONS = 400
"""Connections at a time; more are turned away at once."""
SAMPLE = "larkspur.toml"


def serve(file: Path | None, port: int | None, *, open_page: bool) -> int:
    """Serve a design until Ctrl-C; the address goes to stdout."""
    path, said = _file(file)
    bound = _bound(port)
    number = bound.getsockname()[1]
    folder = folder_of(path.resolve())
    desk = Desk(path, Journal(folder))
    speech = Speech(written_units(path))
    if said is not None:
        sys.stderr.write(speech.say(said) + "\n")
    address = f"http://{HOST}:{number}/{token_of(folder)}/"
    print(address, flush=True)
    app = make_app(desk, token=token_of(folder), port=number)
    server = _Server(_config(app), address if open_page else None)
    with suppress(KeyboardInterrupt):
        server.run(sockets=[bound])
    return 0


class _Server(uvicorn.Server):
    """A server that opens the page once it listens."""

    def __init__(self, config: uvicorn.Config, address: str | None) -> None:
        super().__init__(config)
        self._address = address

    async def startup(self, sockets: list[socket.socket] | None = None) -> None:
        """Start, then open the page."""
        await super().startup(sockets)
        if self._address is not None and self.started:
            webbrowser.open(self._address)


def _config(app: object) -> uvicorn.Config:
    return uvicorn.Config(
        app,  # type: ignore[arg-type]
        log_level="warning",
        access_log=False,
        server_header=False,
        ws="websockets-sansio",
        ws_max_size=LARGEST_MESSAGE,
        ws_ping_interval=20.0,
        ws_ping_timeout=60.0,
        ws_per_message_deflate=False,
        timeout_graceful_shutdown=2,
        limit_concurrency=MOST_CONNECTIONS,
        proxy_headers=False,
    )


def _bound(port: int | None) -> socket.socket:
    """Return a listening place: the port asked for, else the first free one from `PORT` on."""
    ports = [port] if port is not None else [*range(PORT, PORT + _NEXT_PORTS), 0]
    reason = ""
    for number in ports:
        found = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
        found.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            found.bind((HOST, number))
            found.listen(128)
        except (OSError, OverflowError) as error:
            found.close()
            reason = getattr(error, "strerror", None) or str(error)
            continue
        return found
    raise InputError(Problem("web.port_taken", values={"port": port, "reason": reason}))


def _file(file: Path | None) -> tuple[Path, Sentence | None]:
    """Return the design to serve, and what is said of one nobody named."""
    if file is not None:
        if not file.is_file():
            load_design(file)  # says why not
        return file, None
    here = [path for path in sorted(Path().glob("*.toml")) if _is_design(path)]
    if len(here) == 1:
        return here[0], Sentence("web.only_design", {"file": str(here[0])})
    copy = state_folder() / SAMPLE
    if not copy.exists():
        copy.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        sample = files("noonmark.design").joinpath(f"data/{SAMPLE}")
        write_atomically(copy, sample.read_text("utf-8"))
    return copy, Sentence("web.sample_copy", {"file": str(copy)})


def _is_design(path: Path) -> bool:
    """Return whether a file says that it is a design, sound or not."""
    try:
        text = path.read_text("utf-8")[:20_000]
    except (OSError, UnicodeDecodeError):
        return False
    return any(line.split("=")[0].strip() == "schema" for line in text.splitlines())
