"""The real command on a real port: what a page says and hears, and a server that is killed."""

from __future__ import annotations

import json
import re
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
from websockets.exceptions import ConnectionClosed

from mutants import SAMPLE
from noonmark.design.file import changed, parse_design
from noonmark.study.live import LiveYear, live_year
from noonmark.study.twin import unshaped_twin
from noonmark.web.wire import plain
from sample_house import golden
from web_page import Message, Page, Served, opened, run_on, served

TWO = SAMPLE + '\n[shed]\nkind = "house"\nfaces = 180\nwall_construction = "wall"\n' + "\n".join(
    [
        "[shed.zone.one]", 'length = "5 m"', 'width = "4 m"', 'height = "9 ft"',
        "[shed.eave]", 'soffit_height = "9 ft"', "[shed.roof]", 'construction = "ceiling"',
        "[shed.floor]", 'construction = "slab"', "",
    ]
)  # fmt: skip


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("served")


@pytest.fixture(scope="module")
def place(folder: Path) -> Iterator[Served]:
    """Serve a file of two buildings to all tests of this module."""
    (folder / "two.toml").write_text(TWO, "utf-8")
    with served(folder / "two.toml", folder / "state") as found:
        yield found


@pytest.fixture
def page(place: Served) -> Iterator[Page]:
    """Open a page and let all of the file be told it first."""
    with opened(place) as found:
        found.until("twin")
        yield found


@pytest.fixture
def design(folder: Path) -> Path:
    return folder / "two.toml"


def expected(text: str, *words: str, building: str = "house", twin: bool = False) -> LiveYear:
    home = changed(parse_design(text), words).homestead
    return live_year(unshaped_twin(home) if twin else home, building, golden())


def assert_shows(message: Message, live: LiveYear) -> None:
    """Assert that a message tells of a year, whatever rounding JSON does."""
    for name in ("year", "bright", "dawn"):
        told = plain(live.building if name == "year" else getattr(live, name))
        assert message[name] == json.loads(json.dumps(told)), name
    if "series" not in message:
        return
    for index, zone in enumerate(live.building.zones):
        for name, hours, scale in (("temperature", live.operative, 0.01), ("heat", live.heat, 1.0)):
            got = message["series"][name, zone.name]
            np.testing.assert_allclose(got, hours[:, index], atol=0.51 * scale)


# --- hearing ------------------------------------------------------------------------------------


def test_page_hears_design_weather_year_and_twin(place: Served, design: Path) -> None:
    with opened(place) as page:
        heard: dict[str, Message] = {}
        while "twin" not in heard or "weather" not in heard:
            message = page.hear()
            heard[message["type"]] = message
    text = design.read_text("utf-8")
    assert heard["design"]["seq"] is None
    assert [item["name"] for item in heard["design"]["buildings"]] == ["house", "shed"]
    assert heard["design"]["place"]["utc_offset"] == -7
    assert heard["design"]["truss"].keys() == {"house", "shed"}
    assert heard["year"]["seq"] is None
    assert (heard["year"]["building"], heard["year"]["hold"]) == ("house", False)
    assert_shows(heard["year"], expected(text))
    assert_shows(heard["twin"], expected(text, twin=True))
    weather, sun = golden().weather, golden().sun
    series = heard["weather"]["series"]
    np.testing.assert_allclose(series["outdoor", None], weather.temp_air, atol=0.0051)
    np.testing.assert_allclose(series["global", None], weather.ghi, atol=0.051)
    np.testing.assert_allclose(heard["weather"]["sunrise"], sun.sunrise_h, atol=1e-3)
    assert heard["weather"]["climate"]["trust"] == "typical_year"


def test_addresses_tell_the_same_as_the_commands(place: Served, design: Path) -> None:
    status, body = place.get("year.json")
    command = [sys.executable, "-m", "noonmark", "run", str(design), "--json"]
    printed = subprocess.run(command, capture_output=True, check=False, text=True)
    assert status == 200
    assert json.loads(body) == json.loads(printed.stdout)
    hours = json.loads(place.get("hours.json?building=shed")[1])
    live = expected(design.read_text("utf-8"), building="shed")
    assert [(item["name"], item["zone"]) for item in hours["arrays"]] == [
        ("temperature", "one"), ("heat", "one"),
    ]  # fmt: skip
    np.testing.assert_allclose(hours["arrays"][0]["values"], live.operative[:, 0], rtol=1e-12)
    status, body = place.get("hours.json?building=nothing")
    assert status == 422
    assert json.loads(body)["problems"][0]["code"] == "show.no_building"
    answers = json.loads(place.get("answers.json?building=shed")[1])
    assert answers["dawn"]["temp_c"] == live.dawn.temp_c
    assert answers["twin"]["year"]["name"] == "shed"
    weather = json.loads(place.get("weather.json")[1])
    assert weather["arrays"][0]["values"] == golden().weather.temp_air.tolist()
    assert json.loads(place.get("design.json")[1])["path"] == str(design)


def test_the_sun_of_a_day_is_told(place: Served) -> None:
    noon = json.loads(place.get("sun.json?building=house&day=354")[1])
    assert noon["sun_altitude"] == pytest.approx(90.0 - 39.73 - 23.44, abs=0.05)  # closed form
    assert len(noon["marks"]) == 14
    assert noon["marks"][0]["first"] == {"date": "2021-12-21"}
    later = json.loads(place.get("sun.json?building=house&day=354&after=90")[1])
    assert later["sun_azimuth"] > noon["sun_azimuth"] == pytest.approx(180.0, abs=0.1)
    for wrong in ("day=365", "day=-1", "day=soon", "after=721", "building=barn"):
        assert place.get(f"sun.json?{wrong}")[0] == 422


def test_another_building_is_shown_when_asked(page: Page, design: Path) -> None:
    page.say(type="look", building="shed")
    heard = [page.until("year", "twin") for _ in range(2)]  # two solvers: in either order
    year, twin = sorted(heard, key=lambda message: message["type"], reverse=True)
    assert_shows(year, expected(design.read_text("utf-8"), building="shed"))
    assert (twin["type"], twin["building"]) == ("twin", "shed")


# --- editing ------------------------------------------------------------------------------------


def test_held_edit_is_reckoned_and_leaves_the_file_alone(page: Page, design: Path) -> None:
    before = design.read_bytes()
    seq = page.edit("house.eave.projection=1.1 m", hold=True)
    year = page.until("year")
    assert (year["seq"], year["hold"]) == (seq, True)
    assert_shows(year, expected(before.decode(), "house.eave.projection=1.1 m"))
    assert design.read_bytes() == before


def test_of_edits_that_wait_the_newest_is_reckoned(page: Page) -> None:
    for step in range(60):
        last = page.edit(f"house.eave.projection={0.5 + step / 100} m", hold=True)
    answered: list[int] = []
    while last not in answered:
        answered.append(page.until("year")["seq"])
    assert answered == sorted(set(answered))
    assert len(answered) < 40, "not all were reckoned"


def test_edit_let_go_is_in_the_file_and_on_every_page(place: Served, design: Path) -> None:
    with opened(place) as page, opened(place) as other:
        for one in (page, other):
            one.until("twin")
        before = design.read_text("utf-8")
        seq = page.edit("house.eave.projection=1.23 m", hold=False)
        told = page.until("design")
        assert (told["seq"], told["cause"]) == (seq, "edit")
        assert 'projection = "1.23 m"' in design.read_text("utf-8")
        assert told["buildings"][0]["handles"]["projection"]["value"] == 1.23
        year = page.until("year")
        assert (year["seq"], year["hold"], year["revision"]) == (seq, False, told["revision"])
        live = expected(before, "house.eave.projection=1.23 m")
        assert_shows(year, live)
        assert page.until("twin")["revision"] == told["revision"]
        elsewhere = other.until("design")
        assert (elsewhere["seq"], elsewhere["revision"]) == (None, told["revision"])
        year = other.until("year")
        assert year["seq"] is None
        assert_shows(year, live)


def test_edit_said_twice_changes_nothing_more(page: Page, design: Path) -> None:
    page.edit("house.eave.projection=1.31 m", hold=False)
    first = page.until("design")
    page.until("year")
    seq = page.edit("house.eave.projection=1.31 m", hold=False)
    again = page.until("design")
    assert (again["seq"], again["revision"], again["undo"]) == (
        seq,
        first["revision"],
        first["undo"],
    )
    assert page.until("year", where=lambda m: m["seq"] == seq)


@pytest.mark.parametrize("hold", [True, False])
def test_edit_that_can_not_be_is_refused(page: Page, design: Path, hold: bool) -> None:
    before = design.read_bytes()
    seq = page.edit("house.eave.projection=9 m", hold=hold)
    refused = page.until("refused")
    assert (refused["seq"], refused["hold"]) == (seq, hold)
    (problem,) = refused["problems"]
    assert (problem["code"], problem["path"]) == ("design.above", "house.eave.projection")
    assert problem["values"]["limit"] == {"value": 4.0, "kind": "length"}
    assert design.read_bytes() == before
    page.edit("house.eave.projection=1 m", hold=True)
    assert page.until("year")


def test_undo_and_redo_write_the_file(page: Page, design: Path) -> None:
    before = design.read_text("utf-8")
    page.edit("title=Undone", hold=False)
    page.until("design")
    after = design.read_text("utf-8")
    for way, text in (("undo", before), ("redo", after)):
        page.say(type=way)
        told = page.until("design")
        assert told["cause"] == way
        assert design.read_text("utf-8") == text


def test_file_written_by_another_program_is_shown(page: Page, design: Path) -> None:
    text = design.read_text("utf-8")
    design.write_text(text.replace('title = "', 'title = "New '), "utf-8")
    told = page.until("design")
    assert told["cause"] == "outside"
    assert told["title"].startswith("New ")
    design.write_text("schema = 1\nnonsense", "utf-8")
    broken = page.until("design")
    assert broken["problems"][0]["line"] == 2
    assert broken["text"] == "schema = 1\nnonsense"
    assert broken["title"] == told["title"], "the last sound one"
    for hold in (True, False):
        page.edit("title=x", hold=hold)
        assert page.until("refused")["problems"][0]["code"] == "web.file_broken"
    page.say(type="undo")
    assert page.until("design")["problems"] == []
    assert design.read_text("utf-8") == text.replace('title = "', 'title = "New ')


# --- misuse, and what dies ----------------------------------------------------------------------


def test_huge_message_ends_its_own_page_alone(place: Served, page: Page) -> None:
    with opened(place) as bad:
        bad.socket.send('{"type": "edit", "words": ["' + "x" * 100_000 + '"]}')
        with pytest.raises(ConnectionClosed):
            bad.until("nothing of the kind")
    page.edit("house.eave.projection=0.7 m", hold=True)
    assert page.until("year")


def test_flood_of_one_page_leaves_another_its_answers(place: Served, page: Page) -> None:
    with opened(place) as flood:
        for _ in range(500):
            flood.edit("house.eave.projection=0.9 m", hold=True)
        begin = time.monotonic()
        page.edit("house.eave.projection=0.8 m", hold=True)
        assert page.until("year")
        assert time.monotonic() - begin < 10.0
    page.edit("house.eave.projection=0.85 m", hold=True)
    assert page.until("year")


def test_solver_takes_one_core(place: Served, page: Page) -> None:
    page.edit("house.eave.projection=0.35 m", hold=True)
    page.until("year")
    for child in place.children():
        status = Path(f"/proc/{child}/status").read_text("ascii")
        assert re.search(r"^Threads:\s+1$", status, re.MULTILINE), "threads of the algebra library"


def test_job_of_a_dead_solver_is_done_again(place: Served, page: Page) -> None:
    for child in place.children():
        subprocess.run(["kill", "-9", str(child)], check=True)
    seq = page.edit("house.eave.projection=0.66 m", hold=True)
    assert page.until("year")["seq"] == seq


def test_killed_server_loses_nothing(tmp_path: Path) -> None:
    file, state = tmp_path / "house.toml", tmp_path / "state"
    file.write_text(SAMPLE, "utf-8")
    with served(file, state) as first:
        with opened(first) as page:
            page.until("design")
            for feet in (3, 4):
                page.edit(f"house.eave.projection={feet} ft", hold=False)
                page.until("design", where=lambda m: m["cause"] == "edit")
        children = first.children()
        first.kill()
    after = file.read_text("utf-8")
    assert 'projection = "4 ft"' in after
    with served(file, state) as second:
        assert second.address.split("/")[3] == first.address.split("/")[3], "the same token"
        with opened(second) as page:
            told = page.until("design")
            assert (told["undo"], told["redo"]) == (2, 0)
            for wanted in ('"3 ft"', '"2 ft 6 in"'):
                page.say(type="undo")
                page.until("design")
                assert f"projection = {wanted}" in file.read_text("utf-8")
            assert file.read_text("utf-8") == SAMPLE
            page.say(type="redo")
            page.until("design")
    assert run_on(children) == []


def test_interrupt_ends_server_and_solvers(tmp_path: Path, file: Path) -> None:
    with served(file, tmp_path / "state") as found:
        with opened(found) as page:
            page.until("year")
            children = found.children()
            assert children
            found.process.send_signal(signal.SIGINT)
            assert found.process.wait(15) == 0
        assert found.complaints == ""
    assert run_on(children) == []


# --- starting -----------------------------------------------------------------------------------


def test_server_knows_no_compiled_loops() -> None:
    """They take seconds to import, and the first picture must not wait for them."""
    slow = {"numba", "pvlib", "pandas", "scipy"}
    code = f"import sys, noonmark.web.serve; print(sorted({slow} & set(sys.modules)))"
    found = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert found.stdout.strip() == "[]"


def test_port_that_is_taken_is_told(tmp_path: Path, file: Path) -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        command = [sys.executable, "-m", "noonmark", "web", str(file), "--port", str(port)]
        found = subprocess.run(
            [*command, "--no-open"], capture_output=True, text=True, check=False, timeout=60
        )
    assert found.returncode == 2
    assert f"can not listen at port {port}" in found.stderr
    assert found.stdout == ""
