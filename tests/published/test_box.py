"""The test box without weather: steady, swinging and cooling down."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from scipy.special import erfcx

from box import (
    AIR_CAPACITY,
    INFILTRATION,
    FloatArray,
    box_slabs,
    make_slab,
    make_zone,
    run,
)
from noonmark.balance.enclosure import Year
from noonmark.envelope.layers import Layer, resistance_layer

pytestmark = pytest.mark.validation

Record = Callable[..., None]
TOPIC = "building cases"
DAY = 24
SETTLE = 24 * 120
LIGHT_AND_HEAVY = pytest.mark.parametrize("heavy", [False, True], ids=["600", "900"])
STEADY = "UA by hand: layers of the 1995 box, films 8.29 and 29.3, window 3.0, 17.92 W/K of air"
SWING = "transfer matrices of the layers, and a run of finite differences beside them"


def marched(
    outdoor: FloatArray,
    *,
    heavy: bool,
    steps: int = 1,
    gain: FloatArray | float = 0.0,
    heat_set: float = -np.inf,
) -> Year:
    zone = make_zone(outdoor.size, supply=INFILTRATION, gain_air=gain, heat_set=heat_set)
    return run(
        [zone],
        box_slabs(outdoor, heavy=heavy),
        outdoor,
        run_in_hours=SETTLE,
        steps_per_hour=steps,
    )


@LIGHT_AND_HEAVY
@pytest.mark.parametrize(
    ("outside", "expected"), [(-10.0, (2875.5, 2871.2)), (0.0, (1856.6, 1853.8))]
)
def test_steady_heating(
    record: Record, heavy: bool, outside: float, expected: tuple[float, float]
) -> None:
    year = marched(np.full(DAY, outside), heavy=heavy, gain=200.0, heat_set=20.0)
    case = "900" if heavy else "600"
    record(
        f"steady_heating_600.case{case}.{outside:g}C",
        TOPIC,
        STEADY,
        "computed",
        expected=expected[heavy],
        got=float(year.plant.mean()),
        tol=0.001 * expected[heavy],
    )


@LIGHT_AND_HEAVY
@pytest.mark.parametrize(
    ("outside", "expected"), [(-10.0, (-7.708, -7.705)), (0.0, (2.109, 2.112))]
)
def test_steady_free_float(
    record: Record, heavy: bool, outside: float, expected: tuple[float, float]
) -> None:
    year = marched(np.full(DAY, outside), heavy=heavy, gain=200.0)
    case = "900" if heavy else "600"
    record(
        f"steady_free_float_600.case{case}.{outside:g}C",
        TOPIC,
        STEADY,
        "computed",
        expected=expected[heavy],
        got=float(year.air.mean()),
        tol=0.01,
    )


@LIGHT_AND_HEAVY
def test_steady_conductances(record: Record, heavy: bool) -> None:
    # two outdoor temperatures differ in heat by outdoor conductance times their difference
    cold, mild = (
        float(marched(np.full(DAY, t), heavy=heavy, gain=200.0, heat_set=20.0).plant.mean())
        for t in (-10.0, 0.0)
    )
    record(
        f"steady_heating_600.H_out.{'900' if heavy else '600'}",
        TOPIC,
        STEADY,
        "computed",
        expected=(101.886, 101.742)[heavy],
        got=(cold - mild) / 10.0,
        tol=0.01,
    )


def first_harmonic(values: FloatArray) -> complex:
    """Return amplitude and phase of the day's wave in values at the middle of the hours."""
    phase = 2.0 * np.pi * (np.arange(DAY) + 0.5) / DAY
    return complex(2.0 * np.mean(values * np.exp(-1j * phase)))


def held_and_averaged() -> float:
    """Return what holding a day's wave by the hour and averaging by the hour take off it.

    Each of the two multiplies the wave by sin(x) / x with x half an hour of it.
    """
    return float(np.sinc(1.0 / DAY) ** 2)


def day_wave() -> FloatArray:
    return np.cos(2.0 * np.pi * (np.arange(DAY) + 0.5) / DAY)


@LIGHT_AND_HEAVY
@pytest.mark.parametrize("steps", [1, 4])
def test_outdoor_wave_reaches_the_air(record: Record, heavy: bool, steps: int) -> None:
    outdoor = 10.0 + 10.0 * day_wave()
    got = first_harmonic(marched(outdoor, heavy=heavy, steps=steps).air[:, 0]) / 10.0
    ratio, lag = (0.1206, 3.236) if heavy else (0.5465, 3.442)
    case = f"{'900' if heavy else '600'}.{steps}_steps_an_hour"
    record(
        f"sinusoidal_free_float.amplitude_ratio.{case}",
        TOPIC,
        SWING,
        "computed",
        expected=ratio,
        got=abs(got) / held_and_averaged(),
        tol=0.01 * ratio,
    )
    record(
        f"sinusoidal_free_float.lag_h.{case}",
        TOPIC,
        SWING,
        "computed",
        expected=lag,
        got=-float(np.angle(got)) / (2.0 * np.pi) * DAY,
        tol=0.1,
    )


@LIGHT_AND_HEAVY
@pytest.mark.parametrize("steps", [1, 4])
def test_wave_of_heat_in_the_air(record: Record, heavy: bool, steps: int) -> None:
    outdoor = np.full(DAY, 10.0)
    year = marched(outdoor, heavy=heavy, steps=steps, gain=1000.0 * day_wave())
    got = first_harmonic(year.air[:, 0]) / 1000.0
    size, lag = (0.001613, 2.257) if heavy else (0.005394, 3.161)
    case = f"{'900' if heavy else '600'}.{steps}_steps_an_hour"
    record(
        f"sinusoidal_gain_free_float.K_per_W.{case}",
        TOPIC,
        SWING,
        "computed",
        expected=size,
        got=abs(got) / held_and_averaged(),
        tol=0.01 * size,
    )
    record(
        f"sinusoidal_gain_free_float.lag_h.{case}",
        TOPIC,
        SWING,
        "computed",
        expected=lag,
        got=-float(np.angle(got)) / (2.0 * np.pi) * DAY,
        tol=0.1,
    )


def test_lumped_decay(record: Record) -> None:
    # held at 20 C through the twelve hours before, then left alone
    outdoor = np.full(DAY, -10.0)
    heat_set = np.where(np.arange(DAY) < 12, -np.inf, 20.0)
    zone = make_zone(DAY, capacity=1e7, supply=100.0, heat_set=heat_set)
    nearly_nothing = make_slab("wall", 1.0, [resistance_layer(1e9)], outdoor)
    year = run([zone], [nearly_nothing], outdoor, run_in_hours=12)
    lost = 3600.0 * float(year.air_loss[:12].sum())
    record(
        "lumped_decay.T_after_12h",
        "envelope and glazing",
        "-10 + 30 exp(-12 / 27.778)",
        "computed",
        expected=9.4763,
        got=20.0 - lost / 1e7,
        tol=0.001,
    )


# thick enough for a day
CONCRETE = [Layer(0.6, 1.75, 2300.0, 1000.0)]


@pytest.mark.parametrize(("hour", "expected"), [(1, 0.22160), (6, 0.42590), (24, 0.61524)])
def test_surface_of_a_thick_wall_after_a_step(record: Record, hour: int, expected: float) -> None:
    """The march gives hourly means: the mean over an hour is the integral of the printed curve."""
    outdoor = np.full(DAY, 20.0)  # so that everything starts at 20 C
    zone = make_zone(DAY, heat_set=21.0)
    slab = make_slab("wall", 1.0, CONCRETE, outdoor, film=1e-3, convection=8.0 - 1e-6)
    year = run([zone], [slab], outdoor, steps_per_hour=4)
    means = 1.0 - year.flow_inside[:, 0] / 8.0

    def warmed(seconds: FloatArray) -> FloatArray:
        # Carslaw & Jaeger: 1 - exp(x^2) erfc(x) with x = h sqrt(a t) / k
        return np.asarray(1.0 - erfcx(8.0 * np.sqrt(seconds * 1.75 / 2.3e6) / 1.75))

    at = float(warmed(np.array([3600.0 * hour]))[0])
    assert at == pytest.approx(expected, abs=1e-4)
    seconds = 3600.0 * (hour - 1 + (np.arange(2000) + 0.5) / 2000)
    between = at - float(warmed(seconds).mean())
    record(
        f"semi_infinite_convective.x0.{hour}h",
        "envelope and glazing",
        "Carslaw & Jaeger; the march's hourly mean moved to the hour's end along the curve",
        "computed",
        expected=expected,
        got=float(means[hour - 1]) + between,
        tol=0.002,
    )


def test_capacity_of_the_air_in_the_box() -> None:
    assert pytest.approx(129.0e3, rel=0.001) == AIR_CAPACITY
