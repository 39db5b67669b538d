"""Tables on a terminal of eighty signs, and on narrower ones: nothing is cut off."""

from __future__ import annotations

import re

import pytest

from command_line import Run
from noonmark.cards.tables import Table
from noonmark.cli.output import print_table


@pytest.mark.parametrize("columns", [40, 80, 200])
def test_every_word_of_a_table_is_printed(
    columns: int, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", str(columns))
    heading = ("glass", "useful in the year", *("hours above 26 C of some zone",) * 6)
    rows = (("a glazing of a rather long name", *("5' 11 3/4\"",) * 7),)
    print_table(Table("a title of some words", heading, rows))
    out = capsys.readouterr().out
    words = [word for text in (*heading, rows[0][0]) for word in text.split()]
    assert sorted(re.findall(r"[\w]+", out)).count("26") == 6
    assert all(word in out for word in words)
    assert out.count("5' 11 3/4\"") == 7, "feet stay with their inches"
    assert "\u2026" not in out


@pytest.mark.parametrize("words", [("glass",), ("marks",), ("damp",), ("season",)])
def test_tables_of_the_sample_fit_eighty_signs(
    run: Run, file: object, words: tuple[str, ...], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", "80")
    code, out, _ = run(*words, file)
    assert code == 0
    rules = [line for line in out.splitlines() if "\u2500" in line]
    assert rules
    assert max(map(len, rules)) <= 80
    if words == ("glass",):
        assert re.search(r"above 26", out)
        row = next(line for line in out.splitlines() if "single clear" in line)
        assert row.split()[-1].isdigit(), "the hours stand at the end"
