/** Tables that Python wrote; the folder is named by NOONMARK_TABLES, see tests/page/test_tables.py. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect } from "vitest";

export function path(name: string): string {
  const folder = process.env.NOONMARK_TABLES;
  if (!folder) throw new Error("no tables: run `python -m pytest tests/page`, which writes them");
  return join(folder, name);
}

/** The rows of a table; fails when there are fewer than `least`. */
export function table<Row>(name: string, least: number): Row[] {
  const rows: Row[] = JSON.parse(readFileSync(path(`${name}.json`), "utf8"));
  expect(rows.length, `rows of ${name}`).toBeGreaterThanOrEqual(least);
  return rows;
}

/** The sentences of a language. */
export function words(language: string): Record<string, string> {
  return JSON.parse(readFileSync(path(`words-${language}.json`), "utf8"));
}

/** Fails when two values differ, but for numbers no further apart than `tolerance`. */
export function near(found: unknown, wanted: unknown, tolerance: number, where: string): void {
  if (isTree(wanted) && isTree(found)) {
    expect(Object.keys(found).sort(), where).toEqual(Object.keys(wanted).sort());
    for (const [key, item] of Object.entries(wanted)) {
      near(found[key], item, tolerance, `${where}, ${key}`);
    }
  } else if (typeof wanted === "number" && typeof found === "number") {
    const apart = Math.abs(found - wanted);
    if (!(apart <= tolerance)) expect.fail(`${where}: got ${found}, wanted ${wanted}`);
  } else if (found !== wanted) {
    expect.fail(`${where}: got ${found}, wanted ${wanted}`);
  }
}

function isTree(value: unknown): value is Record<string, unknown> {
  return typeof value === "object" && value !== null;
}

/** Two angles, seen as directions [deg]. */
export function turn(found: number, wanted: number): number {
  return Math.abs(((((found - wanted + 180) % 360) + 360) % 360) - 180);
}
