"""What every table of a design file has in common."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field

from noonmark.design.quantities import Hour, Month

Side = Literal["sunny", "left", "back", "right"]
"""A side of a zone, named from inside looking out of the sunny side."""


class Part(BaseModel):
    """Base of every part: unknown keys refused, values checked, nothing changed later."""

    model_config = ConfigDict(extra="forbid", frozen=True, allow_inf_nan=False)


class Hours(Part):
    """Hours of the day, standard time; the next morning if `to` is not after `from`."""

    begin: Annotated[Hour, Field(alias="from")]
    end: Annotated[Hour, Field(alias="to")]


class Clock(Part):
    """Hours of the day in some months, always if left out."""

    begin: Annotated[Hour, Field(alias="from")] = 0
    end: Annotated[Hour, Field(alias="to")] = 24
    months: Annotated[list[Month], Field(min_length=1, max_length=12)] = list(range(1, 13))
