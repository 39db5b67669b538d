"""Small dense systems and the ideal plant of several zones, compiled for floats and lanes."""

from __future__ import annotations

from noonmark.balance.block import FloatArray
from noonmark.compiled import compiled


@compiled()
def invert(matrix: FloatArray) -> None:
    """Invert a small diagonally dominant matrix in its place (Gauss-Jordan, no pivoting)."""
    n = matrix.shape[0]
    for i in range(n):
        pivot = 1.0 / matrix[i, i]
        matrix[i, i] = 1.0
        for j in range(n):
            matrix[i, j] *= pivot
        for k in range(n):
            if k != i:
                factor = matrix[k, i]
                matrix[k, i] = 0.0
                for j in range(n):
                    matrix[k, j] -= factor * matrix[i, j]


@compiled()
def solve(matrix: FloatArray, right: FloatArray) -> None:
    """Solve in place; `right` becomes the answer (Gauss, no pivoting: principal minors > 0)."""
    n = right.size
    for i in range(n):
        for k in range(i + 1, n):
            factor = matrix[k, i] / matrix[i, i]
            for j in range(i, n):
                matrix[k, j] -= factor * matrix[i, j]
            right[k] -= factor * right[i]
    for i in range(n - 1, -1, -1):
        for j in range(i + 1, n):
            right[i] -= matrix[i, j] * right[j]
        right[i] /= matrix[i, i]


@compiled(inlined=False)
def held_power(
    free: FloatArray,
    response: FloatArray,
    limits: FloatArray,
    power: FloatArray,
    matrix: FloatArray,
) -> None:
    """Write the power of each zone's ideal plant [W], cooling negative.

    `free` (z,) are air temperatures without plant, `response` (z, z) K per W;
    `limits` (z, 5): set-points of heater and cooler [degC], most power of both
    [W], and room for the state. Every zone is idle, held at a set-point or at
    its capacity; the held ones are solved together, and a zone whose state does
    not fit its temperature changes state until all fit.
    """
    zones = free.size
    for z in range(zones):
        limits[z, 4] = 0.0  # 1 held at heat_set, -1 at cool_set, 0 at a given power
        power[z] = 0.0
    for _ in range(3 * zones + 1):
        settled = True
        for z in range(zones):
            air = free[z]
            for y in range(zones):
                air += response[z, y] * power[y]
            held = limits[z, 4]
            wanted = held
            if held == 0.0:
                if air < limits[z, 0] - 1e-9 and power[z] < limits[z, 2]:
                    wanted = 1.0
                elif air > limits[z, 1] + 1e-9 and power[z] > -limits[z, 3]:
                    wanted = -1.0
            elif power[z] * held < 0.0:
                wanted, power[z] = 0.0, 0.0
            elif power[z] > limits[z, 2]:
                wanted, power[z] = 0.0, limits[z, 2]
            elif -power[z] > limits[z, 3]:
                wanted, power[z] = 0.0, -limits[z, 3]
            if wanted != held:
                limits[z, 4] = wanted
                settled = False
        if settled:
            return
        for z in range(zones):
            if limits[z, 4] == 0.0:
                for y in range(zones):
                    matrix[z, y] = 1.0 if z == y else 0.0
            else:
                target = limits[z, 0] if limits[z, 4] == 1.0 else limits[z, 1]
                power[z] = target - free[z]
                for y in range(zones):
                    matrix[z, y] = response[z, y]
        solve(matrix, power)
