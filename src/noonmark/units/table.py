"""Units by kind: how many SI units one of them is.

Source of all factors: NIST Special Publication 811 (2008 edition), Guide for
the Use of the International System of Units, appendix B.8. Exact ones are built
from foot 0.3048 m, pound 0.453 592 37 kg, Btu (IT) 1055.055 852 62 J and US
gallon 231 in3. `therm` is the US therm of that table; the acre is that of the
international foot (the table still has the survey foot). Left out because two
trades mean two things by it: MBtu (thousand or million), ton, face cord.

Spellings here are squeezed: no spaces, dots, brackets or multiplication signs.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from noonmark.units.kinds import KINDS, Kind

INCH = 0.0254
FOOT = 0.3048
POUND = 0.45359237
BTU = 1055.05585262
HOUR = 3600.0
FAHRENHEIT = 5 / 9  # K
GALLON = 231 * INCH**3

_RESISTANCE = FAHRENHEIT * HOUR * FOOT**2 / BTU  # 0.176 110 2 m2K/W


@dataclass(frozen=True)
class Unit:
    """SI value = `factor` x number + `offset`; `us` marks a US customary unit."""

    factor: float
    offset: float = 0.0
    us: bool = False


def _units(metric: Mapping[str, float], us: Mapping[str, float] | None = None) -> dict[str, Unit]:
    """Return spelling -> unit; a key may hold several spellings, a space between."""
    found: dict[str, Unit] = {}
    for factors, customary in ((metric, False), (us or {}, True)):
        for names, factor in factors.items():
            found.update({name: Unit(factor, us=customary) for name in names.split()})
    return found


_TEMPERATURES = {
    **dict.fromkeys(("C", "degC", "celsius"), Unit(1.0)),
    **dict.fromkeys(("K", "kelvin"), Unit(1.0, -273.15)),
    **dict.fromkeys(("F", "degF", "fahrenheit"), Unit(FAHRENHEIT, -32 * FAHRENHEIT, us=True)),
}

UNITS: dict[Kind, dict[str, Unit]] = {
    "length": _units(
        {"m metre metres meter meters": 1.0, "cm": 0.01, "mm": 0.001, "km": 1000.0},
        {
            "ft ' foot feet": FOOT,
            'in " inch inches': INCH,
            "yd yard yards": 3 * FOOT,
            "mi mile miles": 5280 * FOOT,
        },
    ),
    "area": _units(
        {"m2 sqm": 1.0, "cm2": 1e-4, "ha": 1e4},
        {"ft2 sqft sf": FOOT**2, "in2 sqin": INCH**2, "acre acres": 43560 * FOOT**2},
    ),
    "volume": _units(
        {"m3 cum": 1.0, "l liter litre liters litres": 0.001},
        {
            "ft3 cuft cf": FOOT**3,
            "yd3 cuyd": 27 * FOOT**3,
            "gal gallon gallons": GALLON,
            "cord cords": 128 * FOOT**3,
        },
    ),
    "mass": _units({"kg": 1.0, "g": 0.001, "t": 1000.0}, {"lb lbs": POUND, "oz": POUND / 16}),
    "temperature": _TEMPERATURES,
    "temperature_difference": _units({"K C degC kelvin": 1.0}, {"F degF fahrenheit": FAHRENHEIT}),
    "thermal_resistance": _units(
        {"m2K/W Km2/W m2C/W": 1.0},
        {"hft2F/Btu ft2hF/Btu ft2Fh/Btu hrft2F/Btu ft2Fhr/Btu Fft2h/Btu": _RESISTANCE},
    ),
    "u_value": _units(
        {"W/m2K W/m2/K W/Km2 W/m2C": 1.0},
        {"Btu/hft2F Btu/hrft2F Btu/ft2hF Btu/ft2Fh Btu/h/ft2/F": 1 / _RESISTANCE},
    ),
    "conductivity": _units(
        {"W/mK W/m/K W/mC": 1.0},
        {
            "Btuin/hft2F Btuin/hrft2F": INCH / _RESISTANCE,
            "Btu/hftF Btu/hrftF": FOOT / _RESISTANCE,
        },
    ),
    "power": _units(
        {"W watt watts": 1.0, "kW": 1e3, "MW": 1e6},
        {"Btu/h Btu/hr Btuh": BTU / HOUR, "kBtu/h kBtu/hr kBtuh": 1000 * BTU / HOUR},
    ),
    "power_density": _units(
        {"W/m2": 1.0, "kW/m2": 1e3},
        {"Btu/hft2 Btu/ft2h Btu/hrft2": BTU / HOUR / FOOT**2, "W/ft2 W/sqft": FOOT**-2},
    ),
    "energy": _units(
        {
            "J": 1.0,
            "kJ": 1e3,
            "MJ": 1e6,
            "GJ": 1e9,
            "Wh": HOUR,
            "kWh": 1e3 * HOUR,
            "MWh": 1e6 * HOUR,
        },
        {"Btu": BTU, "kBtu": 1e3 * BTU, "MMBtu mmBtu": 1e6 * BTU, "therm therms": 1.054804e8},
    ),
    "angle": _units({"° deg degree degrees": 1.0, "rad": 57.29577951308232}),
    "pitch": _units({"%": 0.01}),
    "air_change_rate": _units({"/h 1/h h-1 /hr ach": 1.0}),
    "airflow": _units(
        {"m3/s": 1.0, "m3/h m3/hr": 1 / HOUR, "l/s": 0.001, "l/h": 0.001 / HOUR},
        {"cfm ft3/min": FOOT**3 / 60},
    ),
    "speed": _units(
        {"m/s": 1.0, "km/h kph": 1000 / HOUR, "kn kt knot knots": 1852 / HOUR},
        {"mph mi/h": 5280 * FOOT / HOUR, "ft/s fps": FOOT, "ft/min fpm": FOOT / 60},
    ),
    "pressure": _units(
        {"Pa": 1.0, "hPa mbar": 100.0, "kPa": 1e3, "bar": 1e5, "atm": 101325.0},
        {"psi": 6894.757, "inHg": 3386.389, "inH2O inwc": 249.0889},
    ),
    "density": _units({"kg/m3": 1.0, "g/cm3": 1e3}, {"lb/ft3 lb/cuft pcf": POUND / FOOT**3}),
    "specific_heat": _units({"J/kgK": 1.0, "kJ/kgK": 1e3}, {"Btu/lbF": BTU / POUND / FAHRENHEIT}),
    "ratio": _units({"% percent": 0.01}),
    "count": {},
}

EXAMPLES: dict[Kind, tuple[str, ...]] = {
    "length": ("4 ft", "4' 6 1/2\"", "2.1 m"),
    "area": ("1,800 sq ft", "167 m2"),
    "volume": ("40 cu ft", "300 l", "1.1 m3"),
    "mass": ("5 lb", "2.3 kg"),
    "temperature": ("68 F", "-31 F", "20 C"),
    "temperature_difference": ("10 F", "5 K"),
    "thermal_resistance": ("R-40", "RSI 7.0", "7.0 m2K/W"),
    "u_value": ("U-0.28", "1.6 W/m2K"),
    "conductivity": ("0.04 W/mK", "0.28 Btu in/h ft2 F"),
    "power": ("8000 Btu/h", "2.4 kW"),
    "power_density": ("5 W/m2", "1.6 Btu/h ft2"),
    "energy": ("250 kWh", "8 therm", "1.2 GJ"),
    "angle": ("15 deg", "15°"),
    "pitch": ("6/12", "26.6 deg"),
    "air_change_rate": ("2.5 ach", "0.4 /h"),
    "airflow": ("50 cfm", "85 m3/h"),
    "speed": ("12 mph", "5 m/s"),
    "pressure": ("50 Pa", "840 hPa"),
    "density": ("145 lb/ft3", "2300 kg/m3"),
    "specific_heat": ("840 J/kgK", "0.2 Btu/lb F"),
    "ratio": ("30 %", "0.3"),
    "count": ("14",),
}

_FOLDED: dict[Kind, dict[str, Unit]] = {
    kind: {name.casefold(): unit for name, unit in UNITS[kind].items() if name[0] != "M"}
    for kind in KINDS
}


def unit_of(spelling: str, kind: Kind) -> Unit | None:
    """Return the unit of `kind` under a squeezed spelling, None when there is none.

    Capitals don't matter, except for mega: MJ must be written so (mJ is milli).
    """
    return UNITS[kind].get(spelling) or _FOLDED[kind].get(spelling.casefold())
