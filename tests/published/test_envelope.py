"""Layers, dynamic walls and slabs on the ground against the standards' equations."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from numpy.typing import NDArray

from box import AREAS, INSIDE_FILM, LAYERS, OUTSIDE_FILM, WINDOW_U
from noonmark.envelope.ground import Soil, slab_u_value
from noonmark.envelope.layers import (
    OUTSIDE_RESISTANCE,
    Direction,
    Layer,
    combined_resistance,
    homogenised,
    inside_resistance,
    resistance_layer,
    total_resistance,
    u_value,
    upper_resistance,
)
from noonmark.envelope.modes import WallModes, wall_modes

pytestmark = pytest.mark.validation

Record = Callable[..., None]
Matrix = NDArray[np.complex128]

PLASTERED_BRICK = [
    Layer(0.015, 0.70),
    Layer(0.24, 0.50),
    Layer(0.16, 0.035),
    Layer(0.008, 0.87),
]
ISO_6946 = "EN ISO 6946"
ISO_13786 = "EN ISO 13786 matrices; the standard's own annex numbers could not be seen"


@pytest.mark.parametrize(
    ("direction", "resistance"), [("upward", 0.10), ("horizontal", 0.13), ("downward", 0.17)]
)
def test_surface_resistances(record: Record, direction: Direction, resistance: float) -> None:
    record(
        f"surface_resistances_ISO6946.{direction}",
        "envelope and glazing",
        f"{ISO_6946} table 7",
        "memory",
        expected=resistance,
        got=inside_resistance(direction),
        tol=1e-9,
    )
    # a wall of resistance 1 between the two surfaces
    record(
        f"surface_resistances_ISO6946.{direction}.total",
        "envelope and glazing",
        f"{ISO_6946} table 7, outside 0.04",
        "memory",
        expected=resistance + 1.0 + 0.04,
        got=1.0 / u_value([resistance_layer(1.0)], direction=direction),
        tol=1e-9,
    )


def test_wall_of_plain_layers(record: Record) -> None:
    total = combined_resistance(PLASTERED_BRICK, inside=0.13)
    note = {
        "topic": "envelope and glazing",
        "source": f"{ISO_6946}, own example",
        "status": "computed",
    }
    record("wall_homogeneous.R_total", **note, expected=5.2521, got=total, tol=0.0002)
    u = u_value(PLASTERED_BRICK)
    record("wall_homogeneous.U", **note, expected=0.1904, got=u, tol=0.0002)
    record("wall_homogeneous.q", **note, expected=4.760, got=25.0 * u, tol=0.002)
    passed = 0.13 + np.cumsum([0.0, *(layer.resistance for layer in PLASTERED_BRICK)])
    printed = (19.381, 19.279, 16.994, -4.766, -4.810)
    for index, (expected, resistance) in enumerate(zip(printed, passed, strict=True)):
        record(
            f"wall_homogeneous.interface_{index}",
            **note,
            expected=expected,
            got=20.0 - 25.0 * u * float(resistance),
            tol=0.002,
        )


FRAMED_WALL = [
    Layer(0.1025, 0.77),
    resistance_layer(0.18),
    Layer(0.009, 0.13),
    Layer(0.140, 0.038, stud_fraction=0.15, stud_conductivity=0.13),
    Layer(0.0125, 0.25),
]


def test_wall_with_studs(record: Record) -> None:
    note = {"topic": "envelope and glazing", "source": f"{ISO_6946} combined method, own example"}
    note["status"] = "computed"
    surfaces = [resistance_layer(0.13), resistance_layer(0.04)]
    whole = [*FRAMED_WALL, *surfaces]
    upper, lower = upper_resistance(whole), total_resistance(whole)
    record("wall_combined_method.R_upper", **note, expected=3.4768, got=upper, tol=0.0002)
    record("wall_combined_method.R_lower", **note, expected=3.3051, got=lower, tol=0.0002)
    combined = 1.0 / combined_resistance(FRAMED_WALL, inside=0.13)
    record("wall_combined_method.U", **note, expected=0.2949, got=combined, tol=0.0002)
    plain = u_value(homogenised(FRAMED_WALL))
    record("wall_combined_method.U_of_plain", **note, expected=0.2949, got=plain, tol=0.0002)


def box_u_value(name: str) -> float:
    """Return the U-value with the films of the 1995 box; its floor lies on the ground."""
    outside = 0.0 if "floor" in name else 1.0 / OUTSIDE_FILM
    return 1.0 / (1.0 / INSIDE_FILM + total_resistance(LAYERS[name]) + outside)


@pytest.mark.parametrize(
    ("name", "row", "expected"),
    [
        ("light_wall", "light_wall", 0.5144),
        ("roof", "light_roof", 0.3177),
        ("light_floor", "light_floor", 0.0394),
        ("heavy_wall", "heavy_wall", 0.5121),
        ("heavy_floor", "heavy_floor", 0.0394),
    ],
)
def test_u_values_of_the_box(record: Record, name: str, row: str, expected: float) -> None:
    record(
        f"check_UA_1995.U_{row}",
        "building cases",
        "layers of the 1995 box (from memory), films 8.29 and 29.3",
        "computed",
        expected=expected,
        got=box_u_value(name),
        tol=0.001,
    )


@pytest.mark.parametrize(
    ("row", "expected", "got"),
    [
        ("UA_light_wall", 32.715, AREAS["wall"] * box_u_value("light_wall")),
        ("UA_roof", 15.248, AREAS["roof"] * box_u_value("roof")),
        ("UA_light_floor", 1.892, AREAS["floor"] * box_u_value("light_floor")),
        ("UA_heavy_wall", 32.572, AREAS["wall"] * box_u_value("heavy_wall")),
        ("UA_window", 36.0, AREAS["window"] * WINDOW_U),
    ],
)
def test_conductances_of_the_box(record: Record, row: str, expected: float, got: float) -> None:
    record(
        f"check_UA_1995.{row}",
        "building cases",
        "layers of the 1995 box (from memory), films 8.29 and 29.3",
        "computed",
        expected=expected,
        got=got,
        tol=0.001 * AREAS["wall"],
    )


@pytest.mark.parametrize(
    ("name", "row", "expected"),
    [
        ("light_wall", "light_wall", 14.53),
        ("roof", "light_roof", 18.17),
        ("light_floor", "light_floor", 19.50),
        ("heavy_wall", "heavy_wall", 145.15),
        ("heavy_floor", "heavy_floor", 112.00),
    ],
)
def test_heat_capacities(record: Record, name: str, row: str, expected: float) -> None:
    layers = LAYERS[name]
    note = {"topic": "building cases", "source": "sum of thickness, density, specific heat"}
    note["status"] = "computed"
    found = sum(layer.areal_heat_capacity for layer in layers) / 1000.0
    record(f"areal_heat_capacity.{row}", **note, expected=expected, got=found, tol=0.006)
    modes = wall_modes(layers).areal_heat_capacity / 1000.0
    record(f"areal_heat_capacity.{row}.modes", **note, expected=expected, got=modes, tol=0.006)


EPS = Layer(0.10, 0.04, 30.0, 1400.0)
CONCRETE = Layer(0.20, 1.8, 2400.0, 1000.0)
RENDER = Layer(0.005, 1.0, 1200.0, 1500.0)
TIMBER_FRAME = [
    Layer(0.0125, 0.25, 900.0, 1000.0),
    Layer(0.20, 0.035, 30.0, 1030.0),
    Layer(0.02, 0.13, 500.0, 1600.0),
]
BRICK = [Layer(0.365, 0.81, 1800.0, 1000.0)]
FILMS = (0.13, 0.04)
BOX_FILMS = (1.0 / INSIDE_FILM, 1.0 / OUTSIDE_FILM)
DYNAMIC: dict[str, tuple[list[Layer], tuple[float, float], tuple[float, ...]]] = {
    "concrete_020_k18_2400": (
        [CONCRETE],
        FILMS,
        (3.5573, 5.704, 11.592, 1.8271, -5.68, 0.5136, 86.17, 170.87),
    ),
    "concrete_020_EPS010_outside": (
        [CONCRETE, EPS, RENDER],
        FILMS,
        (0.3589, 5.942, 0.847, 0.0606, -8.11, 0.1687, 82.29, 12.48),
    ),
    "EPS010_inside_concrete": (
        [EPS, CONCRETE],
        FILMS,
        (0.3596, 0.395, 12.054, 0.1189, -7.11, 0.3307, 6.43, 166.88),
    ),
    "timber_frame_020": (
        TIMBER_FRAME,
        FILMS,
        (0.1643, 0.945, 1.276, 0.1542, -2.78, 0.9386, 13.94, 18.59),
    ),
    "brick_0365": (BRICK, FILMS, (1.6113, 4.758, 7.773, 0.2701, -12.11, 0.1676, 68.92, 109.99)),
    "case900_wall": (
        LAYERS["heavy_wall"],
        BOX_FILMS,
        (0.5121, 4.579, 0.675, 0.2578, -5.17, 0.5033, 64.12, 10.93),
    ),
    "case600_wall": (
        LAYERS["light_wall"],
        BOX_FILMS,
        (0.5144, 0.826, 0.607, 0.5119, -0.53, 0.9952, 9.22, 5.27),
    ),
}


def admittance(modes: WallModes, films: tuple[float, float], frequency: float) -> Matrix:
    """Return the flows into the wall [W/m2] for the two air temperatures, as (2, 2)."""
    turn = 1j * frequency
    surfaces = modes.conductance + turn * modes.capacitance
    for rate, pair in zip(modes.rates, modes.coupling, strict=True):
        surfaces = surfaces - np.outer(pair, pair) / (rate + turn)
    return np.asarray(np.linalg.inv(np.linalg.inv(surfaces) + np.diag(films)))


@pytest.mark.parametrize("name", DYNAMIC)
def test_walls_through_the_day(record: Record, name: str) -> None:
    """Seven walls by their reduced modes, at a swing of 24 hours and at rest."""
    layers, films, printed = DYNAMIC[name]
    frequency = 2.0 * np.pi / 86400.0
    modes = wall_modes(layers)
    y = admittance(modes, films, frequency)
    still = admittance(modes, films, frequency * 1e-6)
    through = -y[0, 1]
    shift = np.angle(through) * 12.0 / np.pi
    found = {
        "U": -still[0, 1].real,
        "Y11": abs(y[0, 0]),
        "Y22": abs(y[1, 1]),
        "Y12": abs(through),
        "shift_h": shift if shift <= 0.0 else shift - 24.0,
        "f": abs(through) / -still[0, 1].real,
        "kappa1": abs(y[0, 0] + y[0, 1]) / frequency / 1000.0,
        "kappa2": abs(y[1, 1] + y[0, 1]) / frequency / 1000.0,
    }
    for (part, got), expected in zip(found.items(), printed, strict=True):
        record(
            f"ISO13786_dynamic.{name}.{part}",
            "envelope and glazing",
            ISO_13786,
            "computed",
            expected=expected,
            got=float(got),
            tol=0.02 if part == "shift_h" else 0.005 * abs(expected),
        )


SLABS = {
    "Rf0": "0.13 0.22 0.30 0.37 0.44 0.49 0.55 0.60 0.65 0.70"
    " 0.74 0.78 0.82 0.86 0.89 0.93 0.96 0.99 1.02 1.05",
    "Rf0_5": "0.11 0.18 0.24 0.29 0.34 0.38 0.41 0.44 0.47 0.50"
    " 0.52 0.55 0.57 0.59 0.61 0.62 0.64 0.65 0.66 0.68",
    "Rf1": "0.10 0.16 0.21 0.25 0.28 0.31 0.34 0.36 0.38 0.40"
    " 0.41 0.43 0.44 0.45 0.46 0.47 0.47 0.48 0.49 0.50",
    "Rf2_5": "0.08 0.12 0.15 0.18 0.19 0.21 0.22 0.23 0.23 0.24"
    " 0.25 0.25 0.26 0.26 0.27 0.27 0.28 0.28 0.28 0.28",
}


@pytest.mark.parametrize(
    ("row", "resistance"), [("Rf0", 0.0), ("Rf0_5", 0.5), ("Rf1", 1.0), ("Rf2_5", 2.5)]
)
def test_slabs_on_clay(record: Record, row: str, resistance: float) -> None:
    for index, printed in enumerate(SLABS[row].split()):
        ratio = 0.05 * (index + 1)
        got = slab_u_value(
            area=100.0,
            perimeter=100.0 * ratio,
            wall_thickness=0.3,
            floor_resistance=resistance,
            soil=Soil(1.5, 3e6),
        )
        record(
            f"ISO13370_slab_on_ground.{row}.PA{ratio:.2f}",
            "envelope and glazing",
            "EN ISO 13370; the bare row equals the CIBSE Guide A clay table as recalled",
            "computed",
            expected=float(printed),
            got=got,
            tol=0.005,
        )


def test_outside_resistance(record: Record) -> None:
    record(
        "surface_resistances_ISO6946.Rse",
        "envelope and glazing",
        f"{ISO_6946} table 7",
        "memory",
        expected=0.04,
        got=OUTSIDE_RESISTANCE,
        tol=1e-9,
    )
