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

/** UTC seconds of an hour of standard time of a day; `utcOffset` is standard time less UTC [h]. */
export function standardInstant(day: number, standardHour: number, utcOffset: number): number {
  return midnightUtc(day) + (standardHour - utcOffset) * 3600;
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

/** Clock time less UTC of a zone at an instant [s]. */
export function clockOffset(utc: number, zone: string): number {
  const whole = Math.floor(utc);
  const { year, month, day, hour, minute, second } = clockTime(whole, zone);
  return Date.UTC(year, month - 1, day, hour, minute, second) / 1000 - whole;
}

/**
 * UTC seconds of an hour of the place's clock on a day of the nominal year. Of two moments with
 * one clock time in autumn it is the first; an hour that spring leaves out goes by the clock
 * before the change.
 */
export function clockInstant(day: number, clockHour: number, zone: string): number {
  const local = midnightUtc(day) + clockHour * 3600;
  const before = local - clockOffset(local - DAY_S, zone);
  const after = local - clockOffset(local + DAY_S, zone);
  const shows = (utc: number) => utc + clockOffset(utc, zone) === local;
  return !shows(before) && shows(after) ? after : before;
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
