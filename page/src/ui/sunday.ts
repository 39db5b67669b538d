/** The sun of the day shown, on the wall shown; and the fortnights of the story pole. */
import { computed } from "@preact/signals";
import { clockAt } from "../sun/calendar";
import { declination, profileAngle, solarNoon, solarPosition } from "../sun/position";
import { dimension } from "../words/units";
import { DAYS, monthAndDay, shortestDay } from "./dates";
import { day, design, minutes, northern, building, say, system, word } from "./store";

export interface Sun {
  /** UTC seconds, degrees; the profile angle is null while no sun is on the wall. */
  instant: number;
  altitude: number;
  azimuth: number;
  profile: number | null;
  clock: string;
}

/** A fortnight of the pole: its day, the later day with the same sun, and the noon sun on the wall. */
export interface Mark {
  first: number;
  later: number;
  profile: number | null;
}

const NOMINAL_YEAR = 2022;
const NOTCHES = 14;
const FORTNIGHT = 14;

/** UTC seconds of the start of a day of the nominal year. */
const startOf = (dayOfYear: number): number => Date.UTC(NOMINAL_YEAR, 0, 1 + dayOfYear) / 1000;

/** The sun of a day, so many minutes after solar noon. */
export function sunOn(dayOfYear: number, after: number): Sun {
  const place = design.value?.place;
  if (!place) return { instant: 0, altitude: 0, azimuth: 0, profile: null, clock: "" };
  const instant = solarNoon(startOf(dayOfYear), place.longitude) + after * 60;
  const { apparentAltitude: altitude, azimuth } = solarPosition(instant, place);
  const faces = building.value?.faces ?? 180;
  return {
    instant,
    altitude,
    azimuth,
    profile: profileAngle(altitude, azimuth, faces),
    clock: clockAt(instant, place.time_zone),
  };
}

export const sun = computed<Sun>(() => sunOn(day.value, minutes.value));

/** Fortnights from the shortest day to the longest, with the later day of the same noon sun. */
export const marks = computed<Mark[]>(() => {
  if (!design.value?.place) return [];
  const start = shortestDay(northern.value);
  return Array.from({ length: NOTCHES }, (_, i) => {
    const first = (start + i * FORTNIGHT) % DAYS;
    return { first, later: sameSunLater(first, start), profile: sunOn(first, 0).profile };
  });
});

/** The day of the half-year after the longest day whose declination comes nearest. */
function sameSunLater(first: number, shortest: number): number {
  const wanted = declination(startOf(first) + 43200);
  let best = first;
  let least = Number.POSITIVE_INFINITY;
  for (let i = 182; i <= 365; i += 1) {
    const other = (shortest + i) % DAYS;
    const apart = Math.abs(declination(startOf(other) + 43200) - wanted);
    if (apart < least) [least, best] = [apart, other];
  }
  return best;
}

/** A day of the year in words, such as "21 Dec". */
export function dayName(dayOfYear: number): string {
  const { month, day: number } = monthAndDay(dayOfYear);
  return say("sheet.day", { day: number, month: word(`month_short.${month}`) });
}

/** A length to build by. */
export const lengthText = (metres: number): string => dimension(metres, system.value);
