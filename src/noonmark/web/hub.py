"""Everything of one served file: its desk, its sessions, and what is reckoned for them."""

from __future__ import annotations

import asyncio
from collections import OrderedDict
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from itertools import count
from typing import Any

from noonmark.cards.speech import languages
from noonmark.design.cautions import cautions
from noonmark.design.model import Homestead
from noonmark.design.truss import truss_line
from noonmark.errors import InputError, Problem
from noonmark.place.clock import standard_offset
from noonmark.study.handles import building_shape
from noonmark.sun.year import NOMINAL_YEAR
from noonmark.web.desk import Desk, Standing
from noonmark.web.jobs import Job, Refusal, Reply, Task
from noonmark.web.solver import Line, Solver, Work
from noonmark.web.wire import Answer, spliced, text_of

MOST_QUESTIONS = 4
"""Questions from addresses that wait for a solver at a time; others wait for these."""

POLL_S = 0.3
"""How often the file is looked at."""


@dataclass(eq=False)
class Session:
    """One open page: what it looks at, the newest edit it sent, the newest answered.

    `post` holds what is to be sent, the newest of each kind.
    """

    building: str | None = None
    newest: int = -1
    answered: int = -1
    committed: int = -1
    weather: object = None
    post: OrderedDict[str, str | bytes] = field(default_factory=OrderedDict)
    some: asyncio.Event = field(default_factory=asyncio.Event)

    def send(self, kind: str, message: str | bytes) -> None:
        """Let a message go out; an older one of its kind that still waits goes no more."""
        self.post.pop(kind, None)
        self.post[kind] = message
        self.some.set()

    async def next(self) -> str | bytes:
        """Wait for the next message to go out."""
        while not self.post:
            self.some.clear()
            await self.some.wait()
        return self.post.popitem(last=False)[1]


class Hub:
    """Brings desk, sessions and solver together."""

    def __init__(self, desk: Desk, *, processes: int | None = None) -> None:
        """Take the desk; nothing runs before `start`."""
        self.desk = desk
        self.line = Line()
        self.solver = Solver(self.line, processes=processes)
        self.sessions: list[Session] = []
        self.ready = False
        self._lock = asyncio.Lock()
        self._kept: dict[tuple[Task, str], Answer] = {}
        self._kept_of = -1
        self._weather: tuple[object, Answer] | None = None
        self._numbers = count()
        self._questions = asyncio.Semaphore(MOST_QUESTIONS)
        self._poller: asyncio.Task[None] | None = None

    async def start(self) -> None:
        """Start solver and watch."""
        design = self.desk.now.design
        self.solver.start(self._job("warm") if design else None, self._warmed)
        self._poller = asyncio.create_task(self._watch())

    async def stop(self) -> None:
        """End both."""
        if self._poller is not None:
            self._poller.cancel()
        await self.solver.stop()

    # --- sessions -------------------------------------------------------------------------------

    def join(self, session: Session) -> None:
        """Let a page in: the design first, then weather, year and twin."""
        self.sessions.append(session)
        state = "ready" if self.ready else "warming"
        session.send("busy", text_of({"type": "busy", "state": state}))
        session.send("design", self._design_message(self.desk.now, None))
        self._weather_for([session])
        self._year_for(self._looked_at(session), [session])

    def leave(self, session: Session) -> None:
        """Let a page go."""
        self.sessions.remove(session)
        self.line.drop(session)

    def hold(self, session: Session, seq: int, building: str | None, words: Sequence[str]) -> None:
        """Reckon an edit that the hand still holds."""
        session.newest = seq
        session.building = building or session.building
        revision = self.desk.now.revision
        job = self._job("year", building=self._looked_at(session), words=words)
        if job is None or self.desk.now.problems:
            self._refuse(session, seq, True, (self._broken(),))
            return
        head = {"type": "year", "revision": revision, "seq": seq, "hold": True}

        def done(reply: Reply) -> None:
            if seq < session.answered:
                return
            session.answered = seq
            if isinstance(reply, Refusal):
                self._refuse(session, seq, True, reply.problems)
            else:
                session.send("year", reply.frame({**head, "building": job.building}))

        self.line.put(session, Work(job, done))

    async def commit(
        self, session: Session, seq: int, building: str | None, words: Sequence[str]
    ) -> None:
        """Write an edit into the file, and reckon it for all that look at the building."""
        session.newest = seq
        session.building = building or session.building
        self.line.drop(session)
        async with self._lock:
            before = self.desk.now.revision
            try:
                now = await asyncio.to_thread(self.desk.edit, words)
            except InputError as error:
                if self.desk.now.revision != before:  # another program wrote meanwhile
                    self._changed(self.desk.now)
                session.answered = seq
                self._refuse(session, seq, False, error.problems)
                return
            session.committed = seq
            self._changed(now, sender=session)

    async def step(self, way: str) -> None:
        """Undo or redo."""
        async with self._lock:
            before = self.desk.now.revision
            now = await asyncio.to_thread(self.desk.undo if way == "undo" else self.desk.redo)
            if now.revision != before:
                self._changed(now)

    def look(self, session: Session, building: str) -> None:
        """Show another building."""
        session.building = building
        self._year_for(self._looked_at(session), [session])

    # --- questions from addresses ---------------------------------------------------------------

    async def ask(
        self, task: Task, building: str | None = None, *, day: int = 0, after_noon: int = 0
    ) -> Reply:
        """Return the answer to a question about the file as it stands (see `Job`)."""
        asked = self._job(task, building=building)
        if asked is None:
            return Refusal(self.desk.now.problems)
        job = replace(asked, day=day, after_noon=after_noon)
        found: asyncio.Future[Reply] = asyncio.get_running_loop().create_future()

        def done(reply: Reply) -> None:
            if not found.done():
                found.set_result(reply)

        key = ("question", next(self._numbers))
        async with self._questions:
            self.line.put(key, Work(job, done))
            try:
                return await found
            finally:
                self.line.drop(key)

    def design_data(self) -> str:
        """Return the `design` message of nobody's edit."""
        return self._design_message(self.desk.now, None)

    # --- within ---------------------------------------------------------------------------------

    async def _watch(self) -> None:
        while True:
            await asyncio.sleep(POLL_S)
            async with self._lock:
                now = await asyncio.to_thread(self.desk.poll)
                if now is not None:
                    self._changed(now)

    def _warmed(self) -> None:
        if not self.ready:
            self.ready = True
            for session in self.sessions:
                session.send("busy", text_of({"type": "busy", "state": "ready"}))

    def _changed(self, now: Standing, sender: Session | None = None) -> None:
        """Tell every page how the file stands, and reckon what they look at."""
        message = self._design_message(now, None)
        for session in self.sessions:
            own = session is sender
            text = self._design_message(now, session.newest) if own else message
            session.send("design", text)
        self._weather_for(self.sessions)
        for building in dict.fromkeys(self._looked_at(session) for session in self.sessions):
            here = [s for s in self.sessions if self._looked_at(s) == building]
            self._year_for(building, here)

    def _looked_at(self, session: Session) -> str | None:
        design = self.desk.now.design
        if design is None:
            return None
        names = list(design.homestead.buildings)
        return session.building if session.building in names else names[0]

    def _job(
        self, task: Task, *, building: str | None = None, words: Sequence[str] = ()
    ) -> Job | None:
        design = self.desk.now.design
        if design is None:
            return None
        return Job(task, design.text, design.name, design.folder, tuple(words), building)

    def _year_for(self, building: str | None, sessions: list[Session]) -> None:
        """Reckon the file's year of a building, and then its twin's, for some pages."""
        if building is None:
            return
        revision = self.desk.now.revision

        def post_year(reply: Reply, session: Session) -> None:
            _post_year(reply, session, revision, building)

        def post_twin(reply: Reply, session: Session) -> None:
            _post_twin(reply, session, revision, building)

        self._once("year", building, sessions, post_year)
        self._once("twin", building, sessions, post_twin, later=True)

    def _once(
        self,
        task: Task,
        building: str,
        sessions: list[Session],
        post: Callable[[Reply, Session], None],
        *,
        later: bool = False,
    ) -> None:
        """Reckon something of the file once for all pages; what is known already goes out now."""
        revision = self.desk.now.revision
        if revision != self._kept_of:
            self._kept, self._kept_of = {}, revision
        if (known := self._kept.get((task, building))) is not None:
            for session in sessions:
                post(known, session)
            return

        def done(reply: Reply) -> None:
            if self.desk.now.revision != revision:
                return
            if isinstance(reply, Answer):
                self._kept[task, building] = reply
            for session in self.sessions:
                if self._looked_at(session) == building:
                    post(reply, session)

        job = self._job(task, building=building)
        assert job is not None
        self.line.put((task, building), Work(job, done), later=later)

    def _weather_for(self, sessions: list[Session]) -> None:
        """Send the weather to pages, when place or weather are new to them."""
        design = self.desk.now.design
        if design is None:
            return
        key = (design.homestead.place, design.homestead.climate)
        if self._weather is not None and self._weather[0] == key:
            fresh = [session for session in sessions if session.weather != key]
            for session in fresh:
                session.send("weather", self._weather[1].frame({"type": "weather"}))
                session.weather = key
            return

        def done(reply: Reply) -> None:
            if isinstance(reply, Answer):
                self._weather = (key, reply)
                self._weather_for(self.sessions)

        job = self._job("weather")
        assert job is not None
        self.line.put("weather", Work(job, done))

    def _broken(self) -> Problem:
        return Problem("web.file_broken", file=self.desk.path.name)

    def _refuse(
        self, session: Session, seq: int, hold: bool, problems: tuple[Problem, ...]
    ) -> None:
        head = {"type": "refused", "seq": seq, "hold": hold, "problems": problems}
        session.send("refused", text_of(head))

    def _design_message(self, now: Standing, seq: int | None) -> str:
        head = {
            "type": "design",
            "revision": now.revision,
            "seq": seq,
            "name": self.desk.path.name,
            "path": str(self.desk.path),
            "undo": now.undo,
            "redo": now.redo,
            "cause": now.cause,
            "unwritten": now.unwritten,
            "problems": now.problems,
            "text": now.text if now.problems else None,
            "languages": languages(),
        }
        home = None if now.design is None else now.design.homestead
        return spliced(head, text_of(_homestead_data(home)))


def _post_year(reply: Reply, session: Session, revision: int, building: str) -> None:
    """Send the file's year to a page that has sent nothing newer than the file."""
    if session.newest > max(session.answered, session.committed):
        return
    own = session.newest if session.newest > session.answered else None
    session.answered = session.newest
    if isinstance(reply, Refusal):
        head = {"type": "refused", "seq": own, "hold": False, "problems": reply.problems}
        session.send("refused", text_of(head))
        return
    head = {"type": "year", "revision": revision, "seq": own, "hold": False, "building": building}
    session.send("year", reply.frame(head))


def _post_twin(reply: Reply, session: Session, revision: int, building: str) -> None:
    if isinstance(reply, Answer):
        head = {"type": "twin", "revision": revision, "building": building}
        session.send("twin", reply.message(head))


def _homestead_data(home: Homestead | None) -> dict[str, Any]:
    if home is None:
        return {
            "title": "",
            "units": "metric",
            "place": None,
            "buildings": [],
            "cautions": [],
            "truss": {},
        }
    place = home.place
    return {
        "title": home.title,
        "units": home.units,
        "place": {
            "name": place.name,
            "latitude": place.latitude,
            "longitude": place.longitude,
            "altitude": place.altitude,
            "time_zone": place.time_zone,
            "utc_offset": standard_offset(place.time_zone, year=NOMINAL_YEAR),
        },
        "buildings": [building_shape(home, name) for name in home.buildings],
        "cautions": list(cautions(home)),
        "truss": {
            name: truss_line(home, name)
            for name, building in home.buildings.items()
            if building.roof.attic
        },
    }
