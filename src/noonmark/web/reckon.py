"""What a solver process reckons: the year of a building or twin, the weather, the whole tree."""

from __future__ import annotations

import json
import time
from collections import OrderedDict
from collections.abc import Callable
from dataclasses import asdict
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import numpy as np

from noonmark.design.file import DesignFile, parse_design
from noonmark.design.model import Homestead
from noonmark.errors import InputError, Problem
from noonmark.shape.section import floor_reach, sunlit_glass
from noonmark.study.live import LiveYear, live_year
from noonmark.study.section import section_view
from noonmark.study.site import Site, prepare_site, weather_cautions
from noonmark.study.snow import snow_cautions
from noonmark.study.tree import climate_used
from noonmark.study.twin import unshaped_twin
from noonmark.study.year import run_year
from noonmark.sun.year import NOMINAL_YEAR
from noonmark.units import Quantity
from noonmark.web.jobs import Job, Task
from noonmark.web.wire import Answer, FloatArray, Series, answer

_SITES = 8
"""Places with their weather that are kept at hand."""


class Reckoner:
    """Answers jobs; sites are kept between them."""

    def __init__(self) -> None:
        """Start with nothing at hand."""
        self._sites: OrderedDict[tuple[object, ...], Site] = OrderedDict()
        self._tasks: dict[Task, Callable[[DesignFile, Job], Answer]] = {
            "year": self._year,
            "hours": self._hours,
            "twin": self._twin,
            "answers": self._answers,
            "sun": self._sun,
            "weather": self._weather,
            "weather_whole": self._weather,
            "whole": self._whole,
            "warm": self._warm,
        }

    def answer(self, job: Job) -> Answer:
        """Return the answer; raises `InputError` with file and line when there is none."""
        design = parse_design(job.text, name=job.name, folder=job.folder, changes=job.words)
        try:
            return self._tasks[job.task](design, job)
        except InputError as error:
            raise design.located(error) from error

    def _site(self, design: DesignFile) -> Site:
        home = design.homestead
        key = (
            home.place.model_dump_json(),
            home.climate.model_dump_json(),
            _stamp(home.climate.file, design.folder),
        )
        if key not in self._sites:
            self._sites[key] = prepare_site(home.place, home.climate, design.folder)
        self._sites.move_to_end(key)
        while len(self._sites) > _SITES:
            self._sites.popitem(last=False)
        return self._sites[key]

    def _live(self, design: DesignFile, homestead: Homestead, job: Job) -> LiveYear:
        return live_year(homestead, self._named(homestead, job), self._site(design))

    def _named(self, homestead: Homestead, job: Job) -> str:
        """Return the building asked for, the first one when none is named."""
        name = job.building or next(iter(homestead.buildings))
        if name not in homestead.buildings:
            known = list(homestead.buildings)
            raise InputError(Problem("show.no_building", values={"read": name, "known": known}))
        return name

    def _year(self, design: DesignFile, job: Job) -> Answer:
        begin = time.perf_counter()
        live = self._live(design, design.homestead, job)
        series = _series(live)
        ms = round(1e3 * (time.perf_counter() - begin), 1)
        return answer({"ms": ms, **_shown(live)}, series)

    def _twin(self, design: DesignFile, job: Job) -> Answer:
        return answer(_shown(self._live(design, unshaped_twin(design.homestead), job)))

    def _hours(self, design: DesignFile, job: Job) -> Answer:
        live = self._live(design, design.homestead, job)
        arrays = [_listed(item) for item in _series(live)]
        return answer({"building": live.building.name, "arrays": arrays})

    def _answers(self, design: DesignFile, job: Job) -> Answer:
        own = self._live(design, design.homestead, job)
        twin = self._live(design, unshaped_twin(design.homestead), job)
        return answer({"building": own.building.name, **_shown(own), "twin": _shown(twin)})

    def _sun(self, design: DesignFile, job: Job) -> Answer:
        home = design.homestead
        view = section_view(
            home,
            self._named(home, job),
            day=date(NOMINAL_YEAR, 1, 1) + timedelta(days=job.day),
            after_noon=timedelta(minutes=job.after_noon),
        )
        angle = view.profile_angle
        bottom, top = sunlit_glass(view.section, angle or 0.0)
        body = {
            "instant": view.instant.isoformat(),
            "sun_altitude": view.sun_altitude,
            "sun_azimuth": view.sun_azimuth,
            "profile_angle": angle,
            "lit_from": bottom,
            "lit_to": top,
            "floor_reach": floor_reach(view.section, angle or 0.0),
            "marks": view.marks,
        }
        return answer(body)

    def _weather(self, design: DesignFile, job: Job) -> Answer:
        site = self._site(design)
        sun = site.sun
        body = {
            "climate": climate_used(site),
            "cautions": [*weather_cautions(site), *snow_cautions(design.homestead, site)],
            "sunrise": _hours_of(sun.sunrise_h),
            "sunset": _hours_of(sun.sunset_h),
            "noon": _hours_of(sun.solar_noon_h),
        }
        series = (
            Series("outdoor", site.weather.temp_air, 0.01),
            Series("global", site.weather.ghi, 0.1),
        )
        if job.task == "weather_whole":
            return answer({**body, "arrays": [_listed(item) for item in series]})
        return answer(body, series)

    def _whole(self, design: DesignFile, _job: Job) -> Answer:
        result = run_year(design.homestead, design.folder).result
        return Answer(json.dumps(result.as_data(), indent=2, default=_as_printed, allow_nan=False))

    def _warm(self, design: DesignFile, _job: Job) -> Answer:
        for name in design.homestead.buildings:
            live_year(design.homestead, name, self._site(design))
        return Answer("{}")


def _shown(live: LiveYear) -> dict[str, Any]:
    return {"year": live.building, "bright": live.bright, "dawn": live.dawn}


def _series(live: LiveYear) -> list[Series]:
    found = []
    for index, zone in enumerate(live.building.zones):
        found += [
            Series("temperature", live.operative[:, index], 0.01, zone.name),
            Series("heat", live.heat[:, index], 1.0, zone.name),
        ]
    return found


def _listed(series: Series) -> dict[str, Any]:
    zone = {} if series.zone is None else {"zone": series.zone}
    return {"name": series.name, **zone, "values": series.values.tolist()}


def _hours_of(values: FloatArray) -> list[float | None]:
    return [None if np.isnan(value) else round(float(value), 4) for value in values]


def _stamp(file: str | None, folder: Path) -> object:
    """Return what tells that a weather file was written anew."""
    if file is None:
        return None
    try:
        found = (folder / file).stat()
    except (OSError, ValueError):
        return None
    return found.st_mtime_ns, found.st_size


def _as_printed(value: object) -> object:
    return asdict(value) if isinstance(value, Quantity) else str(value)
