import { describe, expect, it } from 'vitest';
import { againstBaseline } from '../../src/report/baseline.js';
import { compareReports } from '../../src/report/compare/compare.js';
import { type Report, reportSchema } from '../../src/report/report.js';
import { renumbered, schoolReport, withLargerSupply, withoutPushButton } from '../support/edited.js';

const school = await schoolReport();
const mended = await schoolReport([withoutPushButton, withLargerSupply]);

/** The findings that are not just as they were: rule, label, state. */
function changed({ findings }: Report): string[] {
  return findings
    .filter(({ sinceBaseline }) => sinceBaseline !== 'unchanged')
    .map(({ rule, subject, sinceBaseline }) => `${rule} ${subject.label} ${sinceBaseline}`);
}

describe('a report against a baseline', () => {
  it('has every finding unchanged against itself', () => {
    const states = againstBaseline(school, school).findings.map(({ sinceBaseline }) => sinceBaseline);
    expect(states).toEqual(school.findings.map(() => 'unchanged'));
  });

  it('marks what is new and what has worsened', () => {
    expect(changed(againstBaseline(school, mended))).toEqual([
      'overloaded-segment 1.2 new',
      'low-headroom 1.4 worsened',
      'fan-in-exceeded 1.2 new',
    ]);
  });

  it('marks what has improved; what is fixed is not in it', () => {
    expect(changed(againstBaseline(mended, school))).toEqual(['low-headroom 1.4 improved']);
  });

  it('matches as a comparison does, also by line number', async () => {
    const again = await schoolReport([withoutPushButton, renumbered]);
    const marked = againstBaseline(again, school);
    const { findings } = compareReports(school, again);
    for (const state of ['new', 'worsened', 'improved'] as const) {
      const found = marked.findings.filter(({ sinceBaseline }) => sinceBaseline === state);
      expect(found.map(({ fingerprint }) => fingerprint)).toEqual(
        findings[state].map(({ fingerprint }) => fingerprint),
      );
    }
    expect(changed(marked)).toContain('low-headroom 1.4 improved');
  });

  it('names the baseline', () => {
    expect(againstBaseline(school, mended).baseline).toEqual({
      sha256: mended.archive.sha256,
      policySha256: mended.policy.sha256,
      tool: `${mended.tool.name} ${mended.tool.version}`,
    });
  });

  it('changes nothing else, and is a report still', () => {
    const marked = againstBaseline(school, mended);
    const unmarked = {
      ...marked,
      baseline: null,
      findings: marked.findings.map((one) => ({ ...one, sinceBaseline: null })),
    };
    expect(unmarked).toEqual(school);
    expect(reportSchema.parse(marked)).toEqual(marked);
  });
});
