/**
 * A wall cut open, square to it: where the sun at a profile angle gets in.
 *
 * Metres; heights above the finished floor; x runs inwards from the outside face of the wall
 * (x = 0). A ray of profile angle p is the line y = c - x tan p: the height c at which it meets
 * the plane of the wall's outside face names it. The glass stands in the middle of the wall's
 * thickness. Angles in degrees. The same as `noonmark.shape.section`. Source: plane geometry.
 */

import type { Roof } from "../wire/messages";
import { eaveOutline, shadingEdge } from "./eave";
import { clipHalfPlane, type Point } from "./polygon";
import { reach } from "./roof";

/** How much of the beam is shown before the eave [m]. */
export const OPEN_AIR = 0.35;

export interface Opening {
  sill: number;
  head: number;
}

/** What the drawing and the sun need to know of one wall [m]. */
export interface Section {
  roof: Roof;
  wall_thickness: number;
  floor_thickness: number;
  floor_insulation: number;
  ceiling_insulation: number;
  ground: number;
  ceiling: number;
  room_depth: number;
  window: Opening | null;
}

/** Place of the glass plane, the middle of the wall [m]. */
export function glassX(section: Section): number {
  return section.wall_thickness / 2;
}

/** Place of the back wall's face [m]. */
export function backX(section: Section): number {
  return section.wall_thickness + section.room_depth;
}

/** Height of the earth under floor and insulation [m]. */
export function underside(section: Section): number {
  return -section.floor_thickness - section.floor_insulation;
}

/** Whether a sun at this profile angle [deg] stands before the wall. */
export function onWall(profileAngle: number | null): profileAngle is number {
  return profileAngle !== null && profileAngle > 0 && profileAngle < 90;
}

/**
 * Height of the eave's shade edge on the wall's outside face [m]: everything above it is in the
 * eave's shade; it may lie below the ground. The angle must be `onWall`.
 */
export function shadeLine(roof: Roof, profileAngle: number): number {
  const [x, y] = shadingEdge(roof, profileAngle);
  return y + x * tan(profileAngle);
}

/** The lit part of the glass as heights [m]; equal when none is, zeros without a window. */
export function sunlitGlass(
  section: Section,
  profileAngle: number | null,
): [bottom: number, top: number] {
  const { window } = section;
  if (!window) return [0, 0];
  if (!onWall(profileAngle)) return [window.sill, window.sill];
  const top = highestRay(section.roof, window, profileAngle) - glassX(section) * tan(profileAngle);
  return [window.sill, Math.max(window.sill, top)];
}

/** How deep the sun reaches into the room [m], from the wall's inner face, at most its depth. */
export function floorReach(section: Section, profileAngle: number | null): number {
  const beam = beamPolygon(section, profileAngle);
  return beam.reduce((deepest, [x]) => Math.max(deepest, x - section.wall_thickness), 0);
}

/**
 * The beam of sun let in by the window, no corners when none is: from `outdoors` metres before
 * the wall (from all that hangs out of the eave, if not given) along the upper ray to where that
 * lands, back over floor, inner sill and foot of the glass, and out along the lower ray.
 */
export function beamPolygon(
  section: Section,
  profileAngle: number | null,
  outdoors = reach(section.roof),
): Point[] {
  const [bottom, top] = sunlitGlass(section, profileAngle);
  if (!section.window || !onWall(profileAngle) || top <= bottom) return [];
  const slope = tan(profileAngle);
  const lowest = bottom + glassX(section) * slope;
  const highest = top + glassX(section) * slope;
  return [
    [-outdoors, highest + outdoors * slope],
    ...landing(section, section.window, slope, highest),
    [glassX(section), bottom],
    [-outdoors, lowest + outdoors * slope],
  ];
}

/** The shade under the eave and, with a window, the one inside the upper reveal. */
export function shades(section: Section, profileAngle: number | null): Point[][] {
  if (!onWall(profileAngle)) return [];
  const { roof, window } = section;
  const edge = shadeLine(roof, profileAngle);
  const [tipX, tipY] = shadingEdge(roof, profileAngle);
  const outline = eaveOutline(roof);
  const deepest = outline.findIndex(([x, y]) => x === tipX && y === tipY);
  const under: Point[] = [...outline.slice(0, deepest + 1), [0, edge]];
  const found = [clipHalfPlane(under, 0, -1, -section.ground)];
  if (window) {
    const lit = sunlitGlass(section, profileAngle)[1];
    const entry = Math.min(window.head, Math.max(window.sill, edge));
    const glass = glassX(section);
    found.push([
      [0, entry],
      [0, window.head],
      [glass, window.head],
      [glass, lit],
    ]);
  }
  return found;
}

/**
 * The ray past the eave's shading edge, from at most `before` metres before the wall or height
 * `high`, down to wall or ground; none where nothing hangs out.
 */
export function shadeRay(
  section: Section,
  profileAngle: number | null,
  before: number,
  high: number,
): Point[] {
  if (!onWall(profileAngle) || reach(section.roof) <= 0) return [];
  const slope = tan(profileAngle);
  const edge = shadeLine(section.roof, profileAngle);
  const [x, y] = shadingEdge(section.roof, profileAngle);
  const rise = Math.min((x + before) * slope, high - y);
  const low = Math.max(edge, section.ground);
  return [
    [x - rise / slope, y + rise],
    [(edge - low) / slope, low],
  ];
}

/** Where the beam lands, from its upper ray back to the inner edge of the sill. */
function landing(section: Section, window: Opening, slope: number, highest: number): Point[] {
  const inner = section.wall_thickness;
  const skimming = window.sill + inner * slope;
  if (highest <= skimming) return [[(highest - window.sill) / slope, window.sill]];
  const corner = backX(section) * slope;
  const between: Point[] = skimming < corner && corner < highest ? [[backX(section), 0]] : [];
  return [
    floorOrBack(section, slope, highest),
    ...between,
    floorOrBack(section, slope, skimming),
    [inner, window.sill],
  ];
}

function floorOrBack(section: Section, slope: number, ray: number): Point {
  const height = ray - backX(section) * slope;
  return height > 0 ? [backX(section), height] : [ray / slope, 0];
}

function highestRay(roof: Roof, window: Opening, profileAngle: number): number {
  return Math.min(window.head, shadeLine(roof, profileAngle));
}

function tan(degrees: number): number {
  return Math.tan((degrees * Math.PI) / 180);
}
