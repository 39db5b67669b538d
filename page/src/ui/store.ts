/** What the page knows: signals that everything drawn follows. */
import { computed, signal } from "@preact/signals";
import { DAYS } from "../sun/calendar";
import type {
  Building,
  Design,
  Kind,
  Problem,
  System,
  Twin,
  Value,
  Weather,
} from "../wire/messages";
import { Speech } from "../words/speech";
import { write } from "../words/units";
import { longestDay, shortestDay } from "./dates";
import type { YearAnswer } from "./link";

export const design = signal<Design | null>(null);
export const weather = signal<{
  message: Weather;
  outdoors: Float64Array;
  sun: Float64Array;
} | null>(null);
export const year = signal<YearAnswer | null>(null);
export const twin = signal<Twin | null>(null);

/** The building shown, by name; the first one until another is chosen. */
export const chosen = signal("");
/** Number of the window the section is cut through; 0 for the one the server shows. */
export const cutAt = signal(0);
/** Which zone of the building the year map shows. */
export const zoneShown = signal(0);

/** Values under the hand, or let go and not yet in the file: metres, or rise over run. */
export const held = signal<Readonly<Record<string, number>>>({});
/** Whether a hand or a key holds something now. */
export const grasped = signal(false);
/** Why the hand can not go further, or why the last change was refused. */
export const stopped = signal<Problem | null>(null);
export const notice = signal<string>("");

export const connected = signal(false);
export const warming = signal(true);
/** Newest edit said, and newest one answered. */
export const said = signal(0);
export const answered = signal(0);
export const waiting = computed(() => said.value > answered.value);
export const state = computed(() =>
  !connected.value ? "lost" : waiting.value ? "waiting" : "ready",
);

/** Day of the year shown, 0 to 364, and minutes after solar noon. */
export const day = signal(0);
export const minutes = signal(0);
export const playing = signal(false);

export const system = signal<System>("metric");
export const language = signal("en");
/** The sentences of each language that was fetched. */
export const sentences = signal<Readonly<Record<string, Readonly<Record<string, string>>>>>({});
const words = computed(() => sentences.value[language.value] ?? sentences.value.en);
/** Whether anything can be said yet. */
export const wordsHere = computed(() => words.value !== undefined);
export const speech = computed(() => new Speech(words.value ?? {}, system.value));

export const building = computed<Building | null>(() => {
  const all = design.value?.buildings ?? [];
  return all.find((item) => item.name === chosen.value) ?? all[0] ?? null;
});

export const northern = computed(() => (design.value?.place?.latitude ?? 0) >= 0);

/** Put the day on the shortest or the longest one of the place. */
export function toSeason(which: "winter" | "summer"): void {
  showDay(which === "winter" ? shortestDay(northern.value) : longestDay(northern.value));
  minutes.value = 0;
}

/** Show one day; a year that plays stops. */
export function showDay(which: number): void {
  playing.value = false;
  day.value = which;
}

/** Move the day shown by `step` days, round the year. */
export function stepDay(step: number): void {
  day.value = (day.value + step + DAYS) % DAYS;
}

/** The word of a key, and a sentence of the page with its values. */
export const word = (key: string): string => speech.value.text(key);
export const say = (key: string, values: Readonly<Record<string, Value>> = {}): string =>
  speech.value.text(key, values);

/** An SI value in the reader's units. */
export const amount = (value: number, kind: Kind, digits?: number): string =>
  speech.value.marked(write(value, kind, system.value, digits));

/** Energy in kWh, the unit of results on every face. */
export const energy = (kwh: number): string => say("page.kwh", { kwh: speech.value.number(kwh) });
