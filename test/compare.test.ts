import { beforeAll, describe, expect, it } from 'vitest';
import { audit } from '../src/audit.js';
import { compare } from '../src/compare.js';
import { limitsWith } from '../src/limits.js';
import { builtIn, DEFAULT_POLICY, readPolicy } from '../src/policy/effective.js';
import { compareCrosswise } from '../src/report/compare/causes.js';
import { compareReports } from '../src/report/compare/compare.js';
import type { Comparison } from '../src/report/compare/comparison.js';
import type { Report, ReportFinding } from '../src/report/report.js';
import { type Edit, schoolReport, schoolWith, withLargerSupply, withoutPushButton } from './support/edited.js';
import { refusalOf } from './support/refusal.js';

let school: Buffer;
let mended: Buffer;
let report: Report;

beforeAll(async () => {
  school = await schoolWith();
  mended = await schoolWith(withoutPushButton, withLargerSupply);
  report = await schoolReport();
});

/** The changes: state, rule, label, cause. */
function causes({ findings: { unchanged, ...lists } }: Comparison): string[] {
  return Object.entries(lists).flatMap(([state, changes]) =>
    changes.map(({ rule, subject, cause }) => `${state} ${rule} ${subject}: ${cause}`),
  );
}

const policyOf = (text: string) => readPolicy(text, 'policy.yaml');

describe('two archives', () => {
  it('under one policy differ by the archive, and otherwise as their reports do', async () => {
    const comparison = await compare({ old: school, new: mended });
    expect(causes(comparison)).toEqual([
      'fixed overloaded-segment 1.2: archive',
      'fixed fan-in-exceeded 1.2: archive',
      'improved low-headroom 1.4: archive',
    ]);
    const expected = compareReports(await audit(school), await audit(mended));
    expect(JSON.parse(JSON.stringify(comparison), (key, value) => (key === 'cause' ? null : value))).toEqual(expected);
  });

  it('that are one differ by the policy', async () => {
    const comparison = await compare({
      old: school,
      new: school,
      newPolicy: await policyOf('targetLoad: 0.7'),
    });
    expect(comparison.inputs).toMatchObject({ archive: 'same', policy: 'differs' });
    expect(causes(comparison)).toContain('new low-headroom 1.5: policy');
    expect(causes(comparison)).toContain('worsened low-headroom 1.4: policy');
    expect(causes(comparison).filter((text) => !text.endsWith(': policy'))).toEqual([]);
  });

  it('that are one, under one policy, do not differ', async () => {
    const comparison = await compare({ old: school, new: school, newPolicy: DEFAULT_POLICY });
    expect(causes(comparison)).toEqual([]);
    expect(comparison.inputs).toMatchObject({ archive: 'same', policy: 'same' });
  });

  it('under two policies are audited crosswise', async () => {
    const newPolicy = await policyOf('targetLoad: 0.7');
    const comparison = await compare({ old: school, new: mended, newPolicy });
    expect(comparison.inputs).toMatchObject({ archive: 'differs', policy: 'differs' });
    expect(causes(comparison)).toEqual([
      'new low-headroom 1.5: policy',
      'new low-headroom 2.1: policy',
      'new assumption-decides 2.1: policy',
      'fixed overloaded-segment 1.2: archive',
      'fixed fan-in-exceeded 1.2: archive',
      // 5 mA less brings 8.5 mA to go, were it not for the target, which is 16 mA lower: by the policy alone −29.5.
      'worsened low-headroom 1.4: policy',
    ]);
  });

  it('tell what only both together bring', async () => {
    // 2 × 5 mA less: 131.5 mA on 160. Neither that alone is below 80 % = 128 mA, nor is 141.5 mA below 85 % = 136 mA.
    const fewer: Edit = (text) => text.replace(/<DeviceInstance Id="P-05C0-0_DI-77"[\s\S]*?<\/DeviceInstance>/, '');
    const both = await schoolWith(withoutPushButton, fewer);
    const after = (await audit(both)).segments.find(({ label }) => label === '1.4')?.load.totalMa ?? 0;
    expect(after).toBeGreaterThan(128);
    expect(after).toBeLessThanOrEqual(136);
    const newPolicy = await policyOf('targetLoad: 0.85');
    expect(causes(await compare({ old: school, new: both, newPolicy }))).toContain('fixed low-headroom 1.4: both');
    expect(causes(await compare({ old: both, new: school, oldPolicy: newPolicy }))).toContain(
      'new low-headroom 1.4: both',
    );
  });

  it('tell what policy and archive bring each', async () => {
    const newPolicy = await policyOf('targetLoad: 0.7');
    const lighter = await schoolWith(withoutPushButton);
    const comparison = await compare({ old: lighter, new: school, newPolicy });
    expect(causes(comparison)).toContain('worsened low-headroom 1.4: both');
  });

  it('tell what a policy switches off from what an archive mends', async () => {
    const newPolicy = await policyOf('severities: { overloaded-segment: off, low-headroom: error }');
    const comparison = await compare({ old: school, new: mended, newPolicy });
    expect(causes(comparison)).toEqual([
      // Mended and switched off: each alone is enough.
      'fixed overloaded-segment 1.2: both',
      'fixed fan-in-exceeded 1.2: archive',
      'worsened low-headroom 1.4: policy',
    ]);
  });

  it.each([
    ['old', (): [Uint8Array, Uint8Array] => [Buffer.from('letter'), school]],
    ['new', (): [Uint8Array, Uint8Array] => [school, Buffer.from('letter')]],
  ])('of which the %s one cannot be audited are refused, and it is said which', async (side, files) => {
    const [old, fresh] = files();
    const refusal = await refusalOf(() => compare({ old, new: fresh }));
    expect(refusal.code).toBe('not-a-zip');
    expect(refusal.message.startsWith(`${side} archive: `)).toBe(true);
  });

  it('are held to the limits', async () => {
    const refusal = await refusalOf(() =>
      compare({ old: school, new: mended, limits: limitsWith({ archiveEntries: 2 }) }),
    );
    expect(refusal.code).toBe('limit-exceeded');
  });
});

/** Which of the four audits have a finding, in the order of the table. */
describe('the cause of a finding that is there or not', () => {
  type Has = readonly [oldOld: boolean, oldNew: boolean, newOld: boolean, newNew: boolean];

  it.each<[string, Has, string]>([
    ['new with the archive, whatever the policy', [false, false, true, true], 'new: archive'],
    ['new with the policy, whatever the archive', [false, true, false, true], 'new: policy'],
    ['new with both only', [false, false, false, true], 'new: both'],
    ['new with either', [false, true, true, true], 'new: both'],
    ['fixed by the archive, whatever the policy', [true, true, false, false], 'fixed: archive'],
    ['fixed by the policy, whatever the archive', [true, false, true, false], 'fixed: policy'],
    ['fixed by both only', [true, true, true, false], 'fixed: both'],
    ['fixed by either', [true, false, false, false], 'fixed: both'],
  ])('%s', (_, has, expected) => {
    const [first] = report.findings;
    const findings = (there: boolean): ReportFinding[] => (there && first !== undefined ? [first] : []);
    const [oldOld, oldNew, newOld, newNew] = has.map((there): Report => ({ ...report, findings: findings(there) }));
    if (!oldOld || !oldNew || !newOld || !newNew) throw new Error('four reports');
    const comparison = compareCrosswise({
      oldArchive: { oldPolicy: oldOld, newPolicy: oldNew },
      newArchive: { oldPolicy: newOld, newPolicy: newNew },
    });
    expect(causes(comparison).map((text) => text.replace(/ .*:/, ':'))).toEqual([expected]);
  });
});

describe('the cause of a finding that has another severity', () => {
  it.each<[string, readonly ('error' | 'warning' | 'note')[], string[]]>([
    ['by the archive', ['note', 'note', 'error', 'error'], ['worsened: archive']],
    ['by the policy', ['error', 'note', 'error', 'note'], ['improved: policy']],
    ['by each', ['note', 'warning', 'warning', 'error'], ['worsened: both']],
    ['by both together', ['note', 'note', 'note', 'error'], ['worsened: both']],
    ['there and back', ['note', 'error', 'error', 'note'], []],
  ])('%s', (_, severities, expected) => {
    const [first] = report.findings;
    if (first === undefined) throw new Error('no finding');
    const reports = severities.map((severity): Report => ({ ...report, findings: [{ ...first, severity }] }));
    const [oldOld = report, oldNew = report, newOld = report, newNew = report] = reports;
    const comparison = compareCrosswise({
      oldArchive: { oldPolicy: oldOld, newPolicy: oldNew },
      newArchive: { oldPolicy: newOld, newPolicy: newNew },
    });
    expect(causes(comparison).map((text) => text.replace(/ .*:/, ':'))).toEqual(expected);
  });

  it('is told of one archive under a built-in policy as well', async () => {
    const comparison = await compare({ old: school, new: school, newPolicy: builtIn('conservative') });
    expect(causes(comparison)).toContain('worsened low-headroom 1.4: policy');
  });
});
