/** The story pole: a stick beside the wall, one notch a fortnight where the noon shade line stands. */
import { soffitAtWall } from "../../geometry/roof";
import { type Section, shadeLine } from "../../geometry/section";
import { spread } from "../spread";
import { day, say, word } from "../store";
import { dayName, lengthText, type Mark, marks, sunOn } from "../sunday";
import type { View } from "./view";

const STICK = 6; // px, half its width
const NOTCH = 11;
const ELBOW = 26;
const GAP = 16; // px between labels
const RIGHT = 166; // px, where the stick stands

interface Notch {
  label: string;
  height: number;
  own: boolean;
  /** Days of the year it stands for. */
  days: number[];
}

export function StoryPole({ view, wall }: { view: View; wall: Section }) {
  const foot = wall.ground;
  const top = soffitAtWall(wall.roof);
  const notches = shown(marks.value, wall, top, view.narrow);
  if (notches.length === 0) return null; // no noon sun on this wall
  const x = view.narrow ? 88 : RIGHT;
  const ends = [view.y(top), view.y(foot)] as const;
  const places = notches.map((notch) => view.y(Math.max(notch.height, foot)));
  const labels = spread(places, GAP, Math.max(30, ends[0] - 90), view.height - 6);
  return (
    <g
      class="pole"
      role="img"
      aria-label={say("page.pole_described", {
        marks: [...notches].sort((a, b) => b.height - a.height).map((notch) => notch.label),
      })}
    >
      <text
        x={view.narrow ? 0 : x + STICK}
        y={Math.min(ends[0], ...labels) - 16}
        class={view.narrow ? "name" : "name end"}
      >
        {word("sheet.pole")}
      </text>
      <rect x={x - STICK} y={ends[0]} width={2 * STICK} height={ends[1] - ends[0]} class="seen" />
      {notches.map((notch, i) => {
        const [at, label] = [places[i] ?? 0, labels[i] ?? 0];
        return (
          <g class={notch.own ? "own" : ""}>
            <line x1={x - NOTCH} x2={x + NOTCH} y1={at} y2={at} class="notch" />
            <path d={`M${x - NOTCH} ${at}L${x - ELBOW + 4} ${label}`} class="reach" />
            <text x={x - ELBOW} y={label + 4.5} class="end mark">
              {notch.label + (notch.height < foot ? " ↓" : "")}
            </text>
          </g>
        );
      })}
    </g>
  );
}

/** Notches of the fortnights and of the day shown; every second label goes where it is narrow. */
function shown(all: readonly Mark[], wall: Section, top: number, narrow: boolean): Notch[] {
  const notches = all
    .filter((_, i) => !narrow || i % 3 === 0)
    .flatMap((mark) => {
      if (mark.profile === null || mark.profile >= 89.9) return [];
      const height = shadeLine(wall.roof, mark.profile);
      const days = mark.later === mark.first ? [mark.first] : [mark.first, mark.later];
      const label = (narrow ? days.slice(0, 1) : days).map(dayName).join(" · ");
      return height <= top ? [{ label, height, own: false, days }] : [];
    });
  const profile = sunOn(day.value, 0).profile;
  if (profile === null || profile >= 89.9) return notches;
  const height = shadeLine(wall.roof, profile);
  if (height > top) return notches;
  const short = narrow || height < wall.ground;
  const label = short
    ? dayName(day.value)
    : say("sheet.mark", { date: dayName(day.value), height: lengthText(height) });
  return [
    ...notches.filter((notch) => !notch.days.includes(day.value)),
    { label, height, own: true, days: [day.value] },
  ];
}
