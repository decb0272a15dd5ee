import { type AuditOptions, audit } from './audit.js';
import { InputError, type InputFault } from './errors.js';
import { DEFAULT_POLICY, type EffectivePolicy } from './policy/effective.js';
import { compareCrosswise } from './report/compare/causes.js';
import { compareReports } from './report/compare/compare.js';
import type { Cause, Comparison } from './report/compare/comparison.js';
import { readReport } from './report/read.js';
import type { Report } from './report/report.js';

export interface CompareOptions extends Omit<AuditOptions, 'policy' | 'baseline' | 'onProgress'> {
  /** The bytes of two archives or JSON reports, whatever their names. */
  readonly old: Uint8Array;
  readonly new: Uint8Array;
  readonly oldPolicy?: EffectivePolicy | undefined;
  readonly newPolicy?: EffectivePolicy | undefined;
}

/**
 * Compares two archives, or JSON reports of such. Of two archives it tells what made each change: where both archive and
 * policy differ, each archive is audited under each policy, which alone shows what comes of which.
 * @throws InputError where one of them cannot be read, its detail says which; or where a report would be judged anew
 */
export async function compare(options: CompareOptions): Promise<Comparison> {
  const { old, new: fresh, oldPolicy: _, newPolicy: __, ...rest } = options;
  if (!isReport(old) && !isReport(fresh)) return compareArchives(options);
  const given = givenTo(options);
  if (given !== null) {
    throw new InputError(
      given,
      'a report was judged already when it was made; a policy, a site sheet and waivers take two project archives',
    );
  }
  return compareReports(await reportOf('old', old, rest), await reportOf('new', fresh, rest));
}

/** The fault of what cannot go along with a report; null where nothing does. */
function givenTo({ oldPolicy, newPolicy, site, waivers = [] }: CompareOptions): InputFault | null {
  if (oldPolicy !== undefined || newPolicy !== undefined) return 'invalid-policy';
  if (site) return 'invalid-site-sheet';
  return waivers.length > 0 ? 'invalid-waivers' : null;
}

async function compareArchives(options: CompareOptions): Promise<Comparison> {
  const { old, new: fresh, oldPolicy = DEFAULT_POLICY, newPolicy = DEFAULT_POLICY, ...rest } = options;
  const auditOld = (policy: EffectivePolicy) => auditSide('old', old, { ...rest, policy });
  const auditNew = (policy: EffectivePolicy) => auditSide('new', fresh, { ...rest, policy });
  const before = await auditOld(oldPolicy);
  const after = await auditNew(newPolicy);
  const only = onlyDifference(before, after);
  if (only !== null) return compareReports(before, after, () => only);
  return compareCrosswise({
    oldArchive: { oldPolicy: before, newPolicy: await auditOld(newPolicy) },
    newArchive: { oldPolicy: await auditNew(oldPolicy), newPolicy: after },
  });
}

async function reportOf(side: Side, file: Uint8Array, options: AuditOptions): Promise<Report> {
  return isReport(file) ? readReport(textOf(side, file), `${side} report`) : auditSide(side, file, options);
}

function textOf(side: Side, file: Uint8Array): string {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(file);
  } catch {
    throw new InputError('invalid-baseline', 'the text is no valid UTF-8', { part: `${side} report` });
  }
}

/** A byte order mark, and what may stand before a report. */
const BLANKS = [0xef, 0xbb, 0xbf, 0x20, 0x09, 0x0a, 0x0d];
const BRACE = 0x7b;

/** Told apart by what the file begins with, as names say nothing. */
function isReport(file: Uint8Array): boolean {
  return file.find((byte) => !BLANKS.includes(byte)) === BRACE;
}

/** What alone can have made the changes, if only one thing differs. */
function onlyDifference(old: Report, fresh: Report): Cause | null {
  if (old.site?.sha256 !== fresh.site?.sha256) return null;
  if (old.policy.sha256 === fresh.policy.sha256) return 'archive';
  return old.archive.sha256 === fresh.archive.sha256 ? 'policy' : null;
}

type Side = 'old' | 'new';

async function auditSide(side: Side, file: Uint8Array, options: AuditOptions): Promise<Report> {
  try {
    return await audit(file, options);
  } catch (cause) {
    throw cause instanceof InputError
      ? new InputError(cause.code, `${side} archive: ${cause.detail}`, cause.place)
      : cause;
  }
}
