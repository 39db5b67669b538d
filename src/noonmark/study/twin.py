"""The unshaped twin: the same house, had nobody thought of the sun."""

from __future__ import annotations

from noonmark.design.derived import WallFace, building_depth, building_length, wall_faces
from noonmark.design.model import Building, Homestead, Window


def unshaped_twin(homestead: Homestead) -> Homestead:
    """Return the homestead with every building unshaped.

    Same size, insulation, glass and eave; each window entry spread over the
    sides of its zone in proportion to their walls, without hood, fins, awning
    and slats, but for those between zones; no canopies; and the long side turned
    east (true azimuth 90). Trees, neighbours and the skyline stay.
    """
    twins = {name: _unshaped(building) for name, building in homestead.buildings.items()}
    return homestead.model_copy(update={"buildings": twins})


def _unshaped(building: Building) -> Building:
    faces = 90.0 if building_length(building) >= building_depth(building) else 180.0
    walls = [face for face in wall_faces(building) if face.next_to is None and face.side]
    inner = {id(w) for face in wall_faces(building) if face.next_to for w in face.windows}
    windows = [
        part
        for index, window in enumerate(building.window)
        for part in (
            [window] if id(window) in inner else _spread(window, _walls_of(building, walls, index))
        )
    ]
    return building.model_copy(update={"faces": faces, "window": windows, "canopy": []})


def _walls_of(building: Building, walls: list[WallFace], index: int) -> list[WallFace]:
    zone = building.window[index].zone or next(iter(building.zone))
    return [face for face in walls if face.zone == zone]


def _spread(window: Window, walls: list[WallFace]) -> list[Window]:
    total = sum(face.length * face.height for face in walls)
    return [
        window.model_copy(
            update={
                "side": face.side,
                "wall": None,
                "left": None,
                "hood": None,
                "fins": None,
                "awning": None,
                "slats": None,
                "count": window.count * face.length * face.height / total,
            }
        )
        for face in walls
    ]
