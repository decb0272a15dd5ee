/**
 * Currents are whole microamperes inside (so that 2.5 mA + 6.5 mA is exactly 9 mA) and milliamperes at the faces.
 * Names carry the unit: `…Ua`, `…Ma`, `…M` (metres), `…V`.
 */
export const UA_PER_MA = 1000;

/** Far above any current of this trade (1 kA); anything larger is no current but a fault of the data. */
const GREATEST_UA = 1_000_000_000;

/** An XML Schema decimal or double, as product data writes currents; a comma or a unit is none. */
const NUMBER = /^[+-]?(\d+(\.\d*)?|\.\d+)([eE][+-]?\d{1,3})?$/;

/**
 * Reads a current in mA, as a document writes it, into whole µA (rounded to the nearest).
 * @returns undefined if the text is no number, lies beyond ±1 kA, or is negative and rounds to nothing.
 */
export function parseMilliamps(text: string): number | undefined {
  const trimmed = text.trim();
  if (!NUMBER.test(trimmed)) return undefined;
  const exact = Number(trimmed) * UA_PER_MA;
  const ua = Math.round(exact);
  if (Math.abs(ua) > GREATEST_UA) return undefined;
  if (ua === 0) return exact < 0 ? undefined : 0; // a negative current is never a declared 0
  return ua;
}

/** Whole µA → mA: exact to the third decimal, as a number that prints without a tail. */
export function toMa(ua: number): number {
  return ua / UA_PER_MA;
}

/** Whole µA or nothing → mA or nothing. */
export function toMaOrNull(ua: number | null): number | null {
  return ua === null ? null : toMa(ua);
}

/** mA (a policy's value, at most three decimals) → whole µA. */
export function fromMa(ma: number): number {
  return Math.round(ma * UA_PER_MA);
}

/** Whole µA → A. */
export function toA(ua: number): number {
  return ua / 1_000_000;
}

/** What the rounding of floating-point numbers, and micro-ohms in place of none, may take of a voltage, V. */
export const ROUNDING_V = 1e-5;

/** Whole millivolts, rounded down: no figure reads better than it is. */
export function toMv(v: number): number {
  return Math.floor((v + ROUNDING_V) * 1000) / 1000;
}

/** Sum of whole µA. */
export function sum(values: Iterable<number>): number {
  let total = 0;
  for (const value of values) total += value;
  return total;
}

/** The greatest of some numbers, however many: an archive holds more of them than a call takes arguments. */
export function greatest(values: Iterable<number>): number {
  let most = Number.NEGATIVE_INFINITY;
  for (const value of values) if (value > most) most = value;
  return most;
}

/** A ratio as a share in per cent, rounded up to a tenth, so that a share above a limit never reads as the limit. */
export function percent(ratio: number): string {
  const tenths = Math.ceil(Math.round(ratio * 1e9) / 1e6);
  return `${(tenths / 10).toFixed(1)} %`;
}
