"""The view out of a window: azimuth across, altitude up, the sun's way on some days."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from noonmark.place.site import azimuth_name
from noonmark.shape.polygon import Points, points, rectangle
from noonmark.sheets import svg
from noonmark.sheets.drawing import SCREEN, Drawing, Stage
from noonmark.sheets.paper import CONCRETE, EARTH, GOLD_INK, INK, ROOM, SMALL, WOOD
from noonmark.study.outlook import Outline, Outlook, Run, Tick, Track

AXIS = 56.0  # px for the altitudes at the left
LEAST_TOP, ABOVE = 40.0, 8.0  # deg shown at least, and over the highest sun
POINT_DEG, STEP_DEG = 22.5, 10.0
SWATCH = 26.0
ROW = SMALL * 1.5
BELOW = 4.0 * ROW + 44.0
"""Room under the sky for the compass and two rows of what the fills mean [px]."""

_FILLS = {"own": WOOD, "solid": CONCRETE, "thin": EARTH}


@dataclass(frozen=True)
class OutlookLabels:
    """All words of a sheet with a view: `days` name its tracks, `kinds` what is drawn.

    `name` names it where the design's title stands apart.
    Kinds are own, solid, thin, hills and frame; only those in the picture are shown.
    """

    title: str
    name: str
    subtitle: str
    description: str
    days: tuple[str, ...]
    kinds: dict[str, str]
    notes: tuple[str, ...] = ()


@dataclass(frozen=True)
class _Sky:
    """From turn and altitude [deg] to the sheet [px], and where words stand already."""

    top: float
    left: float
    y0: float
    scale: float
    taken: list[Points] = field(default_factory=list)

    @property
    def right(self) -> float:
        return self.left + 180.0 * self.scale

    @property
    def foot(self) -> float:
        return self.y0 + self.top * self.scale

    def at(self, turn: float, altitude: float) -> tuple[float, float]:
        return (
            self.left + (turn + 90.0) * self.scale,
            self.y0 + (self.top - altitude) * self.scale,
        )

    def drawn(self, corners: Points) -> Points:
        return points([self.at(turn, altitude) for turn, altitude in corners])

    def frame(self) -> Points:
        return rectangle(self.left, self.y0, self.right, self.foot)

    def place(self, x: float, y: float, wide: float) -> bool:
        """Take the room of a word in the middle over (x, y), if it is free."""
        room = rectangle(x - wide / 2, y - 0.8 * SMALL, x + wide / 2, y + 0.25 * SMALL)
        (x0, y0), (x1, y1) = room[0], room[2]
        if x0 < self.left or x1 > self.right or y0 < self.y0 or y1 > self.foot:
            return False
        for other in self.taken:
            (u0, v0), (u1, v1) = other[0], other[2]
            if x0 < u1 and u0 < x1 and y0 < v1 and v0 < y1:
                return False
        self.taken.append(room)
        return True


def draw_outlook(outlook: Outlook, labels: OutlookLabels, *, stage: Stage = SCREEN) -> Drawing:
    """Return the view out of a window, as wide as the stage unless it is too low for that."""
    top = stage.top(labels.title, labels.subtitle)
    sky = _sky(outlook, top + (0.0 if stage.bare else 10.0), stage)
    legend, end = _legend(outlook, labels, sky)
    corners = sky.frame()
    clip = svg.element("clipPath", svg.polygon(corners), id="nm-sky")
    parts = [
        svg.element("defs", clip),
        svg.polygon(corners, fill=ROOM),
        svg.element("g", *_things(outlook, sky), *_tracks(outlook, sky), clip_path="url(#nm-sky)"),
        svg.polygon(corners, class_="edge", fill="none"),
        *_axes(outlook, sky),
        *_words(outlook, labels, sky),
        *legend,
    ]
    return Drawing(
        labels.title,
        labels.subtitle,
        labels.description,
        labels.notes,
        tuple(parts),
        right=stage.width,
        top=top,
        foot=end,
        name=labels.name,
    )


def _sky(outlook: Outlook, y0: float, stage: Stage) -> _Sky:
    """Return how much of the sky is shown, and how large."""
    highest = [float(run.way[:, 1].max()) for track in outlook.tracks for run in track.runs]
    up = max(LEAST_TOP, *highest, 0.0) + ABOVE
    top, left = min(90.0, STEP_DEG * -(-up // STEP_DEG)), stage.margin + AXIS
    by_width = (stage.right - left) / 180.0
    by_height = (stage.height - y0 - BELOW) / top
    return _Sky(top, left, y0 + SMALL * 0.34, min(by_width, by_height))


def _things(outlook: Outlook, sky: _Sky) -> Iterator[str]:
    """Yield the net of degrees, hills, things far and near, and the wall around the hole."""
    for altitude in _altitudes(sky):
        yield svg.line(*sky.at(-90.0, altitude), *sky.at(90.0, altitude), class_="reach")
    for turn, _ in _bearings(outlook):
        yield svg.line(*sky.at(turn, 0.0), *sky.at(turn, sky.top), class_="reach")
    if len(outlook.skyline):
        foot = [(90.0, 0.0), (-90.0, 0.0)]
        hills = points([*outlook.skyline, *foot])
        yield svg.polygon(sky.drawn(hills), class_="edge", fill="url(#nm-earth)")
    for item in outlook.outlines:
        yield _thing(item, sky)
    if len(outlook.frame):
        rings = [sky.frame(), sky.drawn(outlook.frame)]
        yield svg.rings(rings, class_="edge", fill="url(#nm-slant)")


def _thing(item: Outline, sky: _Sky) -> str:
    return svg.polygon(
        sky.drawn(item.corners),
        class_="edge" if all(item.days) else "near",
        style=f"fill:{_FILLS[item.kind]}",
        fill_opacity=".6" if item.kind == "thin" else None,
    )


def _tracks(outlook: Outlook, sky: _Sky) -> Iterator[str]:
    runs = [run for track in outlook.tracks for run in track.runs]
    for run in sorted(runs, key=lambda run: run.state != "hidden"):
        yield _way(run, sky)
    for track in outlook.tracks:
        for tick in track.ticks:
            yield _dot(tick, sky)


def _way(run: Run, sky: _Sky) -> str:
    way = run.way[:: max(1, len(run.way) // 120)]
    drawn = sky.drawn(points([*way, run.way[-1]]))
    if run.state == "open":
        return svg.polyline(drawn, class_="day")
    if run.state == "dimmed":
        return svg.polyline(drawn, class_="day", opacity=".5", stroke_dasharray="2 11")
    return svg.polyline(drawn, stroke=GOLD_INK, stroke_width=1.6, opacity=".55")


def _dot(tick: Tick, sky: _Sky) -> str:
    x, y = sky.at(tick.turn, tick.altitude)
    if tick.state == "hidden":
        return svg.element("circle", cx=x, cy=y, r=3.5, fill=INK, opacity=".5")
    return svg.element("circle", cx=x, cy=y, r=7, class_="disc")


def _altitudes(sky: _Sky) -> list[float]:
    return [STEP_DEG * step for step in range(round(sky.top / STEP_DEG) + 1)]


def _bearings(outlook: Outlook) -> list[tuple[float, float]]:
    """Return the sixteen points of the compass before the window: turn and azimuth [deg]."""
    azimuths = [POINT_DEG * index for index in range(16)]
    turns = [((a - outlook.azimuth + 180.0) % 360.0 - 180.0, a) for a in azimuths]
    return sorted(pair for pair in turns if abs(pair[0]) <= 90.0)


def _axes(outlook: Outlook, sky: _Sky) -> Iterator[str]:
    """Yield degrees at the left, compass points and their degrees along the base."""
    for altitude in _altitudes(sky):
        x, y = sky.at(-90.0, altitude)
        yield svg.text(x - 8.0, y + SMALL * 0.34, f"{altitude:.0f}°", SMALL, class_="end")
    for turn, azimuth in _bearings(outlook):
        if abs(turn) > 87.0:
            continue
        x, y = sky.at(turn, 0.0)
        main = azimuth % 45.0 == 0.0
        name = azimuth_name(azimuth)
        yield svg.text(x, y + ROW, name, SMALL, class_="name middle" if main else "middle")
        yield svg.text(x, y + 2 * ROW, f"{azimuth:g}°", SMALL, class_="middle")


def _words(outlook: Outlook, labels: OutlookLabels, sky: _Sky) -> Iterator[str]:
    """Yield the days over their tracks, then the hours below their dots where there is room."""
    for track, word in zip(outlook.tracks, labels.days, strict=True):
        wide = svg.text_width(word, SMALL) + 8.0
        for turn, altitude in _from_the_top(track):
            x, y = sky.at(turn, altitude)
            if sky.place(x, y - 14.0, wide):
                halo = {"stroke": ROOM, "stroke_width": 7, "paint_order": "stroke"}
                yield svg.text(x, y - 14.0, word, SMALL, class_="name middle", **halo)
                break
    ticks = [tick for track in outlook.tracks for tick in track.ticks]
    for tick in sorted(ticks, key=lambda tick: tick.state == "hidden"):
        x, y = sky.at(tick.turn, tick.altitude)
        said = str(tick.hour)
        if sky.place(x, y + 27.0, svg.text_width(said, SMALL) + 6.0):
            faint = ".6" if tick.state == "hidden" else None
            yield svg.text(x, y + 27.0, said, SMALL, class_="middle", opacity=faint)


def _from_the_top(track: Track) -> list[tuple[float, float]]:
    """Return places of a track, the highest first [deg]."""
    spots = [(float(turn), float(up)) for run in track.runs for turn, up in run.way]
    return sorted(spots, key=lambda spot: -spot[1])[::5]


def _legend(outlook: Outlook, labels: OutlookLabels, sky: _Sky) -> tuple[list[str], float]:
    """Return what the fills mean, below the compass points, and where it ends [px]."""
    fills = {kind: fill for kind, fill in _FILLS.items() if _shows(outlook.outlines, kind)}
    if len(outlook.skyline):
        fills["hills"] = "url(#nm-earth)"
    if len(outlook.frame):
        fills["frame"] = "url(#nm-slant)"
    x, y = sky.left, sky.foot + 2 * ROW + 44.0
    parts = []
    for kind, fill in fills.items():
        word = labels.kinds[kind]
        wide = SWATCH * 1.4 + svg.text_width(word, SMALL) + 30.0
        if x + wide > sky.right:
            x, y = sky.left, y + ROW
        box = rectangle(x, y - SWATCH * 0.75, x + SWATCH, y)
        parts += [
            svg.polygon(box, class_="edge", fill=fill),
            svg.text(x + SWATCH * 1.4, y - 2.0, word, SMALL),
        ]
        x += wide
    return parts, y + (14.0 if fills else -ROW)


def _shows(outlines: Sequence[Outline], kind: str) -> bool:
    return any(item.kind == kind for item in outlines)
