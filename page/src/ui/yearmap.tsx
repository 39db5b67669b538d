/** The map of the year: a column a day, a row an hour; stepped colours, heater hours as texture. */
import { useEffect, useRef } from "preact/hooks";
import { DAYS, HOURS, MONTH_DAYS } from "./dates";
import { useWidth } from "./size";
import {
  amount,
  building,
  day,
  design,
  say,
  speech,
  state,
  stepDay,
  weather,
  word,
  year,
  zoneShown,
} from "./store";
import { dayName } from "./sunday";

/** Temperatures at which the colour changes [degC]; the strong break is at 26. */
const STEPS = [5, 10, 15, 18, 20, 23, 26, 29, 32] as const;
const COLOURS = [
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
const CLAY = "#a8492c";
const INK = "#1f2a2e";
const HEIGHT = 264; // px, 11 an hour

export function YearMap() {
  const [frame, width] = useWidth<HTMLDivElement>();
  const canvas = useRef<HTMLCanvasElement>(null);
  const run = year.value;
  const zone = Math.min(zoneShown.value, (run?.temperature.length ?? 1) - 1);
  const warm = run?.temperature[zone];
  const heat = run?.heat[zone];
  const suns = weather.value?.message;
  useEffect(() => {
    if (canvas.current && warm && heat && width > 0) draw(canvas.current, width, warm, heat, suns);
  }, [warm, heat, suns, width]);
  const zones = building.value?.zones ?? [];
  const pick = (event: PointerEvent): void => {
    const box = (event.currentTarget as HTMLElement).getBoundingClientRect();
    day.value = Math.max(
      0,
      Math.min(DAYS - 1, Math.floor(((event.clientX - box.left) / box.width) * DAYS)),
    );
  };
  const key = (event: KeyboardEvent): void => {
    const step = { ArrowLeft: -1, ArrowRight: 1, PageDown: -14, PageUp: 14 }[event.key];
    if (step === undefined) return;
    event.preventDefault();
    stepDay(step * (event.shiftKey ? 10 : 1));
  };
  return (
    <section class="yearmap" data-drawing={state.value} aria-labelledby="map-title">
      <h2 id="map-title">
        {say("page.map", {
          zone: zones.length > 1 ? (zones[zone] ?? "") : (design.value?.title ?? ""),
        })}
      </h2>
      {zones.length > 1 && (
        <div class="switch" role="group" aria-label={word("page.zone")}>
          {zones.map((name, i) => (
            <button
              type="button"
              key={name}
              aria-pressed={i === zone}
              onClick={() => {
                zoneShown.value = i;
              }}
            >
              {name}
            </button>
          ))}
        </div>
      )}
      <div class="grid">
        <div class="clock" aria-hidden="true">
          {[24, 18, 12, 6, 0].map((hour) => (
            <span>{hour}</span>
          ))}
        </div>
        <div
          class="days365"
          ref={frame}
          role="slider"
          tabindex={0}
          aria-label={word("page.map_day")}
          aria-valuemin={1}
          aria-valuemax={DAYS}
          aria-valuenow={day.value + 1}
          aria-valuetext={dayName(day.value)}
          onPointerDown={pick}
          onPointerMove={(event: PointerEvent) => event.buttons & 1 && pick(event)}
          onKeyDown={key}
        >
          <canvas ref={canvas} style={{ width: `${width}px`, height: `${HEIGHT}px` }} />
          <span class="now" style={{ left: `${((day.value + 0.5) / DAYS) * 100}%` }} />
        </div>
        <div class="months" aria-hidden="true">
          {MONTH_DAYS.map((days, month) => (
            <span style={{ flexGrow: days }}>{word(`month_short.${month + 1}`)}</span>
          ))}
        </div>
      </div>
      <Legend />
      <p class="unseen">{described(warm, heat)}</p>
    </section>
  );
}

/** Paint the hours: colours first, then the heater as hatching, then sunrise and sunset dotted. */
function draw(
  canvas: HTMLCanvasElement,
  width: number,
  warm: Float64Array,
  heat: Float64Array,
  suns?: { sunrise: (number | null)[]; sunset: (number | null)[] },
): void {
  const dense = Math.max(1, devicePixelRatio || 1);
  canvas.width = Math.round(width * dense);
  canvas.height = Math.round(HEIGHT * dense);
  const brush = canvas.getContext("2d");
  if (!brush) return;
  const small = document.createElement("canvas");
  small.width = DAYS;
  small.height = HOURS;
  const cells = small.getContext("2d");
  if (!cells) return;
  const image = cells.createImageData(DAYS, HOURS);
  const pixels = new Uint32Array(image.data.buffer);
  warm.forEach((value, hour) => {
    pixels[(HOURS - 1 - (hour % HOURS)) * DAYS + Math.floor(hour / HOURS)] =
      INKS[colourOf(value)] ?? 0;
  });
  cells.putImageData(image, 0, 0);
  brush.imageSmoothingEnabled = false;
  brush.drawImage(small, 0, 0, canvas.width, canvas.height);
  brush.scale(dense, dense);
  hatch(brush, width, heat);
  dots(brush, width, suns);
}

const INKS = COLOURS.map((colour) => {
  const [red, green, blue] = [1, 3, 5].map((at) => Number.parseInt(colour.slice(at, at + 2), 16));
  return ((255 << 24) | ((blue ?? 0) << 16) | ((green ?? 0) << 8) | (red ?? 0)) >>> 0;
});

const colourOf = (value: number): number => STEPS.filter((step) => value >= step).length;

/** Slanting lines over the heated hours, close ones over those above half the peak. */
function hatch(brush: CanvasRenderingContext2D, width: number, heat: Float64Array): void {
  const most = heat.reduce((a, b) => Math.max(a, b), 0);
  if (most <= 0) return;
  const [column, row] = [width / DAYS, HEIGHT / HOURS];
  for (const [hard, step] of [
    [false, 9],
    [true, 4.5],
  ] as const) {
    const area = new Path2D();
    heat.forEach((power, hour) => {
      if (power <= 0 || power > 0.5 * most !== hard) return;
      area.rect(
        Math.floor(hour / HOURS) * column,
        HEIGHT - ((hour % HOURS) + 1) * row,
        column + 0.05,
        row + 0.05,
      );
    });
    brush.save();
    brush.clip(area);
    brush.beginPath();
    for (let x = -HEIGHT; x < width; x += step) {
      brush.moveTo(x, HEIGHT);
      brush.lineTo(x + HEIGHT, 0);
    }
    brush.strokeStyle = CLAY;
    brush.lineWidth = hard ? 1.3 : 1;
    brush.stroke();
    brush.restore();
  }
}

function dots(
  brush: CanvasRenderingContext2D,
  width: number,
  suns?: { sunrise: (number | null)[]; sunset: (number | null)[] },
): void {
  brush.fillStyle = INK;
  for (const hours of [suns?.sunrise ?? [], suns?.sunset ?? []]) {
    hours.forEach((hour, i) => {
      if (hour === null || i % 3) return;
      brush.beginPath();
      brush.arc(((i + 0.5) / DAYS) * width, HEIGHT * (1 - hour / HOURS), 1.4, 0, 7);
      brush.fill();
    });
  }
}

/** The colours by words and degrees, the textures by words. */
function Legend() {
  const degrees = (value: number): string => amount(value, "temperature", 0);
  return (
    <div class="legend">
      <ul class="steps">
        {COLOURS.map((colour, i) => (
          <li key={colour} class={STEPS[i - 1] === 26 ? "break" : ""}>
            <span class="swatch" style={{ background: colour }} />
            <span class="degrees">
              {i === 0 ? `< ${degrees(STEPS[0])}` : degrees(STEPS[i - 1] ?? 0)}
            </span>
            <span class="feel">{FEELS[i] ? word(`page.feel_${FEELS[i]}`) : "\u00a0"}</span>
          </li>
        ))}
      </ul>
      <ul class="textures">
        <li>
          <span class="swatch light" />
          {word("sheet.heated")}
        </li>
        <li>
          <span class="swatch hard" />
          {word("sheet.hard_heated")}
        </li>
        <li>
          <span class="swatch dotted" />
          {word("sheet.sun_line")}
        </li>
      </ul>
    </div>
  );
}

const FEELS: Readonly<Record<number, string>> = {
  0: "frost",
  2: "cold",
  4: "cool",
  5: "right",
  6: "warm",
  7: "hot",
};

/** The map in one sentence for those who do not see it. */
function described(warm?: Float64Array, heat?: Float64Array): string {
  if (!warm || !heat) return "";
  const hot = warm.filter((value) => value >= 26).length;
  const heated = heat.filter((value) => value > 0).length;
  return say("page.map_described", {
    heated: speech.value.number(heated),
    hot: speech.value.number(hot),
  });
}
