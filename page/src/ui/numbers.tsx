/** What the year answers: heat and fuel, the bright day, the cold dawn, the hours too hot. */

import { useRef } from "preact/hooks";
import { dayOfYear } from "../sun/calendar";
import type { BrightDay, BuildingYear, ColdDawn, FuelYear } from "../wire/messages";
import { amount, energy, grasped, say, showDay, speech, state, twin, word, year } from "./store";
import { dayName } from "./sunday";

interface Shown {
  year: BuildingYear;
  bright: BrightDay | null;
  dawn: ColdDawn | null;
}

export function Numbers() {
  const own = year.value;
  const other = twin.value;
  return (
    <section
      class="numbers"
      aria-label={word("page.year_answers")}
      aria-busy={state.value !== "ready"}
    >
      <dl>
        <Figure
          id="heating"
          label={word("page.heating")}
          of={(item) => energy(item.year.heating_kwh)}
          own={own}
          other={other}
        />
        <Figure
          id="fuel"
          label={word("page.fuel")}
          of={(item) => fuel(item.year.fuel)}
          own={own}
          other={other}
        />
        <Figure
          id="bright"
          label={word("page.bright")}
          of={(item) => (item.bright ? amount(item.bright.peak_c, "temperature") : "–")}
          own={own}
          other={other}
          when={own?.bright ?? null}
          note="page.bright_note"
        />
        <Figure
          id="dawn"
          label={word("page.dawn")}
          of={(item) => (item.dawn ? amount(item.dawn.temp_c, "temperature") : "–")}
          own={own}
          other={other}
          when={own?.dawn ?? null}
          note="page.dawn_note"
        />
        <Figure
          id="hot"
          label={word("page.hot")}
          of={(item) =>
            say("page.hours", { hours: speech.value.number(item.year.hours_above_26_c) })
          }
          own={own}
          other={other}
        />
      </dl>
      <p class="caption">{word("page.twin_note")}</p>
      <Said />
    </section>
  );
}

/** The answer at rest, for those who do not see it. */
function Said() {
  const last = useRef("");
  const own = year.value?.year;
  if (own && state.value === "ready" && !grasped.value) {
    const hours = speech.value.number(own.hours_above_26_c);
    last.current = say("page.year_said", { heat: energy(own.heating_kwh), hours });
  }
  return (
    <p class="unseen" role="status">
      {last.current}
    </p>
  );
}

interface FigureProps {
  id: string;
  label: string;
  of: (item: Shown) => string;
  own: Shown | null;
  other: Shown | null;
  /** A day to look at, and the sentence that says what it is. */
  when?: BrightDay | ColdDawn | null;
  note?: string;
}

function Figure({ id, label, of, own, other, when, note }: FigureProps) {
  const date = when ? dayOfYear(when.month, when.day) : null;
  return (
    <div class="figure">
      <dt>{label}</dt>
      <dd data-number={id}>{own ? of(own) : "…"}</dd>
      <dd class="beside">
        {other ? say("page.twin_has", { value: of(other) }) : "\u00a0"}
        {date !== null && note && (
          <button type="button" class="link" onClick={() => showDay(date)}>
            {say(note, { date: dayName(date), outdoor: amount(outdoors(when), "temperature", 0) })}
          </button>
        )}
      </dd>
    </div>
  );
}

const outdoors = (when: BrightDay | ColdDawn | null | undefined): number =>
  when ? ("outdoor_c" in when ? when.outdoor_c : when.outdoor_min_c) : 0;

function fuel(burnt: FuelYear | null): string {
  if (!burnt) return word("year.no_heater");
  const { amount, unit, fuel, full_cords, charges } = burnt;
  const number = (value: number, digits: number): string => speech.value.number(value, digits);
  const bought =
    full_cords > 0
      ? say("year.cords", { value: number(full_cords, 2), fuel })
      : say("year.amount", {
          value: number(amount, amount > 0 && amount < 10 ? 1 : 0),
          unit,
          fuel,
        });
  if (charges === 0) return bought;
  return say("year.charges", { fuel_bought: bought, charges: number(charges, 0) });
}
