/** The house cut open: earth, floor, wall, window and roof, hatched as a carpenter draws. */
import {
  chordPlumb,
  endHeel,
  fasciaTop,
  LEAST_VENT_GAP,
  ridge,
  soffit,
  soffitAtWall,
  topEdge,
} from "../../geometry/roof";
import type { Section } from "../../geometry/section";
import type { Roof } from "../../wire/messages";
import { box, corners, type Point, type View } from "./view";

const PLATE = 0.038; // m, 1 1/2 in
const CHORD = 0.089; // m, 3 1/2 in
const FASCIA = 0.03;
const BOARD = 0.03; // m, window frame
const SOFFIT = 0.015;
const LOOP = 0.085; // m, a loop of a batt as drawn

/** The hatchings, once for the drawing. */
export function Hatchings() {
  return (
    <defs>
      <pattern id="earth" width="26" height="18" patternUnits="userSpaceOnUse">
        <rect width="26" height="18" fill="var(--earth)" />
        <path d="M2 15l7-8M8 17l8-9M15 17l6-7M18 4l5 6M4 3l4 5" class="hatch" />
      </pattern>
      <pattern id="concrete" width="34" height="22" patternUnits="userSpaceOnUse">
        <rect width="34" height="22" fill="var(--concrete)" />
        <path d="M6 6l4 1-3 3zM22 14l5-1-2 4z" class="hatch" />
        <g class="grain">
          <circle cx="15" cy="5" r="1" />
          <circle cx="28" cy="5" r="1.2" />
          <circle cx="4" cy="17" r="1.2" />
          <circle cx="14" cy="15" r="1" />
        </g>
      </pattern>
      <linearGradient id="beam" x1="0" x2="1" y1="0" y2="0">
        <stop offset="0" stop-color="var(--gold)" stop-opacity=".25" />
        <stop offset=".3" stop-color="var(--gold)" stop-opacity=".95" />
        <stop offset="1" stop-color="var(--gold)" stop-opacity=".75" />
      </linearGradient>
    </defs>
  );
}

/** Earth, footing, slab and what insulates it. */
export function Ground({ view, wall }: { view: View; wall: Section }) {
  const slab = -wall.floor_thickness;
  const under = slab - wall.floor_insulation;
  const outer = wall.wall_thickness * 2 + wall.room_depth;
  const end = Math.min(view.right, outer);
  const earth: Point[] = [
    [view.left, view.low],
    [view.left, wall.ground],
    [0, wall.ground],
    [0, under],
    [end, under],
    [end, wall.ground],
    [view.right, wall.ground],
    [view.right, view.low],
  ];
  const boards = {
    left: view.x(wall.wall_thickness),
    right: view.x(Math.min(view.right, wall.wall_thickness + wall.room_depth)),
  };
  return (
    <g>
      <polygon points={corners(view, earth)} fill="url(#earth)" />
      <line
        x1={view.x(view.left)}
        x2={view.x(0)}
        y1={view.y(wall.ground)}
        y2={view.y(wall.ground)}
        class="cut"
      />
      {wall.floor_insulation > 1e-6 && (
        <g>
          <polygon points={box(view, 0, under, end, slab)} class="seen" />
          <path
            d={zigzag(boards.left, boards.right, view.y(under) - 2, view.y(slab) + 2)}
            class="loops"
          />
        </g>
      )}
      <polygon
        points={box(view, 0, view.low, wall.wall_thickness, slab)}
        class="cut"
        fill="url(#concrete)"
      />
      <polygon points={box(view, 0, slab, end, 0)} class="cut" fill="url(#concrete)" />
    </g>
  );
}

/** An insulation board: to and fro at 60 degrees between two levels [px]. */
function zigzag(left: number, right: number, low: number, high: number): string {
  const count = Math.max(
    1,
    Math.round(((right - left) * Math.sqrt(3)) / Math.max(4, Math.abs(high - low))),
  );
  const step = (right - left) / count;
  const places = Array.from(
    { length: count + 1 },
    (_, i) => `${(left + i * step).toFixed(1)} ${(i % 2 ? high : low).toFixed(1)}`,
  );
  return `M${places.join("L")}`;
}

/** The wall below and above its window, and the back wall where it is in the picture. */
export function Walls({ view, wall, header: deep }: { view: View; wall: Section; header: number }) {
  const plate = wall.roof.plate;
  const { wall_thickness: thick, window } = wall;
  const back = thick + wall.room_depth;
  const header = window ? Math.min(deep, plate - window.head) : 0;
  return (
    <g>
      {window ? (
        <>
          <Framed view={view} x={0} thick={thick} low={0} high={window.sill} />
          <Framed view={view} x={0} thick={thick} low={window.head} high={plate} header={header} />
        </>
      ) : (
        <Framed view={view} x={0} thick={thick} low={0} high={plate} />
      )}
      {back < view.right && <Framed view={view} x={back} thick={thick} low={0} high={plate} />}
    </g>
  );
}

interface Piece {
  view: View;
  x: number;
  thick: number;
  low: number;
  high: number;
  header?: number;
}

/** A piece of framed wall: plates, or a header at its foot, and batts between. */
function Framed({ view, x, thick, low, high, header = 0 }: Piece) {
  if (high - low < 1e-6) return null;
  const foot = Math.min(high, low + Math.max(header, PLATE));
  const top = Math.max(foot, high - PLATE);
  return (
    <g>
      <polygon points={box(view, x, low, x + thick, high)} class="cut" fill="var(--wood)" />
      <path d={batt(view, x, foot, x + thick, top)} class="loops" />
      <Timber view={view} x={x} thick={thick} low={low} high={foot} />
      {top < high && <Timber view={view} x={x} thick={thick} low={top} high={high} />}
    </g>
  );
}

/** Framing cut across the grain: a box with its diagonals. */
function Timber({ view, x, thick, low, high }: Piece) {
  const [a, b, c, d] = [view.x(x), view.x(x + thick), view.y(low), view.y(high)];
  return (
    <g>
      <polygon points={box(view, x, low, x + thick, high)} class="seen" />
      <path d={`M${a} ${c}L${b} ${d}M${a} ${d}L${b} ${c}`} class="hatch" />
    </g>
  );
}

/** A batt standing in a wall: one soft line from side to side. */
function batt(view: View, x0: number, low: number, x1: number, high: number): string {
  const count = Math.floor((high - low) / LOOP);
  if (count < 1) return "";
  const pad = Math.min(0.05, (x1 - x0) / 4);
  const sides = [view.x(x0 + pad), view.x(x1 - pad)] as const;
  const rows = Array.from({ length: count }, (_, i) =>
    view.y(low + ((i + 0.5) * (high - low)) / count),
  );
  return loops(
    rows,
    () => sides,
    (along, across) => `${across.toFixed(1)} ${along.toFixed(1)}`,
  );
}

/** One line to and fro between two sides, round at each turn. */
function loops(
  along: readonly number[],
  sides: (at: number) => readonly [number, number],
  turn: (along: number, across: number) => string,
): string {
  const bend = (along[1] !== undefined && along[0] !== undefined ? along[1] - along[0] : 0) * 0.6;
  let path = "";
  along.forEach((at, i) => {
    const [a, b] = i % 2 ? [sides(at)[1], sides(at)[0]] : sides(at);
    const out = (b - a > 0 ? 1 : -1) * Math.abs(bend);
    const next = along[i + 1];
    path += i === 0 ? `M${turn(at, a)}` : "";
    path += `L${turn(at, b)}`;
    if (next !== undefined) path += `C${turn(at, b + out)} ${turn(next, b + out)} ${turn(next, b)}`;
  });
  return path;
}

/** The glass with its lit and shaded part, and its frame. */
export function Window({ view, wall, lit }: { view: View; wall: Section; lit: number }) {
  if (!wall.window) return null;
  const { sill, head } = wall.window;
  const middle = wall.wall_thickness / 2;
  const half = Math.min(0.025, wall.wall_thickness / 4);
  return (
    <g>
      <polygon
        points={box(view, middle - half, sill, middle + half, lit)}
        class="pane"
        fill="var(--glass)"
      />
      {lit < head - 1e-6 && (
        <polygon
          points={box(view, middle - half, lit, middle + half, head)}
          class="pane"
          fill="var(--shaded)"
        />
      )}
      {[sill, head - BOARD].map((y) => (
        <polygon
          points={box(view, middle - 2 * half, y, middle + 2 * half, y + BOARD)}
          class="seen"
        />
      ))}
    </g>
  );
}

/** Truss, insulation over the ceiling, deck, soffit, fascia and gutter. */
export function RoofCut({ view, wall }: { view: View; wall: Section }) {
  const roof = wall.roof;
  const end = roof.truss === "cantilever" ? roof.projection : 0;
  const deep = Math.min(CHORD, roof.truss === "cantilever" ? endHeel(roof) : roof.heel);
  return (
    <g>
      <path d={attic(view, wall)} class="loops" />
      <polygon
        points={box(view, -end, roof.plate, roof.span + end, roof.plate + deep)}
        class="seen"
      />
      <polygon points={corners(view, chords(roof))} class="seen" />
      <Post view={view} roof={roof} x={roof.bearing} />
      {end > 0 && <Post view={view} roof={roof} x={-end} />}
      <polyline points={corners(view, deck(roof))} class="deck" />
      <polygon points={corners(view, soffitBoard(roof))} class="seen" />
      <polygon
        points={box(
          view,
          -roof.projection,
          soffit(roof) - roof.fascia_drop,
          -roof.projection + FASCIA,
          fasciaTop(roof),
        )}
        class="cut"
        fill="var(--wood)"
      />
      {roof.gutter && (
        <polyline points={corners(view, gutterLine(roof, roof.gutter))} class="cut" fill="none" />
      )}
    </g>
  );
}

function Post({ view, roof, x }: { view: View; roof: Roof; x: number }) {
  const low = roof.plate + CHORD;
  const heads = [
    topEdge(roof, x) - chordPlumb(roof),
    topEdge(roof, x + CHORD) - chordPlumb(roof),
  ] as const;
  if (heads[0] < low + 0.045) return null;
  const post: Point[] = [
    [x, low],
    [x + CHORD, low],
    [x + CHORD, heads[1]],
    [x, heads[0]],
  ];
  return <polygon points={corners(view, post)} class="seen" />;
}

function chords(roof: Roof): Point[] {
  const tail = -roof.projection;
  const far = roof.span + roof.projection;
  const top = fasciaTop(roof);
  const deep = chordPlumb(roof);
  const middle = roof.span / 2;
  return [
    [tail, top],
    [middle, ridge(roof)],
    [far, top],
    [far, top - deep],
    [middle, ridge(roof) - deep],
    [tail, top - deep],
  ];
}

const deck = (roof: Roof): Point[] => [
  [-roof.projection - 0.02, fasciaTop(roof) + 0.02],
  [roof.span / 2, ridge(roof) + 0.03],
  [roof.span + roof.projection, fasciaTop(roof) + 0.02],
];

function soffitBoard(roof: Roof): Point[] {
  const [outer, inner] = [soffit(roof), soffitAtWall(roof)];
  return [
    [-roof.projection, outer],
    [0, inner],
    [0, inner + SOFFIT],
    [-roof.projection, outer + SOFFIT],
  ];
}

function gutterLine(roof: Roof, gutter: { width: number; depth: number; drop: number }): Point[] {
  const tip = -roof.projection;
  const lip = fasciaTop(roof) - gutter.drop;
  const foot = lip - gutter.depth;
  return [
    [tip - gutter.width, lip],
    [tip - gutter.width, foot],
    [tip, foot],
  ];
}

/** Insulation over the ceiling, up to its depth or to the air gap under the deck. */
function attic(view: View, wall: Section): string {
  const roof = wall.roof;
  const gap = LEAST_VENT_GAP * Math.hypot(1, roof.pitch);
  const low = roof.plate + Math.min(CHORD, roof.heel) + 0.03;
  const end = Math.min(roof.span, view.right);
  const count = Math.floor(end / LOOP);
  const top = (x: number): number =>
    Math.min(roof.plate + wall.ceiling_insulation, topEdge(roof, x) - gap) - 0.03;
  const places = Array.from({ length: count }, (_, i) => ((i + 0.5) * end) / count).filter(
    (x) => top(x) > low + 0.02,
  );
  const metres = (pixels: number): number => (pixels - view.x0) / view.scale + view.left;
  return loops(
    places.map((x) => view.x(x)),
    (at) => [view.y(low), view.y(top(metres(at)))],
    (along, across) => `${along.toFixed(1)} ${across.toFixed(1)}`,
  );
}
