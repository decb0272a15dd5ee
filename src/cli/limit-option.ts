import { LimitError, type LimitName, type Limits, limitsWith } from '../limits.js';
import { UsageError } from './usage.js';

/** The limits by the values of `--limit NAME=VALUE`, which may stand several times; the last one counts. */
export function limitsOf(values: readonly string[], names?: readonly LimitName[]): Limits {
  try {
    return limitsWith(Object.fromEntries(values.map(pairOf)), names);
  } catch (cause) {
    throw cause instanceof LimitError ? new UsageError(`--limit: ${cause.message}`) : cause;
  }
}

function pairOf(text: string): [string, number] {
  const [, name = '', value = ''] = /^(\w+)=(\d+)$/.exec(text) ?? [];
  if (name === '') throw new UsageError(`--limit takes NAME=VALUE with a whole number, not "${text}"`);
  return [name, Number(value)];
}
