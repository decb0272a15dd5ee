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
/** A device but for its texts. */
const DEVICE = 400;

/** About the length of a report as JSON. Most of it is devices, of which only the texts are looked at. */
function lengthOf({ segments, ...rest }: Report): number {
  let length = lengthOfValue(rest);
  for (const { devices, ...segment } of segments) {
    length += lengthOfValue(segment);
    for (const { id, name, product, productId, orderNumber, manufacturer, location } of devices) {
      length += DEVICE + id.length + name.length;
      length += textLength(product) + textLength(productId) + textLength(orderNumber);
      length += textLength(manufacturer) + textLength(location);
    }
  }
  return length;
}

function textLength(text: string | null): number {
  return text === null ? 0 : text.length;
}

function lengthOfValue(value: unknown): number {
  if (typeof value === 'string') return value.length;
  if (typeof value !== 'object' || value === null) return SHORT;
  let length = 0;
  if (Array.isArray(value)) {
    for (const inner of value) length += LAYOUT + lengthOfValue(inner);
    return length;
  }
  for (const key in value) length += key.length + LAYOUT + lengthOfValue(value[key as keyof typeof value]);
  return length;
}
