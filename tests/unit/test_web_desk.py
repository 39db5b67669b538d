"""The desk: edits, undo, and what other programs do to the file meanwhile."""

from __future__ import annotations

import os
import stat
import tempfile
from pathlib import Path

import pytest

from noonmark.errors import InputError
from noonmark.web.desk import Desk, Standing
from noonmark.web.journal import Journal

WIDER = ["house.eave.projection=3 ft"]
BROKEN = 'schema = 1\ntitle = "half a'


@pytest.fixture
def state(tmp_path: Path) -> Path:
    folder = tmp_path / "state"
    folder.mkdir()
    return folder


@pytest.fixture
def desk(file: Path, state: Path) -> Desk:
    return Desk(file, Journal(state))


def codes(standing: Standing | None) -> list[str]:
    assert standing is not None
    return [problem.code for problem in standing.problems]


def eave(standing: Standing | None) -> float:
    assert standing is not None
    assert standing.design is not None
    return standing.design.homestead.buildings["house"].eave.projection


def write(file: Path, text: str) -> None:
    """Write a file as another program does, later than all before."""
    later = (file.stat().st_mtime_ns if file.exists() else 0) + 1_000_000_000
    file.write_text(text, "utf-8", newline="")
    os.utime(file, ns=(later, later))


def test_edit_is_in_the_file_with_its_comments(desk: Desk, file: Path) -> None:
    before = file.read_text("utf-8")
    now = desk.edit(WIDER)
    after = file.read_text("utf-8")
    assert after == before.replace('projection = "2 ft 6 in"', 'projection = "3 ft"')
    assert "# the sunny side looks to true south" in after
    assert (now.cause, now.undo, now.redo, now.revision) == ("edit", 1, 0, 2)
    assert eave(now) == pytest.approx(0.9144)


def test_undo_and_redo_write_the_file_to_the_letter(desk: Desk, file: Path) -> None:
    texts = [file.read_text("utf-8")]
    for feet in (3, 4):
        desk.edit([f"house.eave.projection={feet} ft"])
        texts.append(file.read_text("utf-8"))
    for cause, wanted in (("undo", 1), ("undo", 0), ("undo", 0), ("redo", 1), ("redo", 2)):
        now = desk.undo() if cause == "undo" else desk.redo()
        assert file.read_text("utf-8") == texts[wanted]
        assert (now.undo, now.redo) == (wanted, 2 - wanted)
        assert now.cause == cause


def test_edit_that_can_not_be_changes_nothing(desk: Desk, file: Path) -> None:
    before, now = file.read_text("utf-8"), desk.now
    for words in (["house.eave.projection=9 m"], ["house.nothing.here=1"], ["no equals sign"]):
        with pytest.raises(InputError):
            desk.edit(words)
    with pytest.raises(InputError) as caught:
        desk.edit([f"house.{'x' * 10}={'y' * 1_100_000}"])
    assert caught.value.problems
    assert file.read_text("utf-8") == before
    assert desk.now is now


def test_same_edit_twice_is_one_change(desk: Desk) -> None:
    first = desk.edit(WIDER)
    assert desk.edit(WIDER) is first


def test_line_ends_and_permissions_stay(desk: Desk, file: Path) -> None:
    write(file, file.read_text("utf-8").replace("\n", "\r\n"))
    file.chmod(0o640)
    assert codes(desk.poll()) == []
    desk.edit(WIDER)
    data = file.read_bytes()
    assert data.count(b"\r\n") == data.count(b"\n")
    assert stat.S_IMODE(file.stat().st_mode) == 0o640


def test_link_is_followed(file: Path, state: Path, tmp_path: Path) -> None:
    link = tmp_path / "link.toml"
    link.symlink_to(file)
    Desk(link, Journal(state)).edit(WIDER)
    assert link.is_symlink()
    assert '"3 ft"' in file.read_text("utf-8")


# --- another program ----------------------------------------------------------------------------


def test_file_written_by_another_program_is_taken_and_undo_leads_back(
    desk: Desk, file: Path
) -> None:
    desk.edit(WIDER)
    ours = file.read_text("utf-8")
    theirs = ours.replace('"3 ft"', '"4 ft"')
    write(file, theirs)
    now = desk.poll()
    assert eave(now) == pytest.approx(1.2192)
    assert now
    assert (now.cause, now.undo) == ("outside", 2)
    assert desk.poll() is None
    desk.undo()
    assert file.read_text("utf-8") == ours


def test_touched_file_is_no_change(desk: Desk, file: Path) -> None:
    write(file, file.read_text("utf-8"))
    assert desk.poll() is None
    assert desk.now.revision == 1


def test_broken_file_is_told_and_the_last_sound_design_stays(desk: Desk, file: Path) -> None:
    sound = file.read_text("utf-8")
    write(file, BROKEN)
    assert desk.poll() is None, "somebody may still be writing"
    now = desk.poll()
    assert now
    assert codes(now) == ["design.not_toml"]
    assert now.problems[0].line == 2
    assert now.text == BROKEN
    assert eave(now) == pytest.approx(0.762)
    with pytest.raises(InputError) as caught:
        desk.edit(WIDER)
    assert caught.value.problems[0].code == "web.file_broken"
    assert file.read_text("utf-8") == BROKEN
    write(file, sound)
    assert codes(desk.poll()) == []


def test_edit_does_not_write_over_a_file_that_just_broke(desk: Desk, file: Path) -> None:
    write(file, BROKEN)
    with pytest.raises(InputError) as caught:
        desk.edit(WIDER)
    assert caught.value.problems[0].code == "web.file_broken"
    assert file.read_text("utf-8") == BROKEN


def test_undo_mends_a_file_that_another_program_broke(desk: Desk, file: Path) -> None:
    sound = file.read_text("utf-8")
    write(file, BROKEN)
    now = desk.undo()
    assert codes(now) == []
    assert file.read_text("utf-8") == sound
    assert codes(desk.redo()) == ["design.not_toml"]


def test_file_that_is_gone_is_told_and_comes_back(desk: Desk, file: Path) -> None:
    text = desk.edit(WIDER) and file.read_text("utf-8")
    file.unlink()
    assert codes(desk.poll()) == ["design.no_file"]
    assert desk.poll() is None
    assert eave(desk.now) == pytest.approx(0.9144)
    file.write_text(str(text), "utf-8")
    now = desk.poll()
    assert codes(now) == []
    file.unlink()
    desk.poll()
    desk.undo()
    assert '"2 ft 6 in"' in file.read_text("utf-8"), "undo writes it anew"


@pytest.mark.parametrize(("data", "code"), [
    (b"\xff\xfe\x00", "design.not_text"), (b"#" * 1_000_001, "design.too_large"),
    (b"", "design.schema_missing"),
])  # fmt: skip
def test_file_of_other_things_is_told(desk: Desk, file: Path, data: bytes, code: str) -> None:
    file.write_bytes(data)
    desk.poll()
    desk.poll()
    assert codes(desk.now) == [code]
    assert eave(desk.now) == pytest.approx(0.762)


# --- a disk that can not be written, a server that was killed ------------------------------------


@pytest.fixture
def full(monkeypatch: pytest.MonkeyPatch) -> pytest.MonkeyPatch:
    """Let no design be written, as on a full disk; `undo` frees it."""

    def fail(*, dir: Path, prefix: str) -> tuple[int, str]:  # noqa: A002
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(tempfile, "mkstemp", fail)
    return monkeypatch


def test_change_of_a_full_disk_is_in_the_journal_and_written_later(
    desk: Desk, file: Path, state: Path, full: pytest.MonkeyPatch
) -> None:
    before = file.read_text("utf-8")
    now = desk.edit(WIDER)
    assert now.unwritten
    assert now.unwritten.code == "file.unwritable"
    assert eave(now) == pytest.approx(0.9144)
    assert file.read_text("utf-8") == before
    assert desk.poll() is None
    assert desk.edit(["title=More"]).unwritten
    full.undo()
    mended = desk.poll()
    assert mended
    assert mended.unwritten is None
    assert '"3 ft"' in file.read_text("utf-8")
    assert 'title = "More"' in file.read_text("utf-8")


def test_change_of_a_full_disk_is_written_by_the_next_server(
    desk: Desk, file: Path, state: Path, full: pytest.MonkeyPatch
) -> None:
    desk.edit(WIDER)
    full.undo()
    again = Desk(file, Journal(state))
    assert eave(again.now) == pytest.approx(0.9144)
    assert '"3 ft"' in file.read_text("utf-8")
    assert again.now.undo == 1


def test_text_written_by_another_program_goes_before_one_never_written(
    desk: Desk, file: Path, state: Path, full: pytest.MonkeyPatch
) -> None:
    theirs = file.read_text("utf-8").replace('"2 ft 6 in"', '"4 ft"')
    desk.edit(WIDER)
    full.undo()
    write(file, theirs)
    for standing in (desk.poll(), Desk(file, Journal(state)).now):
        assert eave(standing) == pytest.approx(1.2192)
        assert file.read_text("utf-8") == theirs
    desk.undo()
    assert '"3 ft"' in file.read_text("utf-8")


def test_server_killed_between_journal_and_file_loses_nothing(file: Path, state: Path) -> None:
    first = Desk(file, Journal(state))
    first.edit(WIDER)
    ours, before = file.read_text("utf-8"), first.journal.entries[0].before
    lines = (state / "journal.jsonl").read_text("utf-8").splitlines(keepends=True)
    (state / "journal.jsonl").write_text("".join(lines[:-1]), "utf-8")
    file.write_text(before, "utf-8")
    again = Desk(file, Journal(state))
    assert file.read_text("utf-8") == ours
    assert again.now.undo == 1
    again.undo()
    assert file.read_text("utf-8") == before


def test_file_changed_while_no_server_ran_is_noted(desk: Desk, file: Path, state: Path) -> None:
    desk.edit(WIDER)
    ours = file.read_text("utf-8")
    write(file, ours.replace('"3 ft"', '"4 ft"'))
    again = Desk(file, Journal(state))
    assert (again.now.cause, again.now.undo) == ("start", 2)
    again.undo()
    assert file.read_text("utf-8") == ours


@pytest.mark.parametrize("text", [BROKEN, "", None])
def test_broken_file_opens_with_the_last_sound_text_of_the_journal(
    desk: Desk, file: Path, state: Path, text: str | None
) -> None:
    desk.edit(WIDER)
    if text is None:
        file.unlink()
    else:
        write(file, text)
    again = Desk(file, Journal(state))
    assert len(codes(again.now)) == 1
    assert eave(again.now) == pytest.approx(0.9144)


def test_broken_file_without_a_journal_opens_without_a_design(file: Path, state: Path) -> None:
    sound = file.read_text("utf-8")
    write(file, BROKEN)
    desk = Desk(file, Journal(state))
    assert codes(desk.now) == ["design.not_toml"]
    assert desk.now.design is None
    write(file, sound)
    assert codes(desk.poll()) == []
