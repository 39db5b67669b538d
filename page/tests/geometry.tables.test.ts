import { expect, test } from "vitest";
import { eaveOutline, shadingEdge } from "../src/geometry/eave";
import { area } from "../src/geometry/polygon";
import { refusal } from "../src/geometry/refusal";
import * as roofs from "../src/geometry/roof";
import * as sections from "../src/geometry/section";
import type { Problem } from "../src/wire/messages";
import { near, table } from "./tables";

/** Python and this page do the same sums; they differ by rounding alone [m]. */
const METRES = 1e-9;

type Corners = [number, number][];

interface SectionRow {
  section: sections.Section;
  roof: Record<string, number> & {
    top_edge: Corners;
    outline: Corners;
  };
  wall: Record<string, number>;
  suns: Sun[];
  no_sun: [Corners[number], number];
}

interface Sun {
  angle: number;
  edge: [number, number];
  shade_line: number;
  sunlit_glass: [number, number];
  floor_reach: number;
  beam: Corners;
  beam_from_afar: Corners;
  shades: Corners[];
}

test("the roof triangle is Python's", () => {
  for (const { section, roof: wanted } of table<SectionRow>("sections", 400)) {
    const { roof } = section;
    const found = {
      chord_plumb: roofs.chordPlumb(roof),
      ridge: roofs.ridge(roof),
      tail: roofs.tail(roof),
      fascia_top: roofs.fasciaTop(roof),
      soffit: roofs.soffit(roof),
      soffit_at_wall: roofs.soffitAtWall(roof),
      fascia_foot: roofs.fasciaFoot(roof),
      reach: roofs.reach(roof),
      end_heel: roofs.endHeel(roof),
      top_edge: wanted.top_edge.map(([x]) => [x, roofs.topEdge(roof, x)]),
      heel_for_soffit: roofs.heelForSoffit(2.2, roof),
      outline: eaveOutline(roof),
    };
    expect(Object.keys(found).sort()).toEqual(Object.keys(wanted).sort());
    for (const [name, value] of Object.entries(found)) near(value, wanted[name], METRES, name);
  }
});

test("the wall's own places are Python's", () => {
  for (const { section, wall } of table<SectionRow>("sections", 400)) {
    near(sections.glassX(section), wall.glass_x, METRES, "glass");
    near(sections.underside(section), wall.underside, METRES, "underside");
    near(sections.backX(section), wall.back_x, METRES, "back");
  }
});

test("shade, beam and light on the floor are Python's", () => {
  for (const { section, suns, no_sun } of table<SectionRow>("sections", 400)) {
    for (const sun of suns) {
      const where = JSON.stringify({ section, angle: sun.angle });
      near(shadingEdge(section.roof, sun.angle), sun.edge, METRES, where);
      near(sections.shadeLine(section.roof, sun.angle), sun.shade_line, METRES, where);
      near(sections.sunlitGlass(section, sun.angle), sun.sunlit_glass, METRES, where);
      near(sections.floorReach(section, sun.angle), sun.floor_reach, METRES, where);
      near(sections.beamPolygon(section, sun.angle), sun.beam, METRES, where);
      near(sections.beamPolygon(section, sun.angle, 2), sun.beam_from_afar, METRES, where);
      near(sections.shades(section, sun.angle), sun.shades, METRES, where);
    }
    near(sections.sunlitGlass(section, 120), no_sun[0], 0, "behind the wall");
    near(sections.floorReach(section, -3), no_sun[1], 0, "below the horizon");
    expect(sections.shades(section, null)).toEqual([]);
  }
});

test("a beam covers the glass it comes through, seen square to the sun", () => {
  for (const { section, suns } of table<SectionRow>("sections", 400)) {
    for (const { angle } of suns) {
      const near2 = sections.beamPolygon(section, angle, 2);
      const near3 = sections.beamPolygon(section, angle, 3);
      const [bottom, top] = sections.sunlitGlass(section, angle);
      const grown = Math.abs(area(near3)) - Math.abs(area(near2));
      near(grown, near2.length ? top - bottom : 0, 1e-9, `${angle}`);
    }
  }
});

test("what can not be is refused by Python's code, for Python's reasons", () => {
  const rows = table<{ section: sections.Section; refusal: Problem | null }>("refusals", 3000);
  for (const row of rows) {
    near(refusal(row.section), row.refusal, METRES, JSON.stringify(row.section));
  }
  const codes = new Set(rows.map((row) => row.refusal?.code ?? "none"));
  expect([...codes].sort()).toEqual([
    "none",
    "shape.bearing_past_ridge",
    "shape.end_heel_too_low",
    "shape.heel_too_low",
    "shape.negative",
    "shape.not_positive",
    "shape.out_of_order",
    "shape.sloped_under_chord",
    "shape.soffit_below_floor",
  ]);
});
