import { type AuditOptions, auditRecords, readRecords } from './audit.js';
import { type AppliedChange, applyChanges } from './changes/apply.js';
import type { Change } from './changes/changes.js';
import { InputError } from './errors.js';
import { DEFAULT_LIMITS } from './limits.js';
import { DEFAULT_POLICY } from './policy/effective.js';
import { compareReports } from './report/compare/compare.js';
import type { Comparison } from './report/compare/comparison.js';
import { understood } from './report/compare/understood.js';
import { withoutMeasured } from './site/with-measured.js';

export interface WhatIfOptions extends Omit<AuditOptions, 'baseline' | 'edit' | 'onProgress'> {
  /** The bytes, whatever the name. */
  readonly archive: Uint8Array;
  readonly changes: readonly Change[];
}

/**
 * Compares a project archive with itself once changes are made to it. What was measured was measured without them, so
 * both audits leave it out.
 * @throws InputError `invalid-changes` where the changes do not fit the archive or the site sheet, else as `audit`
 */
export async function whatIf({ archive, changes, ...given }: WhatIfOptions): Promise<Comparison> {
  const { policy = DEFAULT_POLICY, limits = DEFAULT_LIMITS } = given;
  const site = given.site ? { ...given.site, sheet: withoutMeasured(given.site.sheet) } : null;
  const options = { ...given, site };
  const { records, file } = await readRecords(archive, limits);
  const before = await auditRecords(records, file, options);
  let applied: readonly AppliedChange[] = [];
  const edit: AuditOptions['edit'] = (same) => {
    const made = applyChanges(same, changes, policy.values);
    applied = made.applied;
    return made.records;
  };
  const after = await changed(async () => auditRecords(records, file, { ...options, edit }));
  return { ...compareReports(before, after, () => 'changes'), changes: understood(applied, before, after) };
}

/** A site sheet that fits the archive and no longer what it is changed into names what is gone, or what now are two. */
async function changed<T>(audit: () => Promise<T>): Promise<T> {
  try {
    return await audit();
  } catch (cause) {
    if (!(cause instanceof InputError) || cause.code !== 'invalid-site-sheet') throw cause;
    throw new InputError('invalid-changes', `with the changes made the site sheet does not fit: ${cause.message}`);
  }
}
