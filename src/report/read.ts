import { placeOf } from '../documents/document.js';
import { InputError } from '../errors.js';
import { type Report, reportSchema } from './report.js';

/** So many faults are told of: a report that is wrong is seldom mended by hand. */
const MOST_FAULTS = 5;

/**
 * Reads a report back that was written as JSON. Of its length the caller has to take care.
 * @param name what errors call the file
 * @throws InputError `invalid-baseline` where it is no report of this version
 */
export function readReport(source: string, name: string): Report {
  const refuse = (detail: string) => new InputError('invalid-baseline', detail, { part: name });
  try {
    const given: unknown = JSON.parse(source);
    const result = reportSchema.safeParse(given);
    if (result.success) return result.data;
    throw refuse(faultOf(given, result.error.issues));
  } catch (cause) {
    if (cause instanceof SyntaxError) throw refuse('it is not JSON; a report is written with --format json');
    if (cause instanceof RangeError) throw refuse('it is nested too deeply for a report');
    throw cause;
  }
}

function faultOf(given: unknown, issues: readonly { readonly path: readonly PropertyKey[] }[]): string {
  const version = versionOf(given);
  if (version === null) return 'it is JSON, but no report of this tool';
  if (version !== 1) return `it is a report of version ${version}; version 1 is read`;
  const places = [...new Set(issues.map(({ path }) => placeOf(path)))];
  const rest = places.length - MOST_FAULTS;
  return `it is not as a report of version 1 should be at ${places.slice(0, MOST_FAULTS).join(', ')}${rest > 0 ? ` and ${rest} more places` : ''}`;
}

function versionOf(given: unknown): number | null {
  if (typeof given !== 'object' || given === null || !('reportVersion' in given)) return null;
  return typeof given.reportVersion === 'number' ? given.reportVersion : null;
}
