import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { AxeResults } from 'axe-core';
import type { Browser, BrowserContextOptions, Page } from 'playwright-core';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { audit } from '../../src/audit.js';
import { VERDICTS } from '../../src/electrical/verdict.js';
import { formatHtml } from '../../src/report/format/html.js';
import type { Report } from '../../src/report/report.js';
import { LANGUAGES, type Language, wordsOf } from '../../src/words/language.js';
import { plannedWith, sitedReport, withEveryText } from '../report/html/pages.js';
import { CAMPUS, campusFile } from '../support/campus.mjs';
import { needsChromium, startChromium } from '../support/chromium.js';

/** The page in Chromium: what no parser of markup can tell. Accessibility by axe-core (rules of WCAG 2 A and AA, and more). */

const require = createRequire(import.meta.url);
const AXE = readFileSync(require.resolve('axe-core/axe.min.js'), 'utf8');

let browser: Browser | undefined;
let report: Report;
const reports = new Map<Language, Report>();

beforeAll(async () => {
  browser = await startChromium();
  for (const language of LANGUAGES) reports.set(language, await sitedReport(await wordsOf(language)));
  report = reports.get('en') as Report;
});

afterAll(() => browser?.close());

/** The same font on each machine, as how much goes on a page is a matter of it. */
const ONE_FONT = [
  '* { font-family: One !important }',
  fontFace(400, require.resolve('@fontsource/noto-sans/files/noto-sans-latin-400-normal.woff2')),
  fontFace(700, require.resolve('@fontsource/noto-sans/files/noto-sans-latin-700-normal.woff2')),
].join('\n');

function fontFace(weight: number, path: string): string {
  const url = `data:font/woff2;base64,${readFileSync(path, 'base64')}`;
  return `@font-face { font-family: One; font-weight: ${weight}; src: url(${url}) }`;
}

/** A plan of so many lines that are all alike. */
function planOf(lines: number): Promise<Report> {
  const one = (at: number) => ({
    line: `1.${at + 1}`,
    supply: '640 mA',
    devices: [{ count: 10, what: 'actuator', current: '12 mA' }],
  });
  return plannedWith(Array.from({ length: lines }, (_, at) => one(at)));
}

/** The page as it is opened, and every complaint of the browser, such as of what the page’s policy refuses. */
async function opened(
  of: Report,
  options: BrowserContextOptions = {},
  language: Language = 'en',
): Promise<{ page: Page; complaints: string[] }> {
  if (browser === undefined) throw new Error('no browser');
  const page = await (await browser.newContext({ viewport: { width: 1100, height: 900 }, ...options })).newPage();
  const complaints: string[] = [];
  page.on('console', (message) => complaints.push(message.text()));
  page.on('pageerror', ({ message }) => complaints.push(message));
  page.on('request', (request) => complaints.push(`asks for ${request.url()}`));
  page.on('dialog', (dialog) => complaints.push(`says ${dialog.message()}`));
  await page.setContent(await formatHtml(of, { archive: 'school.zip', words: await wordsOf(language) }));
  return { page, complaints };
}

/** The pages of a PDF by their boxes, in whole mm (ISO 32000-1, 7.7.3.3: points of 1/72 inch). */
function pagesOf(pdf: Buffer): (readonly [width: number, height: number])[] {
  const boxes = [...pdf.toString('latin1').matchAll(/\/MediaBox\s*\[([^\]]+)\]/g)];
  return boxes.map(([, box = '']) => {
    const [, , width = 0, height = 0] = box.trim().split(/\s+/).map(Number);
    return [Math.round((width / 72) * 25.4), Math.round((height / 72) * 25.4)] as const;
  });
}

describe('the page in a browser', () => {
  beforeEach(needsChromium);

  // Colours do not depend on the language, nor words on the colours.
  it.each([
    ['light', 'en'],
    ['dark', 'de'],
  ] as const)('has nothing that axe-core objects to, %s, %s', { timeout: 180_000 }, async (colorScheme, language) => {
    const { page, complaints } = await opened(reports.get(language) as Report, { colorScheme }, language);
    await page.evaluate(`for (const one of document.querySelectorAll('details')) one.open = true`);
    await page.evaluate(AXE);
    const results = (await page.evaluate('axe.run()')) as AxeResults;
    const found = results.violations.map(({ id, nodes }) => [id, nodes.slice(0, 3).map(({ html }) => html)]);
    expect(found).toEqual([]);
    expect(results.passes.map(({ id }) => id)).toContain('color-contrast');
    expect(complaints).toEqual([]);
  });

  it('filters by verdict, severity and text, and says how many are left', async () => {
    const { page } = await opened(report);
    const shown = (selector: string) => page.locator(`${selector}:visible`).count();
    await page.locator('[data-filter="verdicts"]').selectOption('unfed');
    expect(await shown('.card')).toBe(report.segments.filter(({ verdict }) => verdict === 'unfed').length);
    const { segments, findings } = report;
    const unfed = segments.filter(({ verdict }) => verdict === 'unfed').map(({ id }) => id);
    const concerned = findings.filter((finding) => finding.segments.some((id) => unfed.includes(id)));
    expect(await page.locator('[role="status"]').textContent()).toBe(
      `${concerned.length} of ${findings.length} findings and ${unfed.length} of ${segments.length} segments shown`,
    );
    await page.locator('[data-filter="verdicts"]').selectOption('');
    await page.locator('[data-filter="severities"]').selectOption('warning');
    expect(await shown('.finding')).toBe(report.findings.filter(({ severity }) => severity === 'warning').length);
    await page.locator('[data-filter="severities"]').selectOption('');
    await page.locator('[data-filter="text"]').fill('no such text anywhere');
    expect([await shown('.card'), await shown('.finding'), await shown('.rule')]).toEqual([0, 0, 0]);
    await page.locator('[data-filter="text"]').fill('');
    expect(await shown('.finding')).toBe(report.findings.length);
  });

  it.each(['supply-too-far', 'far from the nearest'])(
    'finds what stands above the findings of a rule: %s',
    async (text) => {
      const { page } = await opened(report);
      const rule = report.rules.find(({ id }) => id === 'supply-too-far');
      await page.locator('[data-filter="text"]').fill(text);
      const ids = report.findings.filter((finding) => finding.rule === rule?.id).length;
      expect(ids).toBeGreaterThan(0);
      expect(
        await page.locator('.rule:visible', { hasText: 'supply-too-far' }).locator('.finding:visible').count(),
      ).toBe(ids);
      expect(await page.locator('.finding:visible').count()).toBe(ids);
    },
  );

  it('ends the filter where a link goes to what it hides', async () => {
    const { page } = await opened(report);
    const text = page.locator('[data-filter="text"]');
    const href = await page.locator('.card h4 ~ ul a[href^="#finding"]').first().getAttribute('href');
    const target = page.locator(href as string);
    // Both times: a link to where the address is already changes no address.
    for (const _ of ['the first time', 'again']) {
      await text.fill('no such text anywhere');
      expect(await target.isVisible()).toBe(false);
      await page.locator('[data-filter="severities"]').selectOption('note');
      await page.evaluate(`{
        const link = document.createElement('a');
        link.href = ${JSON.stringify(href)};
        document.body.append(link);
        link.click();
      }`);
      await target.waitFor({ state: 'visible' });
      expect(await text.inputValue()).toBe('');
      expect(await page.locator('[data-filter="severities"]').inputValue()).toBe('');
      expect(await page.locator('[role="status"]').textContent()).toBe('');
      const top = await target.evaluate((element) => element.getBoundingClientRect().top);
      expect(top).toBeGreaterThanOrEqual(0);
      expect(top).toBeLessThan(900);
    }
  });

  it('keeps the filter where a link goes to what it shows', async () => {
    const { page } = await opened(report);
    const text = page.locator('[data-filter="text"]');
    await text.fill('supply-too-far');
    const id = await page.locator('.finding:visible').first().getAttribute('id');
    await page.evaluate(`location.hash = ${JSON.stringify(id)}`);
    await page.waitForTimeout(100);
    expect(await text.inputValue()).toBe('supply-too-far');
  });

  it('sorts a table by its figures, up and down', async () => {
    const { page } = await opened(report);
    const table = page.locator('#utilisation table');
    await page.locator('#utilisation details summary').click();
    const heading = table.getByRole('columnheader', { name: 'Load' });
    const loads = async () => (await table.locator('tbody td:nth-child(2)').allTextContents()).map(Number.parseFloat);
    const up = report.segments.map(({ load }) => load.totalMa).sort((a, b) => a - b);
    await heading.getByRole('button').click();
    expect(await loads()).toEqual(up);
    await heading.getByRole('button').click();
    expect(await loads()).toEqual(up.reverse());
  });

  it('sorts verdicts from worst to best', async () => {
    const { page } = await opened(report);
    const table = page.locator('#plant table');
    await page.locator('#plant .more summary').click();
    await table.getByRole('columnheader', { name: 'Verdict' }).getByRole('button').click();
    const ranks = report.segments.map(({ verdict }) => VERDICTS.indexOf(verdict)).sort((a, b) => a - b);
    const cells = await table.locator('tbody tr td:last-child').all();
    expect(await Promise.all(cells.map(async (cell) => Number(await cell.getAttribute('data-v'))))).toEqual(ranks);
    expect(new Set(ranks).size).toBeGreaterThan(3);
  });

  it('says at the foot of each printed page what report it is of', async () => {
    const { page } = await opened(report);
    const sheet = `Bus power of Marlbrook Lane School; archive sha-256 ${report.archive.sha256.slice(0, 12)}`;
    // What the style sheet sets there: no parser of the PDF is at hand that reads a text of its fonts.
    expect(await page.evaluate(`getComputedStyle(document.documentElement).getPropertyValue('--sheet')`)).toBe(
      JSON.stringify(sheet),
    );
  });

  it('is filtered, sorted and folded by the keyboard alone', async () => {
    const { page } = await opened(report);
    const isAt = (selector: string) => page.evaluate(`document.activeElement.matches(${JSON.stringify(selector)})`);
    const tabTo = async (selector: string) => {
      for (let presses = 0; presses < 60; presses++) {
        await page.keyboard.press('Tab');
        if (await isAt(selector)) return;
      }
      throw new Error(`no way by the keyboard to ${selector}`);
    };
    await page.keyboard.press('Tab');
    expect(await isAt('.skip')).toBe(true);
    await tabTo('[data-filter="severities"]');
    await page.keyboard.press('ArrowDown');
    const errors = report.findings.filter(({ severity }) => severity === 'error').length;
    expect(await page.locator('.finding:visible').count()).toBe(errors);
    await page.keyboard.press('ArrowUp');
    await page.locator('#plant .more summary').focus();
    await page.keyboard.press('Enter');
    const table = page.locator('#plant table');
    await table.locator('th button').first().waitFor(); // they are made when the table comes into view
    await tabTo('#plant th button');
    await page.keyboard.press('Enter');
    expect(await table.locator('th[aria-sort]').getAttribute('aria-sort')).toBe('ascending');
    const card = page.locator('.card').first();
    await card.locator('> summary').focus();
    await page.keyboard.press('Space');
    expect(await card.getAttribute('open')).toBeNull();
  });

  it('opens what a deep link goes to, wherever it is folded', async () => {
    const { page } = await opened(report);
    const anchors = (await page.evaluate(
      `[...document.querySelectorAll('.finding, .card-body, .proposal')].map(({ id }) => id)`,
    )) as string[];
    expect(anchors.length).toBeGreaterThan(report.findings.length + report.segments.length);
    await page.evaluate(`for (const one of document.querySelectorAll('details')) one.open = false`);
    const last = anchors.findLast((id) => id.startsWith('segment')) as string;
    await page.evaluate(`location.hash = ${JSON.stringify(last)}`);
    await page.locator(`#${last}`).waitFor({ state: 'visible' });
  });

  it.each(LANGUAGES)('is as wide as a narrow window, %s', async (language) => {
    const { page } = await opened(reports.get(language) as Report, { viewport: { width: 360, height: 700 } }, language);
    await page.evaluate(`for (const one of document.querySelectorAll('details')) one.open = true`);
    expect(await page.evaluate('document.documentElement.scrollWidth')).toBe(360);
  });

  it('prints to A4, with what is folded or filtered on the screen', async () => {
    const { page } = await opened(report, { javaScriptEnabled: false });
    await page.emulateMedia({ media: 'print' });
    const devices = page.locator('.card .more tbody tr').last();
    expect(await devices.evaluate((row) => row.getBoundingClientRect().height)).toBeGreaterThan(0);
    const pages = pagesOf(await page.pdf({ preferCSSPageSize: true }));
    expect(pages.length).toBeGreaterThan(report.segments.length); // each begins one
    for (const size of pages) expect(size).toEqual([210, 297]); // ISO 216
  });

  // Each segment is a page, and the other parts are ten. (A line that is alone needs no coupler, and has less to say.)
  it.each([2, 3, 4])('prints a plan of %i lines, all alike, to as many pages and ten', async (lines) => {
    const { page } = await opened(await planOf(lines), { bypassCSP: true });
    await page.addStyleTag({ content: ONE_FONT });
    expect(
      await page.evaluate(`Promise.all([400, 700].map((weight) => document.fonts.load(weight + ' 10pt One')))`),
    ).toHaveLength(2);
    expect(pagesOf(await page.pdf({ preferCSSPageSize: true })).length).toBe(10 + lines);
  });

  it('repeats the headings of a table on each page that it goes over', { timeout: 180_000 }, async () => {
    const [segment] = report.segments.filter(({ devices }) => devices.length > 5);
    const [device] = segment?.devices ?? [];
    if (segment === undefined || device === undefined) throw new Error('no segment with devices');
    const devices = Array.from({ length: 1000 }, (_, at) => ({ ...device, id: `${device.id}-${at}` }));
    const { page } = await opened({ ...report, segments: [{ ...segment, devices }], findings: [] });
    const printed = async () => pagesOf(await page.pdf({ preferCSSPageSize: true })).length;
    const repeated = await printed();
    // Headings that stand only once leave room for rows on every other page, and so the whole takes fewer.
    await page.evaluate(`for (const one of document.querySelectorAll('thead')) one.style.display = 'table-row-group'`);
    expect(repeated).toBeGreaterThan(await printed());
  });

  it('runs nothing that a name holds', async () => {
    const hostile = '</script></style><img src=x onerror=alert(1)><script>alert(2)</script><svg onload=alert(3)>';
    const { page, complaints } = await opened(withEveryText(report, hostile));
    await page.waitForTimeout(200);
    expect(complaints).toEqual([]);
    expect(await page.locator('img, [onerror], [onload]').count()).toBe(0);
  });
});

describe('the page of a campus of 15 areas', () => {
  let campus: Report;

  beforeAll(async () => {
    // As many lines and devices as the campus of the benchmark, without the weight that an audit passes over.
    const path = await campusFile({ ...CAMPUS, bulk: 0.01, masterBytes: 10_000, programBytes: 10_000 });
    campus = await audit(readFileSync(path));
  }, 120_000);

  beforeEach(needsChromium);

  it.each([true, false])('goes where a link goes, script %s', { timeout: 300_000 }, async (javaScriptEnabled) => {
    const { page } = await opened(campus, { javaScriptEnabled });
    const links = (await page.evaluate(`[
      ...[...document.querySelectorAll('main > section')],
      ...[...document.querySelectorAll('.finding, .card-body, .proposal')].filter((_, at) => at % 90 === 50),
    ].map(({ id }) => id)`)) as string[];
    expect(links.length).toBeGreaterThan(15);
    for (const id of links) {
      await page.evaluate(`scrollTo(0, 0); location.hash = ${JSON.stringify(id)}`);
      await page.waitForTimeout(200); // what comes into view is laid out, and may push others away
      const top = await page.locator(`#${id}`).evaluate((element) => element.getBoundingClientRect().top);
      expect(top, id).toBeGreaterThanOrEqual(0);
      expect(top, id).toBeLessThan(100);
    }
  });

  it('waits with what is far away, on the screen only', { timeout: 300_000 }, async () => {
    const { page } = await opened(campus);
    const waits = (selector: string) =>
      page
        .locator(selector)
        .last()
        .evaluate((element) => !element.checkVisibility({ contentVisibilityAuto: true }));
    const far = ['#basis h2', '.strip a', '.finding .what', '.card h3'];
    for (const selector of far) expect(await waits(selector), selector).toBe(true);
    await page.emulateMedia({ media: 'print' });
    for (const selector of far) expect(await waits(selector), selector).toBe(false);
  });

  it('can be opened and filtered', { timeout: 300_000 }, async () => {
    const times: string[] = [];
    const timed = async <T>(what: string, of: () => Promise<T>): Promise<T> => {
      const from = performance.now();
      const result = await of();
      times.push(`${what} ${Math.round(performance.now() - from)} ms`);
      return result;
    };
    const html = await timed('made', () => formatHtml(campus, { archive: 'campus.zip' }));
    const { page } = await opened(report);
    await timed('opened', () => page.setContent(html));
    await timed('filtered', () => page.locator('[data-filter="text"]').fill('1.1.'));
    await timed('filtered again', () => page.locator('[data-filter="verdicts"]').selectOption({ index: 1 }));
    expect(await page.locator('[role="status"]').textContent()).toMatch(
      /^\d+ of \d+ findings and \d+ of \d+ segments shown$/,
    );
    console.log(
      `campus of 15 areas, ${campus.segments.length} segments, ${html.length} characters: ${times.join(', ')}`,
    );
  });
});
