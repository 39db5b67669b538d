/** Title and file, undo and redo, units and language. */
import * as link from "./link";
import { letGo } from "./shaping";
import {
  building,
  chosen,
  connected,
  design,
  language,
  notice,
  say,
  system,
  warming,
  word,
} from "./store";

export function Header() {
  const file = design.value;
  if (!file) return null;
  const buildings = file.buildings ?? [];
  return (
    <header>
      <div class="named">
        <h1>{file.title || file.name}</h1>
        <p class="file" title={file.path}>
          {file.name}: <span role="status">{fileState()}</span>
        </p>
      </div>
      {buildings.length > 1 && (
        <label class="pick">
          {word("page.building")}
          <select
            value={building.value?.name}
            onChange={(event) => {
              letGo();
              link.look(event.currentTarget.value);
            }}
          >
            {buildings.map((item) => (
              <option key={item.name} value={item.name} selected={item.name === chosen.value}>
                {item.name}
              </option>
            ))}
          </select>
        </label>
      )}
      <div class="tools">
        <button
          type="button"
          data-do="undo"
          disabled={!file.undo || !connected.value}
          onClick={link.undo}
          title={word("page.undo_keys")}
        >
          {word("page.undo")}
        </button>
        <button
          type="button"
          data-do="redo"
          disabled={!file.redo || !connected.value}
          onClick={link.redo}
          title={word("page.redo_keys")}
        >
          {word("page.redo")}
        </button>
        <button
          type="button"
          data-do="units"
          onClick={() => {
            system.value = system.value === "us" ? "metric" : "us";
          }}
          title={word("page.units_switch")}
        >
          {word(system.value === "us" ? "page.units_us" : "page.units_metric")}
        </button>
        {file.languages.length > 1 && (
          <label class="pick">
            <span class="unseen">{word("page.language")}</span>
            <select
              value={language.value}
              onChange={(event) => {
                language.value = event.currentTarget.value;
              }}
            >
              {file.languages.map((code) => (
                <option key={code} value={code} lang={code}>
                  {new Intl.DisplayNames([code], { type: "language" }).of(code)}
                </option>
              ))}
            </select>
          </label>
        )}
      </div>
    </header>
  );
}

function fileState(): string {
  const file = design.value;
  if (!connected.value) return word("page.lost");
  if (file?.unwritten)
    return say("page.unwritten", { reason: say(file.unwritten.code, file.unwritten.values) });
  if (file?.problems.length) return word("page.not_sound");
  if (notice.value) return word(notice.value);
  return word(warming.value ? "page.warming" : "page.kept");
}
