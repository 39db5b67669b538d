"""Which glass on which side: every glazing tried in the windows of a wall, by the year's balance.

What a window is worth to a house is not what comes in less what goes out: sun that comes when
the house is warm spares nothing. So the year is run with a glazing, and once with windows that
let nothing through at all, neither sun nor heat; the difference in heat is what is useful.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from noonmark import catalog
from noonmark.climate.year import MONTH_OF_HOUR
from noonmark.design.derived import WallFace, wall_faces, window_area
from noonmark.design.file import DesignFile
from noonmark.design.model import Building, GlazingUnit, Homestead, Window
from noonmark.errors import InputError, Progress, ProgressListener, Sentence, no_progress
from noonmark.outcome.reduce import monthly_kwh
from noonmark.place.site import azimuth_name, equator_azimuth
from noonmark.study.assemble import WallsInSun
from noonmark.study.constructions import glazing_of
from noonmark.study.results.glass import GlassOption, GlassResult, GlassSide
from noonmark.study.results.shade import Tried
from noonmark.study.site import Site, prepare_site
from noonmark.study.sunny import wall_in_sun
from noonmark.study.tree import TOO_WARM, heat_given
from noonmark.study.windowlist import whole_window
from noonmark.study.year import marched

FloatArray = NDArray[np.float64]

HOUR_COUNTS = 1.0

_SHUT = "\0nothing through"
_SHUT_UNIT = GlazingUnit.model_construct(
    panes=1, u_value=1e-6, shgc=1e-9, transmittance=1e-9, gaps=None, resistance=None
)
"""Glass that lets neither sun nor heat through; no file can name it."""

_SUNNY_DEG = 45.0
_HIGH_GAIN = 0.5
"""A wall within 45 deg of the equator is sunny; a pane unit of SHGC over a half is of high gain
(common practice, no source)."""

_WORTH_SAYING = 0.01
"""Share of what the year costs that is worth a sentence."""


@dataclass(frozen=True)
class _Ran:
    """A year: heat [kWh] of each month (12,), hours too warm, net heat through some windows."""

    heat: FloatArray
    warm: float
    net: FloatArray

    @property
    def tried(self) -> Tried:
        return Tried(float(self.heat.sum()), self.warm)


def glass_by_side(
    design: DesignFile,
    *,
    hour_counts: float = HOUR_COUNTS,
    listen: ProgressListener = no_progress,
) -> GlassResult:
    """Return every glazing of catalogue and file in the windows of every outside wall.

    Frames, sizes, shades and all other walls stay as designed. Best is the least heat and
    hours above 26 degC together, an hour counting `hour_counts` [kWh]. Raises `InputError`
    as `run_year` does.
    """
    home = design.homestead
    try:
        site = prepare_site(home.place, home.climate, design.folder)
        tries = _Tries(home, site, hour_counts)
        walls = [(name, face) for name in home.buildings for face in _glazed(home.buildings[name])]
        under = [
            (name, face)
            for name, face in walls
            if tries.eave_over(name, face) and _sunny(home, face.azimuth)
        ]
        total, sides, bare = len(walls) + len(under), [], []
        for done, (name, face) in enumerate(walls):
            listen(Progress("progress.glass", done, total))
            sides.append(tries.side(name, face))
        for done, (name, face) in enumerate(under, start=len(walls)):
            listen(Progress("progress.glass", done, total))
            bare.append(tries.without_eave(name).side(name, face))
    except InputError as error:
        raise design.located(error) from error
    listen(Progress("progress.glass", total, total))
    advice = tuple(s for side in sides for s in _advice(home, side, bare, hour_counts))
    return GlassResult(hour_counts, tuple(sides), tuple(bare), advice)


def cost(year: Tried, hour_counts: float) -> float:
    """Return heat and hours too warm as one number [kWh]."""
    return year.heating_kwh + hour_counts * year.hours_above_26_c


def _glazed(building: Building) -> Iterator[WallFace]:
    for face in wall_faces(building):
        if face.next_to is None and face.windows:
            yield face


class _Tries:
    """Years of a homestead with other glass in one wall."""

    def __init__(self, home: Homestead, site: Site, hour_counts: float) -> None:
        self.home = home.model_copy(update={"glazing": {**home.glazing, _SHUT: _SHUT_UNIT}})
        self.site, self.hour_counts = site, hour_counts
        self.names = [*catalog.table(catalog.ReadyGlazing), *home.glazing]
        self._walls: dict[str, WallsInSun] = {}

    def eave_over(self, name: str, face: WallFace) -> float | None:
        """Return the projection of the eave over a wall [m], None where there is none."""
        eave = self.home.buildings[name].eave
        return eave.projection if face.side in eave.sides and eave.projection > 0.0 else None

    def without_eave(self, name: str) -> _Tries:
        """Return the same with no eave on a building; its roof stays as tight."""
        building = self.home.buildings[name]
        bare = building.model_copy(update={"eave": building.eave.model_copy(update={"sides": []})})
        home = self.home.model_copy(update={"buildings": {**self.home.buildings, name: bare}})
        other = _Tries(home, self.site, self.hour_counts)
        other.names = self.names
        return other

    def side(self, name: str, face: WallFace) -> GlassSide:
        """Return every glazing in the windows of a wall."""
        shut = self._run(name, face, {"glazing": _SHUT, "frame": "none"})
        options = [self._option(name, face, glazing, shut) for glazing in self.names]
        areas: dict[str, float] = {}
        for window in face.windows:
            areas[window.glazing] = areas.get(window.glazing, 0.0) + window_area(window)
        return GlassSide(
            building=name,
            zone=face.zone,
            wall=face.side or face.name,
            faces_deg=face.azimuth,
            area_m2=sum(areas.values()),
            eave_m=self.eave_over(name, face),
            designed=max(areas, key=lambda glazing: areas[glazing]),
            options=tuple(sorted(options, key=lambda item: cost(item.year, self.hour_counts))),
        )

    def _option(self, name: str, face: WallFace, glazing: str, shut: _Ran) -> GlassOption:
        ran = self._run(name, face, {"glazing": glazing})
        useful = shut.heat - ran.heat
        u_value, shgc = self._whole(face.windows, glazing)
        row = catalog.table(catalog.ReadyGlazing).get(glazing)
        own = glazing in self.home.glazing
        return GlassOption(
            glazing=glazing,
            u_value=u_value,
            shgc=shgc,
            visible=None if own or row is None else row.visible,
            useful_kwh=tuple(useful.tolist()),
            net_kwh=tuple(ran.net.tolist()),
            useful_year_kwh=float(useful.sum()),
            year=ran.tried,
        )

    def _whole(self, windows: Sequence[Window], glazing: str) -> tuple[float, float]:
        """Return U-value [W/m2K] and SHGC of all windows together, by their areas."""
        other = [window.model_copy(update={"glazing": glazing}) for window in windows]
        areas = np.array([window_area(window) for window in other])
        values = np.array([whole_window(self.home, window) for window in other])
        u_value, shgc = areas @ values / areas.sum()
        return float(u_value), float(shgc)

    def _in_sun(self, name: str) -> WallsInSun:
        """Return the walls of a building in the sun, found once: no glass changes that."""
        if name not in self._walls:
            building = self.home.buildings[name]
            self._walls[name] = {
                (face.zone, face.name): wall_in_sun(self.home, building, self.site, face)
                for face in wall_faces(building)
                if face.next_to is None
            }
        return self._walls[name]

    def _run(self, name: str, face: WallFace, changes: dict[str, str]) -> _Ran:
        building = self.home.buildings[name]
        here = {id(window) for window in face.windows}
        windows = [
            window.model_copy(update=changes) if id(window) in here else window
            for window in building.window
        ]
        changed = building.model_copy(update={"window": windows})
        home = self.home.model_copy(update={"buildings": {**self.home.buildings, name: changed}})
        ready, year = marched(home, name, self.site, self._in_sun(name))
        lived_in = [zone.lived_in for zone in building.zone.values()]
        warm = (year.operative[:, lived_in] > TOO_WARM).any(axis=1)
        same = (w for w in wall_faces(changed) if (w.zone, w.name) == (face.zone, face.name))
        net = ready.brought(next(same), year)
        return _Ran(
            monthly_kwh(heat_given(year).sum(axis=1), MONTH_OF_HOUR),
            float(np.count_nonzero(warm)),
            monthly_kwh(net, MONTH_OF_HOUR),
        )


# --- the usual advice ---------------------------------------------------------------------------


def _advice(
    home: Homestead, side: GlassSide, bare: Sequence[GlassSide], hour_counts: float
) -> Iterator[Sentence]:
    """Yield whether high gain to the equator and low gain elsewhere is right for a wall."""
    best = side.options[0]
    sunny = _sunny(home, side.faces_deg)
    usual = [item for item in side.options if _high_gain(home, item) == sunny]
    if not usual:
        return
    loss = cost(usual[0].year, hour_counts) - cost(best.year, hour_counts)
    values: dict[str, object] = {
        "building": side.building,
        "side": azimuth_name(side.faces_deg),
        "best": best.glazing,
        "usual": usual[0].glazing,
        "kwh": round(loss),
    }
    kind = "sunny" if sunny else "other"
    even = loss <= _WORTH_SAYING * cost(best.year, hour_counts)
    verdict = "holds" if usual[0] is best else "even" if even else "wrong"
    yield Sentence(f"glass.{kind}_{verdict}", values)
    for item in bare:
        if (item.building, item.zone, item.wall) == (side.building, side.zone, side.wall):
            other = item.options[0].glazing
            if other != best.glazing:
                yield Sentence("glass.eave_turns", {**values, "bare": other})


def _sunny(home: Homestead, azimuth: float) -> bool:
    turn = (azimuth - equator_azimuth(home.place.latitude) + 180.0) % 360.0 - 180.0
    return abs(turn) <= _SUNNY_DEG


def _high_gain(home: Homestead, option: GlassOption) -> bool:
    return float(glazing_of(home, option.glazing).shgc()[0]) >= _HIGH_GAIN
