"""The house look: paper, ink, clay, gold sun, blue shade; hatching; the heading."""

from __future__ import annotations

from collections.abc import Sequence

from noonmark.sheets import svg

PAPER = "#f5f0e3"
ROOM = "#fdfaf1"
INK = "#1f2a2e"
CLAY = "#a8492c"
GOLD = "#f2b134"
GOLD_INK = "#7a4b00"
SHADE = "#2f5d8c"
SHADED = "#8fb0cf"
GLASS = "#fff3c9"
WOOD = "#ecdcb9"
CONCRETE = "#d5cec2"
EARTH = "#e2d8c3"

MARGIN = 36.0
TITLE = 40.0
TYPE = 23.0
SMALL = 21.0
LEADING = 1.35

FONTS = '"Source Sans 3", "Noonmark Sans", "Noto Sans", "Liberation Sans", sans-serif'
_STYLE = f"""
text {{ fill: {INK}; font-family: {FONTS}; }}
.name {{ font-weight: 700; }}
.end {{ text-anchor: end; }}
.middle {{ text-anchor: middle; }}
.cut {{ stroke: {INK}; stroke-width: 4; stroke-linejoin: round; }}
.wall {{ stroke: {INK}; stroke-width: 2.6; stroke-linejoin: miter; }}
.seen {{ stroke: {INK}; stroke-width: 1.6; stroke-linejoin: round; fill: {WOOD}; }}
.pane {{ stroke: {INK}; stroke-width: 1.6; }}
.hatch {{ stroke: {INK}; stroke-width: 1.2; fill: none; stroke-linejoin: round; opacity: .55; }}
.loops {{ stroke: {CLAY}; stroke-width: 1.5; fill: none; opacity: .75; }}
.measure {{ stroke: {INK}; stroke-width: 1.4; fill: none; }}
.filled {{ stroke: {CLAY}; stroke-width: 2.4; }}
.dot {{ fill: {INK}; opacity: .7; }}
.reach {{ stroke: {INK}; stroke-width: 1; fill: none; opacity: .45; }}
.ray {{ stroke: {GOLD_INK}; stroke-width: 2; stroke-dasharray: 9 6; opacity: .8; }}
.sun {{ stroke: {INK}; stroke-width: 3.4; stroke-dasharray: .1 8; stroke-linecap: round; }}
.edge {{ stroke: {INK}; stroke-width: 1.6; stroke-linejoin: round; }}
.fine {{ stroke: {INK}; stroke-width: 1; fill: none; }}
.stout {{ stroke: {INK}; stroke-width: 4; fill: none; stroke-linecap: round; }}
.near {{ stroke: {INK}; stroke-width: 1.4; stroke-dasharray: 6 5; fill: none; }}
.day {{ stroke: {GOLD}; stroke-width: 7; fill: none; stroke-linecap: round; }}
.disc {{ stroke: {GOLD_INK}; stroke-width: 2; fill: {GOLD}; }}
.now {{ stroke: {SHADE}; stroke-width: 2.4; stroke-dasharray: 1 7; stroke-linecap: round; }}
""".strip()


def style(ground: str) -> str:
    """Return the style sheet of a drawing; `ground` is the colour of what it stands on."""
    return f"{_STYLE}\n.blank, .filled {{ fill: {ground}; }}"


def heading(title: str, subtitle: str, width: float) -> tuple[list[str], float]:
    """Return name and subtitle above the picture, and the height they take [px]."""
    parts: list[str] = []
    y = MARGIN
    for content, size, name in ((title, TITLE, "name"), (subtitle, TYPE, None)):
        for row in svg.wrapped(content, size, width - 2 * MARGIN):
            y += size * 1.1
            parts.append(svg.text(MARGIN, y, row, size, class_=name))
            y += size * 0.25
    y += 14
    parts.append(svg.line(MARGIN, y, width - MARGIN, y, stroke=INK, stroke_width=3))
    return parts, y + 14


def captions(notes: Sequence[str], top: float, width: float) -> tuple[list[str], float]:
    """Return the notes below the picture from `top` on, and where they end [px]."""
    rows = [row for note in notes for row in svg.wrapped(note, TYPE, width - 2 * MARGIN)]
    parts = [
        svg.text(MARGIN, top + TYPE * LEADING * (i + 1), row, TYPE) for i, row in enumerate(rows)
    ]
    return parts, top + TYPE * LEADING * len(rows) + MARGIN


def hatching() -> str:
    """Return the definitions of earth, concrete, cut walls and the fading beam."""
    return svg.element("defs", _earth(), _concrete(), _slant(), _beam())


def _earth() -> str:
    strokes = "M4 26 22 8M12 30 28 14M20 34 34 20M44 8 60 24M38 14 54 30M32 20 48 36"
    return _pattern("nm-earth", 64, 40, EARTH, svg.element("path", d=strokes, class_="hatch"))


def _concrete() -> str:
    spots = ((6, 9), (17, 4), (29, 13), (41, 6), (12, 22), (35, 25), (47, 18), (24, 31), (4, 33))
    dots = [svg.element("circle", cx=x, cy=y, r=1.3, fill=INK, opacity=".6") for x, y in spots]
    stones = svg.element("path", d="M20 16 26 22 18 24ZM40 30 46 33 39 36Z", class_="hatch")
    return _pattern("nm-concrete", 52, 38, CONCRETE, *dots, stones)


def _slant() -> str:
    strokes = svg.element("path", d="M-2 2 2-2M0 10 10 0M8 12 12 8", class_="hatch")
    return _pattern("nm-slant", 10, 10, WOOD, strokes)


def _pattern(name: str, width: float, height: float, ground: str, *marks: str) -> str:
    back = svg.element("rect", width=width, height=height, fill=ground)
    size = {"width": width, "height": height}
    return svg.element("pattern", back, *marks, id=name, patternUnits="userSpaceOnUse", **size)


def _beam() -> str:
    stops = (("0", ".25"), (".3", ".9"), ("1", ".7"))
    return svg.element(
        "linearGradient",
        *(svg.element("stop", offset=o, stop_color=GOLD, stop_opacity=a) for o, a in stops),
        id="nm-beam",
    )
