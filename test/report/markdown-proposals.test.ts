import { fromMarkdown } from 'mdast-util-from-markdown';
import { describe, expect, it } from 'vitest';
import { proposalsMarkdown } from '../../src/report/format/markdown-proposals.js';
import { proposalsText } from '../../src/report/format/text-proposals.js';
import { reportOf } from '../support/reports.js';

const codeOf = (markdown: string) =>
  fromMarkdown(markdown).children.flatMap((node) => (node.type === 'code' ? [node] : []));

describe('proposals in Markdown', () => {
  it('are those of the text, in one block', async () => {
    const report = await reportOf('school');
    expect(codeOf(proposalsMarkdown(report)).map(({ lang, value }) => [lang, value])).toEqual([
      ['text', proposalsText(report)],
    ]);
  });

  it('end their block at no run of backticks in a name', async () => {
    const report = await reportOf('school');
    const segments = report.segments.map((segment) => ({ ...segment, label: '```` </details>' }));
    const [block, ...others] = codeOf(proposalsMarkdown({ ...report, segments }));
    expect(others).toEqual([]);
    expect(block?.value).toContain('Line ```` </details>');
  });

  it('are cut where they are long, which is said', async () => {
    const report = await reportOf('school');
    const [first] = report.segments.filter(({ proposal }) => proposal.action === 'add');
    const segments = Array.from({ length: 60 }, (_, at) => ({ ...first, id: `s${at}` })) as typeof report.segments;
    const markdown = proposalsMarkdown({ ...report, segments });
    expect(markdown.length).toBeLessThan(8_500);
    expect(markdown).toContain('The rest is cut; the JSON report has all of it.');
  });

  it('are none where nothing is to be done', async () => {
    const report = await reportOf('school');
    expect(proposalsMarkdown({ ...report, segments: [] })).toBe('');
  });
});
