/**
 * The eave in the section: every edge that can throw shade on the wall below it [m].
 *
 * The same as `noonmark.shape.eave`. Source: plane geometry.
 */

import type { Roof } from "../wire/messages";
import type { Point } from "./polygon";
import { fasciaFoot, fasciaTop, reach, soffit, soffitAtWall } from "./roof";

/**
 * Every edge that can throw shade, from the wall outwards: underside of the soffit from the wall
 * to the fascia line, foot of the fascia, foot and lip of the gutter. No two corners in a row are
 * the same; without any eave there is one.
 */
export function eaveOutline(roof: Roof): Point[] {
  const tip = -roof.projection;
  const corners: Point[] = [
    [0, soffitAtWall(roof)],
    [tip, soffit(roof)],
    [tip, fasciaFoot(roof)],
  ];
  if (roof.gutter) {
    const lip = fasciaTop(roof) - roof.gutter.drop;
    const foot = lip - roof.gutter.depth;
    corners.push([tip, foot], [-reach(roof), foot], [-reach(roof), lip]);
  }
  return corners.filter(([x, y], i) => {
    const before = corners[i - 1];
    return !before || before[0] !== x || before[1] !== y;
  });
}

/** The corner of the eave's outline whose shade reaches deepest; angle in degrees, 0 to 90. */
export function shadingEdge(roof: Roof, profileAngle: number): Point {
  const slope = Math.tan((profileAngle * Math.PI) / 180);
  const lands = ([x, y]: Point) => y + x * slope;
  return eaveOutline(roof).reduce((deepest, corner) =>
    lands(corner) < lands(deepest) ? corner : deepest,
  );
}
