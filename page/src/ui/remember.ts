/** Small things that a reload keeps: units, language, the day and hour shown. */
import { effect } from "@preact/signals";
import type { System } from "../wire/messages";
import { connected, day, design, language, minutes, sentences, system, toSeason } from "./store";

const KEY = "noonmark";

interface Kept {
  system?: System;
  language?: string;
  day?: number;
  minutes?: number;
}

/** Take up what was kept, and keep what changes from now on. */
export function remember(): void {
  const kept = read();
  let first = true;
  effect(() => {
    if (!design.value?.place || !first) return;
    first = false;
    system.value = kept.system ?? design.value.units;
    if (kept.language && design.value.languages.includes(kept.language))
      language.value = kept.language;
    if (kept.day === undefined) toSeason("winter");
    else [day.value, minutes.value] = [kept.day, kept.minutes ?? 0];
  });
  effect(() => {
    const now: Kept = {
      system: system.value,
      language: language.value,
      day: day.value,
      minutes: minutes.value,
    };
    if (first) return;
    try {
      sessionStorage.setItem(KEY, JSON.stringify(now));
    } catch {
      // A browser that keeps nothing still shows everything.
    }
  });
  effect(() => {
    document.documentElement.lang = language.value;
    if (connected.value || first) void fetchWords(language.value);
  });
  effect(() => {
    const file = design.value;
    if (file) document.title = `${file.title || file.name} · noonmark`;
  });
}

function read(): Kept {
  try {
    return JSON.parse(sessionStorage.getItem(KEY) ?? "{}") as Kept;
  } catch {
    return {};
  }
}

/** Fetch the sentences of a language once. */
async function fetchWords(code: string): Promise<void> {
  if (sentences.peek()[code]) return;
  try {
    const answer = await fetch(`words/${code}.json`);
    if (!answer.ok) return;
    const words = await answer.json();
    sentences.value = { ...sentences.peek(), [code]: words }; // another language may have come
  } catch {
    // The line is lost; its return asks again.
  }
}
