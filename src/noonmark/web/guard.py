"""Who may ask: this machine's own page with the token, and nobody else; and what answers say."""

from __future__ import annotations

import hmac
from urllib.parse import urlsplit

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import HTMLResponse, RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send
from starlette.websockets import WebSocket

from noonmark.cards.speech import Speech
from noonmark.errors import Sentence

_OWN_NAMES = ("127.0.0.1", "localhost")


class Guard:
    """Lets requests of this machine that name the token through, the token taken off their path.

    Another `Host` or `Origin` is answered 403, so is a websocket that names no
    origin; another path 404. Every answer says what its page may load.
    """

    def __init__(self, app: ASGIApp, token: str, port: int) -> None:
        """Guard `app`, which is served at `port`."""
        self.app, self.token = app, token
        self.hosts = {f"{name}:{port}" for name in _OWN_NAMES}

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer a request or pass it on."""
        if scope["type"] == "lifespan":
            await self.app(scope, receive, send)
            return
        headers = Headers(scope=scope)
        host = headers.get("host", "")
        first, slash, rest = scope["path"].removeprefix("/").partition("/")
        if (refusal := self._refusal(scope, headers, host)) is None and not self._named(first):
            refusal = page_of(Sentence("web.no_token"), 404)
        elif refusal is None and not slash:
            refusal = RedirectResponse(f"/{self.token}/")
        if refusal is None:
            scope = {**scope, "path": f"/{rest}", "raw_path": None}
        secured = _secured(send, host if host in self.hosts else "", scope["path"])
        if refusal is None:
            await self.app(scope, receive, secured)
        elif scope["type"] == "websocket":
            await WebSocket(scope, receive, secured).send_denial_response(refusal)
        else:
            await refusal(scope, receive, secured)

    def _refusal(self, scope: Scope, headers: Headers, host: str) -> Response | None:
        origin = headers.get("origin")
        if host not in self.hosts:
            return page_of(Sentence("web.other_host"), 403)
        if origin is None:
            needed = scope["type"] == "websocket"
            return page_of(Sentence("web.other_page"), 403) if needed else None
        found = urlsplit(origin)
        if (found.scheme, found.netloc) != ("http", host):
            return page_of(Sentence("web.other_page"), 403)
        return None

    def _named(self, word: str) -> bool:
        return hmac.compare_digest(word.encode(), self.token.encode())


def page_of(sentence: Sentence, status: int) -> Response:
    """Return a page of one sentence."""
    return HTMLResponse(
        f"<!doctype html><title>noonmark</title><p>{_escaped(Speech().say(sentence))}</p>\n",
        status,
    )


def _escaped(text: str) -> str:
    return text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")


def _policy(host: str) -> str:
    sources = ("script", "style", "font", "img", "manifest", "worker")
    own = "; ".join(f"{name}-src 'self'" for name in sources)
    socket = f"ws://{host}" if host else ""
    return (
        f"default-src 'none'; {own}; connect-src 'self' {socket}; "
        "base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
    )


def _secured(send: Send, host: str, path: str) -> Send:
    """Return `send` that adds to every answer what keeps its page to this server."""
    hashed = path.startswith("/assets/")
    fixed = {
        "Content-Security-Policy": _policy(host),
        "Referrer-Policy": "no-referrer",
        "X-Content-Type-Options": "nosniff",
        "X-Frame-Options": "DENY",
        "Cross-Origin-Opener-Policy": "same-origin",
        "Cross-Origin-Resource-Policy": "same-origin",
    }

    async def add(message: Message) -> None:
        if message["type"] in ("http.response.start", "websocket.http.response.start"):
            headers = MutableHeaders(scope=message)
            for name, value in fixed.items():
                headers[name] = value
            kept = "private, max-age=31536000, immutable"
            fresh = message["status"] in (200, 304)
            headers["Cache-Control"] = kept if hashed and fresh else "no-store"
        await send(message)

    return add
