/** Values from outside the project, those of tests/published among them. */
import { expect, test } from "vitest";
import { area, clipHalfPlane, type Point } from "../src/geometry/polygon";
import { heelForSoffit, soffit } from "../src/geometry/roof";
import { floorReach, type Section, shadeLine } from "../src/geometry/section";
import {
  declination,
  equationOfTime,
  halfDayArc,
  profileAngle,
  riseSetNoon,
  sunPosition,
} from "../src/sun/position";
import type { Roof } from "../src/wire/messages";
import { decimal, fixed, general } from "../src/words/decimal";

const FOOT = 0.3048;
const utc = (...parts: [number, number, number, number?, number?, number?]) =>
  Date.UTC(parts[0], parts[1] - 1, ...(parts.slice(2) as [number])) / 1000;

test("the sun of 13 October 1992", () => {
  // Meeus, Astronomical Algorithms, example 25.a (from memory): 0 h dynamical time
  expect(declination(utc(1992, 10, 13) - 69.3)).toBeCloseTo(-7.78507, 3);
  // the same book's example 28.b (from memory): 13 min 42.6 s
  expect(equationOfTime(utc(1992, 10, 13) - 69.3)).toBeCloseTo(13 + 42.6 / 60, 1);
});

test("the worked example of the long algorithm", () => {
  // Reda & Andreas, NREL/TP-560-34302, appendix A.5; its own air bends less by 0.001 deg
  const golden = { latitude: 39.742476, longitude: -105.1786, altitude: 1830.14 };
  const sun = sunPosition(utc(2003, 10, 17, 19, 30, 30), golden);
  expect(Math.abs(sun.altitude - (90 - 50.11162))).toBeLessThan(0.01);
  expect(Math.abs(sun.trueAltitude - 39.872046)).toBeLessThan(0.01);
  expect(Math.abs(sun.azimuth - 194.34024)).toBeLessThan(0.01);
  const day = riseSetNoon(utc(2003, 10, 17), golden);
  const clock = (hours: number, minutes: number, seconds: number) =>
    utc(2003, 10, 17, hours + 7, minutes, seconds);
  expect(Math.abs((day.sunrise as number) - clock(6, 12, 43))).toBeLessThan(6);
  expect(Math.abs(day.noon - clock(11, 46, 5))).toBeLessThan(3);
});

test("the day of a public solar table", () => {
  // NOAA solar-calculation spreadsheet, its own example: 21 June 2010, 40 N 105 W
  const noon = utc(2010, 6, 21, 6, 6);
  expect(Math.abs(declination(noon) - 23.43837)).toBeLessThan(0.005);
  expect(Math.abs(equationOfTime(noon) - -1.7154)).toBeLessThan(0.05);
  expect(halfDayArc(40, 23.43837, -0.833)).toBeCloseTo(112.6104, 3);
});

test("a sun square before a wall stands in the section as it stands in the sky", () => {
  expect(profileAngle(35, 180, 180)).toBeCloseTo(35, 9);
  expect(profileAngle(0, 150, 180)).toBeCloseTo(0, 9);
  // sideways it stands higher: tan p = tan h / cos 60
  expect(profileAngle(45, 240, 180)).toBeCloseTo((Math.atan(2) * 180) / Math.PI, 9);
  expect(profileAngle(30, 0, 180)).toBeCloseTo(150, 9);
});

/** A thin wall, so that lengths count from the glass. */
function wall(projection: number, head: number): Section {
  const shape = { pitch: 0.5, projection, plate: 2.5, chord_depth: 0.09 };
  const roof: Roof = {
    ...shape,
    span: 9,
    heel: heelForSoffit(2.6, shape),
    truss: "tail",
    bearing: 0,
    sloped: false,
    fascia_drop: 0,
    gutter: null,
  };
  return {
    roof,
    wall_thickness: 0,
    floor_thickness: 0.1,
    floor_insulation: 0,
    ceiling_insulation: 0.3,
    ground: -0.2,
    ceiling: 2.5,
    room_depth: 9,
    window: { sill: 0, head },
  };
}

test("the noon sun of a logged house reaches 13.3 ft", () => {
  // 40.0 N, no eave, head 6 ft 8 in, 21 December: geometry logged by the house's owner
  expect(Math.abs(floorReach(wall(0, (80 / 12) * FOOT), 26.55) / FOOT - 13.3)).toBeLessThan(0.05);
});

test.each([
  [-23.45, 2.0],
  [-0.4, 4.9],
  [23.45, 12.7],
])("shade under a five-foot eave at 45 N, declination %f: %f ft", (dec, feet) => {
  // builder's table of noon shade, given to a tenth of a foot
  const { roof } = wall(5 * FOOT, 2);
  const below = soffit(roof) - shadeLine(roof, 90 - 45 + dec);
  expect(Math.abs(below / FOOT - feet)).toBeLessThan(0.1);
});

test("half a square is half its area", () => {
  const square: Point[] = [
    [0, 0],
    [1, 0],
    [1, 1],
    [0, 1],
  ];
  expect(area(square)).toBe(1);
  expect(area(clipHalfPlane(square, 1, 1, 1))).toBeCloseTo(0.5, 12);
  expect(clipHalfPlane(square, 1, 0, -1)).toEqual([]);
  expect(clipHalfPlane([], 1, 0, 1)).toEqual([]);
});

test("halves go to the even digit, exactly", () => {
  expect([0.5, 1.5, 2.5, -2.5].map((value) => fixed(value, 0))).toEqual(["0", "2", "2", "-2"]);
  expect(fixed(1.005, 2)).toBe("1.00"); // the number stored lies below the half
  expect(decimal(-0.001, 2)).toBe("0.00");
  expect([1e6, 123456.5, 0.00001234567].map(general)).toEqual(["1e+06", "123456", "1.23457e-05"]);
});
