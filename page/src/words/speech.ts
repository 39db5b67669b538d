/**
 * Puts sentences and problems into words: keys with values become text here and nowhere else.
 *
 * The same as `noonmark.cards.speech`, over the flat table of sentences that the server hands out.
 */

import type { DateValue, Problem, Quantity, Sentence, System, Value } from "../wire/messages";
import { fixed, general, MINUS, signed } from "./decimal";
import { dimension, writeQuantity } from "./units";

export type Words = Readonly<Record<string, string>>;

/** A length from here on is no dimension of a building and is said in whole metres or feet. */
const FAR_M = 100;

/** Values whose text is itself a key, and the table it lies in. */
const GROUP: Readonly<Record<string, string>> = {
  kind: "kind",
  got: "kind",
  wanted: "kind",
  side: "side",
  face: "face",
};

/** A reader's words and units system; `fine` writes lengths to build by. */
export class Speech {
  constructor(
    readonly words: Words,
    readonly system: System = "metric",
    readonly fine = false,
  ) {}

  /** A sentence in words. */
  say(sentence: Sentence): string {
    return this.#fill(sentence.key, sentence.values);
  }

  /** The words of a key with its values. */
  text(key: string, values: Readonly<Record<string, Value>> = {}): string {
    return this.#fill(key, values);
  }

  /** `file:line: part: what is wrong` and, where there is one, a line `hint: ...`. */
  explain(problem: Problem): string {
    const place = [problem.file, problem.line].filter(Boolean).join(":");
    const lead = [place, this.#part(problem)].filter(Boolean);
    const said = [...lead, this.#fill(problem.code, problem.values)].join(": ");
    const hint = this.hint(problem);
    return hint ? `${said}\n  ${this.text("hint")}: ${hint}` : said;
  }

  /** What would help against a problem, null where nothing is known. */
  hint(problem: Problem): string | null {
    const key = `${problem.code}.hint`;
    return this.#has(key) ? this.#fill(key, problem.values) : null;
  }

  /** A number with its group mark; what rounds to nothing has no sign. */
  number(value: number, digits = 0): string {
    const text = signed(fixed(value, digits));
    const [whole = "", part] = text.replace(MINUS, "").split(".");
    const sign = text.startsWith(MINUS) ? MINUS : "";
    const grouped = whole.replace(/\B(?=(\d{3})+$)/g, this.text("number.group"));
    return `${sign}${grouped}${part ? this.text("number.decimal") + part : ""}`;
  }

  /** A day of a year such as "21 Dec", from `2022-12-21`. */
  day(date: string): string {
    const [, month, day] = date.split("-").map(Number);
    return this.dayOf(month ?? 1, day ?? 1);
  }

  /** The same from month (1 to 12) and day. */
  dayOf(month: number, day: number): string {
    return this.text("sheet.day", { day, month: this.text(`month_short.${month}`) });
  }

  /** A text with the decimal mark of the language in its numbers. */
  marked(text: string): string {
    return text.replace(/(?<=\d)\.(?=\d)/g, this.text("number.decimal"));
  }

  #has(key: string): boolean {
    return Object.hasOwn(this.words, key);
  }

  #lookup(key: string, otherwise: string): string {
    return this.#has(key) ? (this.words[key] as string) : otherwise;
  }

  #fill(key: string, values: Readonly<Record<string, Value>>): string {
    return this.#lookup(key, key).replace(/\{(\w+)\}/g, (_, name: string) =>
      Object.hasOwn(values, name) ? this.#show(values[name] as Value, name) : `?${name}?`,
    );
  }

  #show(value: Value, name = ""): string {
    if (value === null) return "";
    if (typeof value === "string") {
      return this.#lookup(`${GROUP[name] ?? ""}.${value}`, printable(value));
    }
    if (typeof value === "number")
      return Number.isInteger(value) ? `${value}` : this.marked(general(value));
    if (isList(value)) {
      return value.map((item) => this.#show(item)).join(", ") || this.text("nothing");
    }
    return "date" in value ? this.day(value.date) : this.#quantity(value);
  }

  #quantity(quantity: Quantity): string {
    const far = quantity.kind === "length" && Math.abs(quantity.value) >= FAR_M;
    if (this.fine && quantity.kind === "length" && !far) {
      return this.marked(dimension(quantity.value, this.system));
    }
    return this.marked(writeQuantity(quantity, this.system, far ? 0 : undefined));
  }

  /** The part in the builder's words: "south window 1, width". */
  #part(problem: Problem): string {
    const words = problem.path ? problem.path.split(".") : [];
    const { number, side } = problem.values;
    if (number !== undefined && words.length >= 3) {
      const lead = `${this.#lookup(`side.${side}`, "")} ${this.text("part.window")}`.trim();
      return [`${lead} ${number}`, ...words.slice(3)].join(", ");
    }
    return words.map((word) => this.#lookup(`part.${word}`, word)).join(", ");
  }
}

function isList(value: Quantity | DateValue | readonly Value[]): value is readonly Value[] {
  return Array.isArray(value);
}

function printable(text: string): string {
  return text.replace(/[\p{C}\p{Z}]/gu, " ");
}
