/** The heat of each month, and where it goes and comes from. */
import type { MonthYear, PartFlow, ZoneYear } from "../wire/messages";
import { useWidth } from "./size";
import { amount, energy, say, state, twin, word, year } from "./store";

const HEIGHT = 190;
const FOOT = 22;
const TOP = 8;
const LEFT = 76;

export function Months() {
  const [frame, width] = useWidth<HTMLDivElement>();
  return (
    <section class="months-chart" data-drawing={state.value} aria-labelledby="months-title">
      <h2 id="months-title">{word("page.months")}</h2>
      <div ref={frame}>{width > 0 && <MonthBars width={width} />}</div>
      <ul class="textures">
        <li>
          <span class="swatch fire" />
          {word("page.months_heat")}
        </li>
        <li>
          <span class="swatch gold" />
          {word("page.months_sun")}
        </li>
        <li>
          <span class="swatch outline" />
          {word("page.months_twin")}
        </li>
      </ul>
    </section>
  );
}

function MonthBars({ width }: { width: number }) {
  const own = year.value?.year.zones;
  if (!own) return null;
  const heat = summed(own, (month) => month.heating_kwh);
  const sun = summed(own, (month) => month.solar_kwh);
  const beside = twin.value ? summed(twin.value.year.zones, (month) => month.heating_kwh) : [];
  const most = Math.max(1, ...heat, ...sun, ...beside);
  const step = (width - LEFT) / 12;
  const base = HEIGHT - FOOT;
  const tall = (value: number): number => (value / most) * (base - TOP);
  const wide = step * 0.34;
  return (
    <svg
      width={width}
      height={HEIGHT}
      role="img"
      aria-label={say("page.months_described", {
        months: heat.map((value, i) => `${word(`month.${i + 1}`)} ${energy(value)}`),
      })}
    >
      {rules(most).map((value) => (
        <g key={value}>
          <line x1={LEFT} x2={width} y1={base - tall(value)} y2={base - tall(value)} class="rule" />
          <text x={LEFT - 6} y={base - tall(value) + 5} class="end small">
            {energy(value)}
          </text>
        </g>
      ))}
      {heat.map((value, i) => {
        const x = LEFT + i * step + step * 0.12;
        return (
          <g key={String(i)}>
            <rect class="firebar" x={x} y={base - tall(value)} width={wide} height={tall(value)} />
            <rect
              class="sunbar"
              x={x + wide}
              y={base - tall(sun[i] ?? 0)}
              width={wide}
              height={tall(sun[i] ?? 0)}
            />
            {beside[i] !== undefined && (
              <path
                class="twinbar"
                d={`M${x - 2} ${base}V${base - tall(beside[i])}H${x + wide + 1}V${base}`}
              />
            )}
            <text x={x + wide} y={HEIGHT - 6} class="middle small">
              {word(`month_short.${i + 1}`)}
            </text>
          </g>
        );
      })}
      <line x1={LEFT} x2={width} y1={base} y2={base} class="base" />
    </svg>
  );
}

/** Two to four round values up to the largest. */
function rules(most: number): number[] {
  const power = 10 ** Math.floor(Math.log10(most));
  const step = [0.25, 0.5, 1, 2.5].map((part) => part * power).find((each) => most / each < 5);
  const count = Math.floor(most / (step ?? power));
  return Array.from({ length: count }, (_, i) => (i + 1) * (step ?? power));
}

const summed = (zones: readonly ZoneYear[], of: (month: MonthYear) => number): number[] =>
  Array.from({ length: 12 }, (_, i) =>
    zones.reduce((sum, zone) => sum + (zone.months[i] ? of(zone.months[i]) : 0), 0),
  );

export function Flows() {
  const zones = year.value?.year.zones;
  return (
    <>
      {(["losses", "gains"] as const).map((kind) => (
        <FlowList key={kind} kind={kind} flows={zones ? merged(zones, kind) : []} />
      ))}
    </>
  );
}

/** The same part of several zones added; largest first. */
function merged(zones: readonly ZoneYear[], kind: "losses" | "gains"): PartFlow[] {
  const all = new Map<string, PartFlow>();
  for (const flow of zones.flatMap((zone) => zone[kind])) {
    const key = `${flow.part} ${flow.side}`;
    all.set(key, { ...flow, kwh: flow.kwh + (all.get(key)?.kwh ?? 0) });
  }
  return [...all.values()].filter((flow) => flow.kwh > 0.5).sort((a, b) => b.kwh - a.kwh);
}

function FlowList({ kind, flows }: { kind: "losses" | "gains"; flows: readonly PartFlow[] }) {
  if (flows.length === 0) return null;
  const whole = flows.reduce((sum, flow) => sum + flow.kwh, 0);
  const most = Math.max(1, ...flows.map((flow) => flow.kwh));
  return (
    <section class={`flows ${kind}`} data-drawing={state.value} aria-labelledby={`${kind}-title`}>
      <h2 id={`${kind}-title`}>{word(`year.${kind}`)}</h2>
      <ul>
        {flows.map((flow) => (
          <li key={flow.part + flow.side} data-part={flow.part}>
            <span class="part">
              {say(`year.part_${flow.part}`, {
                side: word(flow.side ? `side.${flow.side}` : "nothing"),
              })}
            </span>
            <span class="bar">
              <span style={{ width: `${(100 * flow.kwh) / most}%` }} />
            </span>
            <span class="share">{amount(flow.kwh / whole, "ratio")}</span>
            <span class="amount">{energy(flow.kwh)}</span>
          </li>
        ))}
      </ul>
    </section>
  );
}
