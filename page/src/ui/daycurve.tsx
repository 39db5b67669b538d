/** One day hour by hour: outdoors, zones, sun and fire. */
import { HOURS } from "./dates";
import { useWidth } from "./size";
import { spread } from "./spread";
import { amount, building, day, energy, say, speech, state, weather, word, year } from "./store";
import { dayName } from "./sunday";

const HEIGHT = 316;
const TOP = 14;
const FOOT = 26;
const LEFT = 44;
const POWER = 58; // px for the strip of sun and fire
const WORDS = 44; // px between curves and strip
const TIGHT = 460; // px of a drawing in which words stand below each other

export function DayCurve() {
  const [frame, width] = useWidth<HTMLDivElement>();
  return (
    <section class="daycurve" data-drawing={state.value} aria-labelledby="curve-title">
      <h2 id="curve-title">{say("page.curve", { date: dayName(day.value) })}</h2>
      <div ref={frame}>{width > 0 && <Curves width={width} />}</div>
    </section>
  );
}

function Curves({ width }: { width: number }) {
  const sky = weather.value;
  const run = year.value;
  if (!sky || !run) return null;
  const first = day.value * HOURS;
  const hours = (array: Float64Array): number[] => Array.from(array.subarray(first, first + HOURS));
  const zones = building.value?.zones ?? [];
  const lines = [
    { name: word("year.outdoors"), values: hours(sky.outdoors), class: "outdoors" },
    ...run.temperature.map((values, i) => ({
      name: zones.length > 1 ? (zones[i] ?? "") : word("year.inside"),
      values: hours(values),
      class: `zone z${i % 4}`,
    })),
  ];
  const all = lines.flatMap((line) => line.values);
  const grid = ticks(Math.min(...all), Math.max(...all));
  const [low, high] = [grid[0] ?? 0, grid.at(-1) ?? 1];
  const right = width - 96;
  const tight = width < TIGHT;
  const base = HEIGHT - FOOT - POWER - WORDS;
  const x = (hour: number): number => LEFT + (hour / HOURS) * (right - LEFT);
  const y = (value: number): number => base - ((value - low) / (high - low || 1)) * (base - TOP);
  const sun = hours(sky.sun);
  const heat = sun.map((_, i) => run.heat.reduce((sum, zone) => sum + (zone[first + i] ?? 0), 0));
  const names = spread(
    lines.map((line) => y(line.values.at(-1) ?? 0)),
    16,
    TOP,
    base,
  );
  const degrees = (value: number): string => amount(value, "temperature", 0);
  return (
    <svg width={width} height={HEIGHT} role="img" aria-label={described(lines, heat)}>
      {grid.map((value) => (
        <g key={value}>
          <line x1={LEFT} x2={right} y1={y(value)} y2={y(value)} class="rule" />
          <text x={LEFT - 6} y={y(value) + 4} class="end small">
            {degrees(value)}
          </text>
        </g>
      ))}
      {lines.map((line, i) => (
        <g key={line.name}>
          <polyline
            class={`curve ${line.class}`}
            points={line.values
              .map((value, hour) => `${x(hour + 0.5).toFixed(1)},${y(value).toFixed(1)}`)
              .join(" ")}
          />
          <text x={right + 6} y={(names[i] ?? 0) + 4} class={`small tag ${line.class}`}>
            {line.name}
          </text>
        </g>
      ))}
      <Bars values={sun} most={1000} x={x} foot={HEIGHT - FOOT} class="sunbar" side={-1} />
      <Bars
        values={heat}
        most={Math.max(1, run.year.peak_heating_w)}
        x={x}
        foot={HEIGHT - FOOT}
        class="firebar"
        side={1}
      />
      <text x={LEFT} y={base + 22} class="small tag sunbar">
        {say("page.sun_most", { most: amount(Math.max(...sun), "power_density", 0) })}
      </text>
      <text
        x={tight ? LEFT : right}
        y={tight ? base + 38 : base + 22}
        class={tight ? "small tag firebar" : "small tag firebar end"}
      >
        {say("page.fire_most", { most: amount(Math.max(...heat), "power") })}
      </text>
      {[0, 6, 12, 18, 24].map((hour) => (
        <text key={hour} x={x(hour)} y={HEIGHT - 6} class="middle small">
          {say("page.clock_hour", { hour })}
        </text>
      ))}
    </svg>
  );
}

interface BarsProps {
  values: readonly number[];
  most: number;
  x: (hour: number) => number;
  foot: number;
  class: string;
  side: -1 | 1;
}

/** Hourly bars on a common foot: sun in the left half of each hour, fire in the right. */
function Bars({ values, most, x, foot, class: name, side }: BarsProps) {
  const wide = (x(1) - x(0)) * 0.42;
  return (
    <g class={name}>
      {values.map((value, hour) => {
        const tall = Math.min(1, value / most) * POWER;
        const left = x(hour + 0.5) + (side < 0 ? -wide : 0);
        return (
          tall > 0.3 && (
            <rect key={String(hour)} x={left} y={foot - tall} width={wide} height={tall} />
          )
        );
      })}
    </g>
  );
}

/** Round degrees of the reader's scale around two temperatures [degC]. */
function ticks(low: number, high: number): number[] {
  const us = speech.value.system === "us";
  const scale = us ? 1.8 : 1;
  const offset = us ? 32 : 0;
  const step = us ? 20 : 10;
  const first = Math.floor((low * scale + offset) / step);
  const last = Math.ceil((high * scale + offset) / step);
  return Array.from(
    { length: Math.max(2, last - first + 1) },
    (_, i) => ((first + i) * step - offset) / scale,
  );
}

function described(lines: { name: string; values: number[] }[], heat: number[]): string {
  const degrees = (value: number): string => amount(value, "temperature");
  const ranges = lines.map((line) =>
    say("page.curve_range", {
      name: line.name,
      least: degrees(Math.min(...line.values)),
      most: degrees(Math.max(...line.values)),
    }),
  );
  const kwh = heat.reduce((sum, power) => sum + power, 0) / 1000;
  return say("page.curve_described", { ranges: ranges.join("; "), heat: energy(kwh) });
}
