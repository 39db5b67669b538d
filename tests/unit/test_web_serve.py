"""Which file is served when nobody names one, and where."""

from __future__ import annotations

import socket
from importlib.resources import files
from pathlib import Path

import pytest
import uvicorn

from command_line import Run
from mutants import SAMPLE
from noonmark.web import serve as serving
from noonmark.web.journal import FOLDER_VARIABLE


@pytest.fixture(autouse=True)
def empty(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Stand in an empty folder, with a server that ends at once and no browser."""
    here = tmp_path / "here"
    here.mkdir()
    monkeypatch.chdir(here)
    monkeypatch.setenv(FOLDER_VARIABLE, str(tmp_path / "state"))
    monkeypatch.setattr(uvicorn.Server, "run", lambda self, sockets: _close(sockets))
    return here


def _close(sockets: list[socket.socket]) -> None:
    for item in sockets:
        item.close()


def test_copy_of_the_sample_is_opened_where_no_design_lies(run: Run, tmp_path: Path) -> None:
    code, out, err = run("web", "--no-open")
    copy = tmp_path / "state" / "web" / serving.SAMPLE
    assert code == 0
    assert err == f"Opened a copy of the sample house: {copy}\n"
    assert copy.read_text("utf-8") == SAMPLE
    assert out.startswith(f"http://{serving.HOST}:")
    assert out.endswith("/\n")
    copy.write_text(SAMPLE + "# mine\n", "utf-8")
    run("web", "--no-open")
    assert copy.read_text("utf-8").endswith("# mine\n"), "a copy that was changed stays"


def test_only_design_of_the_folder_is_opened(run: Run, empty: Path) -> None:
    (empty / "house.toml").write_text(SAMPLE, "utf-8")
    (empty / "pyproject.toml").write_text('[project]\nname = "other"\n', "utf-8")
    assert run("web", "--no-open")[2] == "Opened the only design in this folder: house.toml\n"
    (empty / "barn.toml").write_text(SAMPLE, "utf-8")
    assert "copy of the sample" in run("web", "--no-open")[2]


def test_named_file_needs_no_words(run: Run, file: Path) -> None:
    first = run("web", file, "--no-open")
    assert (first[0], first[2]) == (0, "")
    again = run("web", file, "--no-open")
    assert again[1].split("/")[3] == first[1].split("/")[3], "the same token"


def test_file_that_is_not_there_is_told_at_once(run: Run) -> None:
    code, out, err = run("web", "hosue.toml", "--no-open")
    assert (code, out) == (2, "")
    assert "can not read the design file" in err


def test_next_free_port_is_taken(run: Run, file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with socket.socket() as taken:
        taken.bind((serving.HOST, 0))
        taken.listen()
        port = taken.getsockname()[1]
        monkeypatch.setattr(serving, "PORT", port)
        address = run("web", file, "--no-open")[1]
        assert f":{port}/" not in address
        code, out, err = run("web", file, "--no-open", "--port", port)
    assert (code, out) == (2, "")
    assert f"can not listen at port {port}" in err
    assert run("web", file, "--no-open", "--port", 99999)[0] == 2


def test_sample_of_the_package_is_the_one_copied() -> None:
    assert files("noonmark.design").joinpath(f"data/{serving.SAMPLE}").read_text("utf-8") == SAMPLE
