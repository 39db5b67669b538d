import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { decodeFrame } from "../src/wire/frame";
import { near, path, table } from "./tables";

interface FrameRow {
  file: string;
  source: string;
  arrays: { name: string; zone: string | null; step: number; values: (number | null)[] }[];
}

function bytes(file: string): ArrayBuffer {
  const found = readFileSync(path(file));
  return found.buffer.slice(found.byteOffset, found.byteOffset + found.length) as ArrayBuffer;
}

test("frames give back what Python packed, to half a step", () => {
  for (const row of table<FrameRow>("frames", 12)) {
    const { message, arrays } = decodeFrame(bytes(row.file));
    expect(message.type).toBe("weather");
    expect(message).toMatchObject({ climate: { source: row.source } });
    expect(arrays.map((item) => [item.name, item.zone])).toEqual(
      row.arrays.map((item) => [item.name, item.zone]),
    );
    arrays.forEach(({ values }, i) => {
      const wanted = row.arrays[i];
      const found = [...values].map((value) => (Number.isNaN(value) ? null : value));
      near(found, wanted?.values, (wanted?.step ?? 0) * 0.5001, row.file);
    });
  }
});

test("a frame that is cut short is refused", () => {
  const whole = bytes("frame3.bin");
  expect(() => decodeFrame(whole.slice(0, whole.byteLength - 2))).toThrow(RangeError);
});
