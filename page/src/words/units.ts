/**
 * Writes SI numbers for people; the only place of the page where numbers are rounded.
 *
 * The same as `noonmark.units.writing`; factors from NIST Special Publication 811 (2008 edition),
 * appendix B.8, built from foot 0.3048 m, pound 0.453 592 37 kg and Btu (IT) 1055.055 852 62 J.
 */

import type { Kind, Quantity, System } from "../wire/messages";
import { decimal, fixed, MINUS, withoutZeros } from "./decimal";

export { decimal, MINUS } from "./decimal";

const INCH = 0.0254;
const FOOT = 0.3048;
const POUND = 0.45359237;
const BTU = 1055.05585262;
const HOUR = 3600;
const FAHRENHEIT = 5 / 9;
const RESISTANCE = (FAHRENHEIT * HOUR * FOOT ** 2) / BTU;

/** How a kind is written: `{}` stands for the number, SI value = factor x number + offset. */
interface Style {
  form: string;
  factor: number;
  digits: number;
  offset?: number;
}

type Written = Exclude<Kind, "pitch" | "count">;

const METRIC: Record<Written, Style> = {
  length: { form: "{} m", factor: 1, digits: 2 },
  area: { form: "{} m²", factor: 1, digits: 1 },
  volume: { form: "{} m³", factor: 1, digits: 2 },
  mass: { form: "{} kg", factor: 1, digits: 1 },
  temperature: { form: "{} °C", factor: 1, digits: 1 },
  temperature_difference: { form: "{} K", factor: 1, digits: 1 },
  thermal_resistance: { form: "{} m²K/W", factor: 1, digits: 2 },
  u_value: { form: "{} W/m²K", factor: 1, digits: 2 },
  conductivity: { form: "{} W/mK", factor: 1, digits: 3 },
  power: { form: "{} W", factor: 1, digits: 0 },
  power_density: { form: "{} W/m²", factor: 1, digits: 1 },
  energy: { form: "{} kWh", factor: 1e3 * HOUR, digits: 1 },
  angle: { form: "{}°", factor: 1, digits: 1 },
  air_change_rate: { form: "{} /h", factor: 1, digits: 2 },
  airflow: { form: "{} m³/h", factor: 1 / HOUR, digits: 1 },
  speed: { form: "{} m/s", factor: 1, digits: 1 },
  pressure: { form: "{} Pa", factor: 1, digits: 0 },
  density: { form: "{} kg/m³", factor: 1, digits: 0 },
  specific_heat: { form: "{} J/kgK", factor: 1, digits: 0 },
  ratio: { form: "{} %", factor: 0.01, digits: 0 },
};

const US: Record<Written, Style> = {
  ...METRIC,
  length: { form: "{} ft", factor: FOOT, digits: 2 },
  area: { form: "{} sq ft", factor: FOOT ** 2, digits: 0 },
  volume: { form: "{} cu ft", factor: FOOT ** 3, digits: 1 },
  mass: { form: "{} lb", factor: POUND, digits: 1 },
  temperature: { form: "{} °F", factor: FAHRENHEIT, digits: 1, offset: -32 * FAHRENHEIT },
  temperature_difference: { form: "{} °F", factor: FAHRENHEIT, digits: 1 },
  thermal_resistance: { form: "R-{}", factor: RESISTANCE, digits: 1 },
  u_value: { form: "U-{}", factor: 1 / RESISTANCE, digits: 2 },
  conductivity: { form: "{} Btu·in/h·ft²·°F", factor: INCH / RESISTANCE, digits: 2 },
  power: { form: "{} Btu/h", factor: BTU / HOUR, digits: 0 },
  power_density: { form: "{} Btu/h·ft²", factor: BTU / HOUR / FOOT ** 2, digits: 1 },
  energy: { form: "{} kBtu", factor: 1e3 * BTU, digits: 0 },
  air_change_rate: { form: "{} ach", factor: 1, digits: 2 },
  airflow: { form: "{} cfm", factor: FOOT ** 3 / 60, digits: 0 },
  speed: { form: "{} mph", factor: (5280 * FOOT) / HOUR, digits: 1 },
  density: { form: "{} lb/ft³", factor: POUND / FOOT ** 3, digits: 1 },
  specific_heat: { form: "{} Btu/lb·°F", factor: BTU / POUND / FAHRENHEIT, digits: 3 },
};

/**
 * An SI value as text, which the server reads back. `digits` after the point replaces the usual
 * number of the kind; US lengths are feet and inches to a quarter inch without it, decimal feet
 * with it. Throws RangeError for what is not finite.
 */
export function write(value: number, kind: Kind, system: System, digits?: number): string {
  if (!Number.isFinite(value)) throw new RangeError(`${kind} is not finite`);
  if (kind === "count") return decimal(value, digits ?? 0);
  if (kind === "pitch") return pitch(value, system, digits ?? 1);
  if (kind === "length" && system === "us" && digits === undefined) return feetAndInches(value);
  const style = (system === "us" ? US : METRIC)[kind];
  const number = (value - (style.offset ?? 0)) / style.factor;
  return style.form.replace("{}", decimal(number, digits ?? style.digits));
}

/** A quantity as text, see `write`. */
export function writeQuantity({ value, kind }: Quantity, system: System, digits?: number): string {
  return write(value, kind, system, digits);
}

/** A length [m] to build by: to the millimetre, or to a quarter inch. */
export function dimension(metres: number, system: System): string {
  return write(metres, "length", system, system === "metric" ? 3 : undefined);
}

/** A length in m as feet, inches and quarter inches: 4' 6 1/2". */
export function feetAndInches(metres: number): string {
  const quarters = BigInt(fixed(Math.abs(metres) / INCH / 0.25, 0));
  const feet = quarters / 48n;
  const inch = (quarters % 48n) / 4n;
  const part = ["", "1/4", "1/2", "3/4"][Number(quarters % 4n)] ?? "";
  const inches = [inch || !part ? `${inch}` : "", part].filter(Boolean).join(" ");
  const sign = metres < 0 && quarters ? MINUS : "";
  return feet ? `${sign}${feet}' ${inches}"` : `${sign}${inches}"`;
}

/** Degrees, or rise in twelve: for the US, and where degrees would round to upright. */
function pitch(value: number, system: System, digits: number): string {
  const degrees = Math.atan(value) * (180 / Math.PI);
  if (system === "metric" && Number(fixed(Math.abs(degrees), digits)) < 90) {
    return `${decimal(degrees, digits)}°`;
  }
  return `${withoutZeros(decimal(12 * value, digits))}/12`;
}
