import { describe, expect, it } from 'vitest';
import { formatHtml } from '../../../src/report/format/html.js';
import { printable } from '../../../src/report/format/layout.js';
import { verdictSentence } from '../../../src/report/format/text.js';
import { CAUTION, type Report } from '../../../src/report/report.js';
import { FIXTURES_OF_FORMATS, HOSTILE, reportOf } from '../../support/formats.js';
import { HOSTILE_NAMES, withBaseline, withHostileNames, withMany, withWaivers } from '../../support/reports.js';
import {
  all,
  attribute,
  CONTEXT,
  type Element,
  inside,
  parsed,
  plannedReport,
  readPage,
  sitedReport,
  splitReport,
  textOf,
  withClass,
  withEveryText,
} from './pages.js';

const made = new Map<string, Promise<Report>>();

/** A report is made once, however many tests look at it. */
function once(name: string, make: () => Promise<Report>): Promise<Report> {
  const known = made.get(name) ?? make();
  made.set(name, known);
  return known;
}

const MAKERS: readonly [string, () => Promise<Report>][] = [
  ...FIXTURES_OF_FORMATS.map((name): [string, () => Promise<Report>] => [name, () => reportOf(name)]),
  ['the school with its site sheet', () => sitedReport()],
  ['a plan', () => plannedReport()],
  ['a split', () => splitReport()],
  ['waivers', async () => withWaivers(await reportOf('school'))],
  ['a baseline', async () => withBaseline(await reportOf('school'))],
  ['equal fingerprints and many findings', async () => doubled(withMany(await reportOf('school'), 60))],
  ['hostile names', async () => withHostileNames(await reportOf('school'))],
  ['hostile texts everywhere', async () => withEveryText(await sitedReport(), HOSTILE)],
];

const REPORTS = MAKERS.map(([name, make]) => [name, () => once(name, make)] as const);

function doubled(report: Report): Report {
  return { ...report, findings: report.findings.flatMap((one, index) => (index < 5 ? [one, { ...one }] : [one])) };
}

/** Cells of a table’s body, by row. */
const rowsOf = (element: Element): string[][] =>
  all(inside(element), 'tr').map((row) =>
    inside(row)
      .filter(({ tagName }) => /^t[dh]$/.test(tagName))
      .map(textOf),
  );

const captioned = (elements: readonly Element[], caption: string): Element | undefined =>
  all(elements, 'table').find((one) => inside(one).some((of) => of.tagName === 'caption' && textOf(of) === caption));

describe.each(REPORTS)('the page of %s', (_name, make) => {
  it('is well-formed HTML, and the same each time', async () => {
    const report = await make();
    const page = await formatHtml(report, CONTEXT);
    expect(parsed(page).errors).toEqual([]);
    expect(await formatHtml(structuredClone(report), CONTEXT)).toBe(page);
  });

  it('has ids once each, and links that lead to one', async () => {
    const elements = await readPage(await make());
    const ids = elements.flatMap((one) => attribute(one, 'id') ?? []);
    expect(ids.filter((id, index) => ids.indexOf(id) !== index)).toEqual([]);
    const wanted = elements.flatMap((one) => [
      attribute(one, 'href')?.slice(1) ?? [],
      ...['aria-labelledby', 'aria-describedby'].map((name) => attribute(one, name) ?? []),
    ]);
    expect([...new Set(wanted.flat())].filter((id) => !ids.includes(id))).toEqual([]);
  });

  it('needs nothing from elsewhere', async () => {
    const page = await formatHtml(await make(), CONTEXT);
    const { elements } = parsed(page);
    const outward = elements.flatMap(({ attrs }) =>
      attrs.filter(({ name, value }) => /^(src|srcset|href|action|data|poster)$/.test(name) && !value.startsWith('#')),
    );
    expect(outward).toEqual([]);
    const handlers = elements.flatMap(({ attrs }) => attrs.filter(({ name }) => /^on|^style$/.test(name)));
    expect(handlers).toEqual([]);
    expect(all(elements, 'style').map(textOf).join('')).not.toMatch(/@import|url\(/);
    expect(['link', 'base', 'iframe', 'object', 'embed', 'img', 'form'].flatMap((tag) => all(elements, tag))).toEqual(
      [],
    );
    expect([all(elements, 'script').length, all(elements, 'style').length]).toEqual([1, 1]);
  });

  it('has one first heading, and none that is two steps below the one before it', async () => {
    const levels = (await readPage(await make()))
      .flatMap(({ tagName }) => /^h([1-6])$/.exec(tagName)?.[1] ?? [])
      .map(Number);
    expect(levels.filter((level) => level === 1)).toEqual([1]);
    expect(levels[0]).toBe(1);
    expect(levels.filter((level, index) => level > (levels[index - 1] ?? 0) + 1)).toEqual([]);
  });

  it('has a name for each picture, and for each table a caption and headings with a scope', async () => {
    const elements = await readPage(await make());
    for (const svg of all(elements, 'svg')) {
      if (attribute(svg, 'aria-hidden') === 'true') continue;
      expect(attribute(svg, 'role')).toBe('img');
      expect(all(inside(svg), 'title').map(textOf).join('')).not.toBe('');
    }
    for (const one of all(elements, 'table')) {
      expect(all(inside(one), 'caption')).toHaveLength(1);
      expect(all(inside(one), 'th').filter((heading) => attribute(heading, 'scope') === undefined)).toEqual([]);
    }
  });

  it('has every segment with all of its devices', async () => {
    const report = await make();
    const cards = withClass(await readPage(report), 'card');
    expect(cards).toHaveLength(report.segments.length);
    report.segments.forEach(({ label, devices, verdict }, index) => {
      const card = cards[index] as Element;
      expect(attribute(card, 'data-verdicts')).toBe(verdict);
      expect(textOf(all(inside(card), 'h3')[0] as Element)).toContain(printable(label));
      const rows = rowsOf(captioned(inside(card), printable(`Devices of ${label}`)) ?? card);
      const found = rows.slice(1).map(([name, address, , , , , , current]) => [name, address, current]);
      if (devices.length === 0) return;
      expect(found).toEqual(
        devices.map(({ name, address, currentMa }) => [
          printable(name),
          printable(address ?? ''),
          currentMa === null ? '' : String(currentMa),
        ]),
      );
    });
  });

  it('has every finding with what to do, its limit and where that is from', async () => {
    const report = await make();
    const found = withClass(await readPage(report), 'finding');
    expect(found).toHaveLength(report.findings.length);
    report.findings.forEach(({ message, remedy, measure, severity, waiver, sinceBaseline, fingerprint }, index) => {
      const element = found[index] as Element;
      expect(attribute(element, 'data-severities')).toBe(severity);
      for (const part of [message, remedy, fingerprint, waiver?.reason, sinceBaseline]) {
        expect(textOf(element)).toContain(printable(part ?? ''));
      }
      // Where the limit is from may be told with the rule that the finding stands under.
      expect(textOf(element.parentNode as Element)).toContain(printable(measure.limitFrom.source));
    });
  });

  it('says the verdict first, and the caution, the policy and the digests', async () => {
    const report = await make();
    const elements = await readPage(report);
    expect(withClass(elements, 'verdict-sentence').map(textOf)).toEqual([verdictSentence(report.summary)]);
    const text = textOf(elements[0] as Element);
    for (const part of [report.caution, report.archive.sha256, report.policy.sha256])
      expect(text).toContain(printable(part));
    const policy = rowsOf(captioned(elements, 'Values of the policy') as Element);
    expect(policy.slice(1).map(([key]) => key)).toEqual(Object.keys(report.policy.values));
  });
});

/** The row of a table by what it has under some of its headings. */
const underHeadings = (table: Element | undefined, headings: readonly string[]): string[][] => {
  const [head = [], ...rows] = rowsOf(table as Element);
  return rows.map((row) => headings.map((heading) => row[head.indexOf(heading)] ?? `no column ${heading}`));
};

const listed = (texts: readonly string[]) => texts.map(printable).join(', ');

describe.each(REPORTS)('what to do, on the page of %s', (_name, make) => {
  it('has every proposal with its reason, what to order, its conditions and what could be moved', async () => {
    const report = await make();
    const told = withClass(await readPage(report), 'proposal').map(textOf);
    const open = report.segments.filter(({ proposal: { action } }) => action !== 'stays' && action !== 'none');
    for (const { label, proposal } of open) {
      const { because, conditions, choice, others, plan, loadMa } = proposal;
      const own = told.filter((text) => text.includes(printable(label)));
      const bought = [choice, ...others, ...(plan?.pieces ?? []).map((piece) => piece.choice)].flatMap((one) =>
        (one?.added ?? []).map(
          ({ ratedMa, orderNumber }) => `${ratedMa} mA (plain${orderNumber ? `, ${orderNumber}` : ''}`,
        ),
      );
      const plain = bought.filter((text) => !text.includes('reporting'));
      const parts = [because ?? '', ...conditions, `${loadMa} mA`].map(printable);
      const missing = parts.filter((part) => !own.some((text) => text.includes(part)));
      expect(missing, label).toEqual([]);
      expect(plain.length === 0 || own.some((text) => /mA \(/.test(text)), label).toBe(true);
    }
  });

  it('has every row of the schedule, and every segment that it lacks', async () => {
    const report = await make();
    const elements = await readPage(report);
    const caption = 'Supplies and couplers to order, to keep and to take out, by place';
    const headings = ['Place', 'State', 'Item', 'Quantity', 'Rating', 'Order number', 'Lines'];
    if (report.schedule.length > 0) {
      const expected = report.schedule.map(({ place, state, item, quantity, ratedMa, orderNumber, segments }) => [
        ...[printable(place), state, item, String(quantity)],
        ratedMa === null ? { supply: 'not known', coupler: '' }[item] : `${ratedMa} mA`,
        ...[printable(orderNumber ?? ''), listed(segments)],
      ]);
      expect(underHeadings(captioned(elements, caption), headings)).toEqual(expected);
    }
    if (report.notScheduled.length > 0) {
      const lacking = captioned(elements, 'Segments that the schedule lacks supplies for');
      expect(underHeadings(lacking, ['Lines', 'Because'])).toEqual(
        report.notScheduled.map(({ segments, because }) => [listed(segments), printable(because ?? '')]),
      );
    }
  });

  it('has every product whose data sheet has to be looked up', async () => {
    const report = await make();
    if (report.unknowns.length === 0) return;
    const rows = underHeadings(captioned(await readPage(report), 'Products whose data sheet has to be looked up'), [
      'Product',
      'As it is',
      'Found',
    ]);
    expect(rows).toEqual(
      report.unknowns.map(({ product, productId, because }) => [
        printable(product ?? productId),
        printable(because),
        '',
      ]),
    );
  });
});

describe('a split', () => {
  it('is told with its pieces, the devices that change their line, the line above and what is proved', async () => {
    const report = await splitReport();
    const [segment] = report.segments.filter(({ proposal }) => proposal.plan !== null);
    const pieces = segment?.proposal.plan?.pieces ?? [];
    const elements = await readPage(report);
    expect(
      underHeadings(captioned(elements, 'What 1.1 is split into'), [
        'Segment',
        'Devices',
        'Load, mA',
        'Own coupler, mA',
      ]),
    ).toEqual(
      pieces.map(({ label, isNew, devices, loadMa, coupler }) => [
        `${label}: ${isNew ? 'new line' : 'keeps'}`,
        String(devices.length),
        String(loadMa),
        coupler === null ? '' : String(coupler.lowerMa),
      ]),
    );
    const added = pieces.filter(({ isNew }) => isNew);
    expect(added.length).toBeGreaterThan(0);
    for (const { label, devices } of added) {
      const table = captioned(elements, `Devices for ${label}`);
      expect(underHeadings(table, ['Name', 'Address now', 'Proposed address'])).toEqual(
        devices.map(({ name, address, proposedAddress }) => [name, address, proposedAddress]),
      );
    }
    const text = withClass(elements, 'proposal').map(textOf).join('');
    expect(text).toMatch(/1\.0 is not there yet and has to be made; of this split it gets \d+ new couplers?/);
    expect(text).toContain('no fewer would do');
  });

  it('has the main line that it needs, with its supplies', async () => {
    const report = await splitReport();
    expect(report.newMainLines.map(({ line }) => line)).toEqual(['1.0']);
    const rows = underHeadings(captioned(await readPage(report), 'New main lines'), [
      'Segment',
      'Couplers',
      'Load, mA',
    ]);
    expect(rows).toEqual(
      report.newMainLines.map(({ line, couplers, loadMa }) => [`Line ${line}`, String(couplers), String(loadMa)]),
    );
  });

  it('has totals that say what is not known', async () => {
    const report = await splitReport();
    const bought = report.schedule.filter(({ state, item }) => state !== 'existing' && item === 'supply');
    const priced = bought.flatMap(({ sum }) => sum ?? []).reduce((all, sum) => all + sum, 0);
    const [order] = underHeadings(captioned(await readPage(report), 'Totals'), ['State', 'Item', 'Price of all']);
    expect(order?.slice(0, 2)).toEqual(['To order', 'supplies']);
    const unknown = bought.filter(({ sum }) => sum === null).reduce((all, { quantity }) => all + quantity, 0);
    expect(order?.[2]).toBe(
      unknown === 0 ? priced.toFixed(2) : `at least ${priced.toFixed(2)}, not known of ${unknown}`,
    );
  });
});

describe('devices that could be moved', () => {
  it('are listed with where to, and what that leaves on both sides', async () => {
    const report = await reportOf('school');
    const elements = await readPage(report);
    const labels = new Map(report.segments.map(({ id, label }) => [id, label]));
    const moving = report.segments.filter(
      ({ proposal: { moves } }) => moves && moves.nearness !== 'electrically possible',
    );
    expect(moving.length).toBeGreaterThan(0);
    for (const { label, devices, proposal } of moving) {
      const { to = '', devices: ids = [], leftMa, leftThereMa, conditions = [] } = proposal.moves ?? {};
      const rows = underHeadings(captioned(elements, `Devices of ${label} to move to ${labels.get(to)}`), ['Name']);
      expect(rows.flat()).toEqual(devices.filter(({ id }) => ids.includes(id)).map(({ name }) => name));
      const text =
        withClass(elements, 'proposal')
          .map(textOf)
          .find((one) => one.includes(`Line ${label}:`)) ?? '';
      for (const part of [`${leftMa} mA`, `${leftThereMa} mA`, ...conditions]) expect(text).toContain(part);
    }
  });
});

describe('a plan', () => {
  it('is called one, and has no parts', async () => {
    const elements = await readPage(await plannedReport());
    const text = textOf(all(elements, 'header')[0] as Element);
    expect(text).toContain('Audit of the plan plans/school.zip by linebudget');
    expect(captioned(elements, 'Parts of the archive that were read')).toBeUndefined();
  });
});

describe('numbers in a column', () => {
  it('stand with their decimal marks under each other', async () => {
    const elements = await readPage(await reportOf('school'));
    const table = captioned(elements, 'The strips as a table') as Element;
    const classes = inside(table)
      .filter((one) => attribute(one, 'class')?.startsWith('n'))
      .map((one) => [textOf(one), attribute(one, 'class')]);
    expect(classes).toContainEqual(['82', 'n d1 mark']);
    expect(classes).toContainEqual(['362.7', 'n']);
    expect(classes).toContainEqual(['−106.7', 'n']);
  });
});

describe('hostile texts', () => {
  it.each([
    ...HOSTILE_NAMES,
    '</script><img src=x onerror=alert(1)>',
    '</style><script>alert(1)</script>',
    '" onload="x',
    HOSTILE,
  ])('%j stays a text wherever it stands', async (hostile) => {
    const plain = await readPage(withEveryText(await sitedReport(), 'text'));
    const page = await formatHtml(withEveryText(await sitedReport(), hostile), { archive: hostile });
    const { elements, errors } = parsed(page);
    expect(errors).toEqual([]);
    const shape = (of: readonly Element[]) => of.map(({ tagName, attrs }) => [tagName, attrs.map(({ name }) => name)]);
    expect(shape(elements)).toEqual(shape(plain));
    expect(textOf(all(elements, 'h1')[0] as Element)).toContain(printable(hostile));
  });
});

describe('a voltage profile', () => {
  it('is drawn with a table of every point behind it', async () => {
    const report = await sitedReport();
    const elements = await readPage(report);
    const drawn = report.segments.filter(({ onSite }) => (onSite?.voltages?.profile.points.length ?? 0) > 0);
    expect(drawn.length).toBeGreaterThan(0);
    for (const { label, onSite } of drawn) {
      const rows = rowsOf(captioned(elements, `Voltage along the cable of ${label}`) as Element);
      expect(rows.slice(1).map(([name]) => name)).toEqual(
        onSite?.voltages?.profile.points.map(({ name }) => name ?? '–'),
      );
    }
  });
});

describe('the strips', () => {
  it('stand worst first, one for each line, with every segment in one of them', async () => {
    const { segments } = await reportOf('school');
    const found = withClass(await readPage(await reportOf('school')), 'strip');
    expect(found).toHaveLength(new Set(segments.map(({ line }) => line)).size);
    expect(found.map((one) => attribute(one, 'data-verdicts')?.split(' ')[0]).slice(0, 4)).toEqual([
      'insufficient',
      'unfed',
      'unfed',
      'undecidable',
    ]);
    expect(found.flatMap((one) => withClass(inside(one), 'strip-row'))).toHaveLength(segments.length);
  });
});

describe('site check and caution', () => {
  it('leaves room for each value that is to be measured', async () => {
    const report = await reportOf('school');
    const rows = rowsOf(captioned(await readPage(report), 'What to measure') as Element).slice(1);
    expect(rows.length).toBeGreaterThan(0);
    expect(rows.map(([segment]) => segment).every((label) => report.segments.some((one) => one.label === label))).toBe(
      true,
    );
    expect(textOf((await readPage(report))[0] as Element)).toContain(CAUTION);
  });
});
