"""Fuels, moist air and single equations of building physics."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from noonmark import catalog
from noonmark.air.films import outside_exchange
from noonmark.air.moist import saturation_pressure
from noonmark.envelope.layers import resistance_layer, total_resistance
from noonmark.units import read

pytestmark = pytest.mark.validation

Record = Callable[..., None]
CORD_M3 = 3.6246
BOILER = "boiler maker's fuel table, wood of 15 % water"


@pytest.mark.parametrize(
    ("wood", "kwh"),
    [
        ("spruce", 1310.0),
        ("fir", 1210.0),
        ("pine", 1550.0),
        ("larch", 1580.0),
        ("birch", 1570.0),
        ("beech", 1800.0),
        ("oak", 1760.0),
        ("robinia", 1920.0),
    ],
)
def test_wood_by_the_stacked_metre(record: Record, wood: str, kwh: float) -> None:
    row = catalog.find(catalog.Fuel, wood)
    assert row.unit == "full cord"
    record(
        f"wood_per_stacked_m3.{wood}",
        "fuel",
        BOILER,
        "verified-in-text",
        expected=kwh,
        got=row.kwh_net / row.cords / CORD_M3,
        tol=0.2,
    )


def test_a_cord(record: Record) -> None:
    for name, expected, got, tol in (
        ("ft3", 128.0, read("1 cord", "volume") / read("1 ft3", "volume"), 1e-9),
        ("m3", CORD_M3, read("1 cord", "volume"), 0.0001),
    ):
        record(
            f"cord.{name}",
            "fuel",
            "4 x 4 x 8 ft",
            "verified-in-text",
            expected=expected,
            got=got,
            tol=tol,
        )


@pytest.mark.parametrize(
    ("name", "wood", "low", "high"),
    [
        ("birch_GJ", "birch", 22.5, 22.5),
        ("white_fir_GJ", "fir", 17.6, 17.6),
        ("tamarack_GJ", "larch", 23.5, 23.5),
        ("oak_white_MMBtu", "oak", 19.2 * 1.0551, 22.7 * 1.0551),
    ],
)
def test_north_american_cords(
    record: Record, name: str, wood: str, low: float, high: float
) -> None:
    """Printed without a basis and without water content: gross values, to 10 %."""
    record(
        f"cord.{name}",
        "fuel",
        "secondary text on firewood, GJ a cord",
        "verified-in-text",
        low=0.9 * low,
        high=1.1 * high,
        got=catalog.find(catalog.Fuel, wood).kwh_gross * 0.0036,
    )


@pytest.mark.parametrize(
    ("name", "fuel", "kwh"),
    [
        ("pellets", "pellets", 4.7),
        ("heating_oil", "heating oil", 10.0),
        ("propane", "propane", 12.9),
        ("natural_gas_kWh_m3", "natural gas", 9.9),
    ],
)
def test_other_fuels(record: Record, name: str, fuel: str, kwh: float) -> None:
    record(
        f"other_fuels_net.{name}",
        "fuel",
        "net heating values by unit",
        "memory",
        expected=kwh,
        got=catalog.find(catalog.Fuel, fuel).kwh_net,
        tol=1e-9,
    )


def test_propane_and_pellets_by_mass(record: Record) -> None:
    """kWh and MJ a kilogram say the same."""
    for name, mj in (("pellets", 16.8), ("propane", 46.3)):
        record(
            f"other_fuels_net.{name}_MJ_kg",
            "fuel",
            "net heating values by mass",
            "memory",
            expected=mj,
            got=3.6 * catalog.find(catalog.Fuel, name).kwh_net,
            tol=0.2,
        )


SATURATION = {
    -20.0: 102.7,
    -18.0: 124.4,
    -10.0: 259.3,
    -5.0: 401.2,
    0.0: 610.5,
    5.0: 871.9,
    10.0: 1227.3,
    15.0: 1704.4,
    20.0: 2337.0,
    25.0: 3165.9,
    30.0: 4240.5,
    31.0: 4489.9,
    32.0: 4751.9,
}
TEXT_TABLE = {-20.0: 103.5, -18.0: 125.2, 31.0: 4492.0, 32.0: 4755.0}


def test_saturation_pressures(record: Record) -> None:
    for table, name, source, status, tol in (
        (SATURATION, "psat", "EN ISO 13788 annex E", "computed", lambda _: 0.1),
        (TEXT_TABLE, "text_table", "SBi 224 table 23", "verified-in-text", lambda p: 0.01 * p),
    ):
        for temperature, expected in table.items():
            record(
                f"ISO13788_vapour.{name}.{temperature:g}C",
                "envelope and glazing",
                source,
                status,
                expected=expected,
                got=float(saturation_pressure(temperature)),
                tol=tol(expected),
            )


@pytest.mark.parametrize(
    ("name", "temperature", "share"),
    [("dew_point_20C_50pct", 9.27, 0.5), ("theta_si_min_20C_50pct_phi080", 12.62, 0.5 / 0.8)],
)
def test_air_of_20_degrees_and_half_damp(
    record: Record, name: str, temperature: float, share: float
) -> None:
    from scipy.optimize import brentq

    vapour = share * float(saturation_pressure(20.0))
    found = brentq(lambda t: float(saturation_pressure(t)) - vapour, 0.0, 20.0)
    record(
        f"ISO13788_vapour.{name}",
        "envelope and glazing",
        "EN ISO 13788 annex E solved for the temperature",
        "computed",
        expected=temperature,
        got=float(found),
        tol=0.01,
    )


def test_temperatures_inside_a_wall(record: Record) -> None:
    parts = [0.25, 0.05, 2.857, 0.0652, 0.04]
    total = total_resistance([resistance_layer(r) for r in parts])
    printed = zip((18.084, 17.701, -4.194, -4.693), (2073.8, 2024.4, 429.7, 411.8), strict=True)
    for index, (expected, pressure) in enumerate(printed):
        got = 20.0 - 25.0 * sum(parts[: index + 1]) / total
        for name, wanted, value, tol in (
            ("interface_T", expected, got, 0.002),
            ("interface_psat", pressure, float(saturation_pressure(got)), 0.005 * pressure),
        ):
            record(
                f"ISO13788_glaser.{name}_{index}",
                "envelope and glazing",
                "EN ISO 13788, own example",
                "computed",
                expected=wanted,
                got=value,
                tol=tol,
            )


def test_sol_air_temperature(record: Record) -> None:
    # a surface without long-wave exchange
    film, drive = outside_exchange(
        air=np.zeros(1),
        sky=np.full(1, -20.0),
        convection=np.full(1, 25.0),
        sky_view=0.5,
        absorbed=np.full(1, 0.6 * 500.0),
        emissivity=0.0,
    )
    record(
        "misc_physics.sol_air",
        "envelope and glazing",
        "air + absorptance x sun / film: 0.6 x 500 / 25",
        "computed",
        expected=12.0,
        got=float(drive[0] / film[0]),
        tol=1e-9,
    )


@pytest.mark.parametrize(("air", "sky", "lost"), [(0.0, -20.0, 74.50), (-10.0, -40.0, 93.92)])
def test_roof_at_air_temperature_loses_to_a_cold_sky(
    record: Record, air: float, sky: float, lost: float
) -> None:
    # 0.9 x 5.670374e-8 x (273.15^4 - 253.15^4) = 74.50 W/m2; 263.15 and 233.15 K: 93.92
    film, drive = outside_exchange(
        air=np.full(1, air),
        sky=np.full(1, sky),
        convection=np.full(1, 4.0),
        sky_view=1.0,
        absorbed=np.zeros(1),
    )
    record(
        f"misc_physics.sky_loss.{air:g}C",
        "envelope and glazing",
        "Stefan-Boltzmann law",
        "computed",
        expected=lost,
        got=float(film[0] * air - drive[0]),
        tol=0.01,
    )
