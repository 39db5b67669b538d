"""Steady heat from a rectangular slab into the ground, exactly.

The ground is a half-space whose surface temperature is given: one inside, one
outside, and under the wall a linear fall whose isotherms are rectangles around
the slab, with mitred corners. The flow into the surface at x is
`k / 2 pi` times the integral of `(T(x) - T(x')) / r^3` over the surface (the
derivative of Poisson's integral for the half-space).

The fall is a stack of rectangles, each at one temperature; from a point inside a
rectangle the integral over all outside of it is, sector by sector,
`sum sqrt(p^2 + q^2) / (p q)` over its four corners, `p` and `q` the distances to
the two sides that meet there. Over the slab that integrates in closed form too;
only the stack is summed by quadrature. The problem is that of A. E. Delsante,
A. N. Stokes, P. J. Walsh 1983 (Int. J. Heat Mass Transfer 26, 121, from memory),
who solved it by Fourier transforms.
"""

from __future__ import annotations

import math

import numpy as np


def slab_flow(
    *,
    length: float,
    width: float,
    wall: float,
    conductivity: float,
    difference: float,
    points: int = 40,
) -> float:
    """Return the heat that a slab loses [W].

    length, width [m] inside the wall, of thickness `wall` [m]; conductivity of the
    ground [W/mK]; `difference` [K] between the surface inside and outside.
    """
    places, weights = np.polynomial.legendre.leggauss(points)
    # the flow grows as the logarithm of the gap where the fall begins: squares soften it
    t = 0.5 * (places + 1.0)
    gaps = wall * t**2
    flows = [flow_past(length, width, float(gap)) for gap in gaps]
    return conductivity * difference * float(np.sum(0.5 * weights * 2.0 * t * flows))


def flow_past(length: float, width: float, gap: float) -> float:
    """Return the flow from the slab at 1 K to all beyond a rectangle `gap` around it [m K]."""
    far, wide = length + gap, width + gap
    corner = _corner(far, wide) - _corner(far, gap) - _corner(gap, wide) + _corner(gap, gap)
    return 4.0 * corner / (2.0 * math.pi)


def _corner(p: float, q: float) -> float:
    """Return the integral of sqrt(p^2 + q^2) / (p q) over both distances."""
    return 2.0 * math.hypot(p, q) - p * math.asinh(p / q) - q * math.asinh(q / p)


def point_flow(x: float, y: float, *, length: float, width: float, gap: float) -> float:
    """Return the flow at a point of the slab [1/m], per W/mK and K: see the top of this file.

    x, y [m] from a corner; everything up to `gap` around the slab is as warm as it.
    """
    flow = 0.0
    for p in (x + gap, length - x + gap):
        for q in (y + gap, width - y + gap):
            flow += math.hypot(p, q) / (p * q)
    return flow / (2.0 * math.pi)
