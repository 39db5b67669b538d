"""What a builder reads when a design file can not be used: file, line, part, cure."""

from __future__ import annotations

from pathlib import Path

import pytest

from designs import drop, put, refused, sample_text, together
from mutants import SAMPLE, Data
from noonmark.cards.speech import Speech
from noonmark.design import load_design, parse_design
from noonmark.design.file import changed
from noonmark.errors import InputError


def spoken(text: str, *changes: str, metric: bool = True) -> list[str]:
    """Return the lines a user reads about a refused text."""
    speech = Speech("metric" if metric else "us")
    return [speech.explain(problem) for problem in refused(text, changes)]


def line_with(text: str, words: str) -> int:
    return next(i for i, line in enumerate(text.splitlines(), 1) if line.startswith(words))


def test_unreadable_width_is_said_with_line_part_and_cure() -> None:
    text = SAMPLE.replace('width = "6 ft"', 'width = "4 foot long"')
    line = line_with(text, 'width = "4 foot long"')
    assert spoken(text) == [
        f"larkspur.toml:{line}: south window 1, width: "
        """can not read "4 foot long" as a length; write 4 ft, 4' 6 1/2", 2.1 m"""
    ]


def test_wrong_kind_says_what_it_is() -> None:
    (said,) = spoken(SAMPLE.replace('width = "6 ft"', 'width = "R-40"'))
    assert 'south window 1, width: "R-40" is an R-value, but a length belongs here' in said


@pytest.mark.parametrize(
    ("old", "new", "near"),
    [
        ("projection =", "projectoin =", "projection"),
        ("altitude =", "altitud =", "altitude"),
        ("[house.eave]", "[house.eaves]", "eave"),
        ("[place]", "[plaice]", "place"),
        ('name = "kitchen"\nside', 'name = "kitchen"\nsied', "side"),
        ('thickness = "1/2 in"', 'thicknes = "1/2 in"', "thickness"),
        ('length = "12.5 m"', 'lenght = "12.5 m"', "length"),
    ],
)
def test_unknown_key_names_the_nearest_spelling(old: str, new: str, near: str) -> None:
    assert old in SAMPLE
    said = [line for line in spoken(SAMPLE.replace(old, new)) if "is not known here" in line]
    assert len(said) == 1
    assert said[0].partition("nearest: ")[2].split(", ")[0] == near


def test_key_like_no_other_is_answered_with_all_that_are_known() -> None:
    (said,) = spoken(sample_text(put("house.use.zzz", 1)))
    assert said.endswith(
        '"zzz" is not known here; nearest: people, appliances, steady, steady_radiant'
    )


def test_several_problems_are_said_together() -> None:
    text = SAMPLE.replace('width = "6 ft"', 'width = "6 kg"').replace('"1876 m"', '"high"')
    said = spoken(text)
    assert len(said) == 2
    assert [
        f":{line_with(text, words)}: " in one
        for words, one in zip(['altitude = "high"', 'width = "6 kg"'], said, strict=True)
    ] == [True, True]


def test_problems_of_arithmetic_in_several_windows_are_said_together() -> None:
    text = sample_text(put("house.window.0.head", "1 ft"), put("house.window.2.head", "9 ft"))
    said = spoken(text)
    assert len(said) == 2
    assert "south window 1, head: the head (0.30 m) is not above the sill (0.61 m)" in said[0]
    assert "east window 1, head: the head (2.74 m) is above the underside of the header" in said[1]
    assert "(2.49 m): the plate lies at 2.74 m, the header takes 0.25 m below it" in said[1]
    assert "hint: lower the head to 2.49 m, raise the ceiling" in said[1]


def test_units_of_the_reader_are_used() -> None:
    (said,) = spoken(sample_text(put("house.window.0.head", "1 ft")), metric=False)
    assert "the head (1' 0\") is not above the sill (2' 0\")" in said


def test_one_rule_does_not_silence_another() -> None:
    wrong = together(put("house.window.0.head", "9 ft"), drop("house.eave.soffit_height"))
    assert [p.code for p in refused(sample_text(wrong))] == [
        "design.head_above_header",
        "design.no_heel",
    ]


@pytest.mark.parametrize("faces", ["south", float("nan"), True, [1]])
def test_window_without_a_known_side_is_still_named(faces: object) -> None:
    text = sample_text(put("house.faces", faces), put("house.window.1.width", "6 kg"))
    assert any(": window 2, width: " in said for said in spoken(text))


def test_window_with_a_strange_side_is_still_named() -> None:
    text = sample_text(put("house.window.1.side", [{"a": 1}]))
    assert any("window 2, side: " in said for said in spoken(text))


def test_windows_are_counted_on_their_own_side() -> None:
    text = sample_text(put("house.faces", "170 deg"), put("house.window.4.width", "R-4"))
    (said,) = spoken(text)
    assert ": north window 1, width: " in said


@pytest.mark.parametrize(
    ("content", "code", "line"),
    [
        (b"schema = 1\ntitle = \n", "design.not_toml", 2),
        (b"schema = 1\n[a]\n[a]\n", "design.not_toml", 3),
        (b"\xff\xfe", "design.not_text", None),
        (b"#" * 1_000_001, "design.too_large", None),
        (b"schema = 1\nx = " + b"[" * 5000, "design.not_toml", 2),
        (b"", "design.schema_missing", None),
        (b"schema = 7\n", "design.schema", 1),
        (b"schema = 1\nhose = 3\n", "design.unknown_key", 2),
    ],
)
def test_file_that_is_no_design(
    tmp_path: Path, content: bytes, code: str, line: int | None
) -> None:
    path = tmp_path / "x.toml"
    path.write_bytes(content)
    with pytest.raises(InputError) as caught:
        load_design(path)
    assert [(p.code, p.file, p.line) for p in caught.value.problems] == [(code, "x.toml", line)]


def test_missing_file_and_folder(tmp_path: Path) -> None:
    for path, reason in ((tmp_path / "none.toml", "No such file"), (tmp_path, "Is a directory")):
        with pytest.raises(InputError, match="no_file") as caught:
            load_design(path)
        said = Speech().explain_all(caught.value)
        assert said.startswith(f"{path}: can not read the design file: {reason}")


def test_byte_order_mark_and_other_line_ends_are_read(tmp_path: Path) -> None:
    path = tmp_path / "x.toml"
    for content in (b"\xef\xbb\xbf" + SAMPLE.encode(), SAMPLE.replace("\n", "\r\n").encode()):
        path.write_bytes(content)
        assert load_design(path).homestead == parse_design(SAMPLE).homestead


@pytest.mark.parametrize("name", ["2", "a.b", "a.window.1", "window", "", "٣"])
def test_strange_names_of_buildings_are_no_trouble(name: str) -> None:
    def rename(data: Data) -> None:
        data[name] = data.pop("house")
        data[name]["window"][0]["width"] = "6 kg"

    assert any(
        "can not read" in said or "is a mass" in said for said in spoken(sample_text(rename))
    )


def test_zone_called_by_a_number_keeps_its_line() -> None:
    text = SAMPLE.replace("[house.zone.rooms]", "[house.zone.1]").replace('"12.5 m"', '"12.5 kg"')
    (problem,) = refused(text)
    assert problem.line == line_with(text, 'length = "12.5 kg"')


@pytest.mark.parametrize(
    ("path", "value", "words"),
    [
        ("house.window.1.escape", [1], 'escape: "[1]" is not true or false'),
        ("house.window.1.casements", 1.5, 'casements: "1.5" is not a whole number'),
        ("house.window.1.count", "many", 'count: "many" is not a number'),
        ("house.window.1.name", 3, 'name: "3" is not text'),
        ("house.window", 3, 'window: "3" is not a list'),
        ("house.zone", 3, 'zone: "3" is not a table'),
        ("house.roof", 3, 'roof: "3" is not a table'),
        ("place.latitude", float("nan"), 'latitude: "nan" is not a finite number'),
        ("title", "x" * 121, "title: this text is longer than 120 letters"),
        ("place.altitude", "9 km", "altitude: 9 km must be at most 6000 m"),
        ("house.roof.pitch", "80 deg", "pitch: 80 deg must be at most 71.6°"),
        ("house.roof.pitch", 6, "pitch: 6 counts as 80.5° here, and must be at most 71.6°"),
        ("house.floor.carpet", "30", "carpet: 30 counts as 3000 % here, and must be at most 100 %"),
        (
            "house.heating.setpoint",
            61,
            "setpoint: 61 counts as 61.0 °C here, and must be at most 60.0 °C",
        ),
    ],
)
def test_what_belongs_there_is_said_in_plain_words(path: str, value: object, words: str) -> None:
    said = spoken(sample_text(put(path, value)))
    assert len(said) == 1
    assert words in said[0]


def test_inch_mark_that_ends_the_quotes_leads_to_words() -> None:
    text = SAMPLE.replace('width = "6 ft"', 'width = "6\' 2""', 1)
    line = line_with(text, 'width = "6\' 2""')
    (said,) = spoken(text)
    assert said.startswith(f"larkspur.toml:{line}: this is not valid TOML")
    assert 'write "4 ft 6 in"' in said


@pytest.mark.parametrize(
    ("written", "meant"), [("U 20", "R-20.0"), ("20", "R-20.0"), ("12 W/m2K", "R-68.1")]
)
def test_r_value_in_the_place_of_a_u_value_is_asked_back(written: str, meant: str) -> None:
    """The likely reading is named: R-20, or RSI 12 (68.1 in US units)."""
    words = f'glazing={{x={{panes=2, u_value="{written}", shgc=0.5, transmittance=0.4}}}}'
    with pytest.raises(InputError) as caught:
        changed(parse_design(SAMPLE), [words])
    (problem,) = caught.value.problems
    assert problem.code == "design.u_or_r"
    assert f"if {meant} was meant" in Speech("us").explain(problem)
