"""A measured house as a zone with one inner mass, fitted with the march itself.

Each half hour of the record is an hour of the march with all heat capacities
doubled: flows are the same, and so is what they warm.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import numpy as np
from scipy.optimize import least_squares

from box import AIR_HEAT, FloatArray
from noonmark.balance.enclosure import Air, Element, Zone
from noonmark.balance.run import run_year
from noonmark.envelope.layers import Layer
from noonmark.envelope.modes import wall_modes

DAY = 48
SCALE = 3600.0 / 1800.0
SETTLING = 200
"""Half hours before the record in which everything comes to one temperature."""
_STIFF = 1e6
_NOTHING = 1e-6


@dataclass(frozen=True)
class Measured:
    """Half-hourly instants (n,): air outdoors and inside [degC], heater [W], sun [W/m2]."""

    outdoor: FloatArray
    inside: FloatArray
    heater: FloatArray
    sun: FloatArray

    @property
    def means(self) -> FloatArray:
        """Return the mean of the air inside between two instants (n - 1,) [degC]."""
        return between(self.inside, 0.5)


def read_record(path: Path) -> Measured:
    """Read columns Time, T_ext, P_hea, I_sol, T_int."""
    table = np.genfromtxt(path, delimiter=",", names=True)
    return Measured(*(np.array(table[name]) for name in ("T_ext", "T_int", "P_hea", "I_sol")))


def between(values: FloatArray, late: float) -> FloatArray:
    """Return what holds between two stamps: the first's value, the second's (1), or a mix."""
    return (1.0 - late) * values[:-1] + late * values[1:]


@dataclass(frozen=True)
class Stamps:
    """What a stamp means for heater and sun: 0 the half hour after it, 1 before, 0.5 an instant."""

    heater: float = 0.5
    sun: float = 0.5


@dataclass(frozen=True)
class House:
    """What is fitted: a shell of one even layer, an inner mass that conducts at once, the air.

    shell [W/K] and [J/K], its film inside [W/K]; mass [J/K] and its film [W/K];
    air with what follows it at once [J/K]; aperture [m2]; start [degC].
    """

    shell: float
    shell_capacity: float
    shell_film: float
    mass_capacity: float
    mass_film: float
    air_capacity: float
    aperture: float
    start: float

    @property
    def conductance(self) -> float:
        """Return the whole conductance [W/K]."""
        return 1.0 / (1.0 / self.shell + 1.0 / self.shell_film)

    @property
    def capacity(self) -> float:
        """Return the whole heat capacity [J/K]."""
        return self.air_capacity + self.mass_capacity + self.shell_capacity


def _parts(house: House, outdoor: FloatArray, sun: FloatArray) -> list[Element]:
    """Return shell and mass, one square metre each; what the sun brings falls on the mass."""
    layer = Layer(1.0, house.shell, 1.0, SCALE * house.shell_capacity)
    shell = Element(
        "shell", 1.0, wall_modes([layer]), 0, (house.shell_film, 0.0), (_NOTHING, 0.0),
        _STIFF, _STIFF * outdoor, 0.0,
    )  # fmt: skip
    layer = Layer(1.0, _STIFF, 1.0, SCALE * house.mass_capacity)
    mass = Element(
        "mass", 1.0, wall_modes([layer]), 0, (house.mass_film, 0.0), (_NOTHING, 0.0),
        _NOTHING, _NOTHING * outdoor, house.aperture * sun,
    )  # fmt: skip
    return [shell, mass]


def _march(house: House, record: Measured, stamps: Stamps, known: int) -> FloatArray:
    """Return the air's means (n - 1,), held at what was measured up to instant `known`."""

    def before(values: FloatArray, first: float) -> FloatArray:
        return np.concatenate([np.full(SETTLING, first), values])

    outdoor = before(between(record.outdoor, 0.5), float(record.outdoor[0]))
    heater = before(between(record.heater, stamps.heater), 0.0)
    sun = before(between(record.sun, stamps.sun), 0.0)
    hours = outdoor.size
    held = np.concatenate([np.full(SETTLING - 1, house.start), record.inside])
    released = np.arange(hours) >= SETTLING + known
    zone = Zone(
        "house",
        SCALE * house.air_capacity,
        1.0,
        gain_air=heater,
        heat_set=np.where(released, -1e9, held),
        cool_set=np.where(released, 1e9, held),
    )
    air = Air(outdoor, np.zeros(hours), 101325.0, AIR_HEAT)
    year = run_year([zone], _parts(house, outdoor, sun), air, run_in_hours=0)
    return year.air[SETTLING:, 0]


def free_run(house: House, record: Measured, stamps: Stamps) -> FloatArray:
    """Return the air's means (n - 1,) from the first instant on, knowing heater and weather."""
    return _march(house, record, stamps, known=0)


def one_step_ahead(house: House, record: Measured, stamps: Stamps) -> FloatArray:
    """Return each half hour's mean (n - 1,), knowing what was measured up to its start."""
    steps = record.inside.size - 1
    return np.array([_march(house, record, stamps, known=i)[i] for i in range(steps)])


_GUESS = House(90.0, 2.5e7, 250.0, 5e6, 200.0, 2e6, 1.0, 28.0)


def fit(record: Measured, stamps: Stamps, *, last: int) -> House:
    """Return the house whose free run is nearest to the first `last` half hours."""
    guess = list(vars(_GUESS).values())

    def house(x: FloatArray) -> House:
        sizes = guess[:6] * np.exp(x[:6])
        return House(*map(float, [*sizes, *x[6:]]))

    def miss(x: FloatArray) -> FloatArray:
        return (free_run(house(x), record, stamps) - record.means)[:last]

    found = least_squares(
        miss,
        [0.0] * 6 + guess[6:],
        x_scale=[0.3] * 6 + [1.0, 1.0],
        xtol=1e-4,
        ftol=1e-4,
        bounds=([-4.0] * 6 + [0.0, 0.0], [4.0] * 6 + [50.0, 50.0]),
    )
    assert found.success
    return house(found.x)


def rms(values: FloatArray) -> float:
    return float(np.sqrt(np.mean(values**2)))
