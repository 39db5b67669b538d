"""View factors of printed tables; where light is remembered to land in the published box."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from noonmark.inside.exchange import exchange_areas
from noonmark.shading.plates import Plate
from noonmark.study.assemble import assemble
from published_cases import NAME, denver, design

pytestmark = pytest.mark.validation

Record = Callable[..., None]
TOPIC = "light inside"


@pytest.mark.parametrize(
    ("name", "other", "expected"),
    [
        ("cube_opposite", Plate((0.0, 1.0), (1.0, 1.0), (0.0, 1.0)), 0.19982),
        ("cube_beside", Plate((0.0, 0.0), (0.0, 1.0), (0.0, 1.0)), 0.20004),
        ("squares_two_apart", Plate((0.0, 1.0), (2.0, 2.0), (0.0, 1.0)), 0.06859),
        ("beside_twice_as_high", Plate((0.0, 0.0), (0.0, 2.0), (0.0, 1.0)), 0.23285),
    ],
)
def test_view_factors_of_a_square(record: Record, name: str, other: Plate, expected: float) -> None:
    square = Plate((0.0, 1.0), (0.0, 0.0), (0.0, 1.0))
    record(
        f"view_{name}",
        TOPIC,
        "closed forms of Howell's catalogue, C-11 and C-14",
        "computed",
        expected=expected,
        tol=1e-5,
        got=float(exchange_areas([square, other])[0, 1]),
    )


REMEMBERED = {
    ("floor", ""): 0.642,
    ("roof", ""): 0.168,
    ("wall", "E"): 0.038,
    ("wall", "W"): 0.038,
    ("wall", "N"): 0.053,
    ("wall", "S"): 0.026,
}


def test_where_light_lands_in_the_box(record: Record) -> None:
    """The procedure's own table sends all light to the floor first; it informs."""
    homestead = design("600")
    ready = assemble(homestead, homestead.buildings[NAME], denver())
    came = sum((light.beam + light.scattered).sum() for light in ready.entered)
    taken = dict.fromkeys(REMEMBERED, 0.0)
    for index, part in enumerate(ready.parts):
        if part.kind != "window":
            power = sum(source.at(index).sum() for source in ready.sources)
            taken[part.kind, part.side] += float(power * part.element.area / came)
    lost = float(sum(source.leaves().sum() for source in ready.sources) / came)
    glass = 1.0 - lost - sum(taken.values())
    rows = [("_".join(key).strip("_"), taken[key], value) for key, value in REMEMBERED.items()]
    for name, got, expected in [*rows, ("lost", lost, 0.035)]:
        record(
            f"landing_600_{name}", TOPIC, "ANSI/ASHRAE Standard 140-2020", "memory",
            expected=expected, tol=0.1 * expected, got=got, informs=True,
        )  # fmt: skip
    assert 0.0 < glass < 0.02
