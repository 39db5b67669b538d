"""Cloth that is up in months of snow."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from noonmark.climate.year import MONTH_OF_HOUR
from noonmark.design.model import Homestead
from noonmark.errors import Sentence
from noonmark.study.site import Site
from noonmark.study.surroundings import days_up
from noonmark.units import Quantity

SNOW_BELOW = 2.0
"""Mean air temperature below which a month's precipitation falls mostly as snow [degC].

Half of it does at about 1.5 degC (U.S. Army Corps of Engineers, Snow Hydrology, 1956,
from memory).
"""


def snow_cautions(homestead: Homestead, site: Site) -> Iterator[Sentence]:
    """Yield a caution for every awning that is up in a month of snow."""
    temp = site.weather.temp_air
    means = np.array([temp[month == MONTH_OF_HOUR].mean() for month in range(12)])
    month_of_day = MONTH_OF_HOUR[::24]
    for name, building in homestead.buildings.items():
        for index, window in enumerate(building.window, start=1):
            if window.awning is None:
                continue
            days = days_up(window.awning)
            up = month_of_day if days is None else month_of_day[np.array(days)]
            coldest = float(means[up].min())
            if coldest < SNOW_BELOW:
                values = {
                    "building": name,
                    "window": window.name or str(index),
                    "coldest": Quantity(coldest, "temperature"),
                }
                yield Sentence("caution.awning_snow", values)
