/** The map of the year: a column a day, a row an hour; stepped colours, heater hours as texture. */
import { useEffect, useRef } from "preact/hooks";
import { DAYS } from "../sun/calendar";
import { MONTH_DAYS } from "./dates";
import { COLOURS, HEIGHT, paint, STEPS } from "./mappaint";
import { useWidth } from "./size";
import {
  amount,
  building,
  day,
  design,
  playing,
  say,
  showDay,
  speech,
  state,
  stepDay,
  weather,
  word,
  year,
  zoneShown,
} from "./store";
import { dayName } from "./sunday";

export function YearMap() {
  const [frame, width] = useWidth<HTMLDivElement>();
  const canvas = useRef<HTMLCanvasElement>(null);
  const run = year.value;
  const zone = Math.min(zoneShown.value, (run?.temperature.length ?? 1) - 1);
  const warm = run?.temperature[zone];
  const heat = run?.heat[zone];
  const suns = weather.value?.message;
  useEffect(() => {
    if (canvas.current && warm && heat && width > 0)
      paint(canvas.current, width, { warm, heat, sunrise: suns?.sunrise, sunset: suns?.sunset });
  }, [warm, heat, suns, width]);
  const zones = building.value?.zones ?? [];
  const pick = (event: PointerEvent): void => {
    const box = (event.currentTarget as HTMLElement).getBoundingClientRect();
    const share = (event.clientX - box.left) / box.width;
    showDay(Math.max(0, Math.min(DAYS - 1, Math.floor(share * DAYS))));
  };
  const key = (event: KeyboardEvent): void => {
    const step = { ArrowLeft: -1, ArrowRight: 1, PageDown: -14, PageUp: 14 }[event.key];
    if (step === undefined) return;
    event.preventDefault();
    playing.value = false;
    stepDay(step * (event.shiftKey ? 10 : 1));
  };
  return (
    <section class="yearmap" data-drawing={state.value} aria-labelledby="map-title">
      <h2 id="map-title">
        {say("page.map", {
          zone: zones.length > 1 ? (zones[zone] ?? "") : named(),
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

/** What the map of a building with one zone is called. */
function named(): string {
  const file = design.value;
  return (file && file.buildings.length > 1 ? building.value?.name : file?.title) ?? "";
}

/** The map in one sentence for those who do not see it. */
function described(warm?: Float64Array, heat?: Float64Array): string {
  if (!warm || !heat) return "";
  const own = year.value?.year;
  const counted = warm.filter((value) => value > 26).length;
  const hot = own?.zones.length === 1 ? own.hours_above_26_c : counted;
  const heated = heat.filter((value) => value > 0).length;
  return say("page.map_described", {
    heated: speech.value.number(heated),
    hot: speech.value.number(hot),
  });
}
