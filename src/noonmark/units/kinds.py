"""What a number can be a measure of, and the two ways of writing it."""

from __future__ import annotations

from typing import Literal, get_args

Kind = Literal[
    "length",
    "area",
    "volume",
    "mass",
    "temperature",
    "temperature_difference",
    "thermal_resistance",
    "u_value",
    "conductivity",
    "power",
    "power_density",
    "energy",
    "angle",
    "pitch",
    "air_change_rate",
    "airflow",
    "speed",
    "pressure",
    "density",
    "specific_heat",
    "ratio",
    "count",
]
System = Literal["metric", "us"]

KINDS: tuple[Kind, ...] = get_args(Kind)
