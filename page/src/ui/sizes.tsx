/** All that can be taken, by name and value; each opens for an exact value. */
import { openEntry } from "./entry";
import { handleOf, typeable, valueText } from "./shaping";
import { NAMES } from "./steps";
import { word } from "./store";

export function Sizes() {
  return (
    <ul class="sizes" aria-label={word("page.sizes")}>
      {NAMES.filter(handleOf).map((name) => (
        <li key={name}>
          {word(`page.handle_${name}`)}{" "}
          {typeable(name) ? (
            <button type="button" class="link" onClick={() => openEntry(name)}>
              {valueText(name)}
            </button>
          ) : (
            <span>{valueText(name)}</span>
          )}
        </li>
      ))}
    </ul>
  );
}
