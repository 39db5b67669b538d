"""Tables of what Python finds, for the functions of the page that must find the same."""

from __future__ import annotations

import json
import math
from collections.abc import Callable, Iterator
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from string import Formatter
from typing import Any, get_args

import numpy as np

from noonmark.cards.speech import Speech, languages, sentences
from noonmark.errors import PhysicsError, Problem, Sentence
from noonmark.place.clock import civil_time
from noonmark.shape import Gutter, Opening, RoofTriangle, Trim, WallSection
from noonmark.shape.eave import eave_outline, shading_edge
from noonmark.shape.roof import heel_for_soffit
from noonmark.shape.section import beam_polygon, floor_reach, shade_line, sunlit_glass
from noonmark.sheets.mapgrid import COLOURS, STEPS
from noonmark.sheets.sunlight import shades
from noonmark.sun.angles import profile_angle
from noonmark.sun.position import declination, rise_set_noon, solar_position
from noonmark.units import KINDS, Quantity, System
from noonmark.units.writing import dimension, write
from noonmark.web.wire import Series, answer, plain

Row = dict[str, Any]

YEAR_2022 = datetime(2022, 1, 1, tzinfo=UTC).timestamp()
DAY_S = 86400.0
PLACES = [
    (39.73, -105.18, 1876.0), (52.52, 13.4, 34.0), (-33.87, 151.21, 20.0), (-54.8, -68.3, 23.0),
    (0.0, 0.0, 0.0), (23.4, 77.4, 500.0), (-23.5, -46.6, 760.0), (64.15, -21.9, 10.0),
    (69.65, 18.96, 5.0), (78.0, 15.6, 0.0), (-77.85, 166.67, 24.0), (-17.7, 178.1, 5.0),
]  # fmt: skip
"""Latitude, longitude [deg] and altitude [m], both hemispheres, both sides of the date line."""

ZONES = {
    "America/Denver": -7.0,
    "Europe/Berlin": 1.0,
    "Australia/Sydney": 10.0,
    "America/Santiago": -4.0,
    "Pacific/Auckland": 12.0,
    "Asia/Kolkata": 5.5,
    "America/St_Johns": -3.5,
    "Australia/Lord_Howe": 10.5,
    "America/Phoenix": -7.0,
}


def sun_rows() -> Iterator[Row]:
    """Yield the sun at many places and instants of the nominal year."""
    random = np.random.default_rng(11)
    fixed = [place for place in PLACES for _ in range(60)]
    free = random.uniform((-78, -180, 0), (78, 180, 3000), (2000, 3)).tolist()
    for spot in [*fixed, *free]:
        latitude, longitude, altitude = (float(value) for value in spot)
        utc = YEAR_2022 + float(random.uniform(0, 365)) * DAY_S
        at = np.array([utc])
        sun = solar_position(at, latitude=latitude, longitude=longitude, altitude_m=altitude)
        yield {
            "spot": {"latitude": latitude, "longitude": longitude, "altitude": altitude},
            "utc": utc,
            "true_altitude": float(sun.altitude[0]),
            "altitude": float(sun.apparent_altitude[0]),
            "azimuth": float(sun.azimuth[0]),
            "equation_of_time": float(sun.equation_of_time_min[0]),
            "declination": float(declination(at)[0]),
        }


def day_rows() -> Iterator[Row]:
    """Yield rise, noon and set of every fifth day at the places."""
    midnights = YEAR_2022 + np.arange(0.0, 365.0, 5.0, dtype=np.float64) * DAY_S
    for latitude, longitude, altitude in PLACES:
        found = rise_set_noon(midnights, latitude=latitude, longitude=longitude)
        for i, midnight in enumerate(midnights):
            yield {
                "spot": {"latitude": latitude, "longitude": longitude, "altitude": altitude},
                "midnight": float(midnight),
                "sunrise": _or_none(found.sunrise[i]),
                "noon": float(found.noon[i]),
                "sunset": _or_none(found.sunset[i]),
            }


def profile_rows() -> Iterator[Row]:
    """Yield profile angles, of suns before and behind the wall."""
    random = np.random.default_rng(12)
    for altitude, azimuth, wall in random.uniform((-5, 0, 0), (90, 360, 360), (400, 3)).tolist():
        angle = float(profile_angle(altitude, azimuth, wall))
        yield {"altitude": altitude, "azimuth": azimuth, "wall": wall, "angle": angle}


def clock_rows() -> Iterator[Row]:
    """Yield hours of the clock and of standard time, among them those where the clock changes."""
    for zone, offset in ZONES.items():
        for day in range(365):
            hours = (2.5, 12.0) if day % 7 else (0.0, 1.5, 2.0, 2.5, 3.0, 15.25, 23.75)
            when = date(2022, 1, 1) + timedelta(days=day)
            for hour in hours:
                shown = civil_time(when, hour, zone=zone, utc_offset_h=offset)
                yield {
                    "zone": zone,
                    "day": day,
                    "month_and_day": [when.month, when.day],
                    "utc": shown.timestamp(),
                    "shown": [shown.year, shown.month, shown.day, shown.hour, shown.minute],
                }


# --- sections -----------------------------------------------------------------------------------


def section_rows() -> Iterator[Row]:
    """Yield sections that stand, with all that is reckoned of them, at several suns."""
    random = np.random.default_rng(13)
    made = 0
    while made < 400:
        section, _ = _attempt(random)
        if section is None:
            continue
        made += 1
        angles = [float(a) for a in random.uniform(0.5, 89.5, 6)]
        yield {
            "section": _section_data(section),
            "roof": _roof_quantities(section.roof),
            "wall": {
                "glass_x": section.glass_x,
                "underside": section.underside,
                "back_x": section.back_x,
            },
            "suns": [_under_sun(section, angle) for angle in angles],
            "no_sun": [list(sunlit_glass(section, 120.0)), floor_reach(section, -3.0)],
        }


def refusal_rows() -> Iterator[Row]:
    """Yield sections, refused and not, with the problem's code and values."""
    random = np.random.default_rng(14)
    for i in range(3000):
        parts = _parts(random, spoiled=i % 3 > 0)
        _, problem = _built(parts)
        yield {"section": parts, "refusal": problem and _problem_data(problem)}


def _attempt(random: np.random.Generator) -> tuple[WallSection | None, Problem | None]:
    return _built(_parts(random, spoiled=False))


def _parts(random: np.random.Generator, *, spoiled: bool) -> Row:
    """Return the parts of a section, often one that can stand; a spoiled one has a bad size."""
    pick = random.uniform
    truss = "cantilever" if random.random() < 0.3 else "tail"
    pitch, projection = float(pick(0, 1.2)), float(random.choice([0.0, pick(0, 1.5)]))
    chord, plate = float(pick(0.08, 0.25)), float(pick(2.3, 3.2))
    least = chord * math.hypot(1.0, pitch) + (pitch * projection if truss == "cantilever" else 0.0)
    head = float(pick(1.2, 2.4))
    gutter = {"width": float(pick(0.08, 0.2)), "depth": float(pick(0.05, 0.2)), "drop": 0.02}
    parts: Row = {
        "roof": {
            "span": float(pick(5, 12)),
            "pitch": pitch,
            "projection": projection,
            "heel": least + float(pick(0, 0.6)),
            "plate": plate,
            "chord_depth": chord,
            "truss": truss,
            "bearing": float(pick(0, 0.2)),
            "sloped": bool(truss == "tail" and random.random() < 0.4),
            "fascia_drop": float(random.choice([0.0, pick(0, 0.15)])),
            "gutter": gutter if random.random() < 0.4 else None,
        },
        "wall_thickness": float(pick(0.1, 0.5)),
        "floor_thickness": float(pick(0.05, 0.3)),
        "floor_insulation": float(pick(0, 0.3)),
        "ceiling_insulation": float(pick(0, 0.6)),
        "ground": float(pick(-0.5, 0)),
        "ceiling": plate - float(random.choice([0.0, pick(0, 0.2)])),
        "room_depth": float(pick(2, 10)),
        "window": {"sill": float(pick(0, 1.1)), "head": head} if random.random() < 0.9 else None,
    }
    if spoiled:
        _spoil(parts, random)
    return parts


def _spoil(parts: Row, random: np.random.Generator) -> None:
    places: list[Row] = [parts, parts["roof"]]
    places += [part for part in (parts["window"], parts["roof"]["gutter"]) if part]
    place = places[random.integers(len(places))]
    sizes = [name for name, value in place.items() if isinstance(value, float)]
    name = str(random.choice(sizes))
    bad = [0.0, -float(random.uniform(0, 2)), place[name] * float(random.uniform(0, 6))]
    place[name] = float(bad[random.integers(len(bad))])
    for chance, change in _SPOILERS:
        if random.random() < chance:
            parts["roof"] |= change


_SPOILERS: list[tuple[float, Row]] = [
    (0.07, {"sloped": True, "truss": "cantilever"}),
    (0.07, {"projection": 6.0, "pitch": 1.0, "truss": "tail"}),
    (0.07, {"bearing": 7.0}),
]


def _built(parts: Row) -> tuple[WallSection | None, Problem | None]:
    """Return the section that the parts make, or the problem that keeps them from it."""
    roof = dict(parts["roof"])
    try:
        gutter = Gutter(**roof["gutter"]) if roof["gutter"] else None
        trim = Trim(roof.pop("sloped"), roof.pop("fascia_drop"), gutter)
        del roof["gutter"]
        rest = {name: value for name, value in parts.items() if name not in ("roof", "window")}
        triangle = RoofTriangle(**roof, trim=trim)
        window = Opening(**parts["window"]) if parts["window"] else None
        return WallSection(**rest, roof=triangle, window=window), None
    except PhysicsError as error:
        return None, error.problems[0]


def _section_data(section: WallSection) -> Row:
    names = ("wall_thickness", "floor_thickness", "floor_insulation", "ceiling_insulation",
             "ground", "ceiling", "room_depth")  # fmt: skip
    window = section.window
    return {
        "roof": _roof_data(section.roof),
        **{name: getattr(section, name) for name in names},
        "window": window and {"sill": window.sill, "head": window.head},
    }


def _roof_data(roof: RoofTriangle) -> Row:
    names = ("span", "pitch", "projection", "heel", "plate", "chord_depth", "truss", "bearing")
    gutter = roof.trim.gutter
    return {
        **{name: getattr(roof, name) for name in names},
        "sloped": roof.trim.sloped,
        "fascia_drop": roof.trim.fascia_drop,
        "gutter": gutter and {"width": gutter.width, "depth": gutter.depth, "drop": gutter.drop},
    }


def _roof_quantities(roof: RoofTriangle) -> Row:
    names = ("chord_plumb", "ridge", "tail", "fascia_top", "soffit", "soffit_at_wall",
             "fascia_foot", "reach", "end_heel")  # fmt: skip
    sizes = {"pitch": roof.pitch, "projection": roof.projection, "plate": roof.plate}
    return {
        **{name: getattr(roof, name) for name in names},
        "top_edge": [[x, roof.top_edge(x)] for x in (-0.7, 0.0, 1.3, roof.run + 0.5)],
        "heel_for_soffit": heel_for_soffit(2.2, **sizes, chord_depth=roof.chord_depth),
        "outline": eave_outline(roof).tolist(),
    }


def _under_sun(section: WallSection, angle: float) -> Row:
    return {
        "angle": angle,
        "edge": list(shading_edge(section.roof, angle)),
        "shade_line": shade_line(section, angle),
        "sunlit_glass": list(sunlit_glass(section, angle)),
        "floor_reach": floor_reach(section, angle),
        "beam": beam_polygon(section, angle).tolist(),
        "beam_from_afar": beam_polygon(section, angle, outdoors=2.0).tolist(),
        "shades": [shade.tolist() for shade in shades(section, angle)],
    }


# --- words --------------------------------------------------------------------------------------

SYSTEMS: tuple[System, ...] = get_args(System)
NUMBERS = [
    0.0, 0.5, 1.5, 2.5, -0.5, 0.125, 0.375, -0.004, 0.004, 0.005, 0.015, 1.005, 0.0127, 0.00635,
    0.003175, 0.3048, 2.4384, 1.3843, -1.3843, 99.995, 100.0, 999.5, 1234.5, 12345.678, 1e6,
    -273.15, 3.6e6, 1.8e6, 1e21, 1e22, 1e-9, 0.49999999999999994,
]  # fmt: skip


def written_rows() -> Iterator[Row]:
    """Yield numbers of every kind in both systems, halves among them."""
    random = np.random.default_rng(15)
    drawn = [float(sign * 10**power) for sign, power in random.uniform((-1, -4), (1, 5), (60, 2))]
    quarters = [float(n) / 4.0 * 0.0254 + nudge for n in range(-9, 130) for nudge in (0.0, 0.0031)]
    for system in SYSTEMS:
        for kind in KINDS:
            extra = quarters if kind == "length" else [n / 24 for n in range(60)]
            for value in [*NUMBERS, *drawn, *extra]:
                for digits in (None, 0, 1, 3):
                    text = write(value, kind, system, digits=digits)
                    row = {"value": value, "kind": kind, "system": system}
                    yield {**row, "digits": digits, "text": text}


def spoken_rows() -> Iterator[Row]:
    """Yield every sentence of every language with values of all sorts, in both systems."""
    random = np.random.default_rng(16)
    left_out = Sentence("design.head_below_sill", {"head": Quantity(1.0, "length")})
    unknown = Sentence("there.is.no.such.key", {})
    for speech in _speeches():
        table = sentences(speech.language)
        for said in [*(_filled(key, table[key], random) for key in table), left_out, unknown]:
            yield {**_reader(speech), "sentence": plain(said), "text": speech.say(said)}


def explained_rows() -> Iterator[Row]:
    """Yield problems with and without file, line, part and hint."""
    random = np.random.default_rng(17)
    speeches = list(_speeches())
    keys = [key for key in sentences("en") if not key.endswith(".hint")]
    paths = ["", "house.window.2.width", "house.roof.heel", "window", "house.window.1"]
    for i, key in enumerate(keys):
        values = dict(_filled(key, sentences("en")[key], random).values)
        if i % 3 == 0:
            values |= {"number": 2, "side": ["S", "NNE", "sunny"][i % 9 // 3]}
        problem = Problem(
            key, path=paths[i % 5], file=["", "larkspur.toml"][i % 2],
            line=[None, 16, 0][i % 3], values=values,
        )  # fmt: skip
        speech = speeches[i % len(speeches)]
        row = {**_reader(speech), "problem": plain(problem)}
        yield {**row, "text": speech.explain(problem)}


def said_rows() -> Iterator[Row]:
    """Yield plain numbers, dimensions and days in words."""
    for value in NUMBERS[:20]:
        for system in SYSTEMS:
            text = dimension(value, system)
            yield {"what": "dimension", "value": value, "system": system, "text": text}
    for language in languages():
        speech = Speech(language=language)
        for value in [*NUMBERS, 1234567.5, -1234.4, -999999.5]:
            for digits in (0, 1, 2):
                row = {"what": "number", "language": language, "value": value, "digits": digits}
                yield {**row, "text": speech.number(value, digits)}
        for index in range(365):
            day = date(2022, 1, 1) + timedelta(days=index)
            row = {"what": "day", "language": language, "value": day.isoformat()}
            yield {**row, "text": speech.day(day)}


def _speeches() -> Iterator[Speech]:
    for language in languages():
        for system in SYSTEMS:
            for fine in (False, True):
                yield Speech(system, language, fine=fine)


def _reader(speech: Speech) -> Row:
    return {"system": speech.system, "language": speech.language, "fine": speech.fine}


def _filled(key: str, template: str, random: np.random.Generator) -> Sentence:
    names = [name for _, name, _, _ in Formatter().parse(template) if name]
    return Sentence(key, {name: _sample(name, random) for name in names})


def _sample(name: str, random: np.random.Generator) -> object:
    """Return a value such as a sentence may get: a quantity, a word, a number, a day, a list."""
    if name == "number":
        return int(random.integers(1, 40))
    words: list[object] = ["S", "length", "finish", "a\u00a0b\tc\u200bd", "{read}", "$1", ""]
    numbers: list[object] = [3, -7, 0.5, 1234.5678, 1e-5, 123456.5, 2.5e-7, 1e300, 0.0]
    quantities = [
        Quantity(float(random.uniform(-3, 300)), KINDS[random.integers(len(KINDS))])
        for _ in range(3)
    ]
    rest: list[object] = [date(2022, 12, 21), ["one", Quantity(1.5, "length"), 2], [], ["x"]]
    if name in ("kind", "got", "wanted", "side", "face") and random.random() < 0.5:
        return words[random.integers(3)]
    choice = [*words, *numbers, *quantities, *rest]
    return choice[random.integers(len(choice))]


# --- frames -------------------------------------------------------------------------------------


def write_frames(folder: Path) -> list[Row]:
    """Write frames as the server makes them and return what they hold, by file."""
    random = np.random.default_rng(18)
    rows = []
    for i in range(12):
        series = []
        for k in range(i % 4 + 1):
            values = random.uniform(-40, 9000, [0, 1, 7, 8760][(i + k) % 4])
            values[::5] = math.nan
            series.append(Series(f"series {k}", values, 0.01, zone=[None, "räume"][k % 2]))
        reply = answer({"climate": {"source": "ä" * (i % 3)}}, series)
        (folder / f"frame{i}.bin").write_bytes(reply.frame({"type": "weather"}))
        arrays = [
            {
                "name": item.name,
                "zone": item.zone,
                "step": item.step,
                "values": [_or_none(value) for value in item.values],
            }
            for item in series
        ]
        rows.append({"file": f"frame{i}.bin", "source": "ä" * (i % 3), "arrays": arrays})
    return rows


def _problem_data(problem: Problem) -> Row:
    return {"code": problem.code, "values": plain(dict(problem.values))}


def _or_none(value: float) -> float | None:
    return None if math.isnan(value) else float(value)


TABLES: dict[str, Callable[[], Iterator[Row]]] = {
    "sun": sun_rows,
    "days": day_rows,
    "profiles": profile_rows,
    "clock": clock_rows,
    "sections": section_rows,
    "refusals": refusal_rows,
    "written": written_rows,
    "spoken": spoken_rows,
    "explained": explained_rows,
    "said": said_rows,
}


def write_tables(folder: Path) -> None:
    """Write every table as JSON into a folder."""
    for name, rows in TABLES.items():
        (folder / f"{name}.json").write_text(json.dumps(list(rows())), "utf-8")
    (folder / "frames.json").write_text(json.dumps(write_frames(folder)), "utf-8")
    steps = {"steps": STEPS, "colours": COLOURS}
    (folder / "map.json").write_text(json.dumps(steps), "utf-8")
    for language in languages():
        text = json.dumps(dict(sentences(language)))
        (folder / f"words-{language}.json").write_text(text, "utf-8")
