/**
 * Days of the nominal year, and the clock of a place with its daylight saving.
 *
 * Days count from 0, 1 January; there is no leap day. Instants are seconds since 1970-01-01 00:00
 * UTC. Zones are names such as America/Denver; their rules are the browser's own (IANA).
 */

/** The year whose sun stands for every year: half-way between leap days and without one. */
export const NOMINAL_YEAR = 2022;
export const DAYS = 365;

const DAY_S = 86400;

/** A moment as the clock of a place shows it; `month` 1 to 12. */
export interface ClockTime {
  year: number;
  month: number;
  day: number;
  hour: number;
  minute: number;
  second: number;
}

/** UTC seconds of 00:00 UTC of a day of the nominal year, 0 to 364. */
export function midnightUtc(dayOfYear: number): number {
  return Date.UTC(NOMINAL_YEAR, 0, 1 + dayOfYear) / 1000;
}

/** Month (1 to 12) and day of the month of a day of the nominal year, 0 to 364. */
export function dateOf(dayOfYear: number): { month: number; day: number } {
  const found = new Date(midnightUtc(dayOfYear) * 1000);
  return { month: found.getUTCMonth() + 1, day: found.getUTCDate() };
}

/** The day of the nominal year of a date, 0 to 364; 29 February is 1 March. */
export function dayOfYear(month: number, day: number): number {
  return (Date.UTC(NOMINAL_YEAR, month - 1, day) / 1000 - midnightUtc(0)) / DAY_S;
}

/** What the clock of a zone shows at an instant, daylight saving included. */
export function clockTime(utc: number, zone: string): ClockTime {
  const parts = formatter(zone).formatToParts(new Date(utc * 1000));
  const read = (type: Intl.DateTimeFormatPartTypes) =>
    Number(parts.find((part) => part.type === type)?.value);
  return {
    year: read("year"),
    month: read("month"),
    day: read("day"),
    hour: read("hour"),
    minute: read("minute"),
    second: read("second"),
  };
}

const formatters = new Map<string, Intl.DateTimeFormat>();

function formatter(zone: string): Intl.DateTimeFormat {
  const known = formatters.get(zone);
  if (known) return known;
  const made = new Intl.DateTimeFormat("en-GB", {
    timeZone: zone,
    calendar: "gregory",
    numberingSystem: "latn",
    hourCycle: "h23",
    year: "numeric",
    month: "numeric",
    day: "numeric",
    hour: "numeric",
    minute: "numeric",
    second: "numeric",
  });
  formatters.set(zone, made);
  return made;
}
