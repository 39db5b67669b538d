import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { COLOURS, STEPS } from "../src/ui/mappaint";
import type { Kind, Problem, Sentence, System } from "../src/wire/messages";
import { Speech } from "../src/words/speech";
import { dimension, write } from "../src/words/units";
import { path, table, words } from "./tables";

interface WrittenRow {
  value: number;
  kind: Kind;
  system: System;
  digits: number | null;
  text: string;
}

test("numbers of every kind are written as Python writes them", () => {
  const rows = table<WrittenRow>("written", 20000);
  for (const row of rows) {
    const { value, kind, system, digits } = row;
    const text = write(value, kind, system, digits ?? undefined);
    if (text !== row.text) expect.fail(`${JSON.stringify(row)}: got ${text}`);
  }
  expect(new Set(rows.map((row) => row.kind)).size).toBe(22);
});

interface Reader {
  system: System;
  language: string;
  fine: boolean;
  text: string;
}

const tables = new Map<string, Record<string, string>>();

function speechOf({ system, language, fine }: Omit<Reader, "text">): Speech {
  const known = tables.get(language) ?? words(language);
  tables.set(language, known);
  return new Speech(known, system, fine);
}

test("every sentence is said as Python says it, in every language", () => {
  const rows = table<Reader & { sentence: Sentence }>("spoken", 2000);
  for (const row of rows) {
    const said = speechOf(row).say(row.sentence);
    if (said !== row.text) expect.fail(`${JSON.stringify(row)}: got ${said}`);
  }
  for (const language of new Set(rows.map((row) => row.language))) {
    const own = rows.filter((row) => row.language === language);
    const keys = new Set(own.map((row) => row.sentence.key));
    expect(Object.keys(words(language)).filter((key) => !keys.has(key))).toEqual([]);
  }
});

test("problems are explained as Python explains them", () => {
  for (const row of table<Reader & { problem: Problem }>("explained", 400)) {
    expect(speechOf(row).explain(row.problem), JSON.stringify(row)).toBe(row.text);
  }
});

type SaidRow =
  | { what: "number"; language: string; value: number; digits: number; text: string }
  | { what: "dimension"; value: number; system: System; text: string }
  | { what: "day"; language: string; value: string; text: string };

test("numbers with groups, dimensions and days are Python's", () => {
  for (const row of table<SaidRow>("said", 500))
    expect(say(row), JSON.stringify(row)).toBe(row.text);
});

function say(row: SaidRow): string {
  if (row.what === "dimension") return dimension(row.value, row.system);
  const speech = speechOf({ system: "metric", language: row.language, fine: false });
  return row.what === "number" ? speech.number(row.value, row.digits) : speech.day(row.value);
}

test("the map has the colours and steps of the printed one", () => {
  const map = JSON.parse(readFileSync(path("map.json"), "utf8"));
  expect({ steps: [...STEPS], colours: [...COLOURS] }).toEqual(map);
});
