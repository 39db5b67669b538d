"""THE model of a homestead: what a design file may say, with its working defaults.

Values are SI floats once read. Heights are above the finished floor; azimuths
clockwise from true north; lengths of a zone are inside dimensions. A side is
named from inside looking out of the sunny side: left is `faces - 90`.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from noonmark.design.outdoors import Awning, Canopy, Neighbour, Slats, Tree
from noonmark.design.part import Part
from noonmark.design.part import Side as Side
from noonmark.design.quantities import (
    Azimuth,
    Conductivity,
    Density,
    Height,
    Length,
    Pitch,
    Resistance,
    Share,
    SkyPoint,
    Span,
    SpecificHeat,
    Temperatures,
    Thickness,
    UValue,
)
from noonmark.design.services import (
    Air,
    Cooling,
    Cover,
    FloorHeating,
    Heating,
    Passage,
    Use,
)
from noonmark.shape.roof import Truss

SIDE_TURN: dict[Side, float] = {"sunny": 0.0, "right": 90.0, "back": 180.0, "left": -90.0}
SCHEMA = 1
TOP_LEVEL = (
    "schema", "title", "units", "place", "climate", "material", "construction", "glazing",
)  # fmt: skip
"""Keys of a file that are no buildings."""


class Place(Part):
    """Where it stands. Latitude north and longitude east positive [deg], altitude [m].

    `skyline` is a list of pairs of azimuth and height [deg], once round.
    """

    name: str = ""
    latitude: Annotated[float, Field(ge=-90.0, le=90.0)]
    longitude: Annotated[float, Field(ge=-180.0, le=180.0)]
    altitude: Annotated[Length, Field(ge=-430.0, le=6000.0)]
    time_zone: str
    ground_albedo: Share = 0.2
    terrain: Literal["open", "suburban"] = "suburban"
    skyline: Annotated[list[SkyPoint], Field(max_length=400)] = []


class Climate(Part):
    """Which weather year: a shipped one by name, or a TMY3 file beside the design.

    `albedo` tells whose ground reflectance counts: the file's by hour, where it
    has one, or the place's `ground_albedo` all year.
    """

    year: str = "golden"
    file: str | None = None
    albedo: Literal["file", "place"] = "file"


class OwnMaterial(Part):
    """A material of one's own, for layers to name; it goes before the catalogue's."""

    conductivity: Conductivity
    density: Density
    specific_heat: SpecificHeat
    vapour: Annotated[float, Field(ge=1.0, le=1e7)] | None = None


class LayerPart(Part):
    """One layer, inside first: a material with a thickness, or only a resistance.

    `studs` is the material that pierces it on `stud_fraction` of the area. `diffusion`, or
    `perms`, is how it holds vapour back with any membrane or paint on it; outdoor air passes
    between a `vented` layer and what is inside of it.
    """

    material: str | None = None
    thickness: Thickness | None = None
    resistance: Resistance | None = None
    studs: str | None = None
    stud_fraction: Annotated[Share, Field(lt=1.0)] = 0.0
    diffusion: Annotated[Length, Field(gt=0.0, le=10_000.0)] | None = None
    perms: Annotated[float, Field(gt=0.0, le=1000.0)] | None = None
    vented: bool = False


class Construction(Part):
    """Opaque layers from inside to outside."""

    layers: Annotated[list[LayerPart], Field(min_length=1, max_length=20)]


class GlazingUnit(Part):
    """A unit of one's own: maker's values, or plain panes with gaps.

    Either `u_value`, `shgc` and `transmittance` (centre of glass), or `gaps`
    with `pane` and `gas`, for uncoated panes; their `resistance` from outer to
    inner glass surface may be given instead of gaps.
    """

    panes: Annotated[int, Field(ge=1, le=4)] = 2
    u_value: UValue | None = None
    shgc: Share | None = None
    transmittance: Share | None = None
    gaps: list[Thickness] | None = None
    resistance: Resistance | None = None
    pane: str = "clear 4 mm"
    pane_transmittance: Annotated[Share, Field(gt=0.0, le=0.91)] | None = None
    gas: Literal["air", "argon", "krypton"] = "air"
    gas_share: Share = 0.9


class Zone(Part):
    """A box of air: length along the sunny side, width front to back, ceiling height.

    Heater and cooler serve heated zones only; people, appliances and ventilation
    are those of zones lived in. Constructions are the building's own if left out.
    """

    length: Span
    width: Span
    height: Annotated[Length, Field(gt=1.5, le=12.0)]
    furniture: Annotated[float, Field(ge=0.0, le=500_000.0)] = 10_000.0  # J/m2K of floor
    heated: bool = True
    lived_in: bool = True
    wall_construction: str | None = None
    roof_construction: str | None = None
    floor_construction: str | None = None

    @property
    def floor_area(self) -> float:
        """Return the inside floor area [m2]."""
        return self.length * self.width


class Wall(Part):
    """What is special about a wall: its own construction, a neighbour zone, or another azimuth."""

    zone: str | None = None
    side: Side | None = None
    azimuth: Azimuth | None = None
    name: str | None = None
    length: Span | None = None
    height: Annotated[Length, Field(gt=0.0, le=12.0)] | None = None
    construction: str | None = None
    absorptance: Share | None = None
    next_to: str | None = None


class Hood(Part):
    """A level plate over a window, from the wall's outside face."""

    projection: Annotated[Length, Field(gt=0.0, le=4.0)]
    gap: Annotated[Length, Field(ge=0.0, le=4.0)] = 0.0
    left: Annotated[Length, Field(ge=0.0, le=20.0)] = 0.0
    right: Annotated[Length, Field(ge=0.0, le=20.0)] = 0.0


class Fins(Part):
    """An upright plate on either side of a window, from the wall's outside face.

    `top` and `bottom` below zero end it short of head or sill.
    """

    projection: Annotated[Length, Field(gt=0.0, le=4.0)]
    gap: Annotated[Length, Field(ge=0.0, le=4.0)] = 0.0
    top: Annotated[Length, Field(ge=-10.0, le=10.0)] = 0.0
    bottom: Annotated[Length, Field(ge=-10.0, le=10.0)] = 0.0


class Window(Part):
    """One or `count` equal windows in one wall; width and heights are rough sizes.

    They are spread evenly along the wall, in the order of the file, unless every
    window of the wall has its `left`. A file holds whole windows; the unshaped
    twin spreads parts of one over the sides.
    """

    name: str | None = None
    zone: str | None = None
    side: Side | None = None
    wall: str | None = None
    width: Span
    head: Height
    sill: Height
    count: Annotated[float, Field(gt=0.0, le=50.0)] = 1.0
    left: Annotated[Length, Field(ge=0.0, le=200.0)] | None = None
    reveal: Annotated[Length, Field(ge=0.0, le=1.0)] = 0.0
    hood: Hood | None = None
    fins: Fins | None = None
    awning: Awning | None = None
    slats: Slats | None = None
    glazing: str
    frame: str = "wood"
    casements: Annotated[int, Field(ge=1, le=6)] = 1
    safety_glass: bool = False
    escape: bool = False
    cover: str | None = None


class Gutter(Part):
    """A gutter on the face of the fascia; the box around it throws shade."""

    width: Annotated[Length, Field(gt=0.0, le=0.6)] = 0.13
    depth: Annotated[Length, Field(gt=0.0, le=0.6)] = 0.09
    drop: Annotated[Length, Field(ge=0.0, le=0.6)] = 0.025


class Eave(Part):
    """The eave along the sunny and the back side, or along one of them.

    `projection` is level, from the outside face of the wall; `ends` is how far
    the roof runs past the end walls, less than zero where it stops short of
    their outside. Give `soffit_height` here or `roof.heel`: the other follows.
    The soffit is level at that height, or sloped from there up along the tails; the
    fascia ends at its outer edge unless it drops below.
    """

    projection: Annotated[Length, Field(ge=0.0, le=4.0)] = 0.3
    soffit_height: Annotated[Length, Field(gt=0.0, le=15.0)] | None = None
    soffit: Literal["level", "sloped"] = "level"
    fascia_drop: Annotated[Length, Field(ge=0.0, le=1.0)] = 0.0
    gutter: Gutter | None = None
    ends: Annotated[Length, Field(ge=-1.0, le=5.0)] = 0.3
    sides: Annotated[list[Literal["sunny", "back"]], Field(max_length=2)] = ["sunny", "back"]


class Roof(Part):
    """The roof over a flat insulated ceiling.

    With `attic = false` the layers lie flat in the sun themselves, `pitch = 0`;
    a heel left out then means joists that lie on the plate.

    The eave is made by tails that run on from the top chord (`truss = "tail"`: the
    soffit hangs where `heel`, pitch and projection leave it), or by trusses that
    cantilever past the wall (`truss = "cantilever"`: the level bottom chord runs out
    to the fascia, the soffit lies level with the plate, and `heel` and `end_heel`
    follow from each other; with neither, the end heel is the top chord cut plumb).

    The truss line of `check` counts from the wall's finished outside face, or from
    its sheathing: the outermost layer of osb, plywood or softwood boards, unless
    `finish` tells how much lies outside the face that counts.
    """

    construction: str
    attic: bool = True
    pitch: Pitch = 0.5
    truss: Truss = "tail"
    heel: Annotated[Length, Field(ge=0.0, le=3.0)] | None = None
    end_heel: Annotated[Length, Field(ge=0.0, le=3.0)] | None = None
    bearing: Annotated[Length, Field(ge=0.0, le=5.0)] = 0.0
    measured_from: Literal["finish", "sheathing"] = "finish"
    finish: Annotated[Length, Field(ge=0.0, le=1.0)] | None = None
    chord_depth: Thickness = 0.14
    header_depth: Height = 0.25
    absorptance: Share = 0.7


class EdgeStrip(Part):
    """Insulation at the slab edge, laid flat under it or standing down the foundation."""

    placing: Literal["horizontal", "vertical"] = "vertical"
    extent: Span
    thickness: Thickness
    material: str = "xps"


class Floor(Part):
    """The floor: a slab on the ground, or over something of a known temperature."""

    construction: str
    below: Temperatures | None = None
    soil: str = "clay or silt"
    edge: EdgeStrip | None = None
    heating: FloorHeating | None = None
    absorptance: Share = 0.7
    carpet: Share = 0.0
    carpet_resistance: Resistance = 0.2


class Inside(Part):
    """The surfaces of the rooms.

    How much of the sun that meets them they keep (the floor has its own), and
    how the air along them takes heat: by the temperature difference (natural),
    or by the fixed films of EN ISO 6946 (fixed).
    """

    films: Literal["natural", "fixed"] = "natural"
    walls: Share = 0.4
    ceiling: Share = 0.3


class Goals(Part):
    """What the owner wants held; the run ends with 1 when it is not."""

    heating_kwh: Annotated[float, Field(ge=0.0)] | None = None
    hours_above_26_c: Annotated[float, Field(ge=0.0)] | None = None


class Building(Part):
    """One building. `faces` is the azimuth its sunny side looks to."""

    kind: Literal["house"]
    faces: Azimuth
    wall_construction: str
    wall_absorptance: Share = 0.4
    partition_construction: str | None = None
    zone: Annotated[dict[str, Zone], Field(min_length=1, max_length=4)]
    wall: list[Wall] = []
    window: list[Window] = []
    cover: dict[str, Cover] = {}
    passage: Annotated[list[Passage], Field(max_length=20)] = []
    canopy: Annotated[list[Canopy], Field(max_length=40)] = []
    tree: Annotated[list[Tree], Field(max_length=60)] = []
    neighbour: Annotated[list[Neighbour], Field(max_length=20)] = []
    eave: Eave = Eave()
    roof: Roof
    floor: Floor
    air: Air = Air()
    inside: Inside = Inside()
    use: Use = Use()
    heating: Heating | None = Heating()
    cooling: Cooling | None = None
    goals: Goals = Goals()

    def azimuth(self, side: Side) -> float:
        """Return the azimuth of a side [deg]."""
        return (self.faces + SIDE_TURN[side]) % 360.0

    @property
    def floor_area(self) -> float:
        """Return the inside floor area of all zones [m2]."""
        return sum(zone.floor_area for zone in self.zone.values())

    def heat_share(self, zone: Zone) -> float:
        """Return which share of heater and cooler serves a zone, by floor area 0..1."""
        heated = sum(other.floor_area for other in self.zone.values() if other.heated)
        return zone.floor_area / heated if zone.heated else 0.0

    def use_share(self, zone: Zone) -> float:
        """Return which share of people, appliances and ventilation a zone has, 0..1."""
        used = sum(other.floor_area for other in self.zone.values() if other.lived_in)
        return zone.floor_area / used if zone.lived_in else 0.0


class Homestead(Part):
    """The whole file."""

    schema_version: Annotated[Literal[1], Field(alias="schema")]
    title: Annotated[str, Field(max_length=120)] = ""
    units: Literal["metric", "us"] = "metric"
    place: Place
    climate: Climate = Climate()
    material: dict[str, OwnMaterial] = {}
    construction: dict[str, Construction] = {}
    glazing: dict[str, GlazingUnit] = {}
    buildings: Annotated[dict[str, Building], Field(min_length=1, max_length=12)]
