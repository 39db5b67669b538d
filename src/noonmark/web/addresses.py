"""What lies at the addresses: the page, and every number of it as JSON (docs/wire.md)."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path

from starlette.requests import Request
from starlette.responses import FileResponse, JSONResponse, Response
from starlette.routing import BaseRoute, Route

from noonmark.cards.speech import languages, sentences
from noonmark.errors import Problem, Sentence
from noonmark.sun.year import DAYS
from noonmark.web.guard import page_of
from noonmark.web.hub import Hub
from noonmark.web.jobs import Refusal, Reply
from noonmark.web.wire import text_of

BUILD = "make page"
"""What builds the page."""

NOON_MINUTES = 720
"""How far from solar noon a sun can be asked for."""

_KINDS = {
    ".js": "text/javascript",
    ".css": "text/css",
    ".svg": "image/svg+xml",
    ".woff2": "font/woff2",
    ".png": "image/png",
    ".json": "application/json",
}
"""What a part of the page is; nothing else lies there."""


def _static(folder: Path, name: str) -> Response:
    """Return a part of the page: a file in its folder and nowhere else."""
    try:
        found = (folder / name).resolve()
        there = found.is_relative_to(folder.resolve()) and found.is_file()
    except (OSError, ValueError):
        there = False
    if not there or found.suffix not in _KINDS:
        return page_of(Sentence("web.nothing_here"), 404)
    return FileResponse(found, media_type=_KINDS[found.suffix])


def static_folder() -> Path:
    """Return where the built page lies."""
    return Path(str(files("noonmark.web").joinpath("static")))


class Addresses:
    """Answers requests about what a hub serves; `folder` holds the built page."""

    def __init__(self, hub: Hub, folder: Path) -> None:
        """Take both."""
        self.hub, self.folder = hub, folder

    def routes(self) -> list[BaseRoute]:
        """Return the addresses after the token; the page's own parts come last."""
        return [
            Route("/", self.page),
            Route("/design.json", self.design),
            Route("/year.json", self.year),
            Route("/hours.json", self.hours),
            Route("/answers.json", self.answers),
            Route("/sun.json", self.sun),
            Route("/weather.json", self.weather),
            Route("/words/{language}.json", self.words),
            Route("/{path:path}", self.part),
        ]

    async def page(self, _: Request) -> Response:
        """Return the page, or how to build it."""
        index = self.folder / "index.html"
        if not index.is_file():
            return page_of(Sentence("web.no_page", {"command": BUILD}), 503)
        return FileResponse(index, media_type="text/html")

    async def part(self, request: Request) -> Response:
        """Return a part of the page."""
        return _static(self.folder, request.path_params["path"])

    async def design(self, _: Request) -> Response:
        """Return the file as it stands."""
        return _json(self.hub.design_data())

    async def year(self, _: Request) -> Response:
        """Return the whole result tree."""
        return _told(await self.hub.ask("whole"))

    async def hours(self, request: Request) -> Response:
        """Return the hourly numbers of a building."""
        return _told(await self.hub.ask("hours", _building(request)))

    async def answers(self, request: Request) -> Response:
        """Return year, bright day and cold dawn of a building and of its twin."""
        return _told(await self.hub.ask("answers", _building(request)))

    async def sun(self, request: Request) -> Response:
        """Return the sun on the section of a building."""
        found = {key: request.query_params.get(key, "0") for key in ("day", "after")}
        try:
            day, after = (int(text) for text in found.values())
        except ValueError:
            day, after = -1, 0
        if not (0 <= day < DAYS and abs(after) <= NOON_MINUTES):
            problem = Problem("web.no_such_sun", values={"read": ", ".join(found.values())})
            return _told(Refusal((problem,)))
        return _told(await self.hub.ask("sun", _building(request), day=day, after_noon=after))

    async def weather(self, _: Request) -> Response:
        """Return the weather with its hours."""
        return _told(await self.hub.ask("weather_whole"))

    async def words(self, request: Request) -> Response:
        """Return the sentences of a language."""
        language = request.path_params["language"]
        if language not in languages():
            return JSONResponse({"languages": languages()}, 404)
        return JSONResponse(dict(sentences(language)))


def _building(request: Request) -> str | None:
    return request.query_params.get("building")


def _json(text: str, status: int = 200) -> Response:
    return Response(text, status, media_type="application/json")


def _told(reply: Reply) -> Response:
    if isinstance(reply, Refusal):
        return _json(text_of({"problems": reply.problems}), 422)
    return _json(reply.body)
