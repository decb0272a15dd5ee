import { describe, expect, it } from 'vitest';
import { formatText } from '../../src/report/format/text.js';
import { reportSchema } from '../../src/report/report.js';
import { reportOf } from '../support/reports.js';

describe('proposals in the report', () => {
  it('stand on every segment, and are what the shape says', async () => {
    const report = await reportOf('school');
    expect(reportSchema.parse(report)).toEqual(report);
    const actions = report.segments.map(({ proposal }) => proposal.action);
    for (const action of ['stays', 'add', 'remove', 'replace', 'order', 'none']) expect(actions).toContain(action);
  });

  it('are told as text where anything is to be done, with the margin', async () => {
    const report = await reportOf('school');
    const [, block = ''] = formatText(report).split('\nProposals: ');
    expect(block.split('\n').slice(0, 2)).toEqual([
      '7 changes to the supplies',
      '  - Line 1.2: keep Supply 1.2 320 mA, add 160 mA (plain); 21.3 mA left to the target of 384 mA.',
    ]);
    expect(block).not.toContain('Line 1.1: ');
  });

  it('are told once for segments that share their supplies, and to their number', async () => {
    const report = await reportOf('school');
    const [first, second] = report.segments.filter(({ proposal }) => proposal.action === 'order');
    if (first === undefined || second === undefined) throw new Error('the school lacks two segments without a supply');
    const pair = [
      { ...first, proposal: { ...first.proposal, with: [second.id] } },
      { ...second, proposal: { ...second.proposal, with: [first.id] } },
    ];
    const text = formatText({ ...report, segments: pair });
    expect(text).toContain('Proposals: 1 change to the supplies\n  - Lines 3.0 and 3.1: order 160 mA (plain)');
    const many = Array.from({ length: 21 }, () => first);
    expect(formatText({ ...report, segments: many })).toContain('  - 20 shown of 21; the JSON report');
  });
});
