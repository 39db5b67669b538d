"""Every sentence is there, gets its values, is used, and speaks plain words."""

from __future__ import annotations

import re
import tomllib
from string import Formatter
from typing import get_args

import pytest

from noonmark import catalog
from noonmark.cards.speech import Speech, _flat, languages, sentences
from noonmark.catalog.tables import _FILES
from noonmark.design import model, services
from noonmark.design.part import Part
from noonmark.design.problems import _LIMITS, _WANTED
from noonmark.errors import InputError, Problem, Sentence
from noonmark.place.site import COMPASS
from noonmark.units import KINDS, Quantity
from spoken import SOURCES, Spoken, all_spoken

ENGLISH = sentences("en")
MONTHS = [str(number) for number in range(1, 13)]
WORDS_OF_KINDS = [*KINDS, *_FILES.values(), *_WANTED.values()]
FACES = get_args(model.Roof.model_fields["measured_from"].annotation)
PARTS = ["wall", "window", "roof", "floor", "air", "partition", "solar", "inside", "heater"]
PARTS += ["between", "stove", "slab"]

OPEN_KEYS: dict[str, list[str]] = {
    "cards/damptables.py column": [
        "window", "glass_factor", "edge_factor", "frame_factor", "glass_hours", "edge_hours",
    ],
    "cards/damptables.py item.part": ["wall", "roof"],
    "cards/damptables.py item.verdict": ["dry", "dries", "stays"],
    "cards/damptables.py item.month": MONTHS,
    "cards/damptables.py item.dry_by": MONTHS,
    "cards/damptables.py kind": ["outdoor", "glass", "edge", "corner"],
    "cards/glasstables.py column": [
        "glazing", "u_value", "shgc", "useful", "heating", "hours",
    ],
    "cards/marktables.py column": [
        "date", "time", "when", "below_soffit", "above_sill", "above_floor", "blur",
    ],
    "cards/marktables.py field": [
        "line", "date", "time", "read", "expected", "difference", "counts",
    ],
    "cards/marktables.py mark.when": ["noon", "morning", "afternoon", "clock"],
    "cards/marktables.py name": ["faces", "projection", "soffit", "clock"],
    "cards/marktables.py part": ["drawn", "value", "lowest", "highest"],
    "cards/marktables.py why": [
        "no_sun", "behind", "ground", "soffit", "eave_end", "other_shade",
    ],
    "cards/shadetables.py number": MONTHS,
    "cards/shadetables.py turn": [
        "full_sun_until", "half_shaded_on", "full_shade_from", "full_shade_to", "full_sun_from",
    ],
    "cards/shadetables.py when": ["noon", "clock_9", "clock_12", "clock_15", "day"],
    "cards/shadetables.py dates.all_year": ["full_sun", "full_shade"],
    "cards/shadetables.py item.part": ["eave", "hood", "awning"],
    "cards/shadetables.py key": ["projection", "gap"],
    "cards/shadetables.py piece.part": ["board", "side"],
    "cards/speech.py day.month": MONTHS,
    "cards/staketables.py item.part": ["equator", "ridge"],
    "cards/staketables.py item.wall": ["sunny", "left", "back", "right"],
    "cards/staketables.py noon.shadow_to": ["north", "south"],
    "cards/staketables.py noon.use": ["overhead", "low", "dark"],
    "cards/stakewords.py noon.use": ["good", "overhead", "low", "dark"],
    "cards/tables.py index + 1": MONTHS,
    "cards/tables.py flow.part": PARTS,
    "cards/tables.py key": [
        "heating", "fuel", "peak", "coldest", "warmest", "above", "glass",
        "month", "outdoors", "inside", "sun", "heater",
    ],
    "cards/windowtable.py azimuth_name(row.azimuth)": list(COMPASS),
    "cards/windowtable.py column": [
        "number", "name", "side", "count", "size", "rough", "sill", "head", "glazing",
        "u_value", "shgc", "area", "notes",
    ],
    "climate/textfile.py kind": ["climate", "markfile"],
    "cli/draw.py azimuth_name(face.azimuth)": list(COMPASS),
    "cli/work.py result.climate.trust": ["typical_year"],
    "choose/glass.py kind": ["sunny", "other"],
    "choose/glass.py verdict": ["holds", "even", "wrong"],
    "design/problems.py _LIMITS[kind][0]": [code for code, _ in _LIMITS.values()],
    "design/problems.py kind": ["too_short", "too_long"],
    "sheets/book.py self.paper": ["a4", "letter"],
    "sheets/book.py side": ["north", "south", "east", "west"],
    "sheets/compose.py number": MONTHS,
    "sheets/markwords.py mark.when": ["noon", "morning", "afternoon", "clock"],
    "sheets/markwords.py speech.system": ["metric", "us"],
    "sheets/compose.py word": [
        "floor", "sill", "head", "soffit", "plate", "fascia", "gutter", "heel", "end_heel",
        "insulation", "pole",
    ],
    "sheets/stakesheet.py key": ["by_compass", "by_noon", "by_circle", "squared"],
    "sheets/stakesheet.py mark": ["morning", "afternoon", "rod"],
    "sheets/stakesheet.py name": ["rose", "circle", "plan"],
    "sheets/stakesheet.py picture": ["rose", "circle"],
    "sheets/stakesheet.py point": ["n", "e", "s", "w"],
    "sheets/outlookwords.py kind": ["own", "solid", "thin", "hills", "frame"],
    "sheets/dxfwords.py word": [
        "ridge", "soffit", "plate", "head", "sill", "floor", "ground",
    ],
    "sheets/sunwords.py hour": ["noon", "clock_9", "clock_15"],
    "sheets/sunwords.py ray.hour": ["sunrise", "noon", "sunset", "clock_9", "clock_15"],
    "sheets/sunwords.py word": ["ridge", "soffit", "plate", "head", "sill", "floor"],
    "study/stakeout.py key": ["sun_eyes", "dig_call", "boundary", "needle", "rod"],
}  # fmt: skip
"""What the open part of a key can be, where reading the sources does not tell."""

VALUES = {
    "caution.stamps": {"source", "read", "right"},
    **{
        key: {"title", "when", "below_soffit", "above_sill", "above_floor", "blur"}
        for key in (
            "marks.event",
            "marks.event_heights",
            "marks.event_heights_sill",
            "marks.event_heights_below_sill",
        )
    },
    "design.u_or_r": {"read", "limit", "resistance", "meant"},
    "marks.pole_title": {"title", "building", "side", "years", "window"},
}
"""Names of the values of a sentence, where reading the sources does not tell."""

SPOKEN = all_spoken(OPEN_KEYS)


def placeholders(key: str) -> set[str]:
    return {name for _, name, _, _ in Formatter().parse(ENGLISH[key]) if name}


def test_sources_speak_as_much_as_we_know() -> None:
    assert len(SPOKEN) > 190
    modules = {item.where.partition("/")[0] for item in SPOKEN}
    assert modules >= {"balance", "cards", "catalog", "cli", "climate", "design", "envelope"}
    assert modules >= {"glazing", "place", "shading", "shape", "sheets", "study", "units"}


@pytest.mark.parametrize("item", SPOKEN, ids=lambda item: f"{item.where} {item.key}")
def test_sentence_is_there_and_gets_its_values(item: Spoken) -> None:
    assert item.key in ENGLISH
    values = VALUES.get(item.key) if item.values is None else item.values
    assert values is not None, "say the names of the values in VALUES"
    assert placeholders(item.key) <= values
    if f"{item.key}.hint" in ENGLISH:
        assert placeholders(f"{item.key}.hint") <= values


def test_values_said_by_hand_are_those_of_unread_sentences_only() -> None:
    assert {item.key for item in SPOKEN if item.values is None} == set(VALUES)


@pytest.mark.parametrize(
    ("table", "words"),
    [
        ("side", list(COMPASS)),
        ("kind", WORDS_OF_KINDS),
        ("month", MONTHS),
        ("month_short", MONTHS),
    ],
)
def test_tables_of_words_are_complete(table: str, words: list[str]) -> None:
    found = {key.partition(".")[2] for key in ENGLISH if key.startswith(f"{table}.")}
    assert found == set(words)


OTHERS = [language for language in languages() if language != "en"]


@pytest.mark.parametrize("language", OTHERS)
def test_another_language_says_the_whole_page_with_the_same_values(language: str) -> None:
    folder = SOURCES / "cards" / "sentences"
    own = _flat(tomllib.loads((folder / f"{language}.toml").read_text("utf-8")))
    assert set(own) <= set(ENGLISH)
    assert {
        key for key in ENGLISH if key.startswith(("page.", "side.", "month", "number."))
    } <= set(own)
    for key, sentence in own.items():
        found = {name for _, name, _, _ in Formatter().parse(sentence) if name}
        assert found == placeholders(key), key


def test_numbers_follow_the_language() -> None:
    german = Speech("metric", "de")
    assert german.number(12345.6, 1) == "12.345,6"
    dawn = {"date": "1. Jan", "outdoor": Quantity(-3.25, "temperature")}
    assert german.say(Sentence("page.dawn_note", dawn)) == "1. Jan, −3,2 °C draußen"
    assert german.word("goal.heating") == ENGLISH["goal.heating"]  # not said in German yet


PAGE = SOURCES.parents[1] / "page" / "src"
SAID = re.compile(r"""\b(?:word|say)\(\s*["`]([a-z_.]+)(\$\{)?""")


def said_by_the_page() -> set[str]:
    """Return the keys that the page's sources name, an open end filled with all that fit."""
    text = "\n".join(path.read_text("utf-8") for path in sorted(PAGE.rglob("*.ts*")))
    keys = set(re.findall(r'"([a-z_]+\.[a-z_]+)"', text)) & set(ENGLISH)
    for name, is_open in SAID.findall(text):
        found = {key for key in ENGLISH if key.startswith(name)} if is_open else {name}
        assert found & set(ENGLISH), f"the page says {name}, which is no sentence"
        keys |= found
    return keys


def test_page_says_only_sentences_that_are_there() -> None:
    said = said_by_the_page()
    assert said <= set(ENGLISH)
    assert len([key for key in said if key.startswith("page.")]) > 60


def test_no_sentence_is_unused() -> None:
    used = {item.key for item in SPOKEN} | said_by_the_page()
    used |= {f"{key}.hint" for key in used}
    used |= {f"side.{point}" for point in COMPASS}
    used |= {f"kind.{kind}" for kind in WORDS_OF_KINDS}
    used |= {f"face.{face}" for face in FACES}
    keys = {
        field
        for part in (vars(model) | vars(services)).values()
        if isinstance(part, type) and issubclass(part, Part)
        for field in part.model_fields
    }
    used |= {f"part.{key}" for key in keys}
    assert set(ENGLISH) - used == set()


def test_every_trust_of_a_weather_year_has_its_words() -> None:
    text = "\n".join(path.read_text("utf-8") for path in (SOURCES / "climate").glob("*.py"))
    trusts = set(re.findall(r'trust[a-z: ]*= ?"([a-z_]+)"', text))
    assert trusts
    assert {f"trust.{trust}" for trust in trusts} <= set(ENGLISH)


INSIDERS = (
    "boolean", "float", "integer", "null", "none", "traceback", "exception", "parse", "validat",
    "schema error", "kwarg", "stdout", "json", "api", "regex", "utf8", "ghi", "dni", "dhi", "nan",
    "setpoint", "simulation", "solver", "iterat", "converge", "azimuthal", "psychrometric",
)  # fmt: skip


def test_words_are_plain() -> None:
    for key, sentence in ENGLISH.items():
        words = re.sub(r"\{\w+\}", "", sentence).lower()
        found = [word for word in INSIDERS if re.search(rf"\b{word}", words)]
        assert not found, f"{key}: {found}"
        assert sentence == sentence.strip()
        assert "  " not in sentence
        assert sentence.isascii(), f"{key}: marks outside plain letters"
        assert "!" not in sentence


def test_sentences_are_full_ones_where_they_stand_alone() -> None:
    for key, sentence in ENGLISH.items():
        if key.startswith("caution.") and key != "caution.title":
            assert sentence.endswith("."), key
        if key.startswith(("design.", "place.", "climate.", "shape.", "set.")):
            assert not sentence.removesuffix("...").endswith("."), key


# --- rendering ----------------------------------------------------------------------------------


def test_units_switch_at_the_face() -> None:
    values = {"building": "house", "projection": Quantity(0.762, "length")}
    sentence = Sentence("caution.long_eave", values)
    assert "an eave of 0.76 m collects" in Speech("metric").say(sentence)
    assert "an eave of 2' 6\" collects" in Speech("us").say(sentence)


def test_kinds_and_sides_are_said_in_words() -> None:
    values = {"read": "x", "kind": "u_value", "examples": ["U-0.28", "1.6 W/m2K"]}
    assert Speech().say(Sentence("units.unreadable", values)) == (
        'can not read "x" as a U-value; write U-0.28, 1.6 W/m2K'
    )
    assert Speech().say(Sentence("year.part_wall", {"side": "SSW"})) == "south-south-west wall"


def test_text_of_a_file_can_not_steer_the_terminal_or_the_sentence() -> None:
    values = {"read": "a\x1b[31m\n{near}", "near": ["{read}"]}
    said = Speech().say(Sentence("design.unknown_key", values))
    assert said == '"a [31m {near}" is not known here; nearest: {read}'


def test_missing_value_shows_as_a_mark() -> None:
    assert Speech().say(Sentence("design.missing")) == '"?key?" is missing'


def test_problem_is_explained_with_its_place_part_and_hint() -> None:
    values = {"head": Quantity(2.2, "length"), "soffit": Quantity(2.1, "length")}
    problem = Problem(
        "design.soffit_below_head", path="house.window.3.head", file="a.toml", line=7, values=values
    )
    assert Speech().explain(problem) == (
        "a.toml:7: house, window, 3, head: the soffit (2.10 m) hangs below the head (2.20 m)\n"
        "  hint: raise eave.soffit_height or roof.heel, shorten the eave, or lower the head"
    )
    numbered = Problem(problem.code, problem.path, values={**values, "side": "SE", "number": 2})
    assert Speech().explain(numbered).startswith("south-east window 2, head: the soffit")


def test_all_problems_of_an_error_are_explained() -> None:
    error = InputError([Problem("design.no_heel", path="house.roof.heel"), Problem("set.shape")])
    assert len(Speech().explain_all(error).splitlines()) == 2


def test_numbers_are_grouped() -> None:
    assert Speech().number(12345.6) == "12,346"
    assert Speech().number(0.5, 2) == "0.50"


def test_catalogue_names_are_given_when_none_is_near() -> None:
    with pytest.raises(InputError) as caught:
        catalog.find(catalog.Fuel, "zzzzz")
    assert (
        Speech()
        .explain_all(caught.value)
        .startswith('no "zzzzz" among the fuels; nearest: beech, birch')
    )
