import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { AxeResults } from 'axe-core';
import type { Browser, BrowserContextOptions, Page } from 'playwright-core';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { formatHtml } from '../../src/report/format/html.js';
import type { Report } from '../../src/report/report.js';
import { sitedReport, withEveryText } from '../report/html/pages.js';
import { needsChromium, startChromium } from '../support/chromium.js';

/** The page in Chromium: what no parser of markup can tell. Accessibility by axe-core (rules of WCAG 2 A and AA, and more). */

const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

let browser: Browser | undefined;
let report: Report;

beforeAll(async () => {
  [browser, report] = await Promise.all([startChromium(), sitedReport()]);
});

afterAll(() => browser?.close());

/** The page as it is opened, and every complaint of the browser, such as of what the page’s policy refuses. */
async function opened(of: Report, options: BrowserContextOptions = {}): Promise<{ page: Page; complaints: string[] }> {
  if (browser === undefined) throw new Error('no browser');
  const page = await (await browser.newContext({ viewport: { width: 1100, height: 900 }, ...options })).newPage();
  const complaints: string[] = [];
  page.on('console', (message) => complaints.push(message.text()));
  page.on('pageerror', ({ message }) => complaints.push(message));
  page.on('request', (request) => complaints.push(`asks for ${request.url()}`));
  page.on('dialog', (dialog) => complaints.push(`says ${dialog.message()}`));
  await page.setContent(await formatHtml(of, { archive: 'school.zip' }));
  return { page, complaints };
}

describe('the page in a browser', () => {
  beforeEach(needsChromium);

  it.each(['light', 'dark'] as const)(
    'has nothing that axe-core objects to, %s',
    { timeout: 180_000 },
    async (colorScheme) => {
      const { page, complaints } = await opened(report, { colorScheme });
      await page.evaluate(`for (const one of document.querySelectorAll('details')) one.open = true`);
      await page.evaluate(AXE);
      const results = (await page.evaluate('axe.run()')) as AxeResults;
      const found = results.violations.map(({ id, nodes }) => [id, nodes.slice(0, 3).map(({ html }) => html)]);
      expect(found).toEqual([]);
      expect(results.passes.map(({ id }) => id)).toContain('color-contrast');
      expect(complaints).toEqual([]);
    },
  );

  it('filters by verdict, severity and text, and says how many are left', async () => {
    const { page } = await opened(report);
    const shown = (selector: string) => page.locator(`${selector}:visible`).count();
    await page.locator('[data-filter="verdicts"]').selectOption('unfed');
    expect(await shown('.card')).toBe(report.segments.filter(({ verdict }) => verdict === 'unfed').length);
    expect(await page.locator('[role="status"]').textContent()).toMatch(/^\d+ of \d+ entries shown$/);
    await page.locator('[data-filter="verdicts"]').selectOption('');
    await page.locator('[data-filter="severities"]').selectOption('warning');
    expect(await shown('.finding')).toBe(report.findings.filter(({ severity }) => severity === 'warning').length);
    await page.locator('[data-filter="severities"]').selectOption('');
    await page.locator('[data-filter="text"]').fill('no such text anywhere');
    expect([await shown('.card'), await shown('.finding'), await shown('.rule')]).toEqual([0, 0, 0]);
    await page.locator('[data-filter="text"]').fill('');
    expect(await shown('.finding')).toBe(report.findings.length);
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

  it('is as wide as a narrow window', async () => {
    const { page } = await opened(report, { viewport: { width: 360, height: 700 } });
    expect(await page.evaluate('document.documentElement.scrollWidth')).toBe(360);
  });

  it('prints to A4, with what is folded or filtered on the screen', async () => {
    const { page } = await opened(report, { javaScriptEnabled: false });
    await page.emulateMedia({ media: 'print' });
    const devices = page.locator('.card .more tbody tr').last();
    expect(await devices.evaluate((row) => row.getBoundingClientRect().height)).toBeGreaterThan(0);
    const pdf = (await page.pdf({ preferCSSPageSize: true })).toString('latin1');
    const boxes = [...pdf.matchAll(/\/MediaBox\s*\[([^\]]+)\]/g)].map(([, box]) =>
      box?.trim().split(/\s+/).map(Number),
    );
    expect(boxes.length).toBeGreaterThan(3);
    // ISO 216: 210 mm × 297 mm; PDF counts in points of 1/72 inch.
    for (const [, , width = 0, height = 0] of boxes as number[][]) {
      expect([Math.round((width / 72) * 25.4), Math.round((height / 72) * 25.4)]).toEqual([210, 297]);
    }
  });

  it('runs nothing that a name holds', async () => {
    const hostile = '</script></style><img src=x onerror=alert(1)><script>alert(2)</script><svg onload=alert(3)>';
    const { page, complaints } = await opened(withEveryText(report, hostile));
    await page.waitForTimeout(200);
    expect(complaints).toEqual([]);
    expect(await page.locator('img, [onerror], [onload]').count()).toBe(0);
  });
});
