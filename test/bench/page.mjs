// @ts-check

import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import { cpus, loadavg, tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { chromium } from 'playwright-core';
import { CAMPUS, campusFile } from '../support/campus.mjs';

const built = (/** @type {string} */ name) => import(new URL(`../../dist/${name}`, import.meta.url).href);
const { audit } = await built('audit.js');
const { formatHtml } = await built('report/format/html.js');

/**
 * `node test/bench/page.mjs [ROUNDS [FILE…]]`: what the page of the campus costs a browser to open, to filter and to sort;
 * of other pages, such as one of an earlier build, where files are given. See README.md here.
 */
const ROUNDS = Number(process.argv[2] ?? 5);
const VIEW = { viewport: { width: 1100, height: 900 } };
const PROGRAM = process.env.CHROMIUM ?? '/usr/bin/chromium';
const IDLE_MS = 1000;

/** What is done to the page, in this order; each is timed until the frame that shows it. */
const ACTIONS = {
  'text, first key': set('text', '1'),
  'text, further keys': set('text', '1.1.'),
  'text, nothing found': set('text', 'no such text anywhere'),
  'text, cleared': set('text', ''),
  'verdict, chosen': set('verdicts', 'insufficient'),
  'verdict, cleared': set('verdicts', ''),
  'sort 271 rows by number': press(6),
  'sort 271 rows by text': press(1),
};

/** @param {string} name @param {string} value */
function set(name, value) {
  return `const field = document.querySelector('[data-filter="${name}"]');
    field.value = ${JSON.stringify(value)};
    field.dispatchEvent(new Event('input', { bubbles: true }));`;
}

/** @param {number} column */
function press(column) {
  return `document.querySelectorAll('#plant .more thead button')[${column}].click();`;
}

const TABLE_IN_VIEW = `document.querySelector('#plant .more').open = true;
  document.querySelector('#plant .more').scrollIntoView();`;

/** A promise of the ms that the code took, with the frame that shows it. @param {string} code */
const untilShown = (code) => `new Promise((done) => {
  const from = performance.now();
  ${code}
  requestAnimationFrame(() => setTimeout(() => done(performance.now() - from)));
})`;

/** @typedef {{ ms: number, cpuMs: number }} Sample by the clock, and of the page’s own thread */

/**
 * @param {import('playwright-core').Browser} browser
 * @param {string} file
 * @returns {Promise<Record<string, Sample>>}
 */
async function measure(browser, file) {
  const page = await (await browser.newContext(VIEW)).newPage();
  const devtools = await page.context().newCDPSession(page);
  await devtools.send('Performance.enable', { timeDomain: 'threadTicks' });
  const worked = async () => {
    const { metrics } = await devtools.send('Performance.getMetrics');
    return (metrics.find(({ name }) => name === 'TaskDuration')?.value ?? 0) * 1000;
  };
  /** @type {Record<string, Sample>} */
  const samples = {};
  const timed = async (/** @type {string} */ name, /** @type {() => Promise<unknown>} */ act) => {
    const before = await worked();
    const ms = Number(await act());
    samples[name] = { ms, cpuMs: (await worked()) - before };
  };
  await timed('open', async () => {
    await page.goto(pathToFileURL(file).href);
    await page.evaluate(untilShown(''));
    return page.evaluate('performance.now()');
  });
  await page.waitForTimeout(IDLE_MS);
  for (const [name, code] of Object.entries(ACTIONS)) {
    if (name.startsWith('sort') && samples['sort 271 rows by number'] === undefined) {
      await page.evaluate(TABLE_IN_VIEW);
      await page.waitForTimeout(IDLE_MS);
    }
    await timed(name, () => page.evaluate(untilShown(code)));
  }
  await page.context().close();
  return samples;
}

/** @param {readonly number[]} values */
function median(values) {
  const sorted = [...values].sort((a, b) => a - b);
  return ((sorted[(sorted.length - 1) >> 1] ?? 0) + (sorted[sorted.length >> 1] ?? 0)) / 2;
}

/** The page of this build, of as many lines and devices as the campus of the benchmark. */
async function campusPage() {
  const archive = await campusFile({ ...CAMPUS, bulk: 0.01, masterBytes: 10_000, programBytes: 10_000 });
  const path = join(tmpdir(), `linebudget-page-${process.pid}.html`);
  writeFileSync(path, await formatHtml(await audit(readFileSync(archive)), { archive: 'campus.zip' }));
  return path;
}

const own = await campusPage();
const files = [...process.argv.slice(3), own];
const browser = await chromium.launch({ executablePath: PROGRAM, args: ['--no-sandbox'] });
/** @type {Record<string, Sample>[][]} */
const rounds = [];
// All in turn, so that a slow minute falls on all of them; the first round is not counted.
for (let round = 0; round <= ROUNDS; round++) {
  /** @type {Record<string, Sample>[]} */
  const samples = [];
  for (const file of files) samples.push(await measure(browser, file));
  if (round > 0) rounds.push(samples);
}
console.log(
  `Chromium ${browser.version()}, ${cpus().length} cores, load ${loadavg()[0]?.toFixed(1)}; ${ROUNDS} rounds`,
);
await browser.close();
files.forEach((file, at) => {
  console.log(`\n${file === own ? 'this build' : file}: ${(readFileSync(file).length / 1e6).toFixed(1)} MB\n`);
  console.log('| median (least–greatest) | ms | CPU ms |\n| --- | ---: | ---: |');
  for (const name of ['open', ...Object.keys(ACTIONS)]) {
    const cells = /** @type {const} */ (['ms', 'cpuMs']).map((kind) => {
      const values = rounds.map((samples) => samples[at]?.[name]?.[kind] ?? 0);
      return `${median(values).toFixed(0)} (${Math.min(...values).toFixed(0)}–${Math.max(...values).toFixed(0)})`;
    });
    console.log(`| ${[name, ...cells].join(' | ')} |`);
  }
});
rmSync(own);
