import { describe, expect, it } from 'vitest';
import { audit } from '../../../src/audit.js';
import { siteCheckRows } from '../../../src/report/format/csv-site-check.js';
import type { Report } from '../../../src/report/report.js';
import { fixtureParts, zip } from '../../support/archives.js';
import { reportOf } from '../../support/formats.js';
import { byId, captioned, type Element, inside, readPage, rowsOf, sitedReport, textOf, withClass } from './pages.js';

/** What stands on the page once for each segment, and what is said where nothing can be said. */

describe('the page of several projects', () => {
  it('says of every segment which project it is of', async () => {
    const report = await audit(await zip({ ...fixtureParts('house'), ...fixtureParts('school') }));
    const names = report.projects.map(({ name }) => name);
    expect(names.length).toBe(2);
    const elements = await readPage(report);
    const table = captioned(elements, 'The strips as a table');
    const labels = rowsOf(table as Element)
      .slice(1)
      .map(([label = '']) => label);
    expect(labels.length).toBe(report.segments.length);
    expect(new Set(labels).size).toBe(labels.length);
    report.segments.forEach(({ label, project }, at) => {
      const name = report.projects.find(({ id }) => id === project)?.name;
      expect(labels[at]).toBe(`${label} (${name})`);
    });
    const links = inside(byId(elements, 'site-check') as Element)
      .filter(({ tagName }) => tagName === 'a')
      .map(textOf);
    expect(links.length).toBeGreaterThan(0);
    for (const link of links) expect(labels).toContain(link);
  });

  it('names them by their ids where their names are alike', async () => {
    const report = await audit(await zip({ ...fixtureParts('twin-old') }));
    const [project] = report.projects;
    if (project === undefined) throw new Error('no project');
    const again = { ...project, id: 'P-ANOTHER' };
    const segments = report.segments.map((one) => ({ ...one, id: `${one.id}-again`, project: again.id }));
    const elements = await readPage({
      ...report,
      projects: [project, again],
      segments: [...report.segments, ...segments],
    });
    const cards = withClass(elements, 'card').map((card) =>
      textOf(inside(card).find(({ tagName }) => tagName === 'h3') as Element),
    );
    expect(cards.filter((title) => title.includes(`(${project.id})`)).length).toBe(report.segments.length);
    expect(cards.filter((title) => title.includes('(P-ANOTHER)')).length).toBe(report.segments.length);
  });
});

describe('the cable that the load allows', () => {
  it('is told with what the choke takes, and what bounds it', async () => {
    const report = await reportOf('school');
    const told = new Map(
      withClass(await readPage(report), 'card').map((card, at) => [report.segments[at]?.label, textOf(card)]),
    );
    const bounds = report.segments.flatMap(({ label, reach }) => (reach === null ? [] : [{ label, ...reach.least }]));
    expect(new Set(bounds.map(({ allAtEnd }) => allAtEnd.boundBy))).toEqual(new Set(['voltage', 'distance']));
    for (const { label, supplyV, allAtEnd, evenlySpread } of bounds) {
      const both = allAtEnd.boundBy === 'distance' && evenlySpread.boundBy === 'distance';
      const length = both ? ', the greatest distance, wherever' : ' with all load at the end';
      expect(told.get(label)).toContain(`${allAtEnd.lengthM} m${length}`);
      expect(told.get(label)).toContain(`(supply at 28 V less ${28 - supplyV} V at the choke)`);
    }
  });
});

describe('proposals', () => {
  it('do not say that all may stay where nothing can be proposed', async () => {
    const report = await reportOf('repeaters');
    const open = report.segments.filter(
      ({ proposal, verdict, medium }) => proposal.action === 'none' && medium.needsPower && verdict !== 'idle',
    );
    expect(open.length).toBeGreaterThan(0);
    const elements = await readPage(report);
    expect(textOf(byId(elements, 'proposals') as Element)).not.toContain('may stay as they are');
    const rows = rowsOf(captioned(elements, 'Nothing can be proposed') as Element).slice(1);
    expect(rows.map(([label, , because]) => [label, because])).toEqual(
      open.map(({ label, proposal }) => [label, proposal.because]),
    );
  });
});

describe('the site check', () => {
  it('says whose current is expected, where that is not of all devices', async () => {
    const told = async (report: Report) => textOf(byId(await readPage(report), 'site-check') as Element);
    const sited = await sitedReport();
    const kinds = siteCheckRows(sited).map(({ connectedBy }) => connectedBy);
    expect(kinds).toContain('loaded');
    expect(await told(sited)).toContain('these alone are expected to draw');
    expect(await told(await reportOf('school'))).not.toContain('these alone are expected to draw');
  });

  it('has a column for what to measure together only where there is such', async () => {
    const headings = async (name: string) =>
      rowsOf(captioned(await readPage(await reportOf(name)), 'What to measure') as Element)[0];
    expect(await headings('school')).toContain('Together with');
    expect(await headings('house')).not.toContain('Together with');
  });
});
