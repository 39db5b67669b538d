"""What the truss maker is told, worked by hand for the sample house.

Inside depth 8 m, wall 11 3/16 in (4 3/4 in of it outside the osb), eave 30 in, pitch 6/12,
plate and soffit 9 ft, top chord 0.14 m.
"""

from __future__ import annotations

import math

import pytest

from designs import Edit, design, put, together
from noonmark.cards.speech import Speech
from noonmark.design.derived import roof_triangle
from noonmark.design.truss import finish_thickness, over_wall, truss_line
from noonmark.units import Quantity

INCH = 0.0254
WALL = 11.1875 * INCH
CANTILEVER = put("house.roof.truss", "cantilever")
SHEATHED = put("house.roof.measured_from", "sheathing")


def line(*edits: Edit) -> dict[str, dict[str, float]]:
    """Return the lengths [m] said to the truss maker, by sentence."""
    return {
        sentence.key.removeprefix("check."): {
            name: value.value
            for name, value in sentence.values.items()
            if isinstance(value, Quantity) and value.kind == "length"
        }
        for sentence in truss_line(design(*edits).homestead, "house")
    }


def test_tail_from_the_finished_face() -> None:
    """Heel = 30 in * 6/12 + 0.14 * sqrt(1.25), for soffit and plate stand at one height."""
    said = line()
    assert said["truss_tail"] == pytest.approx(
        {
            "span": 8.0 + 2 * WALL,
            "heel": 15 * INCH + 0.14 * math.sqrt(1.25),
            "overhang": 30 * INCH,
            "soffit": 108 * INCH,
            "tail": 30 * INCH * math.sqrt(1.25),
        }
    )
    assert list(said) == ["truss_tail", "insulation_r", "truss_engineer"]


def test_tail_from_the_sheathing() -> None:
    """4 in of board and 3/4 in of siding come off each side and go onto the eave."""
    tail = line(SHEATHED)["truss_tail"]
    assert tail["span"] == pytest.approx(8.0 + 2 * WALL - 9.5 * INCH)
    assert tail["overhang"] == pytest.approx(34.75 * INCH)
    assert tail["heel"] == pytest.approx(line()["truss_tail"]["heel"] + 4.75 * INCH / 2)
    assert tail["soffit"] == pytest.approx(108 * INCH)
    assert tail["span"] + 2 * tail["overhang"] == pytest.approx(8.0 + 2 * WALL + 60 * INCH)


def test_a_finish_of_one_s_own_goes_before_the_layers() -> None:
    home = design(SHEATHED, put("house.roof.finish", "3/4 in")).homestead
    assert finish_thickness(home, home.buildings["house"]) == pytest.approx(0.75 * INCH)


def test_cantilever() -> None:
    """An end heel of 8 in and 30 in at 6/12: 23 in over the wall; no end heel: the chord plumb."""
    said = line(CANTILEVER, put("house.roof.end_heel", "8 in"))["truss_cantilever"]
    assert said == pytest.approx(
        {
            "span": 8.0 + 2 * WALL,
            "heel": 23 * INCH,
            "overhang": 30 * INCH,
            "soffit": 108 * INCH,
            "length": 8.0 + 2 * WALL + 60 * INCH,
            "end_heel": 8 * INCH,
        }
    )
    least = line(CANTILEVER)["truss_cantilever"]["end_heel"]
    assert least == pytest.approx(0.14 * math.sqrt(1.25))


@pytest.mark.parametrize("truss", [put("title", ""), CANTILEVER])
def test_trusses_on_the_inner_wall(truss: Edit) -> None:
    """Bearing 10 in inside the finish: 10 in more overhang, 5 in more heel, 20 in less span."""
    plain = line(truss)
    inner = line(truss, put("house.roof.bearing", "10 in"))
    (key,) = {"truss_tail", "truss_cantilever"} & set(plain)
    assert inner[key] == plain[key]
    assert inner["truss_bearing"] == pytest.approx(
        {
            "bearing": 10 * INCH,
            "span": 8.0 + 2 * WALL - 20 * INCH,
            "overhang": 40 * INCH,
            "heel": plain[key]["heel"] + 5 * INCH,
        }
    )
    from_sheathing = line(truss, SHEATHED, put("house.roof.bearing", "10 in"))["truss_bearing"]
    assert from_sheathing == pytest.approx(inner["truss_bearing"] | {"bearing": 5.25 * INCH})


def test_insulation_over_the_wall_and_its_resistance() -> None:
    """An inch square to 6/12 is sqrt(1.25) in plumb; cellulose conducts 0.039 W/mK.

    The heel is 4 in lower than the sample's (soffit 8 ft 8 in); the wall is 11 3/16 in thick,
    so 5.59 in more fit over its inside face, where the ceiling's 16 1/2 in lie whole.
    """
    low = put("house.eave.soffit_height", "8 ft 8 in")
    sentence = truss_line(design(low).homestead, "house")[1]
    room = 11 * INCH + 0.14 * math.sqrt(1.25) - INCH * math.sqrt(1.25)
    said = {k: v.value for k, v in sentence.values.items() if isinstance(v, Quantity)}
    assert said == pytest.approx(
        {
            "outside": room,
            "inside": 16.5 * INCH,
            "gap": INCH,
            "outside_r": room / 0.039,
            "inside_r": 16.5 * INCH / 0.039,
        }
    )
    assert room < 16.5 * INCH < room + WALL / 2


@pytest.mark.parametrize(
    ("top", "key", "conductivity"),
    [
        ({"resistance": "R-40"}, "check.insulation", None),
        ({"resistance": 8.0, "thickness": 0.32}, "check.insulation_r", 0.04),
        ({"material": "straw bale", "thickness": 0.3}, "check.insulation_r", 0.052),
    ],
)
def test_topmost_layer_tells_the_resistance(
    top: dict[str, object], key: str, conductivity: float | None
) -> None:
    home = design(put("construction.ceiling.layers.2", top)).homestead
    over = over_wall(home, home.buildings["house"])
    assert over.conductivity == pytest.approx(conductivity)
    sentence = truss_line(home, "house")[1]
    assert sentence.key == key
    assert "?" not in Speech().say(sentence)


def test_the_deepest_ceiling_counts() -> None:
    thin = put("construction.thin", {"layers": [{"material": "plasterboard", "thickness": 0.01}]})
    home = design(thin, put("house.roof.construction", "thin")).homestead
    assert over_wall(home, home.buildings["house"]).ceiling == 0.0
    kept = design(
        thin,
        put("house.roof.construction", "thin"),
        put("house.zone.rooms.roof_construction", "ceiling"),
    ).homestead
    assert over_wall(kept, kept.buildings["house"]).ceiling == pytest.approx(16.5 * INCH)


@pytest.mark.parametrize("truss", [(), (CANTILEVER,)], ids=["tail", "cantilever"])
@pytest.mark.parametrize("depth", ["20 in", "22 in", "30 in"])
def test_the_heel_that_the_caution_names_holds_the_insulation(
    truss: tuple[Edit, ...], depth: str
) -> None:
    deep = put("construction.ceiling.layers.2.thickness", depth)
    home = design(*truss, deep).homestead
    over = over_wall(home, home.buildings["house"])
    no_soffit: Edit = lambda data: data["house"]["eave"].pop("soffit_height")  # noqa: E731
    mended = design(*truss, deep, no_soffit, put("house.roof.heel", over.heel)).homestead
    assert over_wall(mended, mended.buildings["house"]).fits
    shy = design(*truss, deep, no_soffit, put("house.roof.heel", over.heel - 0.006)).homestead
    assert not over_wall(shy, shy.buildings["house"]).fits


def test_the_face_that_counts_is_said() -> None:
    words = [Speech("us").say(s) for s in truss_line(design(SHEATHED).homestead, "house")]
    assert "from the outside face of the sheathing" in words[0]
    assert "Snow, wind, uplift" in words[-1]
    finished = truss_line(design(CANTILEVER).homestead, "house")
    assert "from the finished outside face of the wall" in Speech().say(finished[0])
    assert "?" not in " ".join(Speech().say(s) for s in finished)


def test_an_eave_along_one_side_is_said() -> None:
    said = truss_line(design(put("house.eave.sides", ["back"])).homestead, "house")
    assert "the north side only" in " ".join(Speech().say(s) for s in said)


def test_heel_and_end_heel_follow_from_each_other() -> None:
    """Round trip through `--set`: the heel one gives is the end heel the other asks for."""
    for pitch in ("0/12", "3/12", "8.5/12"):
        for projection in (0.0, 0.4, 1.1):
            changes = [
                "house.roof.truss=cantilever",
                f'house.roof.pitch="{pitch}"',
                f"house.eave.projection={projection}",
            ]
            home = design(changes=[*changes, "house.roof.end_heel=0.25"]).homestead
            heel = roof_triangle(home, home.buildings["house"]).heel
            back = design(changes=[*changes, f"house.roof.heel={heel!r}"]).homestead
            roof = roof_triangle(back, back.buildings["house"])
            assert roof.end_heel == pytest.approx(0.25)
            assert roof.soffit == roof.plate


def test_change_the_eave_and_the_others_follow() -> None:
    """Tail: the heel that hangs the soffit grows by pitch * projection; its soffit stays."""
    both = together(put("house.eave.projection", "4 ft"), put("house.roof.pitch", "8/12"))
    said = line(both)["truss_tail"]
    assert said["soffit"] == pytest.approx(108 * INCH)
    assert said["heel"] == pytest.approx(32 * INCH + 0.14 * math.hypot(1, 8 / 12))
    home = design(both).homestead
    heel = roof_triangle(home, home.buildings["house"]).heel
    kept = put("house.roof.heel", heel)
    free = design(both, kept, lambda data: data["house"]["eave"].pop("soffit_height")).homestead
    assert roof_triangle(free, free.buildings["house"]).soffit == pytest.approx(108 * INCH)
