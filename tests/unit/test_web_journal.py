"""The journal: kept before the file, walked both ways, whole after a server was killed."""

from __future__ import annotations

import json
import os
import stat
from itertools import pairwise
from pathlib import Path

import pytest

from noonmark.web import journal as journals
from noonmark.web.journal import Entry, Journal, folder_of, token_of


def change(before: str, after: str) -> Entry:
    return Entry((f"to={after}",), before, after)


def walked(journal: Journal, texts: str) -> Journal:
    """Return the journal after the changes from letter to letter."""
    for before, after in pairwise(texts):
        journal.note(change(before, after), owed=True)
        journal.written()
    return journal


def test_changes_and_place_are_there_when_read_again(tmp_path: Path) -> None:
    journal = walked(Journal(tmp_path), "abcd")
    assert journal.step(-1) == "c"
    journal.written()
    again = Journal(tmp_path)
    assert (again.text, again.undoable, again.redoable, again.over) == ("c", 2, 1, None)
    assert again.entries == journal.entries
    assert [again.step(-1), again.step(-1), again.step(-1)] == ["b", "a", None]
    assert [again.step(1), again.step(1), again.step(1), again.step(1)] == ["b", "c", "d", None]


def test_change_after_undo_forgets_what_was_taken_back(tmp_path: Path) -> None:
    journal = walked(Journal(tmp_path), "abc")
    journal.step(-1)
    journal.note(change("b", "x"), owed=True)
    again = Journal(tmp_path)
    assert (again.text, again.undoable, again.redoable) == ("x", 2, 0)


def test_text_that_the_file_may_still_hold_is_known(tmp_path: Path) -> None:
    journal = walked(Journal(tmp_path), "ab")
    journal.note(change("b", "c"), owed=True)
    journal.note(change("c", "d"), owed=True)
    assert Journal(tmp_path).over == "b"
    assert Journal(tmp_path).over == "b", "reading it again writes it anew"
    stepped = Journal(tmp_path)
    stepped.written()
    stepped.step(-1)
    assert Journal(tmp_path).over == "d"
    stepped.note(Entry((), "c", "e"), owed=False)
    assert Journal(tmp_path).over is None


@pytest.mark.parametrize("cut", [1, 20, 60])
def test_torn_last_line_counts_for_nothing(tmp_path: Path, cut: int) -> None:
    walked(Journal(tmp_path), "abc")
    path = tmp_path / "journal.jsonl"
    line = json.dumps({"words": [], "before": "c", "after": "d" * 100, "owed": True})
    path.write_text(path.read_text("utf-8") + line[:-cut], "utf-8")
    again = Journal(tmp_path)
    assert again.text == "c"
    walked(again, "ce")
    assert Journal(tmp_path).text == "e", "what came after the torn line is read"


def test_line_that_could_not_be_finished_does_not_spoil_the_next(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    journal = walked(Journal(tmp_path), "ab")
    full = os.fsync

    def fail(handle: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", fail)
    journal.note(change("b", "c"), owed=True)
    monkeypatch.setattr(os, "fsync", full)
    path = tmp_path / "journal.jsonl"
    path.write_bytes(path.read_bytes()[:-7])
    journal.note(change("c", "d"), owed=True)
    assert [entry.after for entry in Journal(tmp_path).entries] == ["b", "c", "d"]


def test_newest_are_kept(tmp_path: Path) -> None:
    journal = Journal(tmp_path)
    for number in range(journals.MOST_KEPT + 50):
        journal.note(change(str(number), str(number + 1)), owed=False)
    again = Journal(tmp_path)
    assert len(again.entries) == journals.MOST_KEPT
    assert again.text == str(journals.MOST_KEPT + 50)
    assert again.entries[0].before == "50"


def test_journal_of_large_texts_does_not_grow(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(journals, "LARGEST", 40_000)
    journal = Journal(tmp_path)
    for number in range(60):
        text = str(number % 10) * 1000
        journal.note(Entry((), text, text), owed=False)
    assert (tmp_path / "journal.jsonl").stat().st_size < 45_000
    assert 2 <= len(Journal(tmp_path).entries) < 30


def test_changes_taken_back_are_not_dropped_before_the_one_in_force(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    journal = walked(Journal(tmp_path), "abcdef")
    for _ in range(4):
        journal.step(-1)
    monkeypatch.setattr(journals, "MOST_KEPT", 2)
    again = Journal(tmp_path)
    assert (again.text, again.redoable) == ("b", 4)


def test_folder_that_can_not_be_written_leaves_it_in_memory(tmp_path: Path) -> None:
    journal = walked(Journal(tmp_path / "not" / "there"), "abc")
    assert (journal.text, journal.undoable) == ("c", 2)


def test_token_is_made_once_for_its_owner_alone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv(journals.FOLDER_VARIABLE, str(tmp_path))
    folder = folder_of(Path("/somewhere/house.toml"))
    token = token_of(folder)
    assert len(token) >= 43
    assert token_of(folder) == token
    assert stat.S_IMODE((folder / "token").stat().st_mode) == 0o600
    assert stat.S_IMODE(folder.stat().st_mode) == 0o700
    other = folder_of(Path("/somewhere/barn.toml"))
    assert other != folder
    assert token_of(other) != token
    (folder / "token").write_text("short", "ascii")
    assert len(token_of(folder)) >= 43
