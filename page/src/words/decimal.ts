/** Numbers as digits, rounded as the server rounds them: exactly, a half to the even digit. */

export const MINUS = "−";

/** A number with `digits` after the point; its exact value is rounded, halves go to even. */
export function fixed(value: number, digits: number): string {
  if (Math.abs(value) >= 1e21) {
    return BigInt(value) + (digits > 0 ? `.${"0".repeat(digits)}` : "");
  }
  const text = value.toFixed(digits);
  return isHalf(value, digits) ? evenOf(value, text, digits) : text;
}

/** Digits after the point behind which two floats of one size differ. */
const NOISE_DIGITS = 9;

/** A measure with `digits` after the point. */
export function decimal(value: number, digits: number): string {
  return signed(fixed(Number(value.toFixed(NOISE_DIGITS)), digits));
}

/** A number with the sign of the trade; what rounds to nothing has no sign. */
export function signed(text: string): string {
  return Number(text) === 0 ? text.replace("-", "") : text.replace("-", MINUS);
}

/** Six digits that count, no zeros behind them; very large and small ones by powers of ten. */
export function general(value: number): string {
  const power = Number(value.toExponential(5).split("e")[1]);
  if (power < -4 || power >= 6) {
    const [digits = "", exponent = ""] = value.toExponential(5).split("e");
    const size = exponent.slice(1).padStart(2, "0");
    return `${withoutZeros(digits)}e${exponent[0]}${size}`;
  }
  return withoutZeros(fixed(value, 5 - power));
}

export function withoutZeros(text: string): string {
  return text.includes(".") ? text.replace(/\.?0+$/, "") : text;
}

/** Whether a number lies exactly half-way between two numbers of so many digits. */
function isHalf(value: number, digits: number): boolean {
  if (digits >= 99) return false;
  const beyond = value.toFixed(digits + 1);
  if (!beyond.endsWith("5")) return false;
  const exact = value.toFixed(100);
  return exact.startsWith(beyond) && /^0*$/.test(exact.slice(beyond.length));
}

/** Of the two neighbours of a half, the one whose last digit is even. */
function evenOf(value: number, away: string, digits: number): string {
  if (Number(away.at(-1)) % 2 === 0) return away;
  const cut = value.toFixed(digits + 1).slice(0, -1);
  return cut.endsWith(".") ? cut.slice(0, -1) : cut;
}
