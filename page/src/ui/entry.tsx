/** An exact value, typed in place; the server reads it as it reads the file. */
import { signal } from "@preact/signals";
import { useEffect, useRef } from "preact/hooks";
import { valueText } from "./handle";
import { handleOf, typed } from "./shaping";
import type { Name } from "./steps";
import { word } from "./store";

/** The drawings that fields can stand over. */
export type Drawing = "section" | "wall";

/** The name whose value is being typed, and where its field stands [px of its drawing]. */
export const entry = signal<{ name: Name; x: number; y: number; over: Drawing } | null>(null);

export function Entry({ over }: { over: Drawing }) {
  const field = useRef<HTMLInputElement>(null);
  const at = entry.value;
  useEffect(() => field.current?.select(), [at?.name]);
  if (at?.over !== over || !handleOf(at.name)?.path) return null;
  const close = (): void => {
    entry.value = null;
    document.querySelector<SVGElement>(`[data-handle="${at.name}"]`)?.focus();
  };
  const submit = (event: Event): void => {
    event.preventDefault();
    const text = field.current?.value.trim();
    if (text && text !== valueText(at.name)) typed(at.name, text);
    close();
  };
  return (
    <form class="entry" onSubmit={submit} style={{ left: `${at.x}px`, top: `${at.y}px` }}>
      <label>
        <span>{word(`page.handle_${at.name}`)}</span>
        <input
          ref={field}
          name="exact"
          defaultValue={valueText(at.name)}
          autocomplete="off"
          onKeyDown={(event: KeyboardEvent) => event.key === "Escape" && close()}
          onBlur={() => {
            entry.value = null;
          }}
        />
      </label>
    </form>
  );
}
