import { createHash } from 'node:crypto';
import type { RawFinding } from '../rules/rule.js';

/** The ids of an installation begin with the project's id and the installation's number, which a re-import may change. */
const INSTALLATION_PREFIX = /\bP-[0-9A-F]{4}-[0-9]+_/gi;

/** An id as it is whatever the project is called and the installation is numbered. */
export function withoutInstallation(id: string): string {
  return id.replace(INSTALLATION_PREFIX, '');
}

const FINGERPRINT_LENGTH = 32;

/**
 * Identity of a finding: the rule and what it is about, by the archive's ids. It outlasts new addresses, names, an other
 * order and an other project id. Where an archive holds several projects, the project's id tells them apart.
 */
export function fingerprintOf(
  rule: string,
  { subject }: RawFinding,
  installation: number,
  project: string | null,
): string {
  const identity = subject.kind === 'project' ? '' : withoutInstallation(subject.id);
  return digestOf([rule, subject.kind, identity, installation, project]);
}

/** Identity of a finding about a waiver: the rule and the fingerprint that the waiver is for. */
export function waiverFingerprintOf(rule: string, fingerprint: string): string {
  return digestOf([rule, 'waiver', fingerprint]);
}

function digestOf(identity: readonly (string | number | null)[]): string {
  const key = JSON.stringify(identity);
  return createHash('sha256').update(key).digest('hex').slice(0, FINGERPRINT_LENGTH);
}
