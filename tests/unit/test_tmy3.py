"""Reading TMY3 files, good and bad."""

from __future__ import annotations

import gzip
from pathlib import Path

import numpy as np
import pytest

from noonmark.climate.shipped import read_shipped
from noonmark.climate.tmy3 import read_tmy3
from noonmark.errors import InputError, Problem
from weather_samples import shared_file, tmy3_text, write


def edited(line: int, old: str, new: str) -> str:
    """Return the sample with `old` replaced in one line (from 1); fails when it is not there."""
    lines = tmy3_text().split("\n")
    assert old in lines[line - 1]
    lines[line - 1] = lines[line - 1].replace(old, new, 1)
    return "\n".join(lines)


def refusal(path: Path) -> Problem:
    with pytest.raises(InputError) as caught:
        read_tmy3(path)
    return caught.value.problems[0]


def test_reads_what_was_written(tmp_path: Path) -> None:
    year, golden = read_tmy3(write(tmp_path, tmy3_text())), read_shipped("golden")
    for name in ("temp_air", "dew_point", "pressure", "ghi", "wind_direction", "albedo"):
        np.testing.assert_allclose(getattr(year, name), getattr(golden, name), atol=0.01)
    assert year.source == "TMY3 000000 GOLDEN TABLE CO"
    assert (year.latitude, year.utc_offset_h, year.wind_height_m) == (39.73, -7.0, 10.0)
    assert set(year.cloud_cover) == {0.5}


def test_reads_packed_quoted_and_windows_files_alike(tmp_path: Path) -> None:
    packed = tmp_path / "packed.csv"
    packed.write_bytes(gzip.compress(tmy3_text().encode()))
    other = tmy3_text().replace("GOLDEN TABLE", '"GOLDEN TABLE"').replace("\n", "\r\n")
    windows = tmp_path / "windows.csv"
    windows.write_bytes(b"\xef\xbb\xbf" + other.encode())
    first, second = read_tmy3(packed), read_tmy3(windows)
    np.testing.assert_array_equal(first.ghi, second.ghi)
    assert first.source == second.source


def test_midnight_may_be_written_as_the_next_day(tmp_path: Path) -> None:
    text = edited(26, "1/1/1999,24:00", "1/2/1999,0:00")
    text = text.replace("12/31/1999,24:00", "1/1/2000,00:00")
    np.testing.assert_array_equal(
        read_tmy3(write(tmp_path, text)).dni,
        read_tmy3(write(tmp_path, tmy3_text(), "plain.csv")).dni,
    )


@pytest.mark.parametrize("marker", ["-9900", "9999", ""])
def test_missing_marker_is_a_gap_that_gets_filled(tmp_path: Path, marker: str) -> None:
    year = read_tmy3(write(tmp_path, edited(4, "-16.0", marker)))
    (repair,) = year.repairs
    assert (repair.column, repair.rows) == ("temp_air", (1,))
    assert year.temp_air[1] == pytest.approx(-15.95)


@pytest.mark.parametrize(
    ("line", "old", "new", "code", "at"),
    [
        (2, "Date (MM/DD/YYYY)", "When", "climate.not_tmy3", 2),
        (2, "GHI (W/m^2)", "Sun", "climate.missing_column", 2),
        (1, "39.73", "north", "climate.bad_header", 1),
        (1, ",-7,39.73,-105.18,1876.0", "", "climate.bad_header", 1),
        (1, "39.73", "139.73", "place.out_of_range", None),
        (1, "-105.18", "105.18", "place.longitude_sign", None),
        (9, "1/1/1999,7:00", "1/1/1999,8:00", "climate.wrong_stamp", 9),
        (9, "1/1/1999", "13/1/1999", "climate.wrong_stamp", 9),
        (9, "1/1/1999", "noon", "climate.wrong_stamp", 9),
        (9, "7:00", "7:30", "climate.wrong_stamp", 9),
        (4, "-16.0", "cold", "climate.bad_number", 4),
        (4, "-16.0", "inf", "climate.bad_number", 4),
        (4, "-16.0", "160.0", "climate.out_of_range", 4),
        (4, ",0.8,5.0", "", "climate.short_row", 4),
    ],
)
def test_fault_is_named_with_its_line(
    tmp_path: Path, line: int, old: str, new: str, code: str, at: int | None
) -> None:
    problem = refusal(write(tmp_path, edited(line, old, new)))
    assert (problem.code, problem.file, problem.line) == (code, "year.csv", at)


def test_bad_number_names_column_and_text(tmp_path: Path) -> None:
    values = refusal(write(tmp_path, edited(4, "-16.0", "cold"))).values
    assert values == {"read": "cold", "column": "Dry-bulb (C)"}


def test_left_out_hour_shows_where(tmp_path: Path) -> None:
    lines = tmy3_text().split("\n")
    del lines[100]
    problem = refusal(write(tmp_path, "\n".join(lines)))
    assert (problem.code, problem.line) == ("climate.wrong_stamp", 101)
    assert problem.values["right"] == "1/5 3:00"


def test_twice_the_same_hour_shows_where(tmp_path: Path) -> None:
    lines = tmy3_text().split("\n")
    lines.insert(100, lines[100])
    assert refusal(write(tmp_path, "\n".join(lines))).line == 102


def test_year_cut_short_or_too_long(tmp_path: Path) -> None:
    short = "\n".join(tmy3_text().split("\n")[:-25])
    problem = refusal(write(tmp_path, short))
    assert (problem.code, problem.values["read"]) == ("climate.wrong_hours", "8736")
    first_row = tmy3_text().split("\n")[2]
    problem = refusal(write(tmp_path, tmy3_text() + first_row))
    assert (problem.code, problem.line) == ("climate.wrong_hours", 8763)


@pytest.mark.parametrize(
    ("content", "code"),
    [
        (b"", "climate.empty_file"),
        (b"  \n \n", "climate.empty_file"),
        (b"\xff\xfe1\x00", "climate.encoding"),
        (b"\x1f\x8bnot really packed", "climate.bad_gzip"),
        (gzip.compress(b"a" * 9999)[:-20], "climate.bad_gzip"),
        (b"one line", "climate.not_tmy3"),
        (b"\x00\x01\x02", "climate.not_tmy3"),
    ],
)
def test_other_files_are_refused(tmp_path: Path, content: bytes, code: str) -> None:
    path = tmp_path / "odd.csv"
    path.write_bytes(content)
    problem = refusal(path)
    assert (problem.code, problem.file) == (code, "odd.csv")


def test_folder_and_missing_file(tmp_path: Path) -> None:
    assert refusal(tmp_path).code == "climate.folder"
    assert refusal(tmp_path / "none.csv").code == "climate.no_file"


def test_a_bomb_is_not_unpacked(tmp_path: Path) -> None:
    path = tmp_path / "bomb.csv.gz"
    path.write_bytes(gzip.compress(b"0" * (65 * 2**20), compresslevel=9))
    assert refusal(path).code == "climate.too_large"


def test_station_files_are_read_as_they_are() -> None:
    folder = shared_file("climate/us-typical-years", "typical years")
    years = {path.name[:6]: read_tmy3(path) for path in sorted(folder.glob("*.gz"))}
    assert len(years) == 22
    unmeasured = [name for name, year in years.items() if np.isnan(year.albedo).all()]
    assert len(unmeasured) == 16
    assert years["725650"].temp_air[0] == -18.0
    assert years["725650"].temp_air[-1] == -19.4
    assert not np.isnan(years["725650"].albedo).any()
