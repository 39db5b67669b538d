/** The hand takes every handle of several roofs; Python reads what it wrote and draws the same wall. */
import { readFileSync, writeFileSync } from "node:fs";
import { afterAll, beforeEach, expect, test, vi } from "vitest";
import { soffit } from "../src/geometry/roof";
import { allowed, cutWindow, free, section, take, values } from "../src/ui/shaping";
import { NAMES, type Name, stepped, written } from "../src/ui/steps";
import { design, held, stopped, system } from "../src/ui/store";
import type { Building, Design, System } from "../src/wire/messages";
import { path } from "./tables";

const said: { words: string[]; hold: boolean }[] = [];
vi.mock("../src/ui/link", () => ({
  edit: (words: string[], hold: boolean) => said.push({ words, hold }),
}));

const shapes: Record<string, Building> = JSON.parse(readFileSync(path("shapes.json"), "utf8"));
const done: object[] = [];

function lay(building: Building): void {
  design.value = { buildings: [building], units: "us" } as unknown as Design;
  held.value = {};
  stopped.value = null;
  said.length = 0;
}

function drawn(): Record<string, number> {
  const wall = section.value;
  const now = values.value;
  if (!wall || !now || !wall.window) throw new Error("no wall");
  return {
    projection: wall.roof.projection,
    pitch: wall.roof.pitch,
    heel: wall.roof.heel,
    soffit: soffit(wall.roof),
    plate: wall.roof.plate,
    span: wall.roof.span,
    ceiling: wall.ceiling,
    head: wall.window.head,
    sill: wall.window.sill,
    wall_thickness: wall.wall_thickness,
    floor_thickness: wall.floor_thickness,
    ceiling_insulation: wall.ceiling_insulation,
    width: now.width,
  };
}

beforeEach(() => {
  system.value = "us";
});

afterAll(() => writeFileSync(path("hand.json"), JSON.stringify(done)));

for (const [variant, building] of Object.entries(shapes)) {
  for (const name of NAMES) {
    for (const [units, steps] of [
      ["us", 2],
      ["metric", -1],
    ] as [System, number][]) {
      test(`${variant}: ${name}, ${steps} steps in ${units}`, () => {
        lay(building);
        system.value = units;
        if (!free(name)) return;
        const before = values.value?.[name] ?? 0;
        take(name, stepped(name, before, steps));
        const after = values.value?.[name] ?? 0;
        if (stopped.value) return expect(after).toBeCloseTo(before, 1);
        expect(Math.sign(after - before)).toBe(Math.sign(steps));
        const words = said.at(-1)?.words ?? [];
        done.push({ variant, name, words, wall: drawn() });
      });
    }
  }
}

test("what can not be stops at the last step that can, and says why", () => {
  const house = shapes.soffit as Building;
  lay(house);
  const { value, problem } = allowed("head", 30);
  expect(problem?.code).toBe("design.head_above_header");
  const limit = (cutWindow.value?.ceiling ?? 0) - house.header_depth;
  expect(value).toBeLessThanOrEqual(limit + 1e-9);
  expect(value).toBeGreaterThan(limit - 0.0255);
  take("sill", 5);
  expect(stopped.value).not.toBeNull();
  expect(section.value?.window?.sill).toBeLessThan(section.value?.window?.head ?? 0);
});

test("a locked handle and a value that follows are told apart", () => {
  lay(shapes.cantilever as Building);
  expect(free("soffit")).toBe(false);
  lay(shapes.soffit as Building);
  take("heel", (values.value?.heel ?? 0) + 0.0254);
  expect(said.at(-1)?.words[0]).toMatch(/^house\.eave\.soffit_height=9 ft 1 in$/);
  lay(shapes.heel as Building);
  take("soffit", (values.value?.soffit ?? 0) + 0.0254);
  expect(said.at(-1)?.words[0]).toMatch(/^house\.roof\.heel=1 ft 7 in$/);
});

test("one step of the hand lies on whole inches, centimetres, halves in twelve and degrees", () => {
  const said = (name: Name, value: number, steps: number) =>
    written(stepped(name, value, steps), name === "pitch" ? "pitch" : "length", system.value);
  expect(said("projection", 0.77, 1)).toBe("2 ft 7 in");
  expect(said("wall", 0.1397, 1)).toBe("6 in");
  expect(said("floor", 0.1, 1)).toBe("4 1/2 in");
  expect(said("pitch", 0.51, 1)).toBe("6.5/12");
  system.value = "metric";
  expect(said("projection", 0.773, -1)).toBe("0.76 m");
  expect(said("wall", 0.1397, 1)).toBe("0.145 m");
  expect(said("pitch", 0.5, 1)).toBe("28 deg");
});
