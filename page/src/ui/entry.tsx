/** An exact value, typed in place; the server reads it as it reads the file. */
import { signal } from "@preact/signals";
import { useLayoutEffect, useRef } from "preact/hooks";
import { typeable, typed, valueText } from "./shaping";
import type { Name } from "./steps";
import { word } from "./store";

const WIDE = 190; // px of the field

/** The name whose value is being typed, and where its field stands [px of its drawing]. */
const entry = signal<{ name: Name; x: number; y: number; over: string } | null>(null);

/** Open the field of a name beside its handle. */
export function openEntry(name: Name): void {
  const handle = handleElement(name);
  const drawing = handle?.closest<HTMLElement>("[data-over]");
  if (!handle || !drawing || !typeable(name)) return;
  const [at, box] = [handle.getBoundingClientRect(), drawing.getBoundingClientRect()];
  const scale = drawing.clientWidth / box.width; // the page may be zoomed
  const x = (at.right - box.left) * scale;
  const y = (at.top - box.top) * scale - 36;
  entry.value = {
    name,
    over: drawing.dataset.over ?? "",
    x: Math.max(4, Math.min(drawing.clientWidth - WIDE, x)),
    y: Math.max(4, y),
  };
}

const handleElement = (name: Name): SVGElement | null =>
  document.querySelector<SVGElement>(`[data-handle="${name}"]`);

/** The field, over the drawing it belongs to; leaving it takes what was typed, Escape drops it. */
export function Entry({ over }: { over: string }) {
  const field = useRef<HTMLInputElement>(null);
  const at = entry.value;
  useLayoutEffect(() => field.current?.select(), [at?.name]);
  if (at?.over !== over) return null;
  const { name, x, y } = at;
  const close = (): void => {
    entry.value = null;
  };
  const submit = (): void => {
    const text = field.current?.value.trim();
    close();
    if (text && text !== valueText(name)) typed(name, text);
  };
  const key = (event: KeyboardEvent): void => {
    if (event.key !== "Enter" && event.key !== "Escape") return;
    event.preventDefault();
    if (event.key === "Enter") submit();
    else close();
    handleElement(name)?.focus();
  };
  return (
    <div class="entry" style={{ left: `${x}px`, top: `${y}px` }}>
      <label>
        <span>{word(`page.handle_${name}`)}</span>
        <input
          ref={field}
          name="exact"
          defaultValue={valueText(name)}
          autocomplete="off"
          onKeyDown={key}
          onBlur={() => entry.value && submit()}
        />
      </label>
    </div>
  );
}
