"""What stands out under an eave keeps below it: sample with 30 in of eave, soffit at 9 ft."""

from __future__ import annotations

import pytest

from designs import Edit, drop, put, refused, sample_text, together
from noonmark.units import Quantity

SLOPED = put("house.eave.soffit", "sloped")
GUTTER = put("house.eave.gutter", {"width": "5 in", "depth": "8 in", "drop": "1 in"})
HIGH = {"side": "sunny", "left": 0, "width": "3 m"}


def awning(window: int = 0, **parts: object) -> Edit:
    return put(f"house.window.{window}.awning", {"projection": "2 ft", **parts})


def canopy(**parts: object) -> Edit:
    return put("house.canopy", [HIGH | {"projection": "2 ft"} | parts])


def room_over_head() -> float:
    """Return how far the soffit hangs over the head of the first window [m]."""
    (problem,) = refused(sample_text(awning(gap="3 m")))
    soffit, top = problem.values["soffit"], problem.values["top"]
    assert isinstance(soffit, Quantity)
    assert isinstance(top, Quantity)
    return 3.0 - (top.value - soffit.value)


@pytest.mark.parametrize(
    ("yes", "no", "path"),
    [
        (awning(gap="0.6 m"), awning(gap="0.4 m"), "house.window.1.awning"),
        (awning(gap="0.6 m"), awning(3, gap="0.6 m"), "house.window.1.awning"),  # no eave there
        (canopy(height="9 ft 2 in"), canopy(height="8 ft"), "house.canopy.1"),
        (canopy(height="8 ft 6 in", rise="1 ft"), canopy(height="7 ft", rise="1 ft"),
         "house.canopy.1"),
        (canopy(height="9 ft 2 in"), canopy(height="9 ft 2 in", side="left"), "house.canopy.1"),
        (canopy(height="9 ft 2 in"), canopy(height="9 ft 2 in", left="14 m"), "house.canopy.1"),
        (canopy(height="9 ft 2 in"),
         together(canopy(height="9 ft 2 in"), put("house.eave.sides", ["back"])), "house.canopy.1"),
        (
            canopy(height="8 ft", railing="3 ft"),  # under the soffit
            canopy(height="8 ft", railing="3 ft", projection="4 ft"),  # before it
            "house.canopy.1",
        ),
        (
            # the gutter's foot: 9 ft and 6.15 in of chord, less 9 in: 8 ft 9.15 in
            together(GUTTER, canopy(height="8 ft 9 1/2 in", projection="32 in")),
            together(GUTTER, canopy(height="8 ft 9 in", projection="32 in")),
            "house.canopy.1",
        ),
        (
            # fascia 6 in below the soffit: over a short one, under a long one
            together(put("house.eave.fascia_drop", "6 in"),
                     canopy(height="8 ft 8 in", projection="4 ft")),
            together(put("house.eave.fascia_drop", "6 in"),
                     canopy(height="8 ft 8 in", projection="2 ft")),
            "house.canopy.1",
        ),
        (
            # a sloped soffit rises towards the wall
            together(SLOPED, canopy(height="9 ft 4 in", projection="30 in")),
            together(SLOPED, canopy(height="9 ft 4 in", projection="4 in")),
            "house.canopy.1",
        ),
        (
            # cloth that falls under the fascia
            together(put("house.eave.fascia_drop", "6 in"),
                     awning(projection="4 ft", gap="0.5 m")),
            together(put("house.eave.fascia_drop", "6 in"),
                     awning(projection="4 ft", gap="0.5 m", drop="4 ft")),
            "house.window.1.awning",
        ),
    ],
)  # fmt: skip
def test_what_meets_the_eave_is_refused_by_name(yes: Edit, no: Edit, path: str) -> None:
    found = refused(sample_text(yes))
    assert [(p.code, p.path) for p in found] == [("design.plate_above_soffit", path)]
    assert refused(sample_text(no)) == []


def test_without_an_eave_nothing_meets_it() -> None:
    bare = together(put("house.eave.sides", []), awning(gap="0.6 m"), canopy(height="9 ft 2 in"))
    assert refused(sample_text(bare)) == []
    short = together(
        put("house.eave.projection", 0), drop("house.eave.soffit_height"),
        put("house.roof.heel", "20 in"), canopy(height="9 ft 2 in"),
    )  # fmt: skip
    assert refused(sample_text(short)) == []


def test_just_below_and_just_above_the_soffit() -> None:
    room = room_over_head()
    assert refused(sample_text(awning(gap=room - 1e-3))) == []
    assert len(refused(sample_text(awning(gap=room + 1e-3)))) == 1
