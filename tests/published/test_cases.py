"""The thermal test procedure of ANSI/ASHRAE Standard 140 in Denver's typical year.

The designs lie in `tests/cases`; the product runs them as it runs every house,
with its own defaults. Order and incident sun must hold. Ranges of the 2020
edition are from memory and inform: docs/validation.md shows every one, misses too.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from command_line import Run
from noonmark.design.checks import check_design
from published_cases import FOLDER, changes, design, incident, let_in, year
from weather_samples import denver_file

pytestmark = pytest.mark.validation

Record = Callable[..., None]
Ends = tuple[float, float]
TOPIC = "published cases 2020"
STANDARD = "ANSI/ASHRAE Standard 140-2020"
LEAST = 0.001
"""The last digit of the published tables; less is no difference."""

RANGES: dict[str, dict[str, Ends]] = {
    "heating": {
        "600": (3.993, 4.504),
        "610": (4.066, 4.592),
        "620": (4.094, 4.719),
        "630": (4.356, 5.139),
        "640": (2.403, 2.682),
        "650": (0.0, 0.0),
        "900": (1.379, 1.814),
        "910": (1.648, 2.163),
        "920": (2.956, 3.607),
        "930": (3.524, 4.384),
        "940": (0.863, 1.389),
        "950": (0.0, 0.0),
        "960": (2.522, 2.860),
    },
    "cooling": {
        "600": (5.432, 6.162),
        "610": (4.117, 4.382),
        "620": (3.841, 4.404),
        "630": (2.573, 3.074),
        "640": (5.237, 5.893),
        "650": (4.186, 4.945),
        "900": (2.267, 2.714),
        "910": (1.191, 1.490),
        "920": (2.549, 3.128),
        "930": (1.654, 2.161),
        "940": (2.203, 2.613),
        "950": (0.586, 0.707),
        "960": (0.789, 0.950),
    },
    "peak_heating": {
        "600": (3.020, 3.359),
        "610": (3.021, 3.360),
        "620": (3.038, 3.385),
        "640": (4.039, 4.658),
        "900": (2.443, 2.778),
        "910": (2.469, 2.799),
        "940": (3.052, 3.882),
        "960": (2.085, 2.300),
    },
    "peak_cooling": {
        "600": (5.422, 6.481),
        "610": (5.331, 6.432),
        "620": (3.955, 4.797),
        "640": (5.365, 6.429),
        "650": (5.046, 6.063),
        "900": (2.556, 3.376),
        "940": (2.556, 3.376),
    },
    "highest": {
        "600FF": (62.4, 68.4),
        "650FF": (61.1, 66.8),
        "900FF": (43.3, 46.0),
        "950FF": (36.1, 37.1),
    },
    "lowest": {"600FF": (-13.8, -9.9), "650FF": (-17.8, -16.7), "900FF": (0.6, 2.2)},
    "mean": {"600FF": (24.3, 26.1), "900FF": (24.5, 25.7)},
}
ROWS = [
    (quantity, case, ends) for quantity, cases in RANGES.items() for case, ends in cases.items()
]


@pytest.mark.parametrize(("quantity", "case", "ends"), ROWS)
def test_remembered_ranges(record: Record, quantity: str, case: str, ends: Ends) -> None:
    record(
        f"2020_{quantity}_{case}",
        TOPIC,
        STANDARD,
        "memory",
        low=ends[0],
        high=ends[1],
        got=getattr(year(case), quantity),
        informs=True,
    )


def test_there_are_fifty_rows() -> None:
    assert len(ROWS) == 50


HEATING = ["640 600", "600 610", "610 620", "620 630", "940 900", "900 910", "910 920", "920 930"]
COOLING = [
    "630 620", "620 600", "610 600", "650 600", "950 910", "910 900", "900 600", "930 920",
    "920 620",
]  # fmt: skip


@pytest.mark.parametrize(
    ("quantity", "pair"),
    [*(("heating", pair) for pair in HEATING), *(("cooling", pair) for pair in COOLING)],
)
def test_order_of_loads(record: Record, quantity: str, pair: str) -> None:
    less, more = pair.split()
    got = getattr(year(more), quantity) - getattr(year(less), quantity)
    record(f"ordering_{quantity}_{less}_{more}", TOPIC, STANDARD, "memory", low=LEAST, got=got)


DIFFERENCES: list[tuple[str, str, str, float, float | None]] = [
    ("cooling", "600", "640", LEAST, 0.5),  # slightly
    ("heating", "600", "900", 2.2, 3.9),
    ("heating", "600", "960", LEAST, None),
    ("heating", "960", "900", LEAST, None),
    ("peak_heating", "640", "600", 0.3, None),  # the set-back pays with its recovery
    ("highest", "600FF", "900FF", 16.0, 28.0),
    ("lowest", "900FF", "600FF", 9.0, 17.5),
    ("mean", "900FF", "600FF", -0.7, 0.7),
    ("highest", "900FF", "950FF", 6.0, 10.0),
    ("highest", "600FF", "650FF", 1.0, 2.0),
]


@pytest.mark.parametrize(("quantity", "more", "less", "low", "high"), DIFFERENCES)
def test_differences(
    record: Record, quantity: str, more: str, less: str, low: float, high: float | None
) -> None:
    got = getattr(year(more), quantity) - getattr(year(less), quantity)
    name = f"ordering_{quantity}_{more}_less_{less}"
    record(name, TOPIC, STANDARD, "memory", low=low, high=high, got=got)


def test_an_overhang_shades_no_winter_night(record: Record) -> None:
    got = year("610").peak_heating / year("600").peak_heating
    name = "ordering_peak_heating_610_over_600"
    record(name, TOPIC, STANDARD, "memory", expected=1.0, tol=0.01, got=got)


def test_sun_room_grows_hot(record: Record) -> None:
    got = float(year("960").air("sun room").max())
    record("ordering_highest_960_sun_room", TOPIC, STANDARD, "memory", low=45.0, got=got)


@pytest.mark.parametrize("case", ["650", "950"])
def test_no_heating_is_no_heating(record: Record, case: str) -> None:
    name = f"ordering_no_heating_{case}"
    record(name, TOPIC, STANDARD, "memory", expected=0.0, tol=0.0, got=year(case).heating)


@pytest.mark.parametrize(
    ("plane", "tilt", "azimuth", "expected"),
    [
        ("horizontal", 0.0, 180.0, 1672.0),
        ("south", 90.0, 180.0, 1369.0),
        ("north", 90.0, 0.0, 435.0),
        ("east", 90.0, 90.0, 1060.0),
        ("west", 90.0, 270.0, 968.0),
    ],
)
def test_incident_sun(
    record: Record, plane: str, tilt: float, azimuth: float, expected: float
) -> None:
    record(
        f"incident_{plane}",
        TOPIC,
        "Perez et al. 1990 on the same weather by a separate trial program, albedo 0.2",
        "computed",
        expected=expected,
        tol=0.015 * expected,
        got=incident(tilt, azimuth),
    )


@pytest.mark.parametrize(
    ("case", "side", "name", "expected"),
    [
        ("600", "S", "south_600", 795.4),
        ("610", "S", "south_610", 632.0),
        ("620", "E", "east_620", 635.7),
        ("620", "W", "west_620", 575.4),
        ("630", "E", "east_630", 440.3),
        ("630", "W", "west_630", 390.8),
    ],
)
def test_sun_through_the_glass(
    record: Record, case: str, side: str, name: str, expected: float
) -> None:
    record(
        f"transmitted_{name}",
        TOPIC,
        "a separate small model of the box on the same weather; 5 %",
        "computed",
        expected=expected,
        tol=0.05 * expected,
        got=let_in(case, side),
        informs=True,
    )


@pytest.mark.parametrize("case", changes())
def test_every_case_is_a_sound_design(case: str) -> None:
    assert check_design(design(case)) == []


def test_a_user_runs_the_box_beside_its_weather(run: Run, tmp_path: Path) -> None:
    weather = denver_file()
    for file in (FOLDER / "box.toml", weather):
        (tmp_path / file.name).write_bytes(file.read_bytes())
    words = [word for change in changes()["910"] for word in ("--set", change)]
    code, out, err = run("run", tmp_path / "box.toml", "--json", *words)
    assert (code, err) == (0, "")
    (box,) = json.loads(out)["buildings"]
    assert box["heating_kwh"] == pytest.approx(1e3 * year("910").heating)
