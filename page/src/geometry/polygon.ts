/** Plane polygons as lists of corners, the last joined to the first. */

export type Point = readonly [x: number, y: number];

/** The signed area, positive counter-clockwise [unit2]. Source: Gauss's area formula. */
export function area(polygon: readonly Point[]): number {
  let doubled = 0;
  polygon.forEach(([x, y], i) => {
    const [nextX, nextY] = polygon[(i + 1) % polygon.length] as Point;
    doubled += x * nextY - nextX * y;
  });
  return doubled / 2;
}

/**
 * The part of a polygon where a x + b y <= c. A convex polygon stays convex.
 *
 * Source: Sutherland & Hodgman 1974, Reentrant polygon clipping, Communications of the ACM 17(1).
 */
export function clipHalfPlane(polygon: readonly Point[], a: number, b: number, c: number): Point[] {
  const kept: Point[] = [];
  let before = polygon.at(-1);
  for (const corner of polygon) {
    const [x0, y0] = before as Point;
    const [x, y] = corner;
    const overBefore = a * x0 + b * y0 - c;
    const over = a * x + b * y - c;
    if (overBefore > 0 !== over > 0) {
      const part = overBefore / (overBefore - over);
      kept.push([x0 + part * (x - x0), y0 + part * (y - y0)]);
    }
    if (over <= 0) kept.push(corner);
    before = corner;
  }
  return kept;
}
