"""The commands about a design, its year and its drawings; what they do is imported late."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Literal

from cyclopts import Parameter

from noonmark.cli.options import Changes, HourCounts, Json, Out, Units


def demo(*, out: Out = Path("noonmark-demo"), units: Units = None, json: Json = False) -> int:
    """Run the sample house and its unshaped twin, print the year and draw it."""
    from noonmark.cli import work

    return work.demo(out, units, as_json=json)


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


def check(file: Path, /, *, set_: Changes = None, json: Json = False, units: Units = None) -> int:
    """Check a design by arithmetic: sizes that can not stand, and what to ask about."""
    from noonmark.cli import work

    return work.check(file, set_ or [], as_json=json, units=units)


def run(file: Path, /, *, set_: Changes = None, json: Json = False, units: Units = None) -> int:
    """Run the design and its unshaped twin through a year, hour by hour."""
    from noonmark.cli import work

    return work.run(file, set_ or [], as_json=json, units=units)


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


def glass(
    file: Path,
    /,
    *,
    hour_counts: HourCounts = 1.0,
    set_: Changes = None,
    units: Units = None,
    json: Json = False,
) -> int:
    """Say which glass does best on which side, by the hourly year at this place."""
    from noonmark.cli import glasswork

    return glasswork.glass(file, set_ or [], hour_counts=hour_counts, units=units, as_json=json)


def damp(file: Path, /, *, set_: Changes = None, units: Units = None, json: Json = False) -> int:
    """Say what sweats, which humidity is safe, and whether walls and roof dry."""
    from noonmark.cli import glasswork

    return glasswork.damp(file, set_ or [], units=units, as_json=json)


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
