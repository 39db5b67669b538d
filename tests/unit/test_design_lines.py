"""The table of lines agrees with the parser on every shape of TOML."""

from __future__ import annotations

import pytest

from noonmark.design.lines import line_of, line_table

TEXT = '''# comment [not.a.table]
schema = 1
"quoted key" = 2   # with = sign
'single.quoted' = 3
a.b."c d" = 4

[house]   # the house
kind = "house"
[house.zone."sun room"]
width = 3
layers = [
  { material = "osb" },
  { material = "x = y" },
]
after = 1
[[house.window]]
width = 1
[[house.window]]   # second
width = 2
[house.window.reveal]
depth = 5
[[house.window.bars]]
n = 1
[[house.window.bars]]
n = 2
[[house.window]]
text = """
width = 9
[fake]
"""
head = 3
literal = \'\'\'
sill = 4
[[house.window]]
\'\'\'
last = { a = 1, b = "]" }
  [ spaced . table ]
  key   =   1
["house".eave]
projection = 2
'''


def number_of(start: str) -> int:
    return next(i for i, line in enumerate(TEXT.splitlines(), 1) if line.strip().startswith(start))


@pytest.mark.parametrize(
    ("place", "start"),
    [
        (("schema",), "schema"),
        (("quoted key",), '"quoted key"'),
        (("single.quoted",), "'single.quoted'"),
        (("a", "b", "c d"), "a.b"),
        (("house",), "[house]"),
        (("house", "kind"), "kind"),
        (("house", "zone", "sun room"), "[house.zone"),
        (("house", "zone", "sun room", "width"), "width = 3"),
        (("house", "zone", "sun room", "layers"), "layers"),
        (("house", "zone", "sun room", "layers", 1, "material"), "layers"),
        (("house", "zone", "sun room", "after"), "after"),
        (("house", "window", 0), "[[house.window]]"),
        (("house", "window", 0, "width"), "width = 1"),
        (("house", "window", 1, "width"), "width = 2"),
        (("house", "window", 1, "reveal", "depth"), "depth"),
        (("house", "window", 1, "bars", 0, "n"), "n = 1"),
        (("house", "window", 1, "bars", 1, "n"), "n = 2"),
        (("house", "window", 2, "text"), "text"),
        (("house", "window", 2, "head"), "head"),
        (("house", "window", 2, "literal"), "literal"),
        (("house", "window", 2, "last", "b"), "last"),
        (("spaced", "table", "key"), "key"),
        (("house", "eave", "projection"), "projection"),
        (("house", "eave", "ends"), '["house".eave]'),
    ],
)
def test_line_of(place: tuple[str | int, ...], start: str) -> None:
    assert line_of(line_table(TEXT), place) == number_of(start)


def test_unknown_place_has_no_line() -> None:
    assert line_of(line_table(TEXT), ("nothing", "here")) is None


def test_words_inside_longer_texts_and_arrays_are_no_keys() -> None:
    table = line_table(TEXT)
    assert ("fake",) not in table
    assert ("house", "window", 2, "width") not in table
    assert ("house", "window", 2, "sill") not in table
    assert ("house", "window", 3) not in table
    arrays = "a = [\n  'b = 1', # c = 2\n  '''\nd = 3''',\n]\ne = 4\n"
    assert line_table(arrays) == {("a",): 1, ("e",): 6}
