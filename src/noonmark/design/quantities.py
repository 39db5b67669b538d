"""Fields of the model that are read in the builder's notation and kept in SI."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Annotated, Any, Literal, cast, get_args, get_origin

import annotated_types
from pydantic import BeforeValidator, Field
from pydantic.fields import FieldInfo
from pydantic_core import PydanticCustomError

from noonmark import units
from noonmark.errors import InputError, Problem

PROBLEM = "problem"
"""Error type under which a problem travels through pydantic."""


@dataclass(frozen=True)
class Reader:
    """Reads one kind of measure in the builder's notation."""

    kind: units.Kind

    def __call__(self, value: Any) -> float:
        """Return the SI number; a problem travels on in pydantic's own error."""
        try:
            return units.read(value, self.kind)
        except InputError as error:
            problem = error.problems[0]
            raise PydanticCustomError(PROBLEM, "unreadable", {"problem": problem}) from error


_DAY = re.compile(r"([0-9]{1,2})-([0-9]{1,2})")
ORDINARY_YEAR = 2022


def day_of_year(value: Any) -> int:
    """Return the number, from 0, of a day such as "5-15" in an ordinary year."""
    found = _DAY.fullmatch(value.strip()) if isinstance(value, str) else None
    try:
        month, day = (int(part) for part in found.groups()) if found else (0, 0)
        return (date(ORDINARY_YEAR, month, day) - date(ORDINARY_YEAR, 1, 1)).days
    except ValueError as error:
        problem = Problem("design.bad_day", values={"read": value})
        raise PydanticCustomError(PROBLEM, "unreadable", {"problem": problem}) from error


def days_of_months(months: Iterable[int]) -> tuple[bool, ...]:
    """Return which of the 365 days of an ordinary year lie in some months."""
    first, chosen = date(ORDINARY_YEAR, 1, 1), set(months)
    return tuple((first + timedelta(days=day)).month in chosen for day in range(365))


def _as_list(value: Any) -> Any:
    """Return one value as a list of one."""
    return value if isinstance(value, list) else [value]


Length = Annotated[float, BeforeValidator(Reader("length"))]
Span = Annotated[Length, Field(gt=0.0, le=200.0)]
Height = Annotated[Length, Field(ge=0.0, le=30.0)]
Thickness = Annotated[Length, Field(gt=0.0, le=5.0)]
Temperature = Annotated[float, BeforeValidator(Reader("temperature")), Field(ge=-60.0, le=60.0)]
Resistance = Annotated[float, BeforeValidator(Reader("thermal_resistance")), Field(gt=0.0, le=50.0)]
UValue = Annotated[float, BeforeValidator(Reader("u_value")), Field(gt=0.0, le=10.0)]
Power = Annotated[float, BeforeValidator(Reader("power")), Field(ge=0.0, le=1e6)]
Energy = Annotated[float, BeforeValidator(Reader("energy")), Field(ge=0.0)]
Area = Annotated[float, BeforeValidator(Reader("area")), Field(gt=0.0, le=200.0)]
Mass = Annotated[float, BeforeValidator(Reader("mass"))]
PowerDensity = Annotated[float, BeforeValidator(Reader("power_density")), Field(ge=0.0, le=2000.0)]
TemperatureDifference = Annotated[float, BeforeValidator(Reader("temperature_difference"))]
Azimuth = Annotated[float, BeforeValidator(Reader("angle")), Field(ge=0.0, le=360.0)]
Pitch = Annotated[float, BeforeValidator(Reader("pitch")), Field(ge=0.0, le=3.0)]
AirChanges = Annotated[float, BeforeValidator(Reader("air_change_rate")), Field(gt=0.0, le=50.0)]
Airflow = Annotated[float, BeforeValidator(Reader("airflow")), Field(ge=0.0, le=10.0)]
Share = Annotated[float, BeforeValidator(Reader("ratio")), Field(ge=0.0, le=1.0)]
Conductivity = Annotated[float, BeforeValidator(Reader("conductivity")), Field(gt=0.0, le=500.0)]
Density = Annotated[float, BeforeValidator(Reader("density")), Field(ge=0.0, le=25_000.0)]
SpecificHeat = Annotated[float, BeforeValidator(Reader("specific_heat")), Field(ge=0.0, le=5000.0)]
Hour = Annotated[int, Field(ge=0, le=24)]
Month = Annotated[int, Field(ge=1, le=12)]
Day = Annotated[int, BeforeValidator(day_of_year)]
SkyPoint = Annotated[list[float], Field(min_length=2, max_length=2)]
Temperatures = Annotated[list[Temperature], BeforeValidator(_as_list)]


def parts_of(field: FieldInfo) -> list[Any]:
    """Return the plain types, literals, readers and limits of a field, however deep they lie."""
    return list(_pieces(field.annotation, field.metadata))


def measure_of(field: FieldInfo) -> units.Kind | None:
    """Return what a field measures; None when it is no measure."""
    return next((item.kind for item in parts_of(field) if isinstance(item, Reader)), None)


OPEN_END = 1e-3
"""How far inside a limit that is itself left out a value is told to stay."""


def limits_of(field: FieldInfo) -> tuple[float, float]:
    """Return the least and the most a number of the model may be, in its SI unit.

    Infinite where nothing is said.
    """
    least, most = [-math.inf], [math.inf]
    for item in parts_of(field):
        if isinstance(item, annotated_types.Ge):
            least.append(float(cast("float", item.ge)))
        elif isinstance(item, annotated_types.Gt):
            least.append(float(cast("float", item.gt)) + OPEN_END)
        elif isinstance(item, annotated_types.Le):
            most.append(float(cast("float", item.le)))
        elif isinstance(item, annotated_types.Lt):
            most.append(float(cast("float", item.lt)) - OPEN_END)
    return max(least), min(most)


def _pieces(annotation: Any, metadata: list[Any] | tuple[Any, ...] = ()) -> Iterator[Any]:
    """Yield plain types, literals, readers and limits of a field, however deep they lie."""
    for item in metadata:
        if isinstance(item, FieldInfo):
            yield from _pieces(None, item.metadata)
        else:
            yield item.func if isinstance(item, BeforeValidator) else item
    if get_origin(annotation) is Literal or not get_args(annotation):
        yield annotation
    elif hasattr(annotation, "__metadata__"):
        yield from _pieces(annotation.__origin__, annotation.__metadata__)
    else:
        yield get_origin(annotation)
        for inner in get_args(annotation):
            yield from _pieces(inner)


def spoken_length(metres: float) -> units.Quantity:
    """Return a length [m] for a sentence."""
    return units.Quantity(metres, "length")
