import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, BrowserContextOptions } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { audit } from '../../src/audit.js';
import { type Documents, readGiven } from '../../src/given.js';
import { type AuditRunner, lineIsFull } from '../../src/http/pool.js';
import { RequestError } from '../../src/http/problems.js';
import { dayOf } from '../../src/policy/day.js';
import { STAGES } from '../../src/progress.js';
import { FORMATS } from '../../src/report/format/index.js';
import { summaryLine, verdictSentence } from '../../src/report/format/text.js';
import { DE } from '../../src/words/de/words.js';
import { EN } from '../../src/words/en/words.js';
import { byToken, TOKEN } from '../support/access.js';
import { FIXTURES, fixtureArchive, fixtureParts, zip } from '../support/archives.js';
import { BAD_ARCHIVES } from '../support/bad-archives.js';
import { needsChromium, startChromium } from '../support/chromium.js';
import {
  poolOf,
  type Server,
  type ServerOptions,
  shared,
  startServer,
  stubRunner,
  untilReady,
} from '../support/server.js';
import {
  type ChosenFile,
  choose,
  drop,
  type OpenedPage,
  objectionsOf,
  openedAt,
  outcomeOf,
  sent,
} from '../support/upload-page.js';

/** The page at `/` in Chromium, against the real service: what people do with it, and everything that can go wrong. */

const folder = mkdtempSync(join(tmpdir(), 'linebudget-page-'));
const pool = poolOf({ auditThreads: 1 });
let browser: Browser | undefined;
let server: Server;
let house: ChosenFile;
const servers: Server[] = [];

beforeAll(async () => {
  await untilReady(pool);
  [browser, server] = await Promise.all([startChromium(), startServer({ audits: shared(pool) })]);
  house = { name: 'house.any', buffer: await fixtureArchive('house') };
}, 60_000);

afterAll(async () => {
  await browser?.close();
  await server.stop();
  await pool.close();
  rmSync(folder, { recursive: true });
});

beforeEach(needsChromium);

afterEach(async () => {
  for (const context of browser?.contexts() ?? []) await context.close();
  for (const one of servers.splice(0)) await one.stop();
});

function opened(options: BrowserContextOptions = {}, { url } = server): Promise<OpenedPage> {
  if (browser === undefined) throw new Error('no browser');
  return openedAt(browser, url, options);
}

/** Another service, for one test. */
async function serving(options: ServerOptions): Promise<Server> {
  const one = await startServer(options);
  servers.push(one);
  return one;
}

const running = (run: AuditRunner['run']) => serving({ audits: stubRunner(run) });

/** A file on the disk, where a file manager would drag it from. */
function onDisk({ name, buffer }: ChosenFile): string {
  const path = join(folder, name);
  writeFileSync(path, buffer);
  return path;
}

const named = (name: string, text: string | Uint8Array): ChosenFile => ({ name, buffer: Buffer.from(text) });

describe('an archive', () => {
  it.each([
    ['chosen by a click', async ({ page }: OpenedPage) => choose(page, { archive: house })],
    ['dropped on its field', async ({ page }: OpenedPage) => drop(page, '.drop', [onDisk(house)])],
    ['dropped beside its field', async ({ page }: OpenedPage) => drop(page, 'h1', [onDisk(house)])],
  ])('%s is audited, and its report opened', async (_how, chosen) => {
    const one = await opened();
    await chosen(one);
    const { page, complaints } = one;
    expect(await page.locator('#archive-chosen').textContent()).toBe(
      `house.any is chosen, ${Math.round((house.buffer.length / 1024) * 10) / 10} KiB.`,
    );
    expect(await sent(page)).toBe(EN.upload.ready);
    expect(await page.evaluate('document.activeElement.id')).toBe('outcome-heading');
    expect(await page.locator('.verdict-sentence').textContent()).toBe(summaryLine(await audit(house.buffer)));
    const [report] = await Promise.all([page.waitForEvent('popup'), page.getByText(EN.upload.open).click()]);
    const complaintsThere: string[] = [];
    report.on('console', (message) => complaintsThere.push(message.text()));
    await report.reload();
    expect(await report.locator('h1').textContent()).toContain('Bus power of');
    expect(await report.locator('.filter').isVisible()).toBe(true); // its script runs
    expect(await report.evaluate('getComputedStyle(document.body).maxWidth')).not.toBe('none'); // its style
    expect([complaints, complaintsThere]).toEqual([[], []]);
  });

  it('leaves the report as a file, and the same in other forms', async () => {
    const { page } = await opened();
    await choose(page, { archive: house });
    await sent(page);
    const saved = async (name: string) => {
      const [download] = await Promise.all([
        page.waitForEvent('download'),
        page.getByText(name, { exact: true }).click(),
      ]);
      return { name: download.suggestedFilename(), text: readFileSync(await download.path(), 'utf8') };
    };
    const report = await audit(house.buffer, { asOf: new Date().toISOString().slice(0, 10) });
    expect(await saved(EN.upload.save)).toEqual({
      name: 'bus-power.html',
      text: await FORMATS.html.format(report, { archive: house.name, words: EN }),
    });
    expect(await saved(EN.upload.files.json)).toEqual({
      name: 'bus-power.json',
      text: `${JSON.stringify(report, null, 2)}\n`,
    });
    expect(await page.getByText('Saved: bus-power.json').isVisible()).toBe(true);
    for (const [format, label] of Object.entries(EN.upload.files)) {
      expect((await saved(label)).text.length, format).toBeGreaterThan(20);
    }
  });

  it('is told to give no file where the service is gone, and the report stays', async () => {
    const one = await startServer({ audits: shared(pool) });
    const { page } = await opened({}, one);
    await choose(page, { archive: house });
    await sent(page);
    await one.stop();
    await page.getByText(EN.upload.files.json, { exact: true }).click();
    await page.getByText(EN.upload.found.unreachable.title).waitFor();
    expect(await page.getByText(EN.upload.open).isVisible()).toBe(true);
  });

  it('goes along with what else is known', async () => {
    const { page } = await opened();
    await page.locator('summary').click();
    await choose(page, {
      archive: named('demo', readFileSync(join(FIXTURES, 'demo.zip'))),
      policy: named('p', readFileSync(join(FIXTURES, 'example-policy.yaml'))),
      site: named('s', readFileSync(join(FIXTURES, 'example-site.yaml'))),
      waivers: named('w', readFileSync(join(FIXTURES, 'example-waivers.yaml'))),
    });
    expect(await page.locator('#built-in').isDisabled()).toBe(true);
    await sent(page);
    const [report] = await Promise.all([page.waitForEvent('popup'), page.getByText(EN.upload.open).click()]);
    const basis = await report.locator('#basis').textContent();
    for (const part of ['common-practice', 'targetLoad', '0.75']) expect(basis).toContain(part);
    const given = ['policy', 'site', 'waivers'].map((name) =>
      readFileSync(join(FIXTURES, `example-${name}.yaml`), 'utf8'),
    );
    const [policy, site, waivers] = given.map((text) => ({ name: 'a file', text }));
    const options = await readGiven({ policy, site, waivers } as Documents);
    const made = await audit(readFileSync(join(FIXTURES, 'demo.zip')), { ...options, asOf: dayOf(new Date()) });
    expect([made.summary.waived > 0, made.site !== null]).toEqual([true, true]);
    expect(await report.locator('.verdict-sentence').first().textContent()).toBe(verdictSentence(made.summary));
    expect(await report.locator('svg .band').count()).toBeGreaterThan(0); // voltages, which only a site sheet gives
    expect(await report.locator('body').textContent()).toContain(`${made.summary.waived} waived`);
  });

  it('and a file of another field is dropped on that', async () => {
    const { page } = await opened();
    await choose(page, { archive: house });
    await page.locator('summary').click();
    await drop(page, '#site', [onDisk(named('sheet', readFileSync(join(FIXTURES, 'example-site.yaml'))))]);
    const fileOf = (field: string) =>
      page.locator(`#${field}`).evaluate((one) => (one as unknown as { files: { name: string }[] }).files[0]?.name);
    expect([await fileOf('archive'), await fileOf('site')]).toEqual(['house.any', 'sheet']);
    await page.locator('#archive').setInputFiles([]);
    expect(await page.locator('#archive-chosen').textContent()).toBe('');
  });

  it('and its report stays, in another tab too, whatever is dropped or chosen then', async () => {
    const { page } = await opened();
    await choose(page, { archive: house });
    await sent(page);
    const [report] = await Promise.all([page.waitForEvent('popup'), page.getByText(EN.upload.open).click()]);
    await drop(page, '.drop', [folder]);
    await choose(page, { archive: named('list', 'a shopping list') });
    expect(await page.locator('#outcome-heading').textContent()).toBe(EN.upload.ready);
    await sent(page);
    await report.reload();
    expect(await report.locator('h1').textContent()).toContain('Bus power of');
  });

  it('is judged by the built-in policy that is chosen', async () => {
    const { page } = await opened();
    await page.locator('summary').click();
    await choose(page, { archive: house });
    await page.locator('#built-in').selectOption('conservative');
    await sent(page);
    const [report] = await Promise.all([page.waitForEvent('popup'), page.getByText(EN.upload.open).click()]);
    expect(await report.locator('#basis').textContent()).toContain('conservative');
  });

  it('shows a hostile name as text', async () => {
    const hostile = `<img src=x onerror=alert(1)>"'&lt;script>`;
    const parts = fixtureParts('house');
    const project = String(parts['P-01D4/project.xml']).replace(/ Name="[^"]*"/, ` Name="${xml(hostile)}"`);
    const { page, complaints } = await opened();
    await choose(page, {
      archive: named(`${hostile}.zip`.replace('/', ''), await zip({ ...parts, 'P-01D4/project.xml': project })),
    });
    expect(await page.locator('#archive-chosen').textContent()).toContain(hostile);
    await sent(page);
    const [report] = await Promise.all([page.waitForEvent('popup'), page.getByText(EN.upload.open).click()]);
    expect(await report.locator('h1').textContent()).toContain(hostile);
    expect([await page.locator('img').count(), await report.locator('img').count(), complaints]).toEqual([0, 0, []]);
  });
});

/** As an attribute's value. */
function xml(text: string): string {
  return text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('"', '&quot;');
}

describe('progress', () => {
  /** What was told of it, each time that it changed. */
  const watched = async ({ page }: OpenedPage): Promise<() => Promise<[stage: string, share: number][]>> => {
    await page.evaluate(`{
      const told = (globalThis.told = []);
      const tell = () => told.push([document.getElementById('stage').textContent, document.getElementById('share').value]);
      const all = { subtree: true, childList: true, characterData: true, attributes: true };
      new MutationObserver(tell).observe(document.getElementById('progress'), all);
    }`);
    return () => page.evaluate('told');
  };

  it('goes on from the first byte sent to the report', async () => {
    const one = await opened();
    const told = await watched(one);
    await choose(one.page, { archive: named('demo', readFileSync(join(FIXTURES, 'demo.zip'))) });
    await sent(one.page);
    const shares = (await told()).map(([, share]) => share);
    expect(shares).toEqual([...shares].sort((a, b) => a - b));
    expect([shares[0], shares.at(-1)]).toEqual([0, 100]);
    expect(await one.page.locator('#progress').isHidden()).toBe(true);
  });

  it('names every stage as it is reached', async () => {
    const one = await opened(
      {},
      await running(async (_task, _signal, onProgress) => {
        for (const stage of STAGES) {
          onProgress?.({ stage, share: STAGES.indexOf(stage) / 10 });
          await new Promise((resolve) => setTimeout(resolve, 150));
        }
        throw new RequestError('busy', 'enough');
      }),
    );
    const told = await watched(one);
    await choose(one.page, { archive: house });
    await sent(one.page);
    const stages = new Set((await told()).map(([stage]) => stage));
    expect([...stages]).toEqual(Object.values(EN.upload.stages));
    expect(await one.page.locator('#stage').getAttribute('role')).toBe('status');
  });

  it('can be stopped, and the form used again', async () => {
    let ended = false;
    const slow = await running((_task, signal) => {
      return new Promise((_resolve, reject) => {
        signal.addEventListener('abort', () => {
          ended = true;
          reject(signal.reason);
        });
      });
    });
    const { page } = await opened({}, slow);
    await choose(page, { archive: house });
    await page.locator('button[type="submit"]').click();
    await page.getByText(EN.upload.stages.waiting).waitFor();
    expect(await page.locator('#archive').isDisabled()).toBe(true);
    expect(await page.evaluate('document.activeElement.id')).toBe('stop');
    await page.keyboard.press('Enter');
    expect(await outcomeOf(page)).toBe(EN.upload.found.stopped.title);
    expect(await page.locator('#archive').isEnabled()).toBe(true);
    await expect.poll(() => ended).toBe(true);
  });
});

/** What is shown of a problem: what to do, what was found, and its code. */
async function problemShown({ page }: OpenedPage) {
  const texts = await page.locator('#outcome-body dd').allTextContents();
  return { remedy: texts[0], detail: texts[1], code: texts.find((text) => text.startsWith('urn:')) };
}

describe('what is wrong', () => {
  const codes = new Map(BAD_ARCHIVES.filter(({ what }) => what !== 'nothing').map((bad) => [bad.code, bad]));

  it.each([...codes.values()])('with the archive is told: $code', async ({ code, bytes, part, says }) => {
    const one = await opened();
    await choose(one.page, { archive: named('export', await bytes()) });
    expect(await sent(one.page)).toBe(EN.problems[code].title);
    expect(await problemShown(one)).toEqual({
      remedy: EN.problems[code].remedy,
      detail: expect.stringContaining(says),
      code: `urn:linebudget:problem:${code}`,
    });
    if (part !== undefined) expect(await one.page.locator('#outcome-body').textContent()).toContain(part);
    expect(await one.page.evaluate('document.activeElement.id')).toBe('outcome-heading');
  });

  it.each([
    ['policy', 'invalid-policy'],
    ['products', 'invalid-product-list'],
    ['site', 'invalid-site-sheet'],
    ['measured', 'invalid-measured-values'],
    ['waivers', 'invalid-waivers'],
    ['baseline', 'invalid-baseline'],
  ] as const)('with the file of %s is told', async (field, code) => {
    const one = await opened();
    await one.page.locator('summary').click();
    await choose(one.page, { archive: house, [field]: named('f', '[') });
    expect(await sent(one.page)).toBe(EN.problems[code].title);
    expect(await problemShown(one)).toMatchObject({ remedy: EN.problems[code].remedy });
  });

  it.each([
    ['busy', lineIsFull()],
    ['audit-too-long', new RequestError('audit-too-long', 'too long')],
    ['audit-too-large', new RequestError('audit-too-large', 'too large')],
    ['internal-fault', new Error('a fault')],
  ] as const)('with the service is told: %s', async (code, error) => {
    const one = await opened({}, await running(() => Promise.reject(error)));
    await choose(one.page, { archive: house });
    expect(await sent(one.page)).toBe(EN.problems[code].title);
    expect(await problemShown(one)).toMatchObject({ remedy: EN.problems[code].remedy });
  });

  it('with how often is asked is told', async () => {
    const rateLimit = { requestsPerMinute: 1 };
    const one = await opened(
      {},
      await serving({ audits: shared(pool), access: { ...byToken(), tokens: [], rateLimit } }),
    );
    await choose(one.page, { archive: house });
    await sent(one.page);
    expect(await sent(one.page)).toBe(EN.problems['too-many-requests'].title);
  });

  it('is told before anything is sent, where the browser can tell', async () => {
    const small = await serving({ audits: shared(pool), limits: { uploadBytes: house.buffer.length - 1 } });
    const one = await opened({}, small);
    const asked: string[] = [];
    one.page.on('request', (request) => request.method() === 'POST' && asked.push(request.url()));
    const { nothing, empty, tooLarge, several } = EN.upload.found;
    expect(await sent(one.page)).toBe(nothing.title);
    await choose(one.page, { archive: named('empty', '') });
    expect(await sent(one.page)).toBe(empty.title);
    await choose(one.page, { archive: house });
    expect(await sent(one.page)).toBe(tooLarge.title);
    const dropped = () => one.page.locator('#dropped').textContent();
    await drop(one.page, '.drop', [onDisk(house), onDisk(named('another', 'a'))]);
    expect(await dropped()).toBe(`${several.title}. ${several.remedy}`);
    await drop(one.page, '.drop', [onDisk(house)]);
    expect(await dropped()).toBe('');
    await drop(one.page, '.drop', [folder]);
    expect(await dropped()).toBe(`${several.title}. ${several.remedy}`);
    expect(asked).toEqual([]);
  });

  it('is told where the file has gone since it was chosen', async () => {
    const { page } = await opened();
    const path = onDisk(named('fleeting', house.buffer));
    await drop(page, '.drop', [path]);
    rmSync(path);
    expect(await sent(page)).toBe(EN.upload.found.unreadable.title);
  });

  it('is told where the service is gone', async () => {
    const one = await startServer({ audits: shared(pool) });
    const { page } = await opened({}, one);
    await choose(page, { archive: house });
    await one.stop();
    expect(await sent(page)).toBe(EN.upload.found.unreachable.title);
  });

  it('is told where the answer breaks off, of which nothing is shown', async () => {
    const { page } = await opened();
    const breaking = createServer((request, response) => {
      request.resume().on('end', () => {
        response.writeHead(200, { 'content-type': 'text/event-stream', 'access-control-allow-origin': server.url });
        response.write(
          'event: progress\ndata: {"stage":"reading","share":0.5}\n\nevent: report\ndata: {"format":"html","bo',
        );
        setTimeout(() => response.destroy(), 100);
      });
    });
    await new Promise<void>((resolve) => breaking.listen(0, '127.0.0.1', resolve));
    const { port } = breaking.address() as AddressInfo;
    await page.route('**/v1/audits?*', (route) => route.continue({ url: `http://127.0.0.1:${port}/v1/audits` }));
    await choose(page, { archive: house });
    expect(await sent(page)).toBe(EN.upload.found.cut.title);
    expect(await page.locator('#outcome-body').textContent()).toBe(EN.upload.found.cut.remedy);
    breaking.close();
  });

  it('is told where something else answers', async () => {
    const { page } = await opened();
    await page.route('**/v1/audits?*', (route) => route.fulfill({ status: 502, body: '<h1>Bad gateway</h1>' }));
    await choose(page, { archive: house });
    expect(await sent(page)).toBe(EN.upload.found.unreachable.title);
  });
});

describe('a token', () => {
  it('is asked for where the service wants one, and told to be missing, wrong or not enough', async () => {
    const one = await opened({}, await serving({ audits: shared(pool), access: byToken() }));
    const { page } = one;
    await choose(page, { archive: house });
    expect(await sent(page)).toBe(EN.problems['token-missing'].title);
    for (const [token, code] of [
      [TOKEN.stranger, 'token-not-valid'],
      [TOKEN.watcher, 'role-missing'],
    ] as const) {
      await page.locator('#token').fill(token);
      expect(await sent(page)).toBe(EN.problems[code].title);
    }
    await page.locator('#token').fill(` ${TOKEN.auditor} `);
    expect(await sent(page)).toBe(EN.upload.ready);
    expect(await page.evaluate('[localStorage.length, sessionStorage.length, document.cookie]')).toEqual([0, 0, '']);
  });

  it('is not asked for where the service wants none', async () => {
    const { page } = await opened();
    expect(await page.locator('#token').count()).toBe(0);
  });
});

describe('everybody', () => {
  it('gets from the form to the report by the keyboard alone', async () => {
    const { page } = await opened();
    const path = onDisk(house);
    // Listened for from the start: a key may be quicker than the driver's word to the browser that it takes choosers.
    const chooser = page.waitForEvent('filechooser');
    await page.keyboard.press('Tab');
    expect(await page.evaluate('document.activeElement.className')).toBe('skip');
    await page.keyboard.press('Enter');
    await page.keyboard.press('Tab');
    expect(await page.evaluate('document.activeElement.id')).toBe('archive');
    await page.keyboard.press('Space');
    await (await chooser).setFiles(path);
    await page.keyboard.press('Tab');
    await page.keyboard.press('Enter'); // unfolds what else is known
    for (const field of ['policy', 'products', 'site', 'measured', 'waivers', 'baseline', 'built-in']) {
      await page.keyboard.press('Tab');
      expect(await page.evaluate('document.activeElement.id')).toBe(field);
    }
    await page.keyboard.press('Tab');
    await page.keyboard.press('Enter');
    expect(await outcomeOf(page)).toBe(EN.upload.ready);
    await page.keyboard.press('Tab');
    const [report] = await Promise.all([page.waitForEvent('popup'), page.keyboard.press('Enter')]);
    expect(await report.locator('h1').count()).toBe(1);
  });

  const states: readonly [state: string, reach: (one: OpenedPage) => Promise<unknown>][] = [
    ['as it opens', async () => {}],
    ['unfolded', ({ page }) => page.locator('summary').click()],
    [
      'with a report',
      async ({ page }) => {
        await choose(page, { archive: house });
        await sent(page);
      },
    ],
    [
      'with a problem',
      async ({ page }) => {
        await choose(page, { archive: named('list', 'a shopping list') });
        await sent(page);
      },
    ],
  ];

  it.each(
    (['light', 'dark'] as const).flatMap((colorScheme) =>
      states.flatMap(([state, reach]) => ['en-GB', 'de-AT'].map((locale) => ({ colorScheme, state, reach, locale }))),
    ),
  )('has nothing that axe-core objects to, $state, $colorScheme, $locale', async ({ colorScheme, locale, reach }) => {
    const one = await opened({ colorScheme, locale });
    await reach(one);
    expect(await objectionsOf(one.page)).toEqual([]);
    expect(one.complaints).toEqual([]);
  });

  it.each(['en-GB', 'de-AT'])('finds the page as wide as a narrow window, %s', async (locale) => {
    const one = await opened({ viewport: { width: 360, height: 640 }, locale });
    for (const [, reach] of states.slice(1)) {
      await reach(one);
      expect(await one.page.evaluate('document.documentElement.scrollWidth')).toBe(360);
    }
  });

  it('is dark where the screen is, and light where it is', async () => {
    const ground = async (colorScheme: 'light' | 'dark') => {
      const { page } = await opened({ colorScheme });
      const colour = String(await page.evaluate('getComputedStyle(document.body).backgroundColor'));
      return Number(colour.match(/\d+/)?.[0]);
    };
    expect(await ground('light')).toBeGreaterThan(200);
    expect(await ground('dark')).toBeLessThan(60);
  });

  it('reads it in German where that is accepted, and in the other language by a link', async () => {
    const { page } = await opened({ locale: 'de-AT' });
    expect(await page.locator('h1').textContent()).toBe(DE.upload.title);
    await choose(page, { archive: house });
    expect(await sent(page)).toBe(DE.upload.ready);
    const german = summaryLine(await audit(house.buffer, { words: DE }), DE);
    expect(await page.locator('.verdict-sentence').textContent()).toBe(german);
    const [report] = await Promise.all([page.waitForEvent('popup'), page.getByText(DE.upload.open).click()]);
    expect(await report.locator('html').getAttribute('lang')).toBe('de');
    await page.getByRole('link', { name: 'English' }).click();
    expect(await page.locator('h1').textContent()).toBe(EN.upload.title);
    await choose(page, { archive: house });
    expect(await sent(page)).toBe(EN.upload.ready);
  });
});

describe('without script', () => {
  const quiet = { javaScriptEnabled: false };

  it('the answer to the form is the report', async () => {
    const { page, complaints } = await opened(quiet);
    expect(await page.locator('.scripted').first().isHidden()).toBe(true);
    await page.locator('#archive').setInputFiles(onDisk(house));
    await page.locator('button[type="submit"]').click();
    await page.waitForURL('**/v1/audits?*');
    expect(await page.locator('h1').textContent()).toContain('Bus power of');
    expect(complaints).toEqual([]);
  });

  it('the answer to what is wrong is a page that says so', async () => {
    const { page, complaints } = await opened({ ...quiet, locale: 'de-AT' });
    await page.locator('#archive').setInputFiles(onDisk(named('list', 'a shopping list')));
    await page.locator('button[type="submit"]').click();
    await page.waitForURL('**/v1/audits?*');
    expect(await page.locator('h1').textContent()).toBe(DE.problems['not-a-zip'].title);
    expect(await page.locator('dd').first().textContent()).toBe(DE.problems['not-a-zip'].remedy);
    expect(complaints).toEqual([
      'Failed to load resource: the server responded with a status of 415 (Unsupported Media Type)',
    ]);
    await page.getByText(DE.upload.problem.back).click();
    expect(await page.locator('h1').textContent()).toBe(DE.upload.title);
  });
});
