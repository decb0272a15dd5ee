import { describe, expect, it } from 'vitest';
import { audit, auditPlan } from '../../../src/audit.js';
import { readGiven } from '../../../src/given.js';
import { PARTS } from '../../../src/report/format/html/palette.js';
import { formatHtml } from '../../../src/report/format/html.js';
import { printable } from '../../../src/report/format/layout.js';
import type { Report } from '../../../src/report/report.js';
import { DE } from '../../../src/words/de/words.js';
import { EN } from '../../../src/words/en/words.js';
import { fixtureArchive } from '../../support/archives.js';
import { reportOf } from '../../support/formats.js';
import { REPORTS } from './page-reports.js';
import {
  all,
  attribute,
  byId,
  CONTEXT,
  captioned,
  type Element,
  inside,
  parsed,
  plannedWith,
  readPage,
  rowsOf,
  sitedReport,
  textOf,
  withClass,
} from './pages.js';

/** What can be read in the drawings of the page. */

/** A picture by the end of its id. */
function pictureOf(elements: readonly Element[], id: string): Element {
  const found = all(elements, 'svg').find((one) => attribute(one, 'aria-labelledby') === `${id}-t`);
  if (found === undefined) throw new Error(`no picture ${id}`);
  return found;
}

/** Labels of a picture that stand level. */
const levelLabels = (picture: Element) =>
  all(inside(picture), 'text').filter((one) => attribute(one, 'transform') === undefined);

/** Of Helvetica's Adobe Font Metrics a digit is 0.556 of the type's size wide; of 12 px. */
const DIGIT = 0.556 * 12;
const TYPE = 12;

function boxOf(element: Element) {
  const width = textOf(element).length * DIGIT;
  const x = Number(attribute(element, 'x'));
  const anchor = attribute(element, 'text-anchor') ?? 'start';
  const left = { start: x, middle: x - width / 2, end: x - width }[anchor] ?? x;
  return { left, right: left + width, base: Number(attribute(element, 'y')) };
}

/** Pairs of labels that lie over each other. */
function overprinted(labels: readonly Element[]): string[] {
  const boxes = labels.map((one) => ({ text: textOf(one), ...boxOf(one) }));
  return boxes.flatMap((a, index) =>
    boxes
      .slice(index + 1)
      .filter((b) => a.left < b.right && b.left < a.right && Math.abs(a.base - b.base) < TYPE)
      .map((b) => `${a.text} / ${b.text}`),
  );
}

describe('the chart of utilisation', () => {
  const overloaded = (loads: readonly number[]) =>
    plannedWith(
      loads.map((ma, index) => ({
        line: `1.${index + 1}`,
        supply: '160 mA',
        devices: [{ count: 1, what: 'display', current: `${ma} mA` }],
      })),
    );

  it('has an arrow over each of many columns that go on above it, and no figure over another', async () => {
    const loads = Array.from({ length: 15 }, (_, index) => 430 + 20 * index);
    const labels = levelLabels(pictureOf(await readPage(await overloaded(loads)), 'utilisation-0'));
    expect(labels.filter((one) => textOf(one) === '↑')).toHaveLength(15);
    expect(overprinted(labels)).toEqual([]);
    const figures = labels.map(textOf).filter((text) => /^[2-9]\d\d\.\d %$/.test(text));
    expect(figures[0]).toBe('450.0 %'); // the greatest: of 160 mA 710, and 10 of the coupler
    expect(figures.length).toBeGreaterThan(5);
    expect(figures.length).toBeLessThan(15);
  });

  it('has the figure of each where they stand apart', async () => {
    const labels = levelLabels(pictureOf(await readPage(await overloaded([430, 100, 500])), 'utilisation-0'));
    expect(labels.map(textOf)).toEqual(expect.arrayContaining(['275.0 %', '318.8 %']));
    expect(labels.filter((one) => textOf(one) === '↑')).toHaveLength(2);
  });

  it('has neither over a column that ends at its top', async () => {
    const told = async (ma: number) =>
      levelLabels(pictureOf(await readPage(await overloaded([ma])), 'utilisation-0')).map(textOf);
    expect(await told(256)).not.toContain('↑'); // 160 %
    expect(await told(256.2)).toEqual(expect.arrayContaining(['↑', '160.2 %']));
  });
});

describe('the drawing of a voltage profile', () => {
  const devices = (rooms: readonly string[]) =>
    rooms.map((location) => ({ count: 4, what: 'push button', current: '10 mA', location }));

  /** A plan of one segment with rooms off a corridor, each at a length of its own from the board. */
  async function profiled(rooms: readonly (readonly [name: string, lengthM: number])[], corridorM: number) {
    const names = rooms.map(([name]) => name);
    const text = JSON.stringify({
      project: 'Mill House',
      lines: [{ line: '1.1', supply: '640 mA', devices: devices(['Corridor', ...names]) }],
    });
    const sheet = {
      segments: [
        {
          segment: '1.1',
          cable: '0.8 mm pair',
          runs: [
            { from: 'Board', to: 'Corridor', length: `${corridorM} m` },
            ...rooms.map(([to, lengthM]) => ({ from: 'Corridor', to, length: `${lengthM - corridorM} m` })),
          ],
          places: [
            { at: 'Board', devices: ['supply 1'] },
            ...['Corridor', ...names].map((at) => ({ at, locations: [at] })),
          ],
        },
      ],
    };
    const { site } = await readGiven({ site: { name: 'site.yaml', text: JSON.stringify(sheet) } });
    const report = await auditPlan({ name: 'plan.json', text }, { site });
    const [segment] = report.segments;
    expect(segment?.onSite?.voltages?.profile.points).toHaveLength(rooms.length + 2);
    const drawn = all(await readPage(report), 'svg').find((one) => withClass(inside(one), 'band').length > 0);
    return drawn as Element;
  }

  it('has every dot, and no name over another, where points stand close together', async () => {
    const rooms = [
      ['Room 1', 29],
      ['Room 2', 30],
      ['Room 3', 30],
      ['Room 4', 29.5],
    ] as const;
    const drawn = await profiled(rooms, 28);
    expect(withClass(inside(drawn), 'dot')).toHaveLength(2 * 6);
    const labels = levelLabels(drawn);
    expect(overprinted(labels)).toEqual([]);
    const names = labels.map(textOf).filter((text) => /^(Board|Corridor|Room \d)$/.test(text));
    expect(names).toEqual(['Room 2', 'Board']); // the farthest, and what stands apart
  });

  it('has every name where points stand apart', async () => {
    const labels = levelLabels(
      await profiled(
        [
          ['Room 1', 100],
          ['Room 2', 200],
          ['Room 3', 300],
        ],
        60,
      ),
    );
    expect(overprinted(labels)).toEqual([]);
    expect(labels.map(textOf)).toEqual(expect.arrayContaining(['Board', 'Corridor', 'Room 1', 'Room 2', 'Room 3']));
  });
});

describe('a strip', () => {
  it.each([
    ['en', EN, 'feed not known', 'no supply'],
    ['de', DE, 'Speisung nicht bekannt', 'keine Versorgung'],
  ])('says that a feed is not known, and not that there is no supply, in %s', async (_language, words, open, none) => {
    const report = await audit(await fixtureArchive('school'), { words });
    const { elements } = parsed(await formatHtml(report, { ...CONTEXT, words }));
    const rows = new Map(
      withClass(elements, 'strip-row').map((row) => [textOf(all(inside(row), 'a')[0] as Element), inside(row)]),
    );
    const told = (verdict: string) =>
      report.segments
        .filter((one) => one.verdict === verdict && one.supply.units.length === 0)
        .flatMap(({ label }) => {
          const row = rows.get(words.names.segment(label)) ?? [];
          return [...withClass(row, 'strip-figures'), ...all(row, 'title')].map((one) => textOf(one).split(' mA, ')[1]);
        });
    expect(told('undecidable')).toEqual([open, open]); // 1.6, which has only a choke
    expect(new Set(told('unfed'))).toEqual(new Set([none]));
  });
});

describe.each(REPORTS)('the load by product, on the page of %s', (_name, make) => {
  it('comes to the load that is shown, by the origins of its currents', async () => {
    const { segments } = await make();
    const elements = await readPage(await make());
    const cards = withClass(elements, 'card').map(inside);
    for (const [index, { label, load }] of segments.entries()) {
      const card = cards[index] ?? [];
      const caption = printable(`Products on ${EN.names.segment(label)} and their load`);
      const table = captioned(card, caption);
      const rows = table === undefined ? [] : rowsOf(table).slice(1);
      const total = (column: number) =>
        rows.reduce((sum, row) => sum + Math.round(Number(row[column]) * 1000), 0) / 1000;
      expect([2, 3, 4].map(total)).toEqual([load.totalMa, load.overriddenMa, load.assumedMa]);
    }
  });
});

describe('the bars of products', () => {
  const partsOf = (picture: Element) =>
    PARTS.filter((part) => all(inside(picture), 'rect').some((one) => attribute(one, 'class') === `p-${part}`));
  const groupsOf = async (report: Report, label: string) => {
    const { id } = report.segments.find((one) => one.label === label) ?? {};
    expect(id).toBeDefined();
    const card = withClass(await readPage(report), 'card')[report.segments.findIndex((one) => one.id === id)];
    return all(inside(card as Element), 'svg').find((one) =>
      attribute(one, 'aria-labelledby')?.endsWith('-groups-t'),
    ) as Element;
  };

  it('has what is drawn beside the bus, which is no device', async () => {
    const picture = await groupsOf(await sitedReport(), '1.6');
    expect(partsOf(picture)).toContain('auxiliary');
    expect(levelLabels(picture).map(textOf).slice(-2)).toEqual(['drawn beside the bus', '40 mA']);
  });

  it('tells a current that the policy set from a declared one', async () => {
    const report = await reportOf('school');
    const [first] = report.segments.filter(({ load }) => load.declaredMa > 0 && load.assumedMa === 0);
    if (first === undefined) throw new Error('no segment of declared currents alone');
    const devices = first.devices.map((one) => ({ ...one, origin: one.origin && ('overridden' as const) }));
    expect(partsOf(await groupsOf(report, first.label))).toEqual(['declared']);
    expect(partsOf(await groupsOf({ ...report, segments: [{ ...first, devices }] }, first.label))).toEqual([
      'overridden',
    ]);
  });
});

describe('a line that nothing hangs on', () => {
  const told = async (line: object) => {
    const elements = await readPage(await plannedWith([line]));
    const proposed = withClass(elements, 'card').flatMap((card) => all(inside(card), 'h4').map(textOf));
    const plant = byId(elements, 'plant') as Element;
    return { proposed: proposed.includes('Proposal'), plant: textOf(plant) };
  };

  it('has no scale and no proposal', async () => {
    const { proposed, plant } = await told({ line: '1.1' });
    expect(proposed).toBe(false);
    expect(plant).not.toContain('The widest strip');
  });

  it('has a scale where there is a supply, and still no proposal', async () => {
    const { proposed, plant } = await told({ line: '1.1', supply: '160 mA' });
    expect(proposed).toBe(false);
    expect(plant).toContain('The widest strip is 160 mA long.');
  });

  it('has a proposal as soon as something hangs on it', async () => {
    const { proposed, plant } = await told({ line: '1.1', devices: [{ count: 1, what: 'display', current: '5 mA' }] });
    expect(proposed).toBe(true);
    expect(plant).toContain('The widest strip is ');
  });
});
