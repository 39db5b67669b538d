"""The year of one building, quick enough to be reckoned while somebody drags a part of it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from noonmark.design.model import Homestead
from noonmark.study.results import BuildingYear
from noonmark.study.site import Site
from noonmark.study.tree import heat_given
from noonmark.study.year import building_year

FloatArray = NDArray[np.float64]


@dataclass(frozen=True)
class LiveYear:
    """A building's year with its hours: operative (h, z) [degC] and heat given (h, z) [W]."""

    building: BuildingYear
    bright: None
    dawn: None
    operative: FloatArray
    heat: FloatArray


def live_year(homestead: Homestead, name: str, site: Site) -> LiveYear:
    """March one building through the year. Raises `InputError` as `run_year` does."""
    found, year = building_year(homestead, name, site)
    return LiveYear(found, None, None, year.operative, heat_given(year))
