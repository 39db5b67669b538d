"""Heat from a surface to air, sky and the other surfaces of a room."""

from __future__ import annotations

from typing import Literal, NamedTuple

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]
Facing = Literal["wall", "ceiling", "floor"]

STEFAN_BOLTZMANN = 5.670374e-8
EMISSIVITY = 0.9
"""Long-wave emissivity of building surfaces other than bare metal (EN ISO 6946)."""

_KELVIN = 273.15
_NATURAL_UPRIGHT, _NATURAL_LEVEL = 1.31, 1.52
_NATURAL_OUTSIDE = 0.84 * 3.0 ** (1.0 / 3.0)
_INSIDE_CONVECTION: dict[Facing, float] = {"wall": 2.5, "ceiling": 5.0, "floor": 0.7}


def inside_convection(facing: Facing) -> float:
    """Return the convective coefficient inside a heated room [W/m2K].

    Winter direction of heat flow: through walls sideways, ceilings up, floors
    down. Source: EN ISO 6946:2017 annex C (2.5, 5.0, 0.7), used by
    EN ISO 52016-1 for the whole year.
    """
    return _INSIDE_CONVECTION[facing]


class Film(NamedTuple):
    """A convective film: `base + cube * |dT|^(1/3)` [W/m2K] by the difference to the air.

    `warm` while the surface is warmer than the air, `cool` while it is cooler.
    """

    warm_base: float
    warm_cube: float
    cool_base: float
    cool_cube: float

    @classmethod
    def steady(cls, coefficient: float) -> Film:
        """Return a film that knows no temperature [W/m2K]."""
        return cls(coefficient, 0.0, coefficient, 0.0)


def natural_film(facing: Facing) -> Film:
    """Return the natural convection inside a room.

    Along walls 1.31 |dT|^(1/3); above a warm floor and below a cool ceiling
    1.52 |dT|^(1/3): turbulent air at room temperature (ASHRAE Handbook
    Fundamentals, heat transfer, simplified equations, from memory). Where air
    lies still, under a warm ceiling and over a cool floor, 0.7 (EN ISO 6946:2017
    annex C, heat flow downwards).
    """
    if facing == "wall":
        return Film(0.0, _NATURAL_UPRIGHT, 0.0, _NATURAL_UPRIGHT)
    still = _INSIDE_CONVECTION["floor"]
    if facing == "floor":
        return Film(0.0, _NATURAL_LEVEL, still, 0.0)
    return Film(still, 0.0, 0.0, _NATURAL_LEVEL)


def radiative_coefficient(
    temperature: FloatArray | float, emissivity: float = EMISSIVITY
) -> FloatArray:
    """Return the long-wave coefficient `4 e sigma T^3` [W/m2K] at `temperature` [degC].

    Source: EN ISO 6946:2017 annex C.
    """
    kelvin = np.asarray(temperature) + _KELVIN
    return np.asarray(4.0 * emissivity * STEFAN_BOLTZMANN * kelvin**3)


def outside_convection(wind: FloatArray, windward: NDArray[np.bool_]) -> FloatArray:
    """Return the convective coefficient outside [W/m2K] for `wind` at 10 m at the site [m/s].

    `windward` is true in hours in which the wind meets the surface, false when
    the surface lies in the lee. Measured full scale on a low building: the root
    of the squares of natural convection, 0.84 |dT|^(1/3), and of forced,
    3.26 v^0.89 windward or 3.55 v^0.617 in the lee. Source: M. Yazdanian, J. H.
    Klems, ASHRAE Transactions 100 (1994) part 1, 1087 (coefficients from
    memory). Natural convection is taken for 3 K. EN ISO 6946's 4 + 4 v, made for
    design losses, takes the wind beside the surface, which no station measures.
    """
    forced = np.where(windward, 3.26 * wind**0.89, 3.55 * wind**0.617)
    return np.asarray(np.hypot(_NATURAL_OUTSIDE, forced))


def outside_exchange(
    *,
    air: FloatArray,
    sky: FloatArray,
    convection: FloatArray,
    sky_view: float,
    absorbed: FloatArray,
    emissivity: float = EMISSIVITY,
) -> tuple[FloatArray, FloatArray]:
    """Return the outside film (h,) [W/m2K] and its drive (h,) [W/m2].

    The surface receives `drive - film * surface_temperature`: convection and
    long-wave to surroundings at air temperature, long-wave to the cold sky by
    its share `sky_view` 0..1, and `absorbed` sun [W/m2]. `air`, `sky` [degC],
    `convection` [W/m2K], all (h,).

    Long-wave is linear about the air temperature, from which a surface differs
    little; what the sky lacks, twenty kelvin and more, is counted in full by
    the fourth power.
    """
    radiation = radiative_coefficient(air, emissivity)
    film = convection + radiation
    lacking = emissivity * STEFAN_BOLTZMANN * ((air + _KELVIN) ** 4 - (sky + _KELVIN) ** 4)
    return film, film * air - sky_view * lacking + absorbed
