"""The server of one design: its application and the line to its pages (docs/wire.md)."""

from __future__ import annotations

import asyncio
import time
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from functools import partial
from pathlib import Path
from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field, TypeAdapter, ValidationError
from starlette.applications import Starlette
from starlette.routing import WebSocketRoute
from starlette.types import ASGIApp
from starlette.websockets import WebSocket, WebSocketDisconnect

from noonmark.errors import Problem, Sentence
from noonmark.web.addresses import Addresses, static_folder
from noonmark.web.desk import Desk
from noonmark.web.guard import Guard, page_of
from noonmark.web.hub import Hub, Session
from noonmark.web.wire import text_of

LARGEST_MESSAGE = 65_536
"""Bytes of a message of the page."""

MOST_SESSIONS = 120
"""Pages open at a time."""

PER_SECOND, AT_ONCE = 100.0, 200.0
"""Messages of a page that are read in a second, and at once; more have to wait."""


class _Said(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True, strict=True)


class Edit(_Said):
    """Words put on the file while the hand holds, or into it when it lets go."""

    type: Literal["edit"]
    seq: Annotated[int, Field(ge=0, le=2**53)]
    building: Annotated[str, Field(max_length=200)] | None = None
    words: Annotated[
        list[Annotated[str, Field(max_length=20_000)]], Field(min_length=1, max_length=60)
    ]
    hold: bool


class Step(_Said):
    """The file as it was before the last change, or after it."""

    type: Literal["undo", "redo"]


class Look(_Said):
    """Show another building."""

    type: Literal["look"]
    building: Annotated[str, Field(max_length=200)]


_MESSAGE: TypeAdapter[Edit | Step | Look] = TypeAdapter(
    Annotated[Edit | Step | Look, Field(discriminator="type")]
)


def make_app(
    desk: Desk, *, token: str, port: int, static: Path | None = None, processes: int | None = None
) -> ASGIApp:
    """Return the application that serves a desk at `port` to those who know the token.

    `static` is the folder of the built page, `processes` how many solvers there are.
    """
    hub = Hub(desk, processes=processes)

    @asynccontextmanager
    async def lifespan(_: Starlette) -> AsyncIterator[None]:
        await hub.start()
        try:
            yield
        finally:
            await hub.stop()

    app = Starlette(
        routes=[
            WebSocketRoute("/desk", partial(_attend, hub)),
            *Addresses(hub, static or static_folder()).routes(),
        ],
        lifespan=lifespan,
    )
    return Guard(app, token, port)


async def _attend(hub: Hub, socket: WebSocket) -> None:
    """Serve a page until it goes."""
    if len(hub.sessions) >= MOST_SESSIONS:
        await socket.send_denial_response(page_of(Sentence("web.too_many_pages"), 503))
        return
    await socket.accept()
    session = Session()
    hub.join(session)
    sender = asyncio.create_task(_send(session, socket))
    try:
        await _listen(hub, session, socket)
    except WebSocketDisconnect:
        pass
    finally:
        hub.leave(session)
        sender.cancel()


async def _send(session: Session, socket: WebSocket) -> None:
    while True:
        message = await session.next()
        try:
            if isinstance(message, str):
                await socket.send_text(message)
            else:
                await socket.send_bytes(message)
        except (RuntimeError, WebSocketDisconnect):
            return


async def _listen(hub: Hub, session: Session, socket: WebSocket) -> None:
    budget, last = AT_ONCE, time.monotonic()
    while True:
        message = await socket.receive()
        if message["type"] == "websocket.disconnect":
            return
        now = time.monotonic()
        budget = min(AT_ONCE, budget + (now - last) * PER_SECOND) - 1.0
        last = now
        if budget < 0.0:
            await asyncio.sleep(-budget / PER_SECOND)
        await _heed(hub, session, message.get("text"))


async def _heed(hub: Hub, session: Session, text: str | None) -> None:
    """Do what a message says, or say why not; the page always gets an answer."""
    try:
        said = _MESSAGE.validate_json(text or "")
    except ValidationError:
        _refuse(session, None, Problem("web.not_understood"))
        return
    seq = said.seq if isinstance(said, Edit) else None
    if seq is not None and seq <= session.newest:
        _refuse(session, seq, Problem("web.not_understood"))
        return
    try:
        await _do(hub, session, said)
    except Exception as error:
        detail = f"{type(error).__name__}: {error}"
        _refuse(session, seq, Problem("web.not_done", values={"detail": detail}))


async def _do(hub: Hub, session: Session, said: Edit | Step | Look) -> None:
    if isinstance(said, Step):
        await hub.step(said.type)
    elif isinstance(said, Look):
        hub.look(session, said.building)
    elif said.hold:
        hub.hold(session, said.seq, said.building, said.words)
    else:
        await hub.commit(session, said.seq, said.building, said.words)


def _refuse(session: Session, seq: int | None, problem: Problem) -> None:
    head = {"type": "refused", "seq": seq, "hold": False, "problems": [problem]}
    session.send("refused", text_of(head))
