"""What runs in a building: air, people, plant, covers and doors, with their working defaults."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from noonmark.design.part import Clock, Hours, Part
from noonmark.design.quantities import (
    AirChanges,
    Airflow,
    Area,
    Hour,
    Length,
    Mass,
    Power,
    PowerDensity,
    Resistance,
    Share,
    Span,
    Temperature,
    TemperatureDifference,
)


class Fan(Clock):
    """A fan that brings outdoor air in its hours and months.

    With `above` it runs only while the room is warmer than that and it is cooler
    outside; without, however warm it is.
    """

    airflow: Airflow
    above: Temperature | None = None


class Air(Part):
    """Leakage by blower door at 50 Pa, mechanical ventilation, and windows opened when warm.

    A steady `infiltration` may be given instead of the leakage. Above
    `open_above` and while it is cooler outside, windows are opened just enough
    to hold it; fully open they change the air `open_air_changes` times an hour,
    or let through what wind and warmth drive through `open_area`, the free
    area of all opened windows together, `open_height` tall. Heat is not won
    back above `bypass_above` while it is cooler outside.
    """

    leakage: AirChanges = 3.0
    infiltration: AirChanges | None = None
    shelter: Literal["open", "light", "moderate", "heavy", "complete"] = "moderate"
    storeys: Annotated[int, Field(ge=1, le=3)] = 1
    ventilation: Airflow = 0.0
    recovery: Annotated[Share, Field(le=0.95)] = 0.0
    bypass_above: Temperature | None = None
    open_above: Temperature = 25.0
    open_air_changes: Annotated[float, Field(ge=0.0, le=50.0)] = 3.0
    open_area: Area | None = None
    open_height: Annotated[Length, Field(gt=0.0, le=12.0)] | None = None
    fan: Fan | None = None

    @property
    def bypass(self) -> float:
        """Return above which temperature heat is not won back [degC]."""
        return self.open_above if self.bypass_above is None else self.bypass_above


class Passage(Clock):
    """Air between two zones: an opening such as a doorway, or a fan.

    Through an opening warm air goes over above and cool air back below while it
    is open, as much each way. A fan takes air from the first zone to the second
    while the first is `difference` warmer and the second is cooler than `below`;
    as much comes back.
    """

    zones: Annotated[list[str], Field(min_length=2, max_length=2)]
    kind: Literal["opening", "fan"] = "opening"
    width: Span | None = None
    height: Annotated[Length, Field(gt=0.0, le=12.0)] | None = None
    airflow: Airflow | None = None
    difference: Annotated[TemperatureDifference, Field(ge=0.0, le=50.0)] = 2.0
    below: Temperature | None = None


class Cover(Clock):
    """A shutter, blind or night cover that windows name.

    It is closed in its hours and months, and there only while all hold that are
    given of `sun_above` (on the wall of the window), `colder_than` (outdoors)
    and `warmer_than` (the room). Closed it adds `resistance` to glass and frame;
    it lets `passes` of the sun through and takes `absorbs` of it up: outside at
    the window's outer face, inside as heat in the room.
    """

    inside: bool = False
    resistance: Resistance | None = None
    passes: Share = 0.0
    absorbs: Share = 0.3
    sun_above: PowerDensity | None = None
    colder_than: Temperature | None = None
    warmer_than: Temperature | None = None


class Use(Part):
    """Who and what warms it from inside: people, and the mean power of appliances [W].

    `steady` is heat that is there at every hour, such as a freezer's.
    """

    people: Annotated[float, Field(ge=0.0, le=200.0)] = 2.0
    appliances: Power = 250.0
    steady: Power = 0.0
    steady_radiant: Share = 0.5


class SetBack(Hours):
    """Hours of the day with a lower set-point, and how long the way back up takes."""

    setpoint: Temperature
    ramp: Annotated[int, Field(ge=0, le=12)] = 0


class Stove(Part):
    """A stove fed by charges of wood, in one zone.

    Somebody lights it while awake and the room is below the heater's set-point;
    each charge burns down in `burns` hours whatever the temperature, and never
    gives less than `lowest` until it is out.
    """

    charge: Annotated[Mass, Field(gt=0.0, le=200.0)]
    burns: Annotated[int, Field(ge=1, le=24)] = 6
    lowest: Power = 0.0
    radiant: Share = 0.5
    zone: str | None = None
    begin: Annotated[Hour, Field(alias="from")] = 6
    end: Annotated[Hour, Field(alias="to")] = 22


class Heating(Part):
    """The heater: air set-point, most power, fuel and yearly efficiency on its basis.

    With a `stove` nothing else heats: somebody lights it below the set-point.
    """

    setpoint: Temperature = 20.0
    capacity: Power | None = None
    fuel: str = "electricity"
    efficiency: Annotated[Share, Field(gt=0.0)] = 1.0
    basis: Literal["net", "gross"] = "net"
    stove: Stove | None = None
    setback: Annotated[list[SetBack], Field(max_length=6)] = []


class FloorHeating(Part):
    """Heat put into a layer of the floor of heated zones: pipes or cables in a slab.

    It is full `band` below the set-point and less nearer to it.
    """

    layer: Annotated[int, Field(ge=1, le=20)] = 1
    power: Annotated[PowerDensity, Field(gt=0.0, le=200.0)]
    setpoint: Temperature = 20.0
    band: Annotated[TemperatureDifference, Field(gt=0.0, le=10.0)] = 1.0


class Cooling(Part):
    """A cooler, if there is one."""

    setpoint: Temperature = 26.0
    capacity: Power | None = None
    begin: Annotated[Hour, Field(alias="from")] = 0
    end: Annotated[Hour, Field(alias="to")] = 24
