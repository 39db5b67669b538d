/** The day and the hour shown: slider, winter and summer, the year playing. */
import { useEffect } from "preact/hooks";
import { floorReach, sunlitGlass } from "../geometry/section";
import { longestDay, MONTH_DAYS, shortestDay } from "./dates";
import { section } from "./shaping";
import {
  amount,
  day,
  minutes,
  northern,
  playing,
  say,
  showDay,
  stepDay,
  toSeason,
  word,
} from "./store";
import { dayName, lengthText, sun } from "./sunday";

const DAYS_A_SECOND = 24;
/** With reduced motion the year goes by fortnights. */
const STILL_STEP = 14;
const STILL_WAIT = 900;
const HALF_DAY = 480; // minutes before and after noon

export function Days() {
  usePlay();
  const winter = day.value === shortestDay(northern.value) && minutes.value === 0;
  const summer = day.value === longestDay(northern.value) && minutes.value === 0;
  return (
    <section class="days" aria-label={word("page.day_and_hour")}>
      <p class="told" aria-live={playing.value ? "off" : "polite"}>
        {sunSentence()}
      </p>
      <div class="row">
        <div class="switch" role="group" aria-label={word("page.season")}>
          <button
            type="button"
            data-do="winter"
            aria-pressed={winter}
            onClick={() => toSeason("winter")}
          >
            {word("page.winter")}
          </button>
          <button
            type="button"
            data-do="summer"
            aria-pressed={summer}
            onClick={() => toSeason("summer")}
          >
            {word("page.summer")}
          </button>
        </div>
        <button
          type="button"
          data-do="play"
          aria-pressed={playing.value}
          onClick={() => {
            playing.value = !playing.value;
          }}
        >
          {word(playing.value ? "page.pause" : "page.play")}
        </button>
        <label class="slide date">
          <span>{word("page.day")}</span>
          <span class="track">
            <input
              id="day"
              type="range"
              min={0}
              max={364}
              step={1}
              value={day.value}
              aria-valuetext={dayName(day.value)}
              onInput={(event) => {
                showDay(Number(event.currentTarget.value));
              }}
            />
            <span class="months" aria-hidden="true">
              {MONTH_DAYS.map((days, month) => (
                <span style={{ flexGrow: days }}>{word(`month_short.${month + 1}`)}</span>
              ))}
            </span>
          </span>
        </label>
        <label class="slide hour">
          <span>{word("page.hour")}</span>
          <input
            id="hour"
            type="range"
            min={-HALF_DAY}
            max={HALF_DAY}
            step={15}
            value={minutes.value}
            aria-valuetext={sun.value.clock}
            onInput={(event) => {
              minutes.value = Number(event.currentTarget.value);
            }}
          />
          <output>
            {minutes.value === 0
              ? say("page.at_noon", { clock: sun.value.clock })
              : sun.value.clock}
          </output>
        </label>
      </div>
    </section>
  );
}

/** What the sun of the moment does, in one sentence under the picture. */
function sunSentence(): string {
  const wall = section.value;
  const { altitude, clock, profile } = sun.value;
  const values = { date: dayName(day.value), clock };
  if (altitude <= 0) return say("page.sun_down", values);
  const high = { ...values, altitude: amount(altitude, "angle") };
  if (profile === null || !wall) return say("page.sun_elsewhere", high);
  if (!wall.window) return say("page.sun_on_wall", high);
  const [sill, top] = sunlitGlass(wall, profile);
  if (top <= sill) return say("page.sun_shaded", high);
  const share = (top - sill) / (wall.window.head - wall.window.sill);
  const lit = amount(share, "ratio");
  return say("page.sun_in", { ...high, lit, reach: lengthText(floorReach(wall, profile)) });
}

/** Let the year go by while it plays. */
function usePlay(): void {
  const on = playing.value;
  useEffect(() => {
    if (!on) return;
    if (matchMedia("(prefers-reduced-motion: reduce)").matches) {
      const timer = setInterval(() => stepDay(STILL_STEP), STILL_WAIT);
      return () => clearInterval(timer);
    }
    let last = performance.now();
    let frame = requestAnimationFrame(function next(now) {
      const days = Math.floor(((now - last) / 1000) * DAYS_A_SECOND);
      if (days > 0) {
        stepDay(days);
        last = now;
      }
      frame = requestAnimationFrame(next);
    });
    return () => cancelAnimationFrame(frame);
  }, [on]);
}
