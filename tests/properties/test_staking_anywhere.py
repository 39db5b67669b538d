"""A stake-out at any place on any day: finite, in order, and said without a stumble."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from datetime import date, timedelta

from hypothesis import example, given, settings
from hypothesis import strategies as st

from designs import design, put, together
from noonmark.cards.speech import Speech
from noonmark.cards.staketables import direction_table, noon_table, stake_tables
from noonmark.cards.stakewords import circle_sentences, needle_sentences, noon_sentences
from noonmark.study.stakeout import stakeout


def numbers(value: object) -> Iterator[float]:
    if isinstance(value, float):
        yield value
    elif isinstance(value, tuple):
        for item in value:
            yield from numbers(item)
    elif is_dataclass(value):
        for item in fields(value):
            yield from numbers(getattr(value, item.name))


@settings(max_examples=25, deadline=None)
@given(
    latitude=st.floats(-90.0, 90.0),
    longitude=st.floats(-180.0, 180.0),
    day=st.dates(date(1900, 1, 1), date(2100, 12, 31)),
    faces=st.floats(0.0, 359.9),
)
@example(latitude=90.0, longitude=0.0, day=date(2026, 6, 21), faces=180.0)
@example(latitude=-90.0, longitude=180.0, day=date(2026, 6, 21), faces=0.0)
@example(latitude=90.0, longitude=0.0, day=date(2026, 3, 20), faces=10.0)
@example(latitude=0.0, longitude=0.0, day=date(2026, 3, 20), faces=90.0)
@example(latitude=23.44, longitude=0.0, day=date(2026, 6, 21), faces=180.0)
@example(latitude=66.56, longitude=0.0, day=date(2026, 12, 21), faces=180.0)
@example(latitude=67.4, longitude=0.0, day=date(2026, 12, 21), faces=180.0)
def test_every_number_is_finite_and_every_word_is_said(
    latitude: float, longitude: float, day: date, faces: float
) -> None:
    hours = round(longitude / 15.0)
    zone = f"Etc/GMT{-hours:+d}" if hours else "UTC"
    where = {"latitude": latitude, "longitude": longitude, "altitude": 10, "time_zone": zone}
    homestead = design(together(put("place", where), put("house.faces", faces))).homestead
    result = stakeout(homestead, day)
    assert all(math.isfinite(number) for number in numbers(result))
    for shadow in result.noons:
        assert 0.0 <= shadow.day_length_h <= 24.0
        # mean noon by such a clock, moved by at most 17 minutes and half an hour's zone
        middle = shadow.noon.hour + shadow.noon.minute / 60.0
        assert abs(middle - 12.0) < 0.9
        assert shadow.noon.date() == shadow.day
    if result.circle:
        half = result.circle.afternoon - result.circle.morning
        assert timedelta(0) < half < timedelta(hours=6)
        assert result.circle.morning < result.noons[0].noon < result.circle.afternoon
    speech = Speech("us", fine=True)
    said = [*needle_sentences(result), *noon_sentences(result), *circle_sentences(result)]
    words = [speech.say(sentence) for sentence in said]
    tables = [noon_table(result, speech)]
    for building in result.buildings:
        tables += [direction_table(building, result, speech), *stake_tables(building, speech)]
    words += [cell for table in tables for row in table.rows for cell in row]
    assert not any("?" in word or "nan" in word or "stakeout." in word for word in words)
