"""The sample house in its own weather, and changes to it."""

from __future__ import annotations

from dataclasses import fields, replace
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import Any, TypeVar

import numpy as np

from noonmark.balance.enclosure import Element, Zone
from noonmark.climate.year import HOURS
from noonmark.design import Building, Homestead, parse_design
from noonmark.study.site import Site, prepare_site

Arrays = TypeVar("Arrays", Zone, Element)


@cache
def sample() -> Homestead:
    """Return the shipped sample design."""
    text = files("noonmark.design").joinpath("data/larkspur.toml").read_text("utf-8")
    return parse_design(text, name="larkspur.toml").homestead


@cache
def golden() -> Site:
    """Return the sample's place with its weather year."""
    return prepare_site(sample().place, sample().climate, Path())


def house() -> Building:
    """Return the sample's one building."""
    return sample().buildings["house"]


def with_house(homestead: Homestead | None = None, **changes: Any) -> Homestead:
    """Return the sample (or another design) with fields of its house changed."""
    whole = homestead or sample()
    changed = whole.buildings["house"].model_copy(update=changes)
    return whole.model_copy(update={"buildings": {"house": changed}})


def with_layer(construction: str, index: int, **changes: Any) -> Homestead:
    """Return the sample with one layer of a construction changed."""
    whole = sample()
    layers = list(whole.construction[construction].layers)
    layers[index] = layers[index].model_copy(update=changes)
    changed = whole.construction[construction].model_copy(update={"layers": layers})
    return whole.model_copy(update={"construction": {**whole.construction, construction: changed}})


def hours_of(part: Arrays, first: int, last: int) -> Arrays:
    """Return a zone or element with only some hours of its year."""
    values = {field.name: getattr(part, field.name) for field in fields(part)}
    hourly: dict[str, Any] = {
        name: value[first:last]
        for name, value in values.items()
        if isinstance(value, np.ndarray) and value.shape == (HOURS,)
    }
    return replace(part, **hourly)
