"""Small dense systems and the ideal plant of several zones, compiled for floats and lanes."""

from __future__ import annotations

from noonmark.balance.block import FloatArray
from noonmark.compiled import compiled


@compiled()
def _invert(matrix: FloatArray, n: int) -> None:
    """Invert a diagonally dominant matrix in its place (Gauss-Jordan, no pivoting)."""
    for i in range(n):
        pivot = 1.0 / matrix[i * n + i]
        matrix[i * n + i] = 1.0
        for j in range(n):
            matrix[i * n + j] *= pivot
        for k in range(n):
            if k != i:
                factor = matrix[k * n + i]
                matrix[k * n + i] = 0.0
                for j in range(n):
                    matrix[k * n + j] -= factor * matrix[i * n + j]


@compiled()
def _condense(
    response: FloatArray,
    holding: FloatArray,
    lever: FloatArray,
    star: FloatArray,
    row: FloatArray,
    n: int,
) -> None:
    _invert(star, n)
    for i in range(n):
        for k in range(n):
            row[k] = lever[i * n] * star[k]
            for m in range(1, n):
                row[k] += lever[i * n + m] * star[m * n + k]
        for j in range(i, n):
            left = response[i * n + j]
            for k in range(n):
                left -= row[k] * lever[j * n + k]
            for place in (i * n + j, j * n + i):
                response[place] = left
                holding[place] = left
        for k in range(n):
            lever[i * n + k] = row[k]
    _invert(response, n)


@compiled()
def condense(
    response: FloatArray,
    holding: FloatArray,
    lever: FloatArray,
    star: FloatArray,
    row: FloatArray,
    n: int,
) -> None:
    """Eliminate the star nodes of `n` zones from their airs, all (n * n,) and in their place.

    Of the symmetric system [[response, lever], [lever^T, star]] the star's inverse is
    written to `star`, lever times it to `lever`, what is left between the airs to
    `holding`, and its inverse to `response`: air = response (right - lever right_star) and
    star node = star right_star - lever^T air. `row` (n,) is scratch.
    """
    if n == 1:  # a number known to the compiler lets it unroll the loops
        _condense(response, holding, lever, star, row, 1)
    elif n == 2:
        _condense(response, holding, lever, star, row, 2)
    elif n == 3:
        _condense(response, holding, lever, star, row, 3)
    elif n == 4:
        _condense(response, holding, lever, star, row, 4)
    else:
        _condense(response, holding, lever, star, row, n)


@compiled()
def _solve(matrix: FloatArray, right: FloatArray, n: int) -> None:
    for i in range(n):
        pivot = 1.0 / matrix[i * n + i]
        right[i] *= pivot
        for j in range(i + 1, n):
            matrix[i * n + j] *= pivot
        for k in range(i + 1, n):
            factor = matrix[k * n + i]
            for j in range(i + 1, n):
                matrix[k * n + j] -= factor * matrix[i * n + j]
            right[k] -= factor * right[i]
    for i in range(n - 1, -1, -1):
        for j in range(i + 1, n):
            right[i] -= matrix[i * n + j] * right[j]


@compiled()
def solve(matrix: FloatArray, right: FloatArray, n: int) -> None:
    """Solve in place; `right` (n,) becomes the answer; `matrix` (n * n,) has minors > 0."""
    if n == 1:
        _solve(matrix, right, 1)
    elif n == 2:
        _solve(matrix, right, 2)
    elif n == 3:
        _solve(matrix, right, 3)
    elif n == 4:
        _solve(matrix, right, 4)
    else:
        _solve(matrix, right, n)


@compiled(inlined=False)
def held_power(
    free: FloatArray,
    response: FloatArray,
    limits: FloatArray,
    power: FloatArray,
    matrix: FloatArray,
) -> None:
    """Write the power of each zone's ideal plant [W], cooling negative.

    `free` (z,) are air temperatures without plant, `response` (z * z,) K per W;
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
                air += response[z * zones + y] * power[y]
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
                    matrix[z * zones + y] = 1.0 if z == y else 0.0
            else:
                target = limits[z, 0] if limits[z, 4] == 1.0 else limits[z, 1]
                power[z] = target - free[z]
                for y in range(zones):
                    matrix[z * zones + y] = response[z * zones + y]
        solve(matrix, power, zones)
