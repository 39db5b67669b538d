import { expect, test } from "vitest";
import type { Kind, Problem, Sentence, System } from "../src/wire/messages";
import { Speech } from "../src/words/speech";
import { dimension, write } from "../src/words/units";
import { table, words } from "./tables";

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

test("every sentence is said as Python says it", () => {
  const table_ = words();
  const rows = table<{ system: System; fine: boolean; sentence: Sentence; text: string }>(
    "spoken",
    2000,
  );
  for (const { system, fine, sentence, text } of rows) {
    const said = new Speech(table_, system, fine).say(sentence);
    if (said !== text) expect.fail(`${JSON.stringify(sentence)}: got ${said}, wanted ${text}`);
  }
  const keys = new Set(rows.map((row) => row.sentence.key));
  expect(Object.keys(table_).filter((key) => !keys.has(key))).toEqual([]);
});

test("problems are explained as Python explains them", () => {
  const table_ = words();
  const rows = table<{ system: System; fine: boolean; problem: Problem; text: string }>(
    "explained",
    400,
  );
  for (const { system, fine, problem, text } of rows) {
    expect(new Speech(table_, system, fine).explain(problem), JSON.stringify(problem)).toBe(text);
  }
});

type SaidRow =
  | { what: "number"; value: number; digits: number; text: string }
  | { what: "dimension"; value: number; system: System; text: string }
  | { what: "day"; value: string; text: string };

test("numbers with groups, dimensions and days are Python's", () => {
  const speech = new Speech(words());
  for (const row of table<SaidRow>("said", 500))
    expect(say(speech, row), JSON.stringify(row)).toBe(row.text);
});

function say(speech: Speech, row: SaidRow): string {
  if (row.what === "number") return speech.number(row.value, row.digits);
  return row.what === "day" ? speech.day(row.value) : dimension(row.value, row.system);
}
