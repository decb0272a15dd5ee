import { InputError } from '../errors.js';
import type { Limits } from '../limits.js';
import type { Report } from './report.js';

/**
 * Refuses a report that is too long to be written. One long name in a small archive can stand on each of many devices;
 * in the report it is one text in memory, but written as often.
 */
export function refuseLong(report: Report, { reportLength }: Limits): void {
  const length = lengthOf(report);
  if (length <= reportLength) return;
  throw new InputError(
    'limit-exceeded',
    `the report would have ${length} characters or more; the limit reportLength is ${reportLength}`,
  );
}

/** Of quotes, indentation and the like around a value. */
const LAYOUT = 12;
/** Of a number, a yes or a no. */
const SHORT = 4;

/** About the length of a value as JSON. */
function lengthOf(value: unknown): number {
  if (typeof value === 'string') return value.length;
  if (typeof value !== 'object' || value === null) return SHORT;
  let length = 0;
  for (const key in value) length += key.length + LAYOUT + lengthOf(value[key as keyof typeof value]); // no copies
  return length;
}
