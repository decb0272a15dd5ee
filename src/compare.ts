import { type AuditOptions, audit } from './audit.js';
import { InputError } from './errors.js';
import { DEFAULT_POLICY, type EffectivePolicy } from './policy/effective.js';
import { compareCrosswise } from './report/compare/causes.js';
import { compareReports } from './report/compare/compare.js';
import type { Cause, Comparison } from './report/compare/comparison.js';
import type { Report } from './report/report.js';

export interface CompareOptions extends Omit<AuditOptions, 'policy'> {
  /** The bytes of the archives, whatever their names. */
  readonly old: Uint8Array;
  readonly new: Uint8Array;
  readonly oldPolicy?: EffectivePolicy;
  readonly newPolicy?: EffectivePolicy;
}

/**
 * Compares two archives and tells what made each change. Where both archive and policy differ, each archive is audited
 * under each policy, which alone shows what comes of which.
 * @throws InputError where an archive cannot be audited; its detail says which
 */
export async function compareArchives(options: CompareOptions): Promise<Comparison> {
  const { old, new: fresh, oldPolicy = DEFAULT_POLICY, newPolicy = DEFAULT_POLICY, ...rest } = options;
  const auditOld = (policy: EffectivePolicy) => auditSide('old archive', old, { ...rest, policy });
  const auditNew = (policy: EffectivePolicy) => auditSide('new archive', fresh, { ...rest, policy });
  const before = await auditOld(oldPolicy);
  const after = await auditNew(newPolicy);
  const only = onlyDifference(before, after);
  if (only !== null) return compareReports(before, after, () => only);
  return compareCrosswise({
    oldArchive: { oldPolicy: before, newPolicy: await auditOld(newPolicy) },
    newArchive: { oldPolicy: await auditNew(oldPolicy), newPolicy: after },
  });
}

/** What alone can have made the changes, if only one thing differs. */
function onlyDifference(old: Report, fresh: Report): Cause | null {
  if (old.policy.sha256 === fresh.policy.sha256) return 'archive';
  return old.archive.sha256 === fresh.archive.sha256 ? 'policy' : null;
}

async function auditSide(side: string, file: Uint8Array, options: AuditOptions): Promise<Report> {
  try {
    return await audit(file, options);
  } catch (cause) {
    throw cause instanceof InputError ? new InputError(cause.code, `${side}: ${cause.detail}`, cause.place) : cause;
  }
}
