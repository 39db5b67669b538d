"""The sun that comes through the glass lands inside, all of it; the eave takes the rest."""

from __future__ import annotations

import numpy as np
import pytest

from noonmark.design.derived import wall_faces
from noonmark.study.assemble import assemble
from noonmark.study.sunny import EaveOver, WallSun, placed_windows, window_parts_of
from sample_house import golden, house, sample

JUNE_NOONS = (np.arange(151, 181) * 24)[:, None] + np.array([11, 12])
JANUARY_NOONS = (np.arange(31) * 24)[:, None] + np.array([11, 12])


def test_what_stays_inside_is_what_the_surfaces_take_up() -> None:
    ready = assemble(sample(), house(), golden())
    # glass absorbs before the sun is inside; every other surface takes up what came in
    taken = sum(
        part.element.area * part.element.inside_source
        for part in ready.parts
        if not part.faces[0].loses
    )
    np.testing.assert_allclose(taken, ready.solar[0], rtol=1e-9, atol=1e-9)
    sides = sum(ready.by_side[0].values())
    np.testing.assert_allclose(sides, ready.solar[0], rtol=1e-12)


def test_some_of_the_sun_goes_out_again() -> None:
    ready = assemble(sample(), house(), golden())
    entered = np.zeros(8760)
    for face in wall_faces(house()):
        plane = golden().plane(90.0, face.azimuth)
        roof = EaveOver(2.7432, house().eave.projection, house().eave.ends)
        sun = WallSun(golden(), face, plane, roof if face.side in ("sunny", "back") else None)
        for item in placed_windows(sun):
            _, let_in = window_parts_of(sample(), sun, item, 0)
            entered += let_in.beam + let_in.scattered
    lost = 1.0 - ready.solar[0].sum() / entered.sum()
    # 3 to 7 % of what comes in is the usual range for a room with a tenth of glass
    assert 0.01 < lost < 0.08


@pytest.mark.parametrize(("projection", "shaded"), [(0.0, False), (2.0, True)])
def test_a_deep_eave_keeps_the_junes_noon_off_the_glass(projection: float, shaded: bool) -> None:
    face = next(face for face in wall_faces(house()) if face.side == "sunny")
    sun = WallSun(golden(), face, golden().plane(90.0, 180.0), EaveOver(2.75, projection, 0.5))
    beams = [window_parts_of(sample(), sun, item, 0)[1].beam for item in placed_windows(sun)]
    power = np.sum(beams, axis=0)
    assert (power[JUNE_NOONS].max() == 0.0) == shaded
    assert power[JANUARY_NOONS].max() > 1000.0
