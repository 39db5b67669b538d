/** What is wrong: a broken file beside its lines, and why the hand can not go further. */
import { design, speech, stopped, word } from "./store";

/** The file as it stands on disk while it can not be read, its errors beside the lines. */
export function BrokenFile() {
  const file = design.value;
  if (!file || file.problems.length === 0) return null;
  const told = (line: number): string[] =>
    file.problems
      .filter((problem) => problem.line === line)
      .map((problem) => speech.value.explain(problem));
  const elsewhere = file.problems.filter((problem) => !problem.line);
  const lines = file.text?.split("\n") ?? [];
  return (
    <section class="broken" role="alert" aria-labelledby="broken-title">
      <h2 id="broken-title">{word(file.buildings.length ? "page.broken" : "page.broken_first")}</h2>
      {elsewhere.map((problem) => (
        <p key={problem.code + problem.path} class="problem">
          {speech.value.explain(problem)}
        </p>
      ))}
      <ol class="listing" tabindex={0} aria-label={file.name}>
        {lines.map((line, i) => {
          const problems = told(i + 1);
          if (problems.length === 0 && !near(i + 1)) return null;
          return (
            <li key={String(i)} value={i + 1} class={problems.length ? "wrong" : ""}>
              <code>{line || " "}</code>
              {problems.map((problem) => (
                <p key={problem} class="problem">
                  {problem}
                </p>
              ))}
            </li>
          );
        })}
      </ol>
    </section>
  );
}

const AROUND = 3;

/** Whether a line stands close enough to a wrong one to be shown. */
function near(line: number): boolean {
  return (design.value?.problems ?? []).some(
    (problem) => problem.line && Math.abs(problem.line - line) <= AROUND,
  );
}

/** Why the hand stopped, or what the file refused. */
export function Stopped() {
  const problem = stopped.value;
  return (
    <div class={problem ? "stopped" : "stopped empty"} role="status">
      {problem && (
        <>
          <p>{speech.value.explain({ ...problem, file: "", line: null })}</p>
          <button
            type="button"
            onClick={() => {
              stopped.value = null;
            }}
            aria-label={word("page.close")}
          >
            ×
          </button>
        </>
      )}
    </div>
  );
}
