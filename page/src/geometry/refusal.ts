/**
 * Which section can not be, and why: the problems that `noonmark.shape` raises, by the same codes
 * and values and in the same order. What a design may be beyond that, the server says.
 */

import type { Problem, Roof, Value, Values } from "../wire/messages";
import { chordPlumb, endHeel, run, soffit, soffitAtWall } from "./roof";
import type { Section } from "./section";

const SLACK = 1e-9;

/** The first problem of a section, null when it can stand. */
export function refusal(section: Section): Problem | null {
  return (
    gutterRefusal(section.roof) ??
    negative({ fascia_drop: section.roof.fascia_drop }) ??
    roofRefusal(section.roof) ??
    wallRefusal(section)
  );
}

/** The first problem of a roof triangle, gutter and fascia apart; null when its parts close. */
export function roofRefusal(roof: Roof): Problem | null {
  const { span, plate, chord_depth, pitch, projection, bearing } = roof;
  const size =
    notPositive({ span, plate, chord_depth }) ?? negative({ pitch, projection, bearing });
  if (size) return size;
  const [held, heel] =
    roof.truss === "cantilever" ? ["end_heel", endHeel(roof)] : ["heel", roof.heel];
  const least = chordPlumb(roof);
  if (!(heel >= least - SLACK)) {
    return problem(`shape.${held}_too_low`, { part: held, value: heel, least });
  }
  if (!(soffit(roof) > 0)) {
    return problem("shape.soffit_below_floor", { part: "soffit", value: soffit(roof) });
  }
  if (!(bearing < run(roof))) {
    const values = { part: "bearing", value: bearing, limit: run(roof) };
    return problem("shape.bearing_past_ridge", values);
  }
  const sloped = roof.sloped && roof.truss === "cantilever";
  return sloped ? problem("shape.sloped_under_chord", {}) : null;
}

function gutterRefusal(roof: Roof): Problem | null {
  if (!roof.gutter) return null;
  const { width, depth, drop } = roof.gutter;
  return notPositive({ width, depth }) ?? negative({ drop });
}

function wallRefusal(section: Section): Problem | null {
  const { floor_thickness, room_depth, wall_thickness, window, ceiling } = section;
  const { ceiling_insulation, floor_insulation } = section;
  return (
    notPositive({ floor_thickness, room_depth }) ??
    negative({ wall_thickness, ceiling_insulation, floor_insulation }) ??
    outOfOrder({ ceiling, plate: section.roof.plate }) ??
    (window &&
      (outOfOrder({ floor: 0, sill: window.sill, head: window.head, ceiling }) ??
        outOfOrder({ head: window.head, soffit: soffitAtWall(section.roof) })))
  );
}

function notPositive(parts: Record<string, number>): Problem | null {
  const found = Object.entries(parts).find(([, value]) => !(value > 0));
  return found ? problem("shape.not_positive", { part: found[0], value: found[1] }) : null;
}

function negative(parts: Record<string, number>): Problem | null {
  const found = Object.entries(parts).find(([, value]) => !(value >= 0));
  return found ? problem("shape.negative", { part: found[0], value: found[1] }) : null;
}

function outOfOrder(heights: Record<string, number>): Problem | null {
  const rows = Object.entries(heights);
  for (const [i, [above, high]] of rows.entries()) {
    const [below, low] = rows[i - 1] ?? ["", Number.NEGATIVE_INFINITY];
    if (!(low <= high)) {
      return problem("shape.out_of_order", { below, above, below_height: low, above_height: high });
    }
  }
  return null;
}

function problem(code: string, values: Record<string, string | number>): Problem {
  const kind = values.part === "pitch" ? "pitch" : "length";
  const spoken = Object.entries(values).map(([name, value]): [string, Value] => [
    name,
    typeof value === "number" ? { value, kind } : value,
  ]);
  return { code, values: Object.fromEntries(spoken) as Values };
}
