/**
 * The roof triangle of a symmetrical gable truss.
 *
 * Metres; heights above the finished floor, x runs inwards from the outside face of the wall
 * (x = 0), outdoors is x < 0. The upper edge of the top chord is the line
 * y(x) = plate + heel + pitch x, from x = -projection to mid-span. With a `tail` the soffit hangs
 * at the foot of the plumb cut; with a `cantilever` it lies level with the plate.
 * The same as `noonmark.shape.roof`. Source: plane geometry; words as in the truss trade.
 */

import type { Roof } from "../wire/messages";

/** Air gap under the roof deck, square to it [m]: 1 inch, IRC 2021 section R806.3. */
export const LEAST_VENT_GAP = 0.0254;

/** Length along the slope for a level metre [-]. */
export function slopeFactor(pitch: number): number {
  return Math.hypot(1, pitch);
}

/** Depth of the top chord measured plumb [m]. */
export function chordPlumb(roof: Roof): number {
  return roof.chord_depth * slopeFactor(roof.pitch);
}

/** Half the span [m]. */
export function run(roof: Roof): number {
  return roof.span / 2;
}

/** Height of the top chords' upper edges where they meet [m]. */
export function ridge(roof: Roof): number {
  return roof.plate + roof.heel + roof.pitch * run(roof);
}

/** Height of the top chord's upper edge at x, past the ridge too [m]. */
export function topEdge(roof: Roof, x: number): number {
  const level = run(roof) - Math.abs(run(roof) - x);
  return roof.plate + roof.heel + roof.pitch * level;
}

/** Length of the tail along the slope, outside face of the wall to the cut [m]. */
export function tail(roof: Roof): number {
  return roof.projection * slopeFactor(roof.pitch);
}

/** Height of the top chord's upper edge at the fascia line [m]. */
export function fasciaTop(roof: Roof): number {
  return topEdge(roof, -roof.projection);
}

/** Height of the soffit's outer edge [m]. */
export function soffit(roof: Roof): number {
  return roof.truss === "cantilever" ? roof.plate : fasciaTop(roof) - chordPlumb(roof);
}

/** Height of the soffit at the outside face of the wall [m]. */
export function soffitAtWall(roof: Roof): number {
  return soffit(roof) + (roof.sloped ? roof.projection * roof.pitch : 0);
}

/** Height of the fascia's lower edge [m]. */
export function fasciaFoot(roof: Roof): number {
  return soffit(roof) - roof.fascia_drop;
}

/** Level distance from the outside face of the wall to all that hangs out [m]. */
export function reach(roof: Roof): number {
  return roof.projection + (roof.gutter ? roof.gutter.width : 0);
}

/** Height of the top chord's upper edge above the plate at x [m]. */
export function heelAt(roof: Roof, x: number): number {
  return topEdge(roof, x) - roof.plate;
}

/** The heel that a cantilevered truss has at its own end, the fascia line [m]. */
export function endHeel(roof: Roof): number {
  return heelAt(roof, -roof.projection);
}

/** The heel [m] that hangs the soffit's outer edge of a truss with tails at a height [m]. */
export function heelForSoffit(
  height: number,
  roof: Pick<Roof, "pitch" | "projection" | "plate" | "chord_depth">,
): number {
  const plumb = roof.chord_depth * slopeFactor(roof.pitch);
  return height - roof.plate + roof.projection * roof.pitch + plumb;
}
