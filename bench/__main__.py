"""`make bench`: writes build/bench.json, a list of id, value, unit, ratio."""

from __future__ import annotations

import json
import statistics
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np

from bench.peak import peak_loop
from noonmark.balance import enclosure
from noonmark.climate.shipped import read_shipped
from noonmark.design import load_design
from noonmark.shading.view import dome_view_factor
from noonmark.study import run_year
from noonmark.study.assemble import assemble
from noonmark.study.site import prepare_site
from noonmark.sun.year import sun_year

ROOT = Path(__file__).parent.parent
SAMPLE = ROOT / "examples" / "larkspur.toml"
REPEATS = 15


def main() -> None:
    design = load_design(SAMPLE)
    homestead = design.homestead
    site = prepare_site(homestead.place, homestead.climate, design.folder)
    building = homestead.buildings["house"]
    ready = assemble(homestead, building, site)
    still = np.zeros_like(site.weather.temp_air)

    def march() -> None:
        enclosure.run_year(
            ready.zones,
            ready.elements,
            outdoor_air=site.weather.temp_air,
            outdoor_humidity=still,
            air_heat=1006.0,
        )

    jobs: dict[str, Callable[[], object]] = {
        "one_zone_year_ms": march,
        "assemble_one_zone_ms": lambda: assemble(homestead, building, site),
        "house_and_twin_ms": lambda: run_year(homestead, design.folder),
        "sun_year_ms": lambda: sun_year(
            latitude=39.73, longitude=-105.18, altitude_m=1876.0, utc_offset_h=-7.0
        ),
        "read_shipped_year_ms": lambda: read_shipped("golden"),
        "dome_view_factor_ms": lambda: dome_view_factor(
            width=3.0,
            height=2.0,
            gap=0.5,
            eave_projection=1.0,
            left_extension=1.0,
            right_extension=2.0,
        ),
        "load_design_ms": lambda: load_design(SAMPLE),
    }
    peak = _median_ms(peak_loop)
    rows = [_row("peak_loop_ms", peak, peak)]
    rows += [_row(name, _median_ms(job), peak) for name, job in jobs.items()]
    rows += [
        _row(name, _median_ms(_command(*words), repeats=5), peak)
        for name, words in {
            "help_ms": ["--help"],
            "run_command_warm_ms": ["run", str(SAMPLE), "--json"],
        }.items()
    ]
    report = ROOT / "build" / "bench.json"
    report.parent.mkdir(exist_ok=True)
    report.write_text(json.dumps(rows, indent=1) + "\n", "utf-8")
    for row in rows:
        print(f"{row['id']:26} {row['value']:9.2f} {row['unit']}  {row['ratio']:9.2f} peak loops")


def _median_ms(job: Callable[[], object], repeats: int = REPEATS) -> float:
    job()
    taken = []
    for _ in range(repeats):
        start = time.perf_counter()
        job()
        taken.append(1e3 * (time.perf_counter() - start))
    return statistics.median(taken)


def _command(*words: str) -> Callable[[], object]:
    return lambda: subprocess.run(
        [sys.executable, "-m", "noonmark", *words], check=True, capture_output=True
    )


def _row(name: str, value: float, peak: float) -> dict[str, object]:
    return {"id": name, "value": round(value, 3), "unit": "ms", "ratio": round(value / peak, 3)}


if __name__ == "__main__":
    main()
