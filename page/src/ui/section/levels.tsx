/** Heights and sizes beside the thing measured; each opens for an exact value. */
import { fasciaTop, soffit, topEdge } from "../../geometry/roof";
import type { Section } from "../../geometry/section";
import { openEntry } from "../entry";
import { typeable } from "../shaping";
import { spread } from "../spread";
import type { Name } from "../steps";
import { system, word } from "../store";
import { lengthText } from "../sunday";
import { textWidth } from "../textwidth";
import type { View } from "./view";

const LINE = 8; // px from the picture to the line of heights
const ELBOW = 20;
const GAP = 17;
const TICK = 5;

/** Longest height that is written, for which room is kept. */
const LONGEST = { us: `10' 10 3/4"`, metric: "10.000 m" };

/** The room that the words of the heights take before the picture [px]. */
export function levelsWidth(): number {
  const words = ["soffit", "ceiling", "head", "sill", "floor"].map((key) => word(`page.${key}`));
  const longest = Math.max(...words.map((each) => textWidth(`${each} ${LONGEST[system.value]}`)));
  return longest + ELBOW + LINE + 6;
}

interface Level {
  name: Name | null;
  text: string;
  height: number;
  x: number;
}

/** One dimension line with a ticked height for each level. */
export function Levels({ view, wall }: { view: View; wall: Section }) {
  if (view.narrow) return null;
  const roof = wall.roof;
  const named: [string, Name | null, number, number][] = [
    ["soffit", "soffit", soffit(roof), -roof.projection],
    ["ceiling", "ceiling", wall.ceiling, 0],
    ...(wall.window
      ? ([
          ["head", "head", wall.window.head, 0],
          ["sill", "sill", wall.window.sill, 0],
        ] as [string, Name, number, number][])
      : []),
    ["floor", null, 0, 0],
  ];
  const levels: Level[] = named.map(([key, name, height, x]) => ({
    name: name && typeable(name) ? name : null,
    text: `${word(`page.${key}`)} ${lengthText(height)}`,
    height,
    x,
  }));
  const x = view.x0 - LINE;
  const heights = levels.map((level) => view.y(level.height));
  const places = spread(heights, GAP, view.y0, view.height - 8);
  return (
    <g>
      <line x1={x} x2={x} y1={Math.min(...heights)} y2={Math.max(...heights)} class="measure" />
      {levels.map((level, i) => {
        const [at, place] = [heights[i] ?? 0, places[i] ?? 0];
        return (
          <g>
            <line x1={x} x2={view.x(level.x)} y1={at} y2={at} class="reach" />
            <line x1={x - TICK} x2={x + TICK} y1={at + TICK} y2={at - TICK} class="tick" />
            <path d={`M${x} ${at}L${x - ELBOW + 4} ${place}`} class="reach" />
            <text
              x={x - ELBOW}
              y={place + 4.5}
              class={level.name ? "end level typed" : "end level"}
              onClick={() => level.name && openEntry(level.name)}
            >
              {level.text}
            </text>
          </g>
        );
      })}
    </g>
  );
}

/** Projection and heel, in the free sky above the eave. */
export function EaveSizes({ view, wall }: { view: View; wall: Section }) {
  const roof = wall.roof;
  const [tip, face] = [view.x(-roof.projection), view.x(0)];
  const deck = view.y(topEdge(roof, 0));
  const projection = lengthText(roof.projection);
  const heel = `${word("page.heel")} ${lengthText(roof.heel)}`;
  const wide = face - tip > textWidth(projection) + 8;
  const level = deck - 26;
  // Words stand where the rising roof does not reach them.
  const shelf = Math.max(18, Math.min(level - 22, deck - (textWidth(heel) + 24) * roof.pitch - 10));
  return (
    <g>
      {roof.projection > 0 && (
        <g>
          <line x1={tip} x2={face} y1={level} y2={level} class="measure" />
          <line x1={tip} x2={tip} y1={level - 8} y2={view.y(fasciaTop(roof)) - 8} class="reach" />
          {[tip, face].map((x) => (
            <line x1={x - TICK} x2={x + TICK} y1={level + TICK} y2={level - TICK} class="tick" />
          ))}
          <text
            x={wide ? (tip + face) / 2 : tip - 10}
            y={wide ? level - 7 : level + 5}
            class={wide ? "middle typed" : "end typed"}
            onClick={() => openEntry("projection")}
          >
            {projection}
          </text>
        </g>
      )}
      <line x1={face} x2={face} y1={view.y(roof.plate)} y2={shelf} class="measure" />
      <line x1={face} x2={face + 10} y1={shelf} y2={shelf} class="measure" />
      {[view.y(roof.plate), view.y(topEdge(roof, 0))].map((y) => (
        <line x1={face - TICK} x2={face + TICK} y1={y + TICK} y2={y - TICK} class="tick" />
      ))}
      <text
        x={face + 14}
        y={shelf + 5}
        class={typeable("heel") ? "typed" : ""}
        onClick={() => openEntry("heel")}
      >
        {heel}
      </text>
    </g>
  );
}
