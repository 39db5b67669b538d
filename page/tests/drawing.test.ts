/** Labels apart, and the eave's shade on the wall against rays cast one by one. */
import { expect, test } from "vitest";
import type { Section } from "../src/geometry/section";
import { spread } from "../src/ui/spread";
import { wallShade } from "../src/ui/wallshade";

test("labels stand apart, in order, as near as can be", () => {
  expect(spread([10, 50, 90], 16, 0, 100)).toEqual([10, 50, 90]);
  expect(spread([50, 50, 50], 10, 0, 100)).toEqual([40, 50, 60]);
  expect(spread([5, 6], 10, 0, 100)).toEqual([0.5, 10.5]);
  expect(spread([99, 98], 10, 0, 100)).toEqual([100, 90]);
  expect(spread([1, 2, 3, 4], 50, 0, 90)).toEqual([0, 30, 60, 90]);
  expect(spread([], 10, 0, 1)).toEqual([]);
});

const LENGTH = 12;
const ENDS = 0.5;
const wall = {
  roof: {
    span: 8,
    pitch: 0.5,
    projection: 0.9,
    heel: 0.6,
    plate: 2.7,
    chord_depth: 0.14,
    truss: "tail",
    bearing: 0,
    sloped: false,
    fascia_drop: 0,
    gutter: null,
  },
} as unknown as Section;
const { projection, heel, plate, pitch, chord_depth } = wall.roof;
const SOFFIT = plate + heel - projection * pitch - chord_depth * Math.hypot(1, pitch);

/** Whether the ray from a point of the face to the sun passes the level soffit: plane against ray. */
function shaded(along: number, up: number, azimuth: number, altitude: number, faces: number) {
  const rad = Math.PI / 180;
  const level = Math.cos(altitude * rad);
  const out = level * Math.cos((azimuth - faces) * rad);
  const left = level * Math.sin((azimuth - faces) * rad);
  const time = (SOFFIT - up) / Math.sin(altitude * rad);
  const at = along - left * time;
  return time > 0 && out * time < projection && at > -ENDS && at < LENGTH + ENDS;
}

function inside(polygon: readonly (readonly [number, number])[], x: number, y: number): boolean {
  return polygon.every(([ax, ay], i) => {
    const [bx, by] = polygon[(i + 1) % polygon.length] ?? [0, 0];
    return (bx - ax) * (y - ay) - (by - ay) * (x - ax) > 0;
  });
}

test.each([
  [180, 180, 40],
  [150, 180, 25],
  [235, 180, 55],
  [330, 0, 30],
  [40, 0, 62],
])("shade of sun %i on a wall facing %i, %i high", (azimuth, faces, altitude) => {
  const rad = Math.PI / 180;
  const profile = Math.atan2(Math.tan(altitude * rad), Math.cos((azimuth - faces) * rad)) / rad;
  const polygon = wallShade(wall, LENGTH, ENDS, { azimuth, profile }, faces);
  let lit = 0;
  let dark = 0;
  for (let along = 0.07; along < LENGTH; along += 0.21) {
    for (let up = 0.013; up < SOFFIT; up += 0.11) {
      const wanted = shaded(along, up, azimuth, altitude, faces);
      expect(inside(polygon, along, up), `${along} ${up}`).toBe(wanted);
      if (wanted) dark += 1;
      else lit += 1;
    }
  }
  expect(Math.min(lit, dark)).toBeGreaterThan(20);
});
