/** From metres to the picture: x inwards from the outside face of the wall, y up from the floor. */
import { reach, ridge, topEdge } from "../../geometry/roof";
import { OPEN_AIR, type Section } from "../../geometry/section";

export type Point = readonly [number, number];

export interface View {
  /** What is shown, in metres. */
  left: number;
  right: number;
  low: number;
  high: number;
  /** Pixels a metre, and where the picture lies in the drawing. */
  scale: number;
  x0: number;
  y0: number;
  width: number;
  height: number;
  /** Whether the drawing is so narrow that words are kept short. */
  narrow: boolean;
  x(metres: number): number;
  y(metres: number): number;
}

const NARROW = 640; // px
const SHOWN_DEPTH = 5.5; // m of the room
const SHOWN_DEPTH_NARROW = 2.5;
const DUG = 0.3; // m of earth
const OVER_PLATE = 1.9; // m of roof shown over the plate
const POLE = 176; // px that pole and levels take at the left
const HEAD = 44; // px over the roof, for its dimensions

/**
 * Fit a wall into a drawing of `width` px, with room for `levels` px of words before it; it changes
 * only when the file does.
 */
export function viewOf(wall: Section, width: number, levels: number): View {
  const narrow = width < NARROW;
  const depth = Math.min(
    wall.room_depth + 2 * wall.wall_thickness,
    narrow ? SHOWN_DEPTH_NARROW : SHOWN_DEPTH,
  );
  const left = -Math.max(1, Math.ceil((reach(wall.roof) + OPEN_AIR) * 4) / 4);
  const right = wall.wall_thickness + depth;
  const low = Math.min(wall.ground, -wall.floor_thickness - wall.floor_insulation) - DUG;
  const highest = Math.min(ridge(wall.roof), wall.roof.plate + OVER_PLATE);
  const high = Math.max(highest, topEdge(wall.roof, 0) + 0.8);
  const x0 = narrow ? 112 : POLE + levels;
  const scale = (width - x0 - 2) / (right - left);
  const y0 = HEAD;
  return {
    left,
    right,
    low,
    high,
    scale,
    x0,
    y0,
    width,
    narrow,
    height: y0 + (high - low) * scale,
    x: (metres) => x0 + (metres - left) * scale,
    y: (metres) => y0 + (high - metres) * scale,
  };
}

/** Corners in metres as the points of an SVG shape. */
export const corners = (view: View, points: readonly Point[]): string =>
  points.map(([x, y]) => `${view.x(x).toFixed(1)},${view.y(y).toFixed(1)}`).join(" ");

/** A box in metres as the points of an SVG shape. */
export const box = (view: View, x0: number, y0: number, x1: number, y1: number): string =>
  corners(view, [
    [x0, y0],
    [x1, y0],
    [x1, y1],
    [x0, y1],
  ]);
