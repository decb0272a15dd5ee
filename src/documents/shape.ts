import { z } from 'zod';

/**
 * Shapes of the documents that people write: every value has one text that says what is allowed, which stands in the
 * error of a wrong one and in the published JSON Schema alike.
 */

/** What is allowed where a shape says nothing itself. */
type Allowed = { readonly error: string };

export interface Range {
  /** Still allowed. */
  readonly least?: number;
  /** No longer allowed. */
  readonly over?: number;
  /** Still allowed. */
  readonly most?: number;
}

/** A number within a range. @param what what the value is, for the JSON Schema */
export function number(range: Range, what?: string): z.ZodNumber {
  const allowed = saying(rangeText('a number', range));
  return described(ranged(z.number(allowed), range, allowed), what);
}

export function wholeNumber(range: Range, what?: string): z.ZodNumber {
  const allowed = saying(rangeText('a whole number', range));
  return described(ranged(z.int(allowed), range, allowed), what);
}

/** A text of at most so many characters, not empty, without blanks around it. */
export function line(most: number, what?: string): z.ZodString {
  const allowed = saying(`a text of 1 to ${most} characters on one line`);
  const text = z
    .string(allowed)
    .min(1, allowed)
    .max(most, allowed)
    .regex(/^[^\p{Cc}\p{Zl}\p{Zp}]*\S[^\p{Cc}\p{Zl}\p{Zp}]*$/u, allowed);
  return described(text, what);
}

export function oneOf<const Names extends readonly [string, ...string[]]>(names: Names, what?: string) {
  return described(z.enum(names, saying(`one of ${names.join(', ')}`)), what);
}

/** A mapping of these keys and no others. */
export function section<Shape extends z.ZodRawShape>(shape: Shape) {
  return z.strictObject(shape, { error: `a mapping of ${Object.keys(shape).join(', ')}` });
}

export function list<T extends z.ZodType>(entry: T, of: string, most?: number) {
  const allowed = saying(most === undefined ? `a list of ${of}` : `a list of at most ${most} ${of}`);
  const entries = z.array(entry, allowed);
  return most === undefined ? entries : entries.max(most, allowed);
}

function ranged<T extends z.ZodNumber>(shape: T, { least, over, most }: Range, allowed: Allowed): T {
  const checks = [
    ...(least === undefined ? [] : [z.gte(least, allowed)]),
    ...(over === undefined ? [] : [z.gt(over, allowed)]),
    ...(most === undefined ? [] : [z.lte(most, allowed)]),
  ];
  return checks.length === 0 ? shape : (shape.check(...checks) as T);
}

function rangeText(kind: string, { least, over, most }: Range): string {
  const from = least === undefined ? (over === undefined ? '' : ` above ${over}`) : ` from ${least}`;
  if (most === undefined) return `${kind}${from}${least === undefined ? '' : ' on'}`;
  return `${kind}${from}${from === '' ? ' up to' : least === undefined ? ', up to' : ' to'} ${most}`;
}

function described<T extends z.ZodType>(shape: T, what: string | undefined): T {
  return what === undefined ? shape : (shape.describe(what) as T);
}

function saying(error: string): Allowed {
  return { error };
}
