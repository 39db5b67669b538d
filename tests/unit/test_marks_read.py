"""Real marks read back: what they tell, what they can not, and the slips that are named."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import numpy as np
import pytest

from command_line import Run
from noonmark.cards.marktables import fit_table, read_rows_table
from noonmark.cards.speech import Speech
from noonmark.choose.markfile import read_marks
from noonmark.errors import InputError
from noonmark.study.marks import marked_wall, sun_marks
from noonmark.study.results.marks import ReadBack
from pencil import FIRST, Truth, built, csv_of, drawn, made, read, read_csv, written

TRUTH = Truth(faces=4.0, projection=0.05, soffit=-0.03, clock=6)


def keys(result: ReadBack) -> list[str]:
    return [item.key for item in (*result.mistakes, *result.notes)]


def holds(result: ReadBack, faces: float, projection: float, soffit: float, clock: float) -> bool:
    """Return whether all four bands hold the truth."""
    fit = result.fit
    truth = zip(
        (fit.faces, fit.projection, fit.soffit, fit.clock),
        (faces, projection, soffit, clock),
        strict=True,
    )
    return all(
        told.band[0] <= value + turns(told.value, value) <= told.band[1] for told, value in truth
    )


def turns(told: float, truth: float) -> float:
    """Return the whole turns [deg] between what is told and the truth, as between 358 and -2."""
    return 360.0 * round((told - truth) / 360.0)


def test_marks_of_a_hundred_random_walls_are_read_back_inside_their_bands() -> None:
    """Marks 3 mm about the middle of the blur, both hemispheres, walls and clocks off the drawing.

    The bands promise 95 in 100, all four together.
    """
    noise = np.random.default_rng(20261221)
    inside = 0
    for _ in range(100):
        latitude = float(noise.choice([-1.0, 1.0]) * noise.uniform(28.0, 62.0))
        faces = (180.0 if latitude > 0.0 else 0.0) + float(noise.uniform(-20.0, 20.0))
        home = drawn(
            latitude=latitude, projection=float(noise.uniform(0.4, 1.3)), faces=faces % 360.0
        )
        truth = Truth(
            float(noise.uniform(-10.0, 10.0)),
            float(noise.uniform(-0.1, 0.1)),
            float(noise.uniform(-0.05, 0.05)),
            int(noise.integers(-15, 16)),
        )
        result = read(home, written(home, truth, noise))
        eave = home.buildings["house"].eave
        drawn_soffit = eave.soffit_height or 0.0
        inside += holds(
            result,
            faces % 360.0 + truth.faces,
            eave.projection + truth.projection,
            drawn_soffit + truth.soffit,
            truth.clock,
        )
        assert result.mistakes == ()
    assert inside >= 95


def test_bands_are_no_wider_than_marks_deserve() -> None:
    """Forty marks of 3 mm tell the eave to a centimetre, the wall to half a degree."""
    home = drawn()
    fit = read(home, written(home, TRUTH, np.random.default_rng(1))).fit
    for told, most in (
        (fit.faces, 0.5),
        (fit.projection, 0.01),
        (fit.soffit, 0.01),
        (fit.clock, 3.0),
    ):
        assert told.told
        assert told.band[1] - told.band[0] < 2.0 * most
        assert told.value == pytest.approx(sum(told.band) / 2.0)


@pytest.mark.parametrize("latitude", [39.73, -39.73])
def test_noon_marks_alone_can_not_tell_where_the_wall_looks_nor_the_clock(latitude: float) -> None:
    home = drawn(latitude=latitude, faces=180.0 if latitude > 0.0 else 0.0)
    rows = written(home, TRUTH, np.random.default_rng(2), when=["noon"])
    result = read(home, rows)
    fit = result.fit
    assert (fit.faces.told, fit.clock.told) == (False, False)
    assert (fit.projection.told, fit.soffit.told) == (True, True)
    assert "readback.noon_alone" in keys(result)
    again = read(home, written(home, TRUTH, np.random.default_rng(2)))
    assert all(told.told for told in (again.fit.faces, again.fit.clock))
    assert "readback.noon_alone" not in keys(again)


def test_turned_wall_with_noon_marks_keeps_projection_open_to_the_azimuth() -> None:
    """At noon a deeper eave and a wall turned further throw the same shade: the band says so.

    Source: tan of the profile angle is tan of the altitude over the cosine of the turn.
    """
    home = drawn(faces=150.0)
    result = read(home, written(home, Truth(), when=["noon"], days=[FIRST, date(2027, 1, 18)]))
    low, high = result.fit.projection.band
    assert not result.fit.faces.told
    assert high - low > 0.762 * (np.cos(np.radians(22.0)) - np.cos(np.radians(38.0))) / np.cos(
        np.radians(30.0)
    )


def test_heights_below_the_soffit_can_not_tell_the_soffit(tmp_path: Path) -> None:
    home = drawn()
    path = csv_of(tmp_path, written(home, TRUTH, datum="below_soffit"), "below_soffit_m")
    result = read_csv(home, path)
    assert not result.fit.soffit.told
    assert result.fit.projection.told
    assert "readback.from_soffit" in keys(result)


@pytest.mark.parametrize(
    ("drawn_to", "came_to"), [(358.0, "2.0°"), (1.0, "5.0°"), (354.0, "358.0°")]
)
def test_walls_about_north_are_told_within_a_turn(drawn_to: float, came_to: str) -> None:
    """A wall of the south drawn to 358 and built 4 degrees on looks to 2, not to 362."""
    home = drawn(latitude=-39.73, faces=drawn_to)
    result = read(home, written(home, TRUTH))
    faces = result.fit.faces
    assert 0.0 <= faces.value < 360.0
    assert faces.band[0] < faces.value < faces.band[1]
    table = fit_table(result, made(home, [FIRST]), Speech("metric"))
    assert table.rows[0][2] == came_to
    assert all(0.0 <= float(shown.rstrip("°")) < 360.0 for shown in table.rows[0][1:])


@pytest.mark.parametrize("datum", ["below_soffit", "above_sill", "above_floor"])
@pytest.mark.parametrize(("unit", "factor"), [("mm", 1e-3), ("in", 0.0254), ("ft", 0.3048)])
def test_every_datum_and_unit_tells_the_same(
    tmp_path: Path, datum: str, unit: str, factor: float
) -> None:
    home = drawn()
    path = csv_of(tmp_path, written(home, TRUTH, datum=datum), f"{datum}_{unit}", factor)
    result = read_csv(home, path)
    assert result.measured == datum
    assert result.mistakes == ()
    assert result.fit.projection.value == pytest.approx(0.812, abs=0.003)
    assert result.fit.faces.value == pytest.approx(184.0, abs=0.2)


# --- slips --------------------------------------------------------------------------------------


@pytest.mark.parametrize("datum", ["below_soffit", "above_floor"])
@pytest.mark.parametrize("projection", [0.45, 0.762, 1.22])
def test_inches_in_a_column_of_centimetres_are_named(
    tmp_path: Path, datum: str, projection: float
) -> None:
    home = drawn(projection=projection)
    rows = written(home, TRUTH, np.random.default_rng(3), datum=datum)
    result = read_csv(home, csv_of(tmp_path, rows, f"{datum}_cm", 0.0254))
    (slip,) = result.mistakes
    assert (slip.key, slip.values["wrote"], slip.values["meant"]) == ("readback.unit", "cm", "in")
    assert result.fit.projection.value == pytest.approx(projection + 0.05, abs=0.01)


def test_forgotten_daylight_hour_is_named(tmp_path: Path) -> None:
    home = drawn()
    zone = ZoneInfo(home.place.time_zone)
    rows = [
        (at - (at.replace(tzinfo=zone).dst() or timedelta()), height)
        for at, height in written(home, Truth(faces=4.0), np.random.default_rng(4))
    ]
    result = read_csv(home, csv_of(tmp_path, rows, "above_floor_m"))
    (slip,) = result.mistakes
    assert slip.key == "readback.daylight_hour"
    assert result.fit.clock.value == pytest.approx(0.0, abs=2.0)
    assert result.fit.faces.value == pytest.approx(184.0, abs=0.3)


def test_swapped_month_and_day_of_one_line_are_named(tmp_path: Path) -> None:
    home = drawn()
    rows = written(home, TRUTH, np.random.default_rng(5))
    index = next(i for i, (at, _) in enumerate(rows) if (at.month, at.day) == (3, 1))
    at, height = rows[index]
    rows[index] = (datetime(at.year, 1, 3, at.hour, at.minute), height)
    result = read_csv(home, csv_of(tmp_path, rows, "above_floor_m"))
    (slip,) = result.mistakes
    assert (slip.key, slip.values["row"], slip.values["wrote"]) == (
        "readback.swapped", index + 2, "2027-01-03",
    )  # fmt: skip
    assert not any(row.left_out for row in result.rows)
    assert result.rows[index].date == date(2027, 3, 1)


def test_one_wild_mark_does_not_count_and_is_named(tmp_path: Path) -> None:
    home = drawn()
    rows = written(home, TRUTH, np.random.default_rng(6))
    at, height = rows[7]
    rows[7] = (at, height + 0.31)
    result = read_csv(home, csv_of(tmp_path, rows, "above_floor_m"))
    assert [row.row for row in result.rows if row.left_out] == [9]
    assert "readback.left_out" in keys(result)
    assert holds(result, 184.0, 0.812, 2.7132, 6.0)


def test_haze_counts_less(tmp_path: Path) -> None:
    """A hazy mark that is 4 cm off pulls less than a clear one."""
    home = drawn()
    rows = written(home, Truth(), days=[FIRST, date(2027, 4, 12)])
    values = []
    for share in (0, 1):
        path = csv_of(tmp_path, rows, "above_floor_m")
        lines = path.read_text("utf-8").splitlines()
        lines[0] += ",cloudiness"
        lines[1:] = [line + ",0" for line in lines[1:]]
        date_, clock, height, _ = lines[2].split(",")
        lines[2] = f"{date_},{clock},{float(height) + 0.01:.4f},{share}"
        path.write_text("\n".join(lines), "utf-8")
        values.append(read_csv(home, path).fit.soffit.value)
    assert abs(values[1] - 2.7432) < abs(values[0] - 2.7432)


def test_slip_of_a_unit_is_named_though_marks_were_made_an_hour_apart(tmp_path: Path) -> None:
    """In metres, marks of centimetres an hour apart exclude each other: the slip goes first."""
    home = drawn()
    days = [date(2027, 2, 1), date(2027, 4, 1), date(2027, 10, 1)]
    wall = marked_wall(built(home, TRUTH))
    rows = [
        (datetime.fromisoformat(f"{m.date}T{m.clock_time}"), m.below_soffit_m)
        for clock in (time(13), time(13, 45))
        for m in sun_marks(built(home, TRUTH), wall, days, clock=clock).marks
        if m.when == "clock"
    ]
    result = read_csv(home, csv_of(tmp_path, rows, "below_soffit_m", 0.01))
    (slip,) = result.mistakes
    assert (slip.key, slip.values["meant"]) == ("readback.unit", "cm")
    assert result.fit.projection.value == pytest.approx(0.812, abs=0.03)


def test_heights_are_not_taken_as_a_unit_that_shrinks_them_to_nothing(tmp_path: Path) -> None:
    """Whatever is measured fits next to no eave when it is taken as millimetres."""
    text = (
        "date,time,below_soffit_m\n"
        "2026-12-21,12:00,1.9\n2027-03-21,12:40,0.2\n2027-06-21,13:00,0.4\n"
        "2027-07-21,10:40,1.9\n2027-08-21,13:10,0.1\n2027-10-21,11:10,2.5\n"
    )
    path = tmp_path / "marks.csv"
    path.write_text(text, "utf-8")
    result = read_csv(drawn(), path)
    assert keys(result) == ["readback.no_fit"]


def test_marks_that_no_wall_throws_tell_nothing_and_say_so(
    run: Run, file: Path, tmp_path: Path
) -> None:
    text = (
        "date,time,below_soffit_m\n"
        "2026-12-21,12:00,1.9\n2027-03-21,12:40,0.2\n2027-06-21,13:00,0.4\n"
        "2027-07-21,10:40,1.9\n2027-08-21,13:10,0.1\n2027-10-21,11:10,2.5\n"
    )
    path = tmp_path / "marks.csv"
    path.write_text(text, "utf-8")
    result = read_csv(drawn(), path)
    fit = result.fit
    assert not any(told.told for told in (fit.faces, fit.projection, fit.soffit, fit.clock))
    assert fit.projection.value == pytest.approx(0.762)
    assert result.spread_m is None
    code, out, _ = run("marks", str(file), "--read", str(path))
    assert code == 0
    assert "No wall near this drawing" in out
    assert "95 in 100" not in out, "bands that were not found are not praised"


# --- what is refused ----------------------------------------------------------------------------


def refused(folder: Path, text: str, **home: float) -> list[tuple[str, int | None, str]]:
    path = folder / "marks.csv"
    path.write_text(text, "utf-8")
    with pytest.raises(InputError) as caught:
        read_csv(drawn(**home), path)
    assert path.read_text("utf-8") == text, "nothing is lost"
    return [(p.code, p.line, p.path) for p in caught.value.problems]


def test_text_in_the_csv_is_named_by_line_and_column(tmp_path: Path) -> None:
    text = (
        "date,time,below_soffit_cm,cloudiness\n"
        "# first winter\n"
        "2026-12-21,12:00,about 38,0\n"
        "21.12.2026,noon,38.6,0\n"
        "2027-02-30,12:15,50,2\n"
        "2027-02-15,12:15,59,0\n"
    )
    assert refused(tmp_path, text) == [
        ("units.unreadable", 3, "below_soffit_cm"),
        ("markfile.date", 4, "date"),
        ("markfile.time", 4, "time"),
        ("markfile.date", 5, "date"),
        ("markfile.cloudiness", 5, "cloudiness"),
    ]


@pytest.mark.parametrize(
    ("head", "code"),
    [
        ("date,below_soffit_cm", "markfile.columns"),
        ("date,time,height", "markfile.columns"),
        ("date,time,below_soffit_cm,above_floor_cm", "markfile.two_heights"),
        ("date,time,below_soffit_furlong", "markfile.unit"),
    ],
)
def test_columns_that_do_not_do(tmp_path: Path, head: str, code: str) -> None:
    assert refused(tmp_path, f"{head}\n2026-12-21,12:00,38,38\n") == [(code, 1, "")]


def test_bare_numbers_in_a_bare_column_are_asked_for_their_unit(tmp_path: Path) -> None:
    text = "date;time;below_soffit\n2026-12-21;12:00;38,6 cm\n2026-12-22;12:00;38,6\n"
    assert refused(tmp_path, text) == [("markfile.no_unit", 3, "below_soffit")]


@pytest.mark.parametrize(
    ("written_down", "meant"),
    [
        ("1:05 pm", time(13, 5)),
        ("12:00 PM", time(12)),
        ("9:30am", time(9, 30)),
        ("9:30", time(9, 30)),
    ],
)
def test_clocks_of_half_days_are_read(tmp_path: Path, written_down: str, meant: time) -> None:
    path = tmp_path / "marks.csv"
    path.write_text(f"date,time,below_soffit_cm\n2026-12-21,{written_down},38\n", "utf-8")
    assert read_marks(path).marks[0].clock == meant


def test_thirteen_pm_is_no_time(tmp_path: Path) -> None:
    text = "date,time,below_soffit_cm\n2026-12-21,13:05 pm,38\n"
    assert refused(tmp_path, text) == [("markfile.time", 2, "time")]


def test_empty_file_and_lonely_head(tmp_path: Path) -> None:
    assert refused(tmp_path, "date,time,below_soffit_cm\n") == [("markfile.no_rows", None, "")]


def test_columns_named_twice_and_heights_that_can_not_be(tmp_path: Path) -> None:
    text = "date,time,below_soffit_cm,date\n2026-12-21,12:00,38.6,2026-12-22\n"
    assert refused(tmp_path, text) == [("markfile.twice", 1, "date")]
    text = (
        "date,time,below_soffit_m\n2026-12-21,12:00,1e300\n"
        "2026-12-21,12:00,999999\n2026-12-21,12:00,-0.4\n"
    )
    assert refused(tmp_path, text) == [
        ("markfile.absurd", 2, "below_soffit_m"),
        ("markfile.absurd", 3, "below_soffit_m"),
        ("markfile.above_soffit", 4, "below_soffit_m"),
    ]


def test_decimal_commas_among_commas_are_not_cut_in_two(tmp_path: Path) -> None:
    text = "date,time,below_soffit_m\n2026-12-21,12:00,0,386\n2026-12-22,12:00,0.386,\n"
    assert refused(tmp_path, text) == [("markfile.cells", 2, "")]
    text = text.replace("0,386", '"0,386"')
    (tmp_path / "marks.csv").write_text(text, "utf-8")
    assert [mark.height for mark in read_marks(tmp_path / "marks.csv").marks] == [0.386, 0.386]


def test_a_cell_longer_than_the_reader_takes_is_named(tmp_path: Path) -> None:
    text = f"date,time,below_soffit_m\n{'9' * 200_000},12:00,0.386\n"
    assert ("markfile.date", 2, "date") in refused(tmp_path, text)
    with pytest.raises(InputError) as caught:
        read_marks(tmp_path / "marks.csv")
    assert len(str(caught.value.problems[0].values["read"])) < 100, "it is not poured out again"


def test_marks_at_night_are_named(tmp_path: Path) -> None:
    text = "date,time,below_soffit_cm\n2026-12-21,12:00,38.6\n2026-12-21,00:12,38.6\n"
    assert refused(tmp_path, text) == [("readback.sun_down", 3, "time")]


def test_marks_an_hour_apart_that_exclude_each_other_are_named(tmp_path: Path) -> None:
    text = (
        "date,time,below_soffit_cm\n"
        "2027-03-01,12:13,70.6\n2027-03-01,13:10,31\n2027-03-15,13:10,85\n"
    )
    assert refused(tmp_path, text) == [("readback.exclude", 3, "below_soffit_cm")]
    with pytest.raises(InputError) as caught:
        read_csv(drawn(), tmp_path / "marks.csv")
    values = caught.value.problems[0].values
    here, low, high = (values[name].value for name in ("here", "lowest", "highest"))  # type: ignore[attr-defined]
    assert not low <= here <= high, "what is said to be thrown is not what was marked"
    assert low < 0.706 < high, "in an hour about noon the shade hardly moves"
    text = text.replace(",31\n", ",70\n")
    path = tmp_path / "marks.csv"
    path.write_text(text, "utf-8")
    assert read_csv(drawn(), path).fit.projection.value == pytest.approx(0.762, abs=0.05)


@pytest.mark.parametrize("latitude", [39.73, -45.0])
def test_marks_of_the_other_hemisphere_are_refused(tmp_path: Path, latitude: float) -> None:
    there = drawn(latitude=-latitude, faces=0.0 if latitude > 0.0 else 180.0)
    text = csv_of(tmp_path, written(there, Truth(), when=["noon"]), "above_floor_m").read_text()
    found = refused(tmp_path, text, latitude=latitude, faces=180.0 if latitude > 0.0 else 0.0)
    assert found == [("readback.other_hemisphere", 2, "date")]


def test_bare_wall_has_no_sill_to_measure_from(tmp_path: Path) -> None:
    path = csv_of(tmp_path, written(drawn(), Truth(), datum="above_sill"), "above_sill_m")
    from noonmark.choose.readback import read_back
    from sample_house import with_house

    bare = with_house(drawn(), window=[])
    with pytest.raises(InputError) as caught:
        read_back(bare, marked_wall(bare), read_marks(path))
    assert [p.code for p in caught.value.problems] == ["readback.no_sill"]


# --- what is said -------------------------------------------------------------------------------


def test_tables_tell_drawing_value_and_band() -> None:
    home = drawn()
    result = read(home, written(home, TRUTH, when=["noon"]))
    table = fit_table(result, made(home, [FIRST]), Speech("metric"))
    assert [row[0] for row in table.rows] == [
        "wall looks to", "eave projection", "soffit above floor", "clock is fast by",
    ]  # fmt: skip
    assert table.rows[0][1:] == ("180.0°", "not told", "", "")
    assert table.rows[1][1] == "0.762 m"
    rows = read_rows_table(result, Speech("us"))
    assert len(rows.rows) == len(result.rows)
    assert made(built(home, TRUTH)).projection_m == pytest.approx(0.812)
