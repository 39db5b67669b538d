"""Fields of the model that are read in the builder's notation and kept in SI."""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated

from pydantic import BeforeValidator, Field
from pydantic_core import PydanticCustomError

from noonmark import units
from noonmark.errors import InputError

PROBLEM = "problem"
"""Error type under which a problem travels through pydantic."""


def _reader(kind: units.Kind) -> Callable[[object], float]:
    def read(value: object) -> float:
        try:
            return units.read(value, kind)  # type: ignore[arg-type]
        except InputError as error:
            problem = error.problems[0]
            raise PydanticCustomError(PROBLEM, "unreadable", {"problem": problem}) from error

    return read


Length = Annotated[float, BeforeValidator(_reader("length"))]
Span = Annotated[Length, Field(gt=0.0, le=200.0)]
Height = Annotated[Length, Field(ge=0.0, le=30.0)]
Thickness = Annotated[Length, Field(gt=0.0, le=5.0)]
Temperature = Annotated[float, BeforeValidator(_reader("temperature")), Field(ge=-60.0, le=60.0)]
Resistance = Annotated[
    float, BeforeValidator(_reader("thermal_resistance")), Field(gt=0.0, le=50.0)
]
UValue = Annotated[float, BeforeValidator(_reader("u_value")), Field(gt=0.0, le=10.0)]
Power = Annotated[float, BeforeValidator(_reader("power")), Field(ge=0.0, le=1e6)]
Energy = Annotated[float, BeforeValidator(_reader("energy")), Field(ge=0.0)]
Azimuth = Annotated[float, BeforeValidator(_reader("angle")), Field(ge=0.0, le=360.0)]
Pitch = Annotated[float, BeforeValidator(_reader("pitch")), Field(ge=0.0, le=3.0)]
AirChanges = Annotated[float, BeforeValidator(_reader("air_change_rate")), Field(gt=0.0, le=50.0)]
Airflow = Annotated[float, BeforeValidator(_reader("airflow")), Field(ge=0.0, le=10.0)]
Share = Annotated[float, BeforeValidator(_reader("ratio")), Field(ge=0.0, le=1.0)]
