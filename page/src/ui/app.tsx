/** The page: the section as the control, the year beside and below it. */
import { useEffect } from "preact/hooks";
import { Speech } from "../words/speech";
import { Flows, Months } from "./balance";
import { DayCurve } from "./daycurve";
import { Days } from "./days";
import { Header } from "./header";
import * as link from "./link";
import { Numbers } from "./numbers";
import { SectionDrawing } from "./section/drawing";
import { Sizes } from "./sizes";
import { design, speech, state, word, wordsHere } from "./store";
import { BrokenFile, Stopped } from "./troubles";
import { Wall } from "./wall";
import { YearMap } from "./yearmap";

export function App() {
  useUndoKeys();
  const file = design.value;
  const ready = file && wordsHere.value;
  return (
    <main data-state={state.value}>
      {!ready ? (
        <p class="first">{wordsHere.value ? word("page.opening") : "noonmark"}</p>
      ) : (
        <>
          <Header />
          <BrokenFile />
          {file.buildings.length > 0 && <Sheet />}
        </>
      )}
    </main>
  );
}

function Sheet() {
  return (
    <>
      <div class="desk">
        <div class="drawn">
          <SectionDrawing />
          <Stopped />
          <Days />
          <Sizes />
          <p class="caption">{word("sheet.pole_note")}</p>
        </div>
        <div class="aside">
          <Numbers />
          <Wall />
        </div>
      </div>
      <div class="below">
        <YearMap />
        <DayCurve />
        <Months />
        <Flows />
      </div>
      <Cautions />
    </>
  );
}

function Cautions() {
  const file = design.value;
  const lines = Object.entries(file?.truss ?? {});
  const fine = new Speech(speech.value.words, speech.value.system, true);
  const said = file?.cautions ?? [];
  return (
    <footer>
      {lines.map(([name, line]) => (
        <p key={name} class="truss">
          {line.map((item) => fine.say(item)).join(" ")}
        </p>
      ))}
      {said.length > 0 && <h2>{word("caution.title")}</h2>}
      <ul>
        {said.map((item, i) => (
          <li key={`${item.key}-${i}`}>{speech.value.say(item)}</li>
        ))}
      </ul>
    </footer>
  );
}

/** Undo and redo by their usual keys, unless somebody is typing. */
function useUndoKeys(): void {
  useEffect(() => {
    const pressed = (event: KeyboardEvent): void => {
      if (
        !(event.ctrlKey || event.metaKey) ||
        (event.target instanceof HTMLInputElement && event.target.type !== "range")
      )
        return;
      const key = event.key.toLowerCase();
      if (key === "y" || (key === "z" && event.shiftKey)) link.redo();
      else if (key === "z") link.undo();
      else return;
      event.preventDefault();
    };
    addEventListener("keydown", pressed);
    return () => removeEventListener("keydown", pressed);
  }, []);
}
