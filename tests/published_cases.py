"""The cases of the published test procedure, run as designs by the product itself."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from noonmark.balance.enclosure import Year
from noonmark.design import Homestead, load_design
from noonmark.study.assemble import assemble
from noonmark.study.results.year import BuildingYear
from noonmark.study.site import Site, prepare_site
from noonmark.study.year import building_year
from weather_samples import denver_file

FOLDER = Path(__file__).parent / "cases"
NAME = "box"
ROOM = "room"


@dataclass(frozen=True)
class Case:
    """A year in the units of the procedure: MWh, hourly means in kW, air of each zone."""

    tree: BuildingYear
    hourly: Year

    @property
    def heating(self) -> float:
        return self.tree.heating_kwh / 1e3

    @property
    def cooling(self) -> float:
        return self.tree.cooling_kwh / 1e3

    @property
    def peak_heating(self) -> float:
        return self.tree.peak_heating_w / 1e3

    @property
    def peak_cooling(self) -> float:
        return self.tree.peak_cooling_w / 1e3

    @property
    def highest(self) -> float:
        return float(self.air(ROOM).max())

    @property
    def lowest(self) -> float:
        return float(self.air(ROOM).min())

    @property
    def mean(self) -> float:
        return float(self.air(ROOM).mean())

    def air(self, zone: str) -> NDArray[np.float64]:
        """Return the air temperature of a zone (h,) [degC]."""
        names = [item.name for item in self.tree.zones]
        return self.hourly.air[:, names.index(zone)]


@cache
def changes() -> dict[str, list[str]]:
    """Return for each case what it changes in box.toml, as `PATH=VALUE`."""
    table = tomllib.loads((FOLDER / "cases.toml").read_text("utf-8"))
    return {
        case: [word for name in names for word in table["changes"][name]]
        for case, names in table["cases"].items()
    }


@cache
def design(case: str) -> Homestead:
    """Return the design of a case."""
    return load_design(FOLDER / "box.toml", changes()[case]).homestead


@cache
def denver() -> Site:
    """Return Denver with its typical year, or skip the test."""
    homestead = design("600")
    return prepare_site(homestead.place, homestead.climate, denver_file().parent)


@cache
def year(case: str) -> Case:
    """Return the year of a case."""
    return Case(*building_year(design(case), NAME, denver()))


def let_in(case: str, side: str) -> float:
    """Return the sun that passes a square metre of a side's glass in the year [kWh/m2]."""
    homestead = design(case)
    ready = assemble(homestead, homestead.buildings[NAME], denver())
    return float(ready.let_in[0][side].sum() / 1e3 / year(case).tree.glass_by_side_m2[side])


def incident(tilt: float, azimuth: float) -> float:
    """Return the sun that meets a square metre of a plane in the year [kWh/m2]."""
    return float(denver().plane(tilt, azimuth).total.sum() / 1e3)
