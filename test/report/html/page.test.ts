import { describe, expect, it } from 'vitest';
import { formatHtml } from '../../../src/report/format/html.js';
import { printable } from '../../../src/report/format/layout.js';
import { verdictSentence } from '../../../src/report/format/text.js';
import { EN } from '../../../src/words/en/words.js';
import { HOSTILE, reportOf } from '../../support/formats.js';
import { HOSTILE_NAMES } from '../../support/reports.js';
import { REPORTS } from './page-reports.js';
import {
  all,
  attribute,
  CONTEXT,
  captioned,
  type Element,
  inside,
  parsed,
  plannedReport,
  readPage,
  rowsOf,
  sitedReport,
  textOf,
  withClass,
  withEveryText,
} from './pages.js';

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
    const names = ({ attrs }: Element) => attrs.map(({ name }) => name);
    // Of the names in a drawing those are left out that would lie over others: how many depends on how long they are.
    const shape = (of: readonly Element[]) =>
      of.filter(({ tagName }) => tagName !== 'text').map((one) => [one.tagName, names(one)]);
    expect(shape(elements)).toEqual(shape(plain));
    const inDrawings = new Set(all(elements, 'text').flatMap(names));
    expect([...inDrawings].sort()).toEqual(['class', 'text-anchor', 'transform', 'x', 'y']);
    expect(textOf(all(elements, 'h1')[0] as Element)).toContain(printable(hostile));
  });
});

describe('the page of a school', () => {
  it('has blanks for the day and the name, and the day of the waivers where there is one', async () => {
    const report = await reportOf('school');
    const told = async (asOf: string | null) =>
      withClass(await readPage({ ...report, asOf }), 'handed-over').map((one) => textOf(one).trim());
    expect(await told(null)).toEqual(['Date:  Checked by:']);
    expect(await told('2031-02-03')).toEqual(['Waivers judged as of 2031-02-03. Date:  Checked by:']);
  });

  it('says beside a share and a headroom what load they are of, where supplies are shared', async () => {
    const report = await reportOf('school');
    const [first, second, third] = report.segments.filter(({ utilisation }) => utilisation !== null);
    if (first === undefined || second === undefined || third === undefined) throw new Error('too few segments');
    const joined = (judgedWith: string[]) => ({
      ...first,
      supply: { ...first.supply, shared: { with: [second.id, third.id], judgedWith, loadMa: 284.8, capacityMa: 640 } },
    });
    const told = async (judgedWith: string[]) => {
      const elements = await readPage({ ...report, segments: [joined(judgedWith), second, third] });
      return all(elements, 'small').map((one) => textOf(one));
    };
    const text = `with ${second.label}: 284.8 mA`;
    expect(await told([first.id, second.id])).toEqual([text, text, text, text]); // two tables, two facts of the card
    expect(await told([first.id])).toEqual([]); // its own load alone
  });

  it('says of a card’s room what bounds it', async () => {
    const report = await reportOf('school');
    const segment = report.segments.find(({ roomForDevices }) => (roomForDevices ?? 0) > 0);
    if (segment === undefined) throw new Error('no segment with room');
    const eachMa = report.policy.values.assumedCurrentMa;
    const page = (headroomMa: number) =>
      formatHtml({ ...report, segments: [{ ...segment, headroomMa, roomForDevices: 4 }] }, CONTEXT);
    const bound = 'the places left bound it, the current would do for 5';
    expect(await page(5 * eachMa)).toContain(bound);
    expect(await page(5 * eachMa - 0.001)).not.toContain('the places left bound it');
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
    expect(textOf((await readPage(report))[0] as Element)).toContain(EN.report.caution);
  });
});
