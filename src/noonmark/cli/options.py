"""Options that several commands share."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Literal

from cyclopts import Parameter

Changes = Annotated[
    list[str] | None,
    Parameter(
        name="--set",
        negative="",
        help='Change one value, leave the file: house.eave.projection="3 ft"',
    ),
]
Json = Annotated[bool, Parameter(name="--json", negative="", help="Print the result as JSON.")]
Units = Annotated[
    Literal["metric", "us"] | None,
    Parameter(help="Write metric or US units; default is what the design says."),
]
HourCounts = Annotated[
    float,
    Parameter(help="Heat [kWh] that an hour above 26 degC in a room lived in counts as much as."),
]
Out = Annotated[Path, Parameter(help="Folder for the drawings; made if needed.")]
