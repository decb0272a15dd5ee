import { ARCHIVE_LIMIT_NAMES, checkLimits, LimitError, type LimitName, type Limits, limitsWith } from '../limits.js';
import { UsageError } from './usage.js';

/**
 * What `--limit NAME=VALUE` says, which may stand several times; the last one of a name counts.
 * @param names the limits that may be set here
 */
export function limitValues(
  options: readonly string[],
  names?: readonly LimitName[],
): Readonly<Record<string, number>> {
  const values = Object.fromEntries(options.map(pairOf));
  try {
    checkLimits(values, names);
  } catch (cause) {
    throw cause instanceof LimitError ? new UsageError(`--limit: ${cause.message}`) : cause;
  }
  return values;
}

function pairOf(text: string): [string, number] {
  const [, name = '', value = ''] = /^(\w+)=(\d+)$/.exec(text) ?? [];
  if (name === '') throw new UsageError(`--limit takes NAME=VALUE with a whole number, not "${text}"`);
  return [name, Number(value)];
}

/** The limits of a command that reads archives. */
export function archiveLimits(options: readonly string[]): Limits {
  return limitsWith(limitValues(options, ARCHIVE_LIMIT_NAMES));
}
