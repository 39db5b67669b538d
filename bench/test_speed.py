"""What a user waits for. A test's name is the id of its row and ends with its unit."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray
from pytest_benchmark.fixture import BenchmarkFixture

from bench.peak import peak_loop
from bench.summary import BATCH
from full_box import bare_box, full_box, rooms_in_a_row, varied
from noonmark import catalog
from noonmark.balance.enclosure import Air
from noonmark.balance.packing import Packed
from noonmark.balance.run import march_packed, run_batch, spread
from noonmark.balance.run import run_year as march
from noonmark.choose.glass import glass_by_side
from noonmark.choose.markfile import read_marks
from noonmark.choose.readback import read_back
from noonmark.climate.shipped import read_shipped
from noonmark.design.derived import wall_faces
from noonmark.design.file import DesignFile, changed, load_design
from noonmark.shading.lit import lit_areas
from noonmark.shading.plates import Opening, level_plate, upright_plate
from noonmark.shading.shade import sun_slopes
from noonmark.shading.view import seen
from noonmark.study import run_year
from noonmark.study.assemble import assemble
from noonmark.study.marks import marked_wall
from noonmark.study.obstacles import obstacles_of
from noonmark.study.season import seasons
from noonmark.study.site import Site, prepare_site
from noonmark.sun.year import sun_year
from noonmark.units.table import INCH
from pencil import Truth, csv_of, drawn, written

SAMPLE = Path(__file__).parent.parent / "examples" / "larkspur.toml"


@pytest.fixture(scope="module")
def design() -> DesignFile:
    return load_design(SAMPLE)


@pytest.fixture(scope="module")
def site(design: DesignFile) -> Site:
    return prepare_site(design.homestead.place, design.homestead.climate, design.folder)


def test_peak_loop_ms(benchmark: BenchmarkFixture) -> None:
    benchmark(peak_loop)


def test_one_zone_year_ms(benchmark: BenchmarkFixture, design: DesignFile, site: Site) -> None:
    ready = assemble(design.homestead, design.homestead.buildings["house"], site)
    benchmark(
        march,
        ready.zones,
        ready.elements,
        Air(site.weather.temp_air, np.zeros_like(site.weather.temp_air), 81e3, 1006.0),
    )


def test_one_design_ms(benchmark: BenchmarkFixture) -> None:
    """Six opaque parts and four windows with everything on: see `full_box`."""
    benchmark(march_packed, full_box())


def test_four_zones_ms(benchmark: BenchmarkFixture) -> None:
    """Four of them in a row, with walls and doors between: 43 parts."""
    benchmark(march_packed, rooms_in_a_row(4))


def test_batch_per_core_per_s(benchmark: BenchmarkFixture) -> None:
    """A thousand of them on one core, walls, windows and set-points all different."""
    batch = varied(spread(full_box(), BATCH))
    _batch(benchmark, batch, workers=1)


def test_bare_batch_per_core_per_s(benchmark: BenchmarkFixture) -> None:
    """A thousand boxes with two windows and steady films."""
    batch = varied(spread(bare_box(), BATCH))
    _batch(benchmark, batch, workers=1)


def test_batch_all_cores_per_s(benchmark: BenchmarkFixture) -> None:
    """The thousand with everything on, on all cores."""
    batch = varied(spread(full_box(), BATCH))
    _batch(benchmark, batch, workers=None)


def _batch(benchmark: BenchmarkFixture, batch: Packed, *, workers: int | None) -> None:
    benchmark.pedantic(  # type: ignore[no-untyped-call]
        run_batch, [batch], {"workers": workers}, rounds=3, warmup_rounds=1
    )


def test_assemble_one_zone_ms(benchmark: BenchmarkFixture, design: DesignFile, site: Site) -> None:
    benchmark(assemble, design.homestead, design.homestead.buildings["house"], site)


def test_house_and_twin_ms(benchmark: BenchmarkFixture, design: DesignFile) -> None:
    benchmark(run_year, design.homestead, design.folder)


def test_sun_year_ms(benchmark: BenchmarkFixture) -> None:
    benchmark(sun_year, latitude=39.73, longitude=-105.18, altitude_m=1876.0, utc_offset_h=-7.0)


def test_read_shipped_year_ms(benchmark: BenchmarkFixture) -> None:
    benchmark(read_shipped, "golden")


def _ways(site: Site) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.intp]]:
    before, sideways, rise = sun_slopes(site.sun.altitude, site.sun.azimuth, 180.0)
    return sideways, rise, np.flatnonzero(before) // 24


def test_window_year_under_eave_and_fins_ms(benchmark: BenchmarkFixture, site: Site) -> None:
    """The lit share of one window in all hours with sun before it."""
    sideways, rise, _ = _ways(site)
    fins = [upright_plate(place=x, projection=0.3, bottom=0.0, top=2.5) for x in (1.9, 3.9)]
    eave = level_plate(height=2.7, projection=0.8, left=-0.5, right=13.0)
    benchmark(lit_areas, sideways, rise, Opening(2.0, 1.8, 0.6, 1.6), [eave, *fins])


def test_window_year_behind_trees_ms(
    benchmark: BenchmarkFixture, design: DesignFile, site: Site
) -> None:
    """The same behind two trees, a neighbour with a ridge and a skyline, through the seasons."""
    tree = 'top="9 m", crown_bottom="2 m", crown_width="6 m"'
    words = [
        f'house.tree=[{{azimuth=150, distance="9 m", {tree}}}, '
        f'{{azimuth=215, distance="12 m", {tree}}}]',
        'house.neighbour=[{azimuth=190, distance="20 m", width="15 m", depth="9 m", top="6 m", '
        'ridge="9 m"}]',
        "place.skyline=[[90, 8], [150, 3], [200, 6], [270, 10]]",
    ]
    homestead = changed(design, words).homestead
    building = homestead.buildings["house"]
    obstacles = obstacles_of(homestead, building, wall_faces(building)[0])
    benchmark(obstacles.lit, *_ways(site), Opening(2.0, 1.8, 0.6, 1.6))


def test_season_ten_windows_ms(benchmark: BenchmarkFixture, design: DesignFile) -> None:
    """The date table of a house with ten windows."""
    windows = [
        f'{{name="{i}", side="{side}", width="1 m", sill="0.6 m", head="2.1 m", '
        'glazing="double high gain"}'
        for i, side in enumerate(["sunny"] * 4 + ["left", "right", "back"] * 2)
    ]
    homestead = changed(design, [f"house.window=[{', '.join(windows)}]"]).homestead
    assert len(seasons(homestead).windows) == len(windows) == 10
    benchmark(seasons, homestead)


def test_dome_view_factor_ms(benchmark: BenchmarkFixture) -> None:
    widths = iter(range(1, 10_000))

    def fresh() -> None:  # another width each time, for views are kept
        eave = level_plate(height=2.5, projection=1.0, left=-1.0, right=5.0)
        seen(Opening(0.0, 3.0 + 1e-6 * next(widths), 0.0, 2.0), [eave])

    benchmark(fresh)


def test_load_design_ms(benchmark: BenchmarkFixture) -> None:
    benchmark(load_design, SAMPLE)


def test_help_ms(benchmark: BenchmarkFixture) -> None:
    benchmark(_command, "--help")


def test_run_command_warm_ms(benchmark: BenchmarkFixture) -> None:
    benchmark(_command, "run", str(SAMPLE), "--json")


def test_draw_sheets_s(benchmark: BenchmarkFixture, tmp_path: Path) -> None:
    """All sheets of the sample as one command: 23 SVG, the PDF of 24 pages, 5 DXF."""
    words = ("draw", str(SAMPLE), "--out", str(tmp_path))
    benchmark.pedantic(  # type: ignore[no-untyped-call]
        _command, words, rounds=3, warmup_rounds=1
    )
    assert len(list(tmp_path.iterdir())) == 23 + 1 + 5


def test_glass_30_s(benchmark: BenchmarkFixture, design: DesignFile) -> None:
    """Thirty glazings in four walls by the hourly year, and in the sunny one without its eave."""
    units = ", ".join(
        f'own{n}={{panes=3, u_value="{0.6 + 0.02 * n:.2f} W/m2K", shgc=0.5, transmittance=0.4}}'
        for n in range(30 - len(catalog.table(catalog.ReadyGlazing)))
    )
    wide = changed(design, [f"glazing={{{units}}}"])
    result = benchmark.pedantic(  # type: ignore[no-untyped-call]
        glass_by_side, (wide,), rounds=3, warmup_rounds=1
    )
    assert [len(side.options) for side in result.sides] == [30] * 4


def test_mark_fit_ms(benchmark: BenchmarkFixture, tmp_path: Path) -> None:
    """Forty marks read back, in inches that are said to be centimetres: every slip is tried."""
    home = drawn()
    rows = written(home, Truth(4.0, 0.05, -0.03, 6), np.random.default_rng(1))
    file = read_marks(csv_of(tmp_path, rows, "above_floor_cm", INCH))
    result = benchmark(read_back, home, marked_wall(home), file)
    assert [slip.key for slip in result.mistakes] == ["readback.unit"]


def _command(*words: str) -> None:
    subprocess.run([sys.executable, "-m", "noonmark", *words], check=True, capture_output=True)
