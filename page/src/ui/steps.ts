/** The steps of the hand, and values in the words of the design file. Metres; a pitch is rise over run. */
import type { System } from "../wire/messages";
import { system } from "./store";

/** What the hand can take, in the order it is told. */
export const NAMES = [
  "projection",
  "soffit",
  "heel",
  "pitch",
  "attic",
  "ceiling",
  "head",
  "sill",
  "width",
  "wall",
  "floor",
] as const;
export type Name = (typeof NAMES)[number];

const INCH = 0.0254;
/** Layers are made to the half inch, all else is built to the inch. */
const FINE: readonly Name[] = ["wall", "floor", "attic"];
/** One step of a handle: an inch or a centimetre, half an inch in twelve or a degree. */
export function stepOf(name: Name): number {
  if (name === "pitch") return system.value === "us" ? 0.5 / 12 : Math.PI / 180;
  if (system.value !== "us") return FINE.includes(name) ? 0.005 : 0.01;
  return FINE.includes(name) ? INCH / 2 : INCH;
}

/** The nearest whole step to a value. */
export function snapped(name: Name, value: number): number {
  const step = stepOf(name);
  if (name === "pitch" && system.value !== "us") {
    return Math.tan(Math.round(Math.atan(value) / step) * step);
  }
  return Math.round(value / step) * step;
}

/** One step up or down, or several. */
export function stepped(name: Name, value: number, steps: number): number {
  const step = stepOf(name);
  if (name === "pitch" && system.value !== "us") {
    return Math.tan((Math.round(Math.atan(value) / step) + steps) * step);
  }
  return (Math.round(value / step) + steps) * step;
}

/** A value in words that the design file reads, without loss at the steps of the hand. */
export function written(value: number, kind: "length" | "pitch", units: System): string {
  if (kind === "pitch") {
    return units === "us"
      ? `${trimmed(12 * value, 3)}/12`
      : `${trimmed((Math.atan(value) * 180) / Math.PI, 3)} deg`;
  }
  const quarters = Math.round((value / INCH) * 4);
  if (units === "us" && Math.abs((quarters * INCH) / 4 - value) < 1e-6) {
    const whole = Math.floor(quarters / 4);
    const part = ["", " 1/4", " 1/2", " 3/4"][quarters % 4];
    const feet = Math.floor(whole / 12);
    return feet ? `${feet} ft ${whole % 12}${part} in` : `${whole}${part} in`;
  }
  return `${trimmed(value, 4)} m`;
}

const trimmed = (value: number, digits: number): string => String(Number(value.toFixed(digits)));
