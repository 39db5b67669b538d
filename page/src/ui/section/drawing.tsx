/** The section: the drawing that is the control. */
import { chordPlumb, fasciaTop, soffit, topEdge } from "../../geometry/roof";
import { sunlitGlass } from "../../geometry/section";
import { Entry } from "../entry";
import { Handle } from "../handle";
import { cutWindow, section, standingSection, values } from "../shaping";
import { useWidth } from "../size";
import type { Name } from "../steps";
import { building, say, state } from "../store";
import { sideName, sun } from "../sunday";
import { Ground, Hatchings, RoofCut, Walls, Window } from "./house";
import { EaveSizes, Levels, levelsWidth } from "./levels";
import { StoryPole } from "./pole";
import { Sunlight } from "./sun";
import { type View, viewOf } from "./view";

export function SectionDrawing() {
  const [frame, width] = useWidth<HTMLDivElement>();
  return (
    <section aria-labelledby="section-title">
      <h2 id="section-title">{title()}</h2>
      <div class="section" ref={frame} data-over="section" data-drawing={state.value}>
        {width > 0 && <Drawing width={width} />}
        <Entry over="section" />
      </div>
    </section>
  );
}

/** Which wall is cut, and through which window. */
function title(): string {
  const side = sideName(building.value?.faces ?? 0);
  const window = cutWindow.value;
  if (!window) return say("page.section_bare", { side });
  return say("page.section_at", { side, window: window.name || String(window.number) });
}

function Drawing({ width }: { width: number }) {
  const wall = section.value;
  const standing = standingSection.value;
  if (!wall || !standing) return null;
  const view = viewOf(standing, width, levelsWidth());
  const profile = sun.value.profile;
  const lit = profile === null ? (wall.window?.sill ?? 0) : sunlitGlass(wall, profile)[1];
  const places = handlePlaces(view);
  return (
    <svg
      width={width}
      height={view.height}
      viewBox={`0 0 ${width} ${view.height}`}
      role="group"
      aria-label={say("page.section_named", { building: building.value?.name ?? "" })}
    >
      <Hatchings />
      <clipPath id="picture">
        <rect x={view.x0} y={0} width={width - view.x0} height={view.height} />
      </clipPath>
      <g clip-path="url(#picture)">
        <polygon points={roomBox(view)} fill="var(--room)" />
        <Sunlight view={view} wall={wall} profile={profile} />
        <Ground view={view} wall={wall} />
        <RoofCut view={view} wall={wall} />
        <Walls view={view} wall={wall} header={building.value?.header_depth ?? 0} />
        <Window view={view} wall={wall} lit={lit} />
      </g>
      <Break view={view} />
      <Levels view={view} wall={wall} />
      <EaveSizes view={view} wall={wall} />
      <StoryPole view={view} wall={wall} />
      {places.map((place) => (
        <Handle key={place.name} {...place} />
      ))}
    </svg>
  );
}

/** The light of the room behind everything. */
function roomBox(view: View): string {
  const wall = section.value;
  if (!wall) return "";
  const [left, right] = [
    view.x(wall.wall_thickness),
    view.x(Math.min(view.right, wall.wall_thickness + wall.room_depth)),
  ];
  const [low, high] = [view.y(0), view.y(wall.ceiling)];
  return `${left},${low} ${right},${low} ${right},${high} ${left},${high}`;
}

/** The break line where the house goes on beyond the picture. */
function Break({ view }: { view: View }) {
  const wall = section.value;
  if (!wall || view.right > wall.wall_thickness * 2 + wall.room_depth) return null;
  const x = view.width - 6;
  const middle = view.y(wall.ceiling / 2);
  const line = `M${x} 0V${middle - 12}l12 6l-24 12l12 6V${view.height}`;
  return (
    <g>
      <path d={`${line}H${view.width + 20}V0z`} class="beyond" />
      <path d={line} class="measure" />
    </g>
  );
}

interface Place {
  name: Name;
  x: number;
  y: number;
  along: "across" | "up";
  valueAt: (x: number, y: number) => number;
}

/** Where each handle stands, and which value belongs to a place of the pointer. */
function handlePlaces(view: View): Place[] {
  const wall = section.value;
  const now = values.value;
  if (!wall || !now) return [];
  const roof = wall.roof;
  const metresX = (x: number): number => (x - view.x0) / view.scale + view.left;
  const metresY = (y: number): number => view.high - (y - view.y0) / view.scale;
  const height = (name: Name, x: number, y: number): Place => ({
    name,
    x,
    y: view.y(y),
    along: "up",
    valueAt: (_, at) => metresY(at),
  });
  const tip = view.x(-roof.projection);
  const under = view.x(-roof.projection / 2);
  const still = standingSection.value?.roof ?? roof; // the hand must not chase its own handle
  const seen = still.pitch > 0 ? (view.high - 0.25 - still.plate - still.heel) / still.pitch : 3;
  const far = Math.max(0.5, Math.min(3, still.span / 2 - 0.4, view.right - 0.5, seen));
  const room =
    wall.wall_thickness + Math.min(wall.room_depth, view.right - wall.wall_thickness) * 0.62;
  const filled = Math.min(roof.plate + wall.ceiling_insulation, topEdge(roof, room));
  const glass = view.x(wall.wall_thickness / 2);
  return [
    {
      name: "projection",
      x: tip - 13,
      y: view.y((fasciaTop(roof) + soffit(roof)) / 2),
      along: "across",
      valueAt: (x) => -metresX(x + 13),
    },
    {
      ...height("soffit", under, soffit(roof)),
      y: view.y(soffit(roof)) + 15,
      valueAt: (_, y) => metresY(y - 15),
    },
    { ...height("heel", view.x(0), topEdge(roof, 0)), valueAt: (_, y) => metresY(y) - roof.plate },
    {
      name: "pitch",
      x: view.x(far),
      y: view.y(topEdge(roof, far)),
      along: "up",
      valueAt: (_, y) => pitchThrough(metresY(y), far),
    },
    height("ceiling", view.x(room), wall.ceiling),
    {
      ...height("attic", view.x(room), filled),
      valueAt: (_, y) => now.attic + metresY(y) - filled,
    },
    ...(wall.window
      ? [height("head", glass, wall.window.head), height("sill", glass, wall.window.sill)]
      : []),
    {
      name: "wall",
      x: view.x(wall.wall_thickness),
      y: view.y(wall.window ? wall.window.sill * 0.4 : wall.ceiling / 2),
      along: "across",
      valueAt: (x) => now.wall + metresX(x) - wall.wall_thickness,
    },
    {
      name: "floor",
      x: view.x(room),
      y: view.y(-wall.floor_thickness),
      along: "up",
      valueAt: (_, y) => now.floor - metresY(y) - wall.floor_thickness,
    },
  ];
}

/** The pitch whose top chord passes a height at x, with soffit or heel staying as it is. */
function pitchThrough(height: number, x: number): number {
  const wall = section.value;
  if (!wall) return 0;
  const roof = wall.roof;
  const keeps = building.value?.keeps;
  if (keeps === "heel") return Math.max(0, (height - roof.plate - roof.heel) / x);
  if (keeps === "end_heel") return Math.max(0, (height - fasciaTop(roof)) / (x + roof.projection));
  const over = soffit(roof);
  let pitch = roof.pitch;
  for (let i = 0; i < 8; i += 1) {
    pitch = Math.max(0, (height - over - chordPlumb({ ...roof, pitch })) / (x + roof.projection));
  }
  return pitch;
}
