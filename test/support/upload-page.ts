import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { AxeResults } from 'axe-core';
import type { Browser, BrowserContextOptions, Page } from 'playwright-core';

const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** A file as a person would choose it. */
export interface ChosenFile {
  readonly name: string;
  readonly buffer: Buffer;
}

export interface OpenedPage {
  readonly page: Page;
  /** What the browser complains of, such as of what the page's policy refuses, and what is asked of anybody else. */
  readonly complaints: string[];
}

/** The page at an address, in a browser of its own. */
export async function openedAt(
  browser: Browser,
  url: string,
  options: BrowserContextOptions = {},
): Promise<OpenedPage> {
  const context = await browser.newContext({ viewport: { width: 900, height: 800 }, locale: 'en-GB', ...options });
  const page = await context.newPage();
  const complaints: string[] = [];
  page.on('console', (message) => complaints.push(message.text()));
  page.on('pageerror', ({ message }) => complaints.push(message));
  page.on('dialog', (dialog) => complaints.push(`says ${dialog.message()}`));
  page.on('request', (request) => {
    if (!request.url().startsWith(url) && !request.url().startsWith(`blob:${url}`)) complaints.push(request.url());
  });
  await page.goto(`${url}/`);
  return { page, complaints };
}

/** Chooses files by field, as by a click on it. */
export async function choose(page: Page, files: Readonly<Record<string, ChosenFile>>): Promise<void> {
  for (const [field, file] of Object.entries(files)) {
    const [chooser] = await Promise.all([page.waitForEvent('filechooser'), page.locator(`#${field}`).click()]);
    await chooser.setFiles({ ...file, mimeType: '' });
  }
}

/** Sends the form and waits for how it ends; the heading of the outcome. */
export async function sent(page: Page): Promise<string> {
  await page.locator('button[type="submit"]').click();
  return outcomeOf(page);
}

/** The heading of the outcome, once there is one. */
export async function outcomeOf(page: Page): Promise<string> {
  const heading = page.locator('#outcome-heading');
  await heading.waitFor({ state: 'visible' });
  return (await heading.textContent()) ?? '';
}

/** What axe-core (rules of WCAG 2 A and AA, and more) objects to, and that it looked at contrast at all. */
export async function objectionsOf(page: Page): Promise<unknown[]> {
  await page.evaluate(AXE);
  const { violations, passes } = (await page.evaluate('axe.run()')) as AxeResults;
  const seen = passes.some(({ id }) => id === 'color-contrast') ? [] : ['the contrast was not looked at'];
  return [...seen, ...violations.map(({ id, nodes }) => [id, nodes.slice(0, 3).map(({ html }) => html)])];
}

/** Drops files of the disk in the middle of an element, as a file manager does. */
export async function drop(page: Page, selector: string, files: readonly string[]): Promise<void> {
  const box = await page.locator(selector).boundingBox();
  if (box === null) throw new Error(`there is nothing at ${selector}`);
  const session = await page.context().newCDPSession(page);
  const at = { x: box.x + box.width / 2, y: box.y + box.height / 2 };
  const data = { items: [], files: [...files], dragOperationsMask: 1 };
  for (const type of ['dragEnter', 'dragOver', 'drop'] as const) {
    await session.send('Input.dispatchDragEvent', { type, ...at, data });
  }
  await session.detach();
}
