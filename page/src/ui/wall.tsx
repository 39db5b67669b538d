/** The sunny wall seen from outside: its windows, the shade of the eave, and the width to take. */
import { soffitAtWall } from "../geometry/roof";
import { Entry } from "./entry";
import { Handle } from "./handle";
import { cutThrough, cutWindow, section, values } from "./shaping";
import { useWidth } from "./size";
import { building, say, word } from "./store";
import { sideName, sun } from "./sunday";
import { wallShade } from "./wallshade";

const BESIDE = 0.5; // m of ground shown on either side
const MOST = 64; // px a metre at most
const PAD = 8;

export function Wall() {
  const [frame, width] = useWidth<HTMLDivElement>();
  return (
    <section class="wall" aria-labelledby="wall-title">
      <h2 id="wall-title">{say("page.wall", { side: sideName(building.value?.faces ?? 0) })}</h2>
      <div class="section" ref={frame} data-over="wall">
        {width > 0 && <Elevation width={width} />}
        <Entry over="wall" />
      </div>
      <p class="caption">{word("page.wall_note")}</p>
    </section>
  );
}

function Elevation({ width }: { width: number }) {
  const here = building.value;
  const now = values.value;
  const wall = section.value;
  if (!here || !now || !wall) return null;
  const beside = Math.max(BESIDE, here.ends + 0.1);
  const scale = Math.min(MOST, (width - 2 * PAD) / (here.wall_length + 2 * beside));
  const top = soffitAtWall(wall.roof);
  const x0 = (width - scale * here.wall_length) / 2;
  const base = PAD + (top + 0.25) * scale;
  const height = base - wall.ground * scale + 12;
  const x = (metres: number): number => x0 + metres * scale;
  const y = (metres: number): number => base - metres * scale;
  const cut = cutWindow.value;
  const shade = wallShade(wall, here.wall_length, here.ends, sun.value, here.faces);
  const edge = cut ? x((cut.lefts[0] ?? 0) + cut.width / 2 + now.width / 2) : 0;
  return (
    <svg
      width={width}
      height={height}
      viewBox={`0 0 ${width} ${height}`}
      role="group"
      aria-label={say("page.wall", { side: sideName(here.faces) })}
    >
      <clipPath id="face">
        <rect
          x={x(0)}
          y={y(top)}
          width={here.wall_length * scale}
          height={(top - wall.ground) * scale}
        />
      </clipPath>
      <rect
        x={x(0)}
        y={y(top)}
        width={here.wall_length * scale}
        height={(top - wall.ground) * scale}
        class="siding"
      />
      {here.windows.flatMap((window) =>
        window.lefts.map((left, i) => {
          const own = window.number === cut?.number;
          const size = own ? { sill: now.sill, head: now.head, width: now.width } : window;
          const start = left + window.width / 2 - size.width / 2;
          const named = say("page.window", { name: window.name || String(window.number) });
          return (
            <g
              key={`${window.number}-${i}`}
              class={own ? "window own" : "window"}
              role="button"
              tabindex={i === 0 ? 0 : -1}
              aria-pressed={own}
              aria-label={named}
              onClick={() => {
                cutThrough(window.number);
              }}
              onKeyDown={(event: KeyboardEvent) => {
                if (event.key === "Enter" || event.key === " ") {
                  event.preventDefault();
                  cutThrough(window.number);
                }
              }}
            >
              <title>{named}</title>
              <rect
                x={x(start)}
                y={y(size.head)}
                width={size.width * scale}
                height={(size.head - size.sill) * scale}
                class="glass"
              />
              <line
                x1={x(start + size.width / 2)}
                x2={x(start + size.width / 2)}
                y1={y(size.head)}
                y2={y(size.sill)}
                class="bar"
              />
            </g>
          );
        }),
      )}
      {sun.value.profile === null && (
        <rect
          x={x(0)}
          y={y(top)}
          width={here.wall_length * scale}
          height={(top - wall.ground) * scale}
          class="shade"
        />
      )}
      {shade.length > 0 && (
        <polygon
          clip-path="url(#face)"
          class="shade"
          points={shade
            .map(([along, up]) => `${x(along).toFixed(1)},${y(up).toFixed(1)}`)
            .join(" ")}
        />
      )}
      <rect
        x={x(-here.ends)}
        y={y(top + 0.22)}
        width={(here.wall_length + 2 * here.ends) * scale}
        height={0.22 * scale}
        class="eaveboard"
      />
      <line
        x1={x(-beside)}
        x2={x(here.wall_length + beside)}
        y1={y(wall.ground)}
        y2={y(wall.ground)}
        class="cut"
      />
      {cut && (
        <Handle
          name="width"
          x={edge}
          y={y((now.head + now.sill) / 2)}
          along="across"
          valueAt={(at) => 2 * ((at - x0) / scale - (cut.lefts[0] ?? 0) - cut.width / 2)}
        />
      )}
    </svg>
  );
}
