"""The compass needle against the model's authors, and true south by story.

The first three rows are the numerical examples of the World Magnetic Model's report
for 2025.0 (from memory); all were computed again with its authors' own program,
wmm-calculator 1.4.4 of NOAA and CIRES, which shares no code with ours.
"""

from __future__ import annotations

from datetime import date

import pytest

from noonmark.place.magnetic import compass_reading, magnetic_field

MODEL = [
    # latitude, longitude, altitude [km], decimal year; declination [deg], level field [nT]
    (80.0, 0.0, 0.0, 2025.0, 1.2815, 6523.231),
    (0.0, 120.0, 0.0, 2025.0, -0.1583, 39677.9064),
    (-80.0, 240.0, 0.0, 2025.0, 68.7754, 16898.134),
    (80.0, 0.0, 100.0, 2027.5, 2.1605, 6201.147),
    (0.0, 120.0, 100.0, 2027.5, -0.2259, 37711.8364),
    (-80.0, 240.0, 100.0, 2027.5, 67.9316, 15927.008),
    (39.73, -105.18, 1.876, 2026.9, 7.5779, 20870.8636),
    (-43.5, 172.6, 0.0, 2026.9, 24.6954, 20899.0783),
    (69.65, 18.96, 0.1, 2028.2, 11.6491, 10797.721),
    (84.0, 160.0, 0.0, 2025.5, -26.0269, 1435.5656),
]


@pytest.mark.parametrize(("lat", "lon", "km", "year", "declination", "level"), MODEL)
def test_needle_as_its_model_says(
    lat: float, lon: float, km: float, year: float, declination: float, level: float
) -> None:
    day = date.fromordinal(date(int(year), 1, 1).toordinal() + int(year % 1.0 * 365.0))
    found = magnetic_field(day, latitude=lat, longitude=lon, altitude_m=1e3 * km)
    hours = 1.5 / 365.0  # noon of a day against a decimal year
    assert found.declination == pytest.approx(
        declination, abs=abs(found.yearly_change) * hours + 1e-3
    )
    assert found.level_nt == pytest.approx(level, abs=1.0)
    assert found.years_off == 0.0


CHANGES = [(80.0, 0.0, 2025, 0.5237), (0.0, 120.0, 2025, -0.0333), (-43.5, 172.6, 2026, 0.0818)]


@pytest.mark.parametrize(("lat", "lon", "year", "change"), CHANGES)
def test_yearly_change_as_its_model_says(lat: float, lon: float, year: int, change: float) -> None:
    found = magnetic_field(date(year, 1, 1), latitude=lat, longitude=lon, altitude_m=0.0)
    assert found.yearly_change == pytest.approx(change, abs=1.5e-3)


def test_error_is_that_of_the_report() -> None:
    # 0.26 deg and 5417 nT over H, WMM2025 report; 0.3674 deg at H = 20,871 nT by hand
    found = magnetic_field(date(2026, 11, 25), latitude=39.73, longitude=-105.18, altitude_m=1876.0)
    assert found.uncertainty == pytest.approx(0.3674, abs=1e-4)


@pytest.mark.parametrize(
    ("lat", "lon", "zone"),
    [(84.0, 160.0, "blackout"), (-64.1, 135.9, "blackout"), (78.0, -120.0, "caution"),
     (78.2, 15.6, "good"), (39.7, -105.2, "good")],
)  # fmt: skip
def test_zones_near_the_magnetic_poles(lat: float, lon: float, zone: str) -> None:
    found = magnetic_field(date(2026, 1, 1), latitude=lat, longitude=lon, altitude_m=0.0)
    assert found.zone == zone
    low, high = {"blackout": (0, 2000), "caution": (2000, 6000), "good": (6000, 7e4)}[zone]
    assert low <= found.level_nt < high


@pytest.mark.parametrize(
    ("day", "used", "off"),
    [
        (date(2033, 7, 2), date(2029, 12, 31), 3.5),
        (date(2022, 1, 1), date(2025, 1, 1), 3.0),
        (date(2029, 12, 31), date(2029, 12, 31), 0.0),
        (date(2030, 1, 1), date(2029, 12, 31), 0.0014),
    ],
)
def test_a_day_outside_the_model_gets_its_nearest(day: date, used: date, off: float) -> None:
    found = magnetic_field(day, latitude=40.0, longitude=-105.0, altitude_m=0.0)
    assert found.day == used
    assert found.years_off == pytest.approx(off, abs=3e-3)


def test_true_south_by_compass() -> None:
    # Story: declination 8 W puts true south at 188; 10 deg 53' E at 169.1
    assert compass_reading(180.0, -8.0) == 188.0
    assert compass_reading(180.0, 10.0 + 53.0 / 60.0) == pytest.approx(169.1, abs=0.05)
    assert compass_reading(0.0, 24.7) == pytest.approx(335.3)
