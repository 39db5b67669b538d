import { expect, test } from "vitest";
import { clockTime, dateOf, dayOfYear } from "../src/sun/calendar";
import {
  declination,
  equationOfTime,
  profileAngle,
  RISE_SET_ALTITUDE,
  riseSetNoon,
  type Spot,
  sunPosition,
} from "../src/sun/position";
import { near, table, turn } from "./tables";

/** How far the sun may stand from where Python sees it [deg]; the promise of the page. */
const DEGREES = 0.02;
/** The sun turns a degree in 240 s. */
const SECONDS = DEGREES * 240;

interface SunRow {
  spot: Spot;
  utc: number;
  true_altitude: number;
  altitude: number;
  azimuth: number;
  equation_of_time: number;
  declination: number;
}

test("the sun stands where Python sees it", () => {
  for (const row of table<SunRow>("sun", 2500)) {
    const where = JSON.stringify(row);
    const sun = sunPosition(row.utc, row.spot);
    near(sun.trueAltitude, row.true_altitude, DEGREES, where);
    near(sun.altitude, row.altitude, DEGREES, where);
    const level = Math.cos((row.true_altitude * Math.PI) / 180);
    near(turn(sun.azimuth, row.azimuth) * level, 0, DEGREES, where);
    near(declination(row.utc), row.declination, DEGREES, where);
    near(equationOfTime(row.utc), row.equation_of_time, DEGREES * 4, where);
  }
});

interface DayRow {
  spot: Spot;
  midnight: number;
  sunrise: number | null;
  noon: number;
  sunset: number | null;
}

test("it rises, stands highest and sets when Python says", () => {
  for (const row of table<DayRow>("days", 800)) {
    const where = JSON.stringify(row);
    const found = riseSetNoon(row.midnight, row.spot);
    near(found.noon, row.noon, SECONDS, where);
    rising(row, row.sunrise, found.sunrise, where);
    rising(row, row.sunset, found.sunset, where);
  }
});

/** Where the sun only just comes up or goes down, a hundredth of a degree decides whether. */
function rising(row: DayRow, wanted: number | null, found: number | null, where: string): void {
  if (wanted === null || found === null) {
    if (wanted !== found) expect(grazing(row), where).toBeLessThan(DEGREES);
    return;
  }
  const lat = radians(row.spot.latitude);
  const dec = radians(declination(wanted));
  const hour = radians((wanted - row.noon) / 240);
  const climb = Math.abs(Math.cos(lat) * Math.cos(dec) * Math.sin(hour));
  near(found, wanted, SECONDS / climb, where);
}

/** How far the sun at noon or midnight stands from where it rises [deg]. */
function grazing(row: DayRow): number {
  const extremes = [row.noon, row.noon - 43200, row.noon + 43200];
  const heights = extremes.map((utc) => sunPosition(utc, row.spot).trueAltitude);
  return Math.min(...heights.map((height) => Math.abs(height - RISE_SET_ALTITUDE)));
}

function radians(degrees: number): number {
  return (degrees * Math.PI) / 180;
}

test("profile angles are those of Python", () => {
  type Row = Record<"altitude" | "azimuth" | "wall" | "angle", number>;
  for (const row of table<Row>("profiles", 400)) {
    near(profileAngle(row.altitude, row.azimuth, row.wall), row.angle, 1e-9, JSON.stringify(row));
  }
});

interface ClockRow {
  zone: string;
  day: number;
  month_and_day: [number, number];
  utc: number;
  shown: number[];
}

test("the clock of a place is Python's, daylight saving and all", () => {
  for (const row of table<ClockRow>("clock", 8900)) {
    const where = JSON.stringify(row);
    const { month, day } = dateOf(row.day);
    expect([month, day], where).toEqual(row.month_and_day);
    expect(dayOfYear(month, day), where).toBe(row.day);
    const shown = clockTime(row.utc, row.zone);
    const parts = [shown.year, shown.month, shown.day, shown.hour, shown.minute];
    expect(parts, where).toEqual(row.shown);
  }
});
