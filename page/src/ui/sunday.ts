/** The sun of the day shown, on the wall shown; and the fortnights of the story pole. */
import { computed } from "@preact/signals";
import { clockTime, DAYS, dateOf, midnightUtc } from "../sun/calendar";
import { angleOnWall, declination, riseSetNoon, sunPosition } from "../sun/position";
import { dimension } from "../words/units";
import { shortestDay } from "./dates";
import { building, day, design, minutes, northern, say, speech, system, word } from "./store";

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

const NOTCHES = 14;
const FORTNIGHT = 14;
const NOON_S = 43200;

/** The sun of a day, so many minutes after solar noon. */
export function sunOn(dayOfYear: number, after: number): Sun {
  const place = design.value?.place;
  if (!place) return { instant: 0, altitude: 0, azimuth: 0, profile: null, clock: "" };
  const instant = riseSetNoon(midnightUtc(dayOfYear), place).noon + after * 60;
  const found = sunPosition(instant, place);
  const clock = clockTime(instant, place.time_zone);
  const faces = building.value?.faces ?? 180;
  return {
    instant,
    altitude: found.altitude,
    azimuth: found.azimuth,
    profile: angleOnWall(found, faces),
    clock: `${clock.hour}:${String(clock.minute).padStart(2, "0")}`,
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
  const wanted = declination(midnightUtc(first) + NOON_S);
  let best = first;
  let least = Number.POSITIVE_INFINITY;
  for (let i = 182; i <= 365; i += 1) {
    const other = (shortest + i) % DAYS;
    const apart = Math.abs(declination(midnightUtc(other) + NOON_S) - wanted);
    if (apart < least) [least, best] = [apart, other];
  }
  return best;
}

/** A day of the year in words, such as "21 Dec". */
export function dayName(dayOfYear: number): string {
  const { month, day: number } = dateOf(dayOfYear);
  return say("sheet.day", { day: number, month: word(`month_short.${month}`) });
}

/** A length to build by. */
export const lengthText = (metres: number): string =>
  speech.value.marked(dimension(metres, system.value));

const POINTS = "N NNE NE ENE E ESE SE SSE S SSW SW WSW W WNW NW NNW".split(" ");

/** The nearest compass point to an azimuth [deg], in words. */
export const sideName = (azimuth: number): string =>
  word(`side.${POINTS[Math.round((((azimuth % 360) + 360) % 360) / 22.5) % 16]}`);
