/**
 * The shade of the eave on the wall's outside face, seen from outdoors.
 *
 * Each point of the eave's outline throws its shade along the sun's ray onto the face: down by its
 * distance from the wall times the tangent of the profile angle, and aside by that distance times the
 * tangent of the sun's angle to the wall. The eave runs past the wall's ends by `ends`; the shade is
 * the hull of what its outline throws from one end to the other. Source: plane geometry.
 */
import { eaveOutline } from "../geometry/eave";
import type { Section } from "../geometry/section";

type Point = [number, number];

export function wallShade(
  wall: Section,
  length: number,
  ends: number,
  sun: { azimuth: number; profile: number | null },
  faces: number,
): Point[] {
  if (sun.profile === null) return [];
  const down = Math.tan((sun.profile * Math.PI) / 180);
  // Somebody outdoors looks against the wall's azimuth: clockwise of it lies on the left.
  const aside = Math.tan(((sun.azimuth - faces) * Math.PI) / 180);
  const thrown = eaveOutline(wall.roof).flatMap(([x, y]): Point[] =>
    [-ends, length + ends].map((along): Point => [along - x * aside, y + x * down]),
  );
  return hull(thrown);
}

/** Convex hull, counter-clockwise. Source: A. M. Andrew 1979, monotone chain. */
function hull(points: readonly Point[]): Point[] {
  const sorted = [...points].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const half = (row: readonly Point[]): Point[] => {
    const chain: Point[] = [];
    for (const point of row) {
      while (chain.length > 1 && turn(chain.at(-2), chain.at(-1), point) <= 0) chain.pop();
      chain.push(point);
    }
    return chain.slice(0, -1);
  };
  return [...half(sorted), ...half([...sorted].reverse())];
}

function turn(a: Point | undefined, b: Point | undefined, c: Point): number {
  if (!a || !b) return 1;
  return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
}
