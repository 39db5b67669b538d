/**
 * What the hand can take of a building: values, limits, and the words that put them in the file.
 *
 * Metres; a pitch is rise over run.
 */
import { computed } from "@preact/signals";
import { refusal } from "../geometry/refusal";
import { chordPlumb, endHeel, heelForSoffit, soffit } from "../geometry/roof";
import type { Section } from "../geometry/section";
import type { Building, Handle, Problem, Quantity, Window } from "../wire/messages";
import * as link from "./link";
import { type Name, snapped, stepOf, stepped, written } from "./steps";
import { amount, building, cutAt, grasped, held, stopped, system } from "./store";
import { lengthText } from "./sunday";

export type Values = Record<Name, number>;

const OF_WINDOW: readonly Name[] = ["head", "sill", "width", "ceiling"];
/** What rounding may add to a limit [m]. */
const SLACK = 1e-9;
/** Least height and width of glass that the hand leaves between the frames [m]. */
const LEAST_GLASS = 0.05;
const HALVINGS = 40;

/** The window the section is cut through; null for a wall without one. */
export const cutWindow = computed<Window | null>(() => {
  const here = building.value;
  const number = cutAt.value || here?.shown;
  return here?.windows.find((item) => item.number === number) ?? here?.windows[0] ?? null;
});

/** Values as they stand in the file. */
export const standing = computed<Values | null>(() => {
  const here = building.value;
  return here && valuesOf(here, cutWindow.value);
});

/** Values with what the hand holds. */
export const values = computed<Values | null>(() => {
  const here = building.value;
  return here && standing.value && settled(here, standing.value, held.value);
});

/** The wall as the hand has it now. */
export const section = computed<Section | null>(() => {
  const here = building.value;
  return here && values.value && sectionOf(here, cutWindow.value, values.value);
});

/** The wall as it stands in the file: the picture's scale goes by it, so that nothing runs away. */
export const standingSection = computed<Section | null>(() => {
  const here = building.value;
  return here && standing.value && sectionOf(here, cutWindow.value, standing.value);
});

function valuesOf(here: Building, window: Window | null): Values {
  const roof = here.roof;
  return {
    projection: roof.projection,
    soffit: soffit(roof),
    heel: roof.heel,
    pitch: roof.pitch,
    ceiling: window?.ceiling ?? roof.plate,
    head: window?.head ?? 0,
    sill: window?.sill ?? 0,
    width: window?.width ?? 0,
    attic: here.handles.attic.value,
    wall: here.handles.wall.value,
    floor: here.handles.floor.value,
  };
}

/** Put `changes` on values; soffit and heel follow from each other as the file keeps them. */
function settled(here: Building, from: Values, changes: Partial<Values>): Values {
  const now = { ...from, ...changes };
  const plate = here.roof.plate + (now.ceiling - from.ceiling);
  const roof = { ...here.roof, projection: now.projection, pitch: now.pitch, plate };
  if (changes.heel === undefined) {
    const end = here.keeps === "chord" ? chordPlumb(roof) : endHeel(here.roof);
    if (here.keeps === "soffit" || changes.soffit !== undefined) {
      now.heel = heelForSoffit(now.soffit, roof);
    } else if (here.keeps !== "heel") {
      now.heel = end + now.projection * now.pitch;
    }
  }
  return { ...now, soffit: soffit({ ...roof, heel: now.heel }) };
}

function sectionOf(here: Building, window: Window | null, now: Values): Section {
  const thicker = now.wall - here.handles.wall.value;
  const deeper = now.floor - here.handles.floor.value;
  const higher = now.ceiling - (window?.ceiling ?? here.roof.plate);
  const fuller = now.attic - here.handles.attic.value;
  return {
    roof: {
      ...here.roof,
      span: here.roof.span + 2 * thicker,
      projection: now.projection,
      pitch: now.pitch,
      heel: now.heel,
      plate: here.roof.plate + higher,
    },
    wall_thickness: here.wall_thickness + thicker,
    floor_thickness: here.floor_thickness + deeper,
    floor_insulation: here.floor_insulation,
    ground: here.ground,
    ceiling: now.ceiling,
    room_depth: window?.room_depth ?? here.roof.span - 2 * here.wall_thickness,
    ceiling_insulation: here.ceiling_insulation + fuller,
    window: window && { sill: now.sill, head: now.head },
  };
}

/** The handle of a name: where its value stands in the file and how far it may go. */
export function handleOf(name: Name): Handle | null {
  const here = building.value;
  const window = cutWindow.value;
  if (!here) return null;
  if (name !== "head" && name !== "sill" && name !== "width" && name !== "ceiling") {
    return here.handles[name];
  }
  if (!window) return null;
  const [least, most] = here.window_limits[name];
  const part =
    name === "ceiling" ? `zone.${window.zone}.height` : `window.${window.number}.${name}`;
  return {
    path: `${here.name}.${part}`,
    value: window[name],
    kind: "length",
    least,
    most,
    locked: null,
  };
}

/** The name whose path takes a value: the twin's where the file does not hold it. */
function carrier(name: Name): Name {
  return handleOf(name)?.path || !handleOf(twinOf(name))?.path ? name : twinOf(name);
}

/** Whether a name can be taken at all. */
export function free(name: Name): boolean {
  const through = handleOf(carrier(name));
  return through?.path != null && through.locked === null && handleOf(name)?.locked == null;
}

/** Whether a name has a place in the file of its own, so that an exact value can be typed. */
export function typeable(name: Name): boolean {
  return free(name) && carrier(name) === name;
}

/** What keeps a value from being taken, null when nothing does. */
function hindrance(name: Name, value: number): Problem | null {
  const here = building.value;
  const from = standing.value;
  if (!here || !from) return null;
  const after = settled(here, from, { ...held.value, [name]: value });
  for (const part of [name, twinOf(name)]) {
    const limits = handleOf(part);
    if (!limits || limits.locked) continue;
    if (after[part] < limits.least - SLACK || after[part] > limits.most + SLACK) {
      const quantity = (number: number): Quantity => ({ value: number, kind: limits.kind });
      const values = { least: quantity(limits.least), most: quantity(limits.most) };
      return { code: "page.limit", path: "", values };
    }
  }
  const [wide, high] = cutWindow.value?.frames ?? [0, 0];
  const glass = Math.min(after.width - wide, after.head - after.sill - high);
  if (cutWindow.value && glass < LEAST_GLASS) {
    return { code: "page.no_window", path: "", values: {} };
  }
  return underHeader(here, after) ?? refusal(sectionOf(here, cutWindow.value, after));
}

/** The beam over the window needs its height between head and plate, as the file's own checks ask. */
function underHeader(here: Building, after: Values): Problem | null {
  const limit = after.ceiling - here.header_depth;
  if (!cutWindow.value || after.head <= limit + SLACK) return null;
  const length = (value: number): Quantity => ({ value, kind: "length" });
  const values = {
    head: length(after.head),
    limit: length(limit),
    plate: length(after.ceiling),
    header: length(here.header_depth),
  };
  return { code: "design.head_above_header", path: "", values };
}

/** Heel and soffit follow from each other; all else stands for itself. */
function twinOf(name: Name): Name {
  return name === "heel" ? "soffit" : name === "soffit" ? "heel" : name;
}

/** The value nearest to `wanted` that can stand, and what stopped it short. */
export function allowed(name: Name, wanted: number): { value: number; problem: Problem | null } {
  const problem = hindrance(name, wanted);
  const now = values.value?.[name];
  if (!problem || now === undefined) return { value: wanted, problem: null };
  let good = now;
  let bad = wanted;
  for (let i = 0; i < HALVINGS; i += 1) {
    const middle = (good + bad) / 2;
    if (hindrance(name, middle)) bad = middle;
    else good = middle;
  }
  const steps = Math.trunc((good - now) / stepOf(name) + Math.sign(good - now) * 1e-6);
  const further = stepped(name, now, steps + Math.sign(wanted - now));
  const value = steps === 0 ? now : stepped(name, now, steps);
  // What stops the hand is what forbids its next step, not what would forbid a far one.
  return { value, problem: hindrance(name, further) ?? problem };
}

/** Put a value under the hand: drawn at once, reckoned while it is held. */
export function take(name: Name, wanted: number): void {
  const now = values.value;
  if (!now || !free(name)) return;
  stay(name);
  const through = carrier(name);
  const moved = now[through] + wanted - now[name]; // heel and soffit rise and fall together
  const { value, problem } = allowed(through, through === name ? wanted : snapped(through, moved));
  stopped.value = problem;
  if (now[through] === value) return;
  grasped.value = true;
  held.value = { ...held.value, [through]: value };
  link.edit(wordsOf(held.value), true);
}

/** Let go: what was held goes into the file. */
export function letGo(): void {
  if (!grasped.value) return;
  grasped.value = false;
  link.edit(wordsOf(held.value), false);
}

/** Give up what is held: all is as the file has it. */
export function giveUp(): void {
  const now = standing.value;
  if (!grasped.value || !now) return;
  const names = Object.keys(held.value) as Name[];
  grasped.value = false;
  held.value = {};
  stopped.value = null;
  link.edit(wordsOf(Object.fromEntries(names.map((name) => [name, now[name]]))), true);
}

/** Cut the section through another window. */
export function cutThrough(number: number): void {
  letGo();
  cutAt.value = number;
}

/** Say a value as it was typed; the server reads it. */
export function typed(name: Name, text: string): void {
  const path = handleOf(name)?.path;
  stopped.value = null;
  stay(name);
  if (path) link.edit([`${path}=${text}`], false);
}

/** Keep the window that is cut, whichever becomes the largest. */
function stay(name: Name): void {
  if (OF_WINDOW.includes(name)) cutAt.value = cutWindow.value?.number ?? 0;
}

/** A value of a name in the reader's words. */
export function valueText(name: Name): string {
  const value = values.value?.[name] ?? 0;
  return name === "pitch" ? amount(value, "pitch") : lengthText(value);
}

function wordsOf(changes: Readonly<Record<string, number>>): string[] {
  return Object.entries(changes).map(([name, value]) => {
    const kind = name === "pitch" ? "pitch" : "length";
    return `${handleOf(name as Name)?.path}=${written(value, kind, system.value)}`;
  });
}
