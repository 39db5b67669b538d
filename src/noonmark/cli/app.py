"""The commands. Data goes to stdout, all else to stderr; 0 fine, 1 goals missed, 2 input error."""

from __future__ import annotations

import io
import os
import sys
from itertools import pairwise
from pathlib import Path
from typing import Annotated, Literal, cast, get_args

from cyclopts import App, CycloptsError, Parameter

from noonmark.cards.speech import Speech
from noonmark.errors import InputError, NoonmarkError, Problem
from noonmark.units import System

app = App(
    name="noonmark",
    help="Shape a small building to its sun, and prove it hour by hour.",
    help_on_error=False,
)

Changes = Annotated[
    list[str] | None,
    Parameter(
        name="--set",
        negative="",
        help='Change one value, leave the file: house.eave.projection="3 ft"',
    ),
]
Json = Annotated[bool, Parameter(name="--json", negative="", help="Print the result as JSON.")]
Units = Annotated[
    Literal["metric", "us"] | None,
    Parameter(help="Write metric or US units; default is what the design says."),
]
HourCounts = Annotated[
    float,
    Parameter(help="Heat [kWh] that an hour above 26 degC in a room lived in counts as much as."),
]
Out = Annotated[Path, Parameter(help="Folder for the drawings; made if needed.")]

DEBUG_VARIABLE = "NOONMARK_DEBUG"


@app.command
def demo(*, out: Out = Path("noonmark-demo"), units: Units = None, json: Json = False) -> int:
    """Run the sample house and its unshaped twin, print the year and draw it."""
    from noonmark.cli import work

    return work.demo(out, units, as_json=json)


@app.command
def new(
    file: Path,
    /,
    *,
    title: str = "My house",
    latitude: str,
    longitude: str,
    altitude: str,
    time_zone: str,
    floor_area: str = "100 m2",
    setpoint: str = "20 C",
    fuel: str = "electricity",
    weather: str | None = None,
    units: Literal["metric", "us"] = "metric",
    json: Json = False,
) -> int:
    """Write a design to start from: where, how big, how warm, what fuel.

    Parameters
    ----------
    file
        The design file to write; an existing one is never overwritten.
    title
        What you call it.
    latitude
        North positive, in degrees.
    longitude
        East positive, west negative, in degrees.
    altitude
        Above the sea, such as "1876 m" or "6155 ft".
    time_zone
        Such as America/Denver.
    floor_area
        Inside floor area, such as "100 m2" or "1100 sq ft".
    setpoint
        How warm the heater keeps it.
    fuel
        A fuel of the catalogue.
    weather
        A TMY3 file beside the design; without it the shipped year is used.
    units
        How results are written.
    """
    from noonmark.cli import work

    return work.new(
        file,
        {
            "title": title,
            "latitude": latitude,
            "longitude": longitude,
            "altitude": altitude,
            "time_zone": time_zone,
            "floor_area": floor_area,
            "setpoint": setpoint,
            "fuel": fuel,
            "weather": weather or "",
            "units": units,
        },
        as_json=json,
    )


@app.command
def check(file: Path, /, *, set_: Changes = None, json: Json = False, units: Units = None) -> int:
    """Check a design by arithmetic: sizes that can not stand, and what to ask about."""
    from noonmark.cli import work

    return work.check(file, set_ or [], as_json=json, units=units)


@app.command
def run(file: Path, /, *, set_: Changes = None, json: Json = False, units: Units = None) -> int:
    """Run the design and its unshaped twin through a year, hour by hour."""
    from noonmark.cli import work

    return work.run(file, set_ or [], as_json=json, units=units)


@app.command
def show(
    file: Path,
    /,
    *,
    set_: Changes = None,
    date: str = "12-21",
    at: str = "noon",
    building: str | None = None,
    out: Out = Path(),
    units: Units = None,
    json: Json = False,
) -> int:
    """Draw the section with the sun at a date, and the map of the year, as SVG.

    Parameters
    ----------
    date
        Month and day such as 12-21, or a full date.
    at
        "noon" is solar noon; or a clock time such as 15:00.
    building
        Which building; the first one if left out.
    """
    from noonmark.cli import work

    return work.show(
        file, set_ or [], date=date, at=at, building=building, out=out, units=units, as_json=json
    )


@app.command
def draw(
    file: Path,
    /,
    *,
    set_: Changes = None,
    date: Annotated[list[str] | None, Parameter(negative="", consume_multiple=True)] = None,
    building: str | None = None,
    out: Out = Path(),
    paper: Literal["a4", "letter"] | None = None,
    units: Units = None,
    json: Json = False,
) -> int:
    """Draw section, elevations, plan and windows with the sun at some dates: SVG, PDF and DXF.

    Parameters
    ----------
    date
        Month and day such as 12-21, or a full date, as often as you like; midwinter,
        equinox and midsummer if left out.
    building
        Which building; all of them if left out.
    paper
        Of the PDF; US Letter for US units, else A4, if left out.
    """
    from noonmark.cli import draw as drawing

    return drawing.draw(
        file,
        set_ or [],
        dates=date or [],
        building=building,
        out=out,
        paper=paper,
        units=units,
        as_json=json,
    )


@app.command
def season(
    file: Path,
    /,
    *,
    set_: Changes = None,
    year: int | None = None,
    units: Units = None,
    json: Json = False,
) -> int:
    """Say for every window from when to when the sun is all in, half in, all out.

    Parameters
    ----------
    year
        Calendar year of the dates; an ordinary one without 29 February if left out.
    """
    from noonmark.cli import shadework

    return shadework.season(file, set_ or [], year=year, units=units, as_json=json)


@app.command
def eave(
    file: Path,
    /,
    *,
    window: str,
    sun_until: str | None = None,
    shade_from: str | None = None,
    by_year: Annotated[bool, Parameter(negative="")] = False,
    hour_counts: HourCounts = 1.0,
    set_: Changes = None,
    units: Units = None,
    json: Json = False,
) -> int:
    """Size the eave over a window, from the days on which its shade should turn or by the year.

    Parameters
    ----------
    window
        Name of the window, or its number in the file if it has none.
    sun_until
        Last day of full sun at solar noon, such as 2-10.
    shade_from
        First day of full shade at solar noon, such as 5-10.
    by_year
        Instead of days: the eave that the heat balance of the year prefers.
    """
    from noonmark.cli import shadework

    if by_year:
        return shadework.eave_by_year(
            file,
            set_ or [],
            window=window,
            days=(sun_until, shade_from),
            hour_counts=hour_counts,
            units=units,
            as_json=json,
        )
    return shadework.eave(
        file,
        set_ or [],
        window=window,
        sun_until=sun_until,
        shade_from=shade_from,
        units=units,
        as_json=json,
    )


@app.command
def awning(
    file: Path,
    /,
    *,
    window: str,
    projection: str = "4 ft",
    drop: str = "2 ft",
    hour_counts: HourCounts = 1.0,
    set_: Changes = None,
    units: Units = None,
    json: Json = False,
) -> int:
    """Say when an awning over a window is best put up and taken down, by the year's heat balance.

    Parameters
    ----------
    window
        Name of the window, or its number in the file if it has none.
    projection
        How far its outer edge stands out from the wall.
    drop
        How far it falls to its outer edge.
    """
    from noonmark.cli import shadework

    return shadework.awning(
        file,
        set_ or [],
        window=window,
        sizes={"projection": projection, "drop": drop},
        hour_counts=hour_counts,
        units=units,
        as_json=json,
    )


@app.command
def slats(
    file: Path,
    /,
    *,
    window: str,
    put_up: str,
    take_down: str,
    begin: Annotated[str, Parameter(name="--from")],
    end: Annotated[str, Parameter(name="--to")],
    board: str = "3 1/2 in",
    thickness: str = "3/4 in",
    upright: Annotated[bool, Parameter(negative="")] = False,
    out: Path | None = None,
    set_: Changes = None,
    units: Units = None,
    json: Json = False,
) -> int:
    """Make a shade of boards for a window that keeps the sun off between dates and hours.

    Parameters
    ----------
    window
        Name of the window, or its number in the file if it has none.
    put_up
        First day it stands, such as 5-15.
    take_down
        Last day it stands.
    begin
        Clock time from which no sun is to come through, such as 15:00.
    end
        Clock time until which none is to come through.
    board
        Depth of a board, edge to edge.
    thickness
        Thickness of a board.
    upright
        Boards stand upright.
    out
        Folder for the workshop drawing; without it nothing is written.
    """
    from noonmark.cli import shadework

    return shadework.slats(
        file,
        set_ or [],
        window=window,
        days=(put_up, take_down),
        clocks=(begin, end),
        board=board,
        thickness=thickness,
        upright=upright,
        out=out,
        units=units,
        as_json=json,
    )


@app.command
def stakeout(
    file: Path,
    /,
    *,
    date: str | None = None,
    building: str | None = None,
    out: Path | None = None,
    paper: Literal["a4", "letter"] | None = None,
    set_: Changes = None,
    units: Units = None,
    json: Json = False,
) -> int:
    """Say how to stake the house out to true north: compass, noon shadow, squares.

    Parameters
    ----------
    date
        Day on which you stake it out, such as 2026-11-25; today if left out.
    building
        Which building; all of them if left out.
    out
        Folder for a sheet of each building as PDF; without it nothing is written.
    paper
        Of the PDF; US Letter for US units, else A4, if left out.
    """
    from noonmark.cli import stakework

    return stakework.stake(
        file,
        set_ or [],
        day=date,
        building=building,
        out=out,
        paper=paper,
        units=units,
        as_json=json,
    )


@app.command
def marks(
    file: Path,
    /,
    *,
    window: str | None = None,
    building: str | None = None,
    date: Annotated[list[str] | None, Parameter(negative="", consume_multiple=True)] = None,
    at: str | None = None,
    ics: Path | None = None,
    pole: Path | None = None,
    paper: Literal["a4", "letter"] | None = None,
    read: Path | None = None,
    set_: Changes = None,
    units: Units = None,
    json: Json = False,
) -> int:
    """Say where the eave's shade edge stands on the wall, by date: marks to check it by.

    Parameters
    ----------
    window
        Beside which window, by name or number; the largest on the sunny side if left out.
    building
        Which building; the first one if left out.
    date
        A day such as 12-21, or a full date, as often as you like; every fortnight from
        today if left out.
    at
        A clock time such as 15:00 for a mark beside that of solar noon.
    ics
        Write a calendar file with an event and an alarm for each mark.
    pole
        Write a full-size story pole as PDF, to be printed, cut and glued.
    paper
        Paper of the story pole; letter for US units, A4 for metric, if left out.
    read
        Read real marks back from a csv with the columns date, time, and one of below_soffit,
        above_sill, above_floor with its unit, as in below_soffit_cm.
    """
    from noonmark.cli import markwork

    if read is not None:
        if ics or pole or date or at:
            raise InputError(Problem("readback.alone", path="--read"))
        return markwork.read_back(
            file, set_ or [], read, which=(building, window), units=units, as_json=json
        )
    return markwork.marks(
        file,
        set_ or [],
        which=(building, window),
        dates=date or [],
        at=at,
        ics=ics,
        pole=pole,
        paper=paper,
        units=units,
        as_json=json,
    )


@app.command
def web(
    file: Path | None = None,
    /,
    *,
    port: int | None = None,
    open_: Annotated[
        bool, Parameter(name="--open", negative="--no-open", help="Open the page in the browser.")
    ] = True,
) -> int:
    """Open a design as a page: drag its parts and see its year; Ctrl-C ends it.

    Parameters
    ----------
    file
        The design file; the only one in this folder, or a copy of the sample, if left out.
    port
        Where to listen; 8123 or the next free one if left out.
    """
    from noonmark.web.serve import serve

    return serve(file, port, open_page=open_)


def main() -> None:
    """Run the command line and leave with its exit code.

    Signs that the terminal can not show (primes, degrees) become question marks.
    """
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")
    sys.exit(run_words(sys.argv[1:]))


def run_words(words: list[str]) -> int:
    """Run one command line and return its exit code; no traceback gets out."""
    try:
        code = app(words, exit_on_error=False, print_error=False, result_action="return_value")
        sys.stdout.flush()
    except CycloptsError as error:
        return _complain(InputError(Problem("cli.usage", values={"detail": str(error)})), words)
    except NoonmarkError as error:
        return _complain(error, words)
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    except KeyboardInterrupt:
        return 130
    except Exception as error:
        if os.environ.get(DEBUG_VARIABLE):
            raise
        detail = f"{type(error).__name__}: {error}"
        return _complain(InputError(Problem("cli.broken", values={"detail": detail})), words)
    return code if isinstance(code, int) else 0


def _complain(error: NoonmarkError, words: list[str]) -> int:
    sys.stderr.write(Speech(_complaint_system(words)).explain_all(error) + "\n")
    return 2


def _complaint_system(words: list[str]) -> System:
    """Return the units of `--units`, else those of the design, for the words of an error."""
    for system in get_args(System):
        if f"--units={system}" in words or ("--units", system) in pairwise(words):
            return cast("System", system)
    from noonmark.design.file import written_units

    return written_units(Path(words[1])) if len(words) > 1 else "metric"
