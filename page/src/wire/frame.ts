/**
 * Binary frames: the length of their JSON as an unsigned 32-bit number, the JSON padded to an even
 * length, then arrays of signed 16-bit numbers; all little-endian. See docs/wire.md.
 */

import type { ArrayHead, FrameMessage } from "./messages";

export interface Frame {
  message: FrameMessage;
  arrays: FrameArray[];
}

/** One array of a frame; NaN stands for none. */
export interface FrameArray {
  name: string;
  zone: string | null;
  values: Float64Array;
}

const NONE = -32768;

/** The JSON of a frame and its arrays in their units. Throws RangeError when it is cut short. */
export function decodeFrame(buffer: ArrayBuffer): Frame {
  const view = new DataView(buffer);
  const begin = 4 + view.getUint32(0, true);
  const message: FrameMessage = JSON.parse(
    new TextDecoder().decode(new Uint8Array(buffer, 4, begin - 4)),
  );
  return { message, arrays: message.arrays.map((head) => numbers(view, begin, head)) };
}

function numbers(view: DataView, begin: number, head: ArrayHead): FrameArray {
  const values = new Float64Array(head.count);
  for (let i = 0; i < head.count; i++) {
    const stored = view.getInt16(begin + 2 * (head.start + i), true);
    values[i] = stored === NONE ? Number.NaN : stored * head.scale;
  }
  return { name: head.name, zone: head.zone ?? null, values };
}
