"""The commands about sun and shade; what they do is imported late."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Literal

from cyclopts import Parameter

from noonmark.cli.options import Changes, HourCounts, Json, Units
from noonmark.errors import InputError, Problem


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
