/** Paints the map of the year: a column a day, a row an hour from midnight at the foot. */

import { DAYS } from "../sun/calendar";
import { HOURS } from "./dates";

/** Temperatures at which the colour changes [degC]; the strong break is at 26. */
export const STEPS = [5, 10, 15, 18, 20, 23, 26, 29, 32] as const;
export const COLOURS = [
  "#17264a",
  "#2c4a80",
  "#5178aa",
  "#86a8c6",
  "#bdd0d8",
  "#efead6",
  "#f8dd97",
  "#ee9438",
  "#cf4b27",
  "#85182c",
] as const;
/** Height of the map [px]. */
export const HEIGHT = 264;

const CLAY = "#a8492c";
const INK = "#1f2a2e";
/** Distance and weight of the slanting lines over heated hours, and over those above half the peak. */
const LIGHT = { step: 9, weight: 1 };
const HARD = { step: 4.5, weight: 1.3 };
/** Every so many days the sunrise has a dot. */
const DOT_DAYS = 3;

type Hours = readonly (number | null)[];

/** What a map shows: temperatures [degC] and heat [W] of 8760 hours; rise and set of 365 days [h]. */
export interface MapOf {
  warm: Float64Array;
  heat: Float64Array;
  sunrise?: Hours | undefined;
  sunset?: Hours | undefined;
}

/** Colours first, then the heater as hatching, then sunrise and sunset dotted. */
export function paint(canvas: HTMLCanvasElement, width: number, map: MapOf): void {
  const dense = Math.max(1, devicePixelRatio || 1);
  canvas.width = Math.round(width * dense);
  canvas.height = Math.round(HEIGHT * dense);
  const brush = canvas.getContext("2d");
  if (!brush) return;
  brush.imageSmoothingEnabled = false;
  brush.scale(dense, dense);
  brush.drawImage(
    cells((hour) => INKS[colourOf(map.warm[hour] ?? 0)] ?? 0),
    0,
    0,
    width,
    HEIGHT,
  );
  const most = map.heat.reduce((a, b) => Math.max(a, b), 0);
  if (most > 0) {
    const power = (hour: number): number => (map.heat[hour] ?? 0) / most;
    hatch(brush, width, dense, LIGHT, (hour) => power(hour) > 0 && power(hour) <= 0.5);
    hatch(brush, width, dense, HARD, (hour) => power(hour) > 0.5);
  }
  dots(brush, width, map.sunrise ?? []);
  dots(brush, width, map.sunset ?? []);
}

const OPAQUE = 0xff000000;
const INKS = COLOURS.map((colour) => {
  const [red = 0, green = 0, blue = 0] = [1, 3, 5].map((at) =>
    Number.parseInt(colour.slice(at, at + 2), 16),
  );
  return (OPAQUE | (blue << 16) | (green << 8) | red) >>> 0;
});

const colourOf = (value: number): number => STEPS.filter((step) => value >= step).length;

/** A picture of one pixel an hour. */
function cells(colour: (hour: number) => number): HTMLCanvasElement {
  const small = document.createElement("canvas");
  small.width = DAYS;
  small.height = HOURS;
  const image = new ImageData(DAYS, HOURS);
  const pixels = new Uint32Array(image.data.buffer);
  for (let hour = 0; hour < DAYS * HOURS; hour += 1) {
    pixels[(HOURS - 1 - (hour % HOURS)) * DAYS + Math.floor(hour / HOURS)] = colour(hour);
  }
  small.getContext("2d")?.putImageData(image, 0, 0);
  return small;
}

/** Slanting lines where an hour is marked. */
function hatch(
  onto: CanvasRenderingContext2D,
  width: number,
  dense: number,
  { step, weight }: { step: number; weight: number },
  marked: (hour: number) => boolean,
): void {
  const layer = document.createElement("canvas");
  layer.width = onto.canvas.width;
  layer.height = onto.canvas.height;
  const brush = layer.getContext("2d");
  if (!brush) return;
  brush.scale(dense, dense);
  brush.beginPath();
  for (let x = -HEIGHT; x < width; x += step) {
    brush.moveTo(x, HEIGHT);
    brush.lineTo(x + HEIGHT, 0);
  }
  brush.strokeStyle = CLAY;
  brush.lineWidth = weight;
  brush.stroke();
  brush.globalCompositeOperation = "destination-in";
  brush.imageSmoothingEnabled = false;
  brush.drawImage(
    cells((hour) => (marked(hour) ? OPAQUE : 0)),
    0,
    0,
    width,
    HEIGHT,
  );
  onto.drawImage(layer, 0, 0, width, HEIGHT);
}

function dots(brush: CanvasRenderingContext2D, width: number, hours: Hours): void {
  brush.fillStyle = INK;
  hours.forEach((hour, day) => {
    if (hour === null || day % DOT_DAYS) return;
    brush.beginPath();
    brush.arc(((day + 0.5) / DAYS) * width, HEIGHT * (1 - hour / HOURS), 1.4, 0, 7);
    brush.fill();
  });
}
