/** A thing to take by the hand: drag it, step it by keys, or open it for an exact value. */
import { useRef } from "preact/hooks";
import { openEntry } from "./entry";
import { free, giveUp, handleOf, letGo, take, typeable, values, valueText } from "./shaping";
import { type Name, snapped, stepped } from "./steps";
import { say, speech, word } from "./store";

interface Props {
  name: Name;
  x: number;
  y: number;
  /** Direction in which the drag counts. */
  along: "across" | "up";
  /** The value that belongs to a place of the pointer, in pixels of the drawing. */
  valueAt: (x: number, y: number) => number;
}

const RADIUS = 9;
const REACH = 18; // px around it that take the finger

export function Handle({ name, x, y, along, valueAt }: Props) {
  const grip = useRef<{ dx: number; dy: number } | null>(null);
  const limits = handleOf(name);
  if (!limits || !values.value) return null;
  const now = values.value[name];
  const locked = !free(name);

  const place = (event: PointerEvent): { x: number; y: number } => {
    const drawing = (event.currentTarget as SVGElement).ownerSVGElement;
    const frame = drawing?.getBoundingClientRect();
    if (!drawing || !frame) return { x: 0, y: 0 };
    const scale = drawing.viewBox.baseVal.width / frame.width; // the page may be zoomed
    return { x: (event.clientX - frame.left) * scale, y: (event.clientY - frame.top) * scale };
  };
  const down = (event: PointerEvent): void => {
    if (event.button !== 0) return;
    (event.currentTarget as SVGElement).setPointerCapture(event.pointerId);
    const at = place(event);
    grip.current = { dx: at.x - x, dy: at.y - y };
  };
  const move = (event: PointerEvent): void => {
    if (!grip.current || locked) return;
    const at = place(event);
    const wanted = snapped(name, valueAt(at.x - grip.current.dx, at.y - grip.current.dy));
    if (wanted !== now) take(name, wanted);
  };
  const up = (): void => {
    if (grip.current && !locked) letGo();
    grip.current = null;
  };
  const acts: Readonly<Record<string, () => void>> = {
    Enter: () => openEntry(name),
    F2: () => openEntry(name),
    Escape: () => {
      grip.current = null;
      giveUp();
    },
    Home: () => take(name, limits.least),
    End: () => take(name, limits.most),
  };
  const key = (event: KeyboardEvent): void => {
    const steps = STEPS[event.key];
    const act = acts[event.key];
    if (steps === undefined && !act) return;
    event.preventDefault();
    if (act) act();
    else take(name, stepped(name, now, (steps ?? 0) * (event.shiftKey ? 10 : 1)));
  };

  return (
    <g
      role="slider"
      tabindex={0}
      data-handle={name}
      class={locked ? "handle locked" : "handle"}
      aria-label={word(`page.handle_${name}`)}
      aria-orientation={along === "up" ? "vertical" : "horizontal"}
      aria-valuenow={Number(now.toFixed(4))}
      aria-valuemin={limits.least}
      aria-valuemax={limits.most}
      aria-valuetext={
        locked && limits.locked
          ? `${valueText(name)}. ${speech.value.say(limits.locked)}`
          : valueText(name)
      }
      aria-disabled={locked}
      transform={`translate(${x.toFixed(1)} ${y.toFixed(1)})`}
      onPointerDown={down}
      onPointerMove={move}
      onPointerUp={up}
      onPointerCancel={up}
      onDblClick={() => openEntry(name)}
      onKeyDown={key}
      onKeyUp={() => !grip.current && letGo()}
      onBlur={letGo}
    >
      <title>
        {say(typeable(name) ? "page.handle_hint" : "page.handle_drag", {
          part: word(`page.handle_${name}`),
          value: valueText(name),
        })}
      </title>
      <circle r={REACH} class="reachable" />
      <circle r={RADIUS} class="grip" />
      {along === "up" ? (
        <path d="M-2.5-2L0-5.5L2.5-2M-2.5 2L0 5.5L2.5 2" class="arrow" />
      ) : (
        <path d="M-2-2.5L-5.5 0L-2 2.5M2-2.5L5.5 0L2 2.5" class="arrow" />
      )}
    </g>
  );
}

const STEPS: Readonly<Record<string, number>> = {
  ArrowUp: 1,
  ArrowRight: 1,
  ArrowDown: -1,
  ArrowLeft: -1,
  PageUp: 10,
  PageDown: -10,
};
