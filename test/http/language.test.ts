import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { audit, auditPlan } from '../../src/audit.js';
import { dayOf } from '../../src/policy/day.js';
import { reportRule } from '../../src/report/build.js';
import { FORMAT_NAMES, FORMATS, isForPeople } from '../../src/report/format/index.js';
import { RULES, rulesIn } from '../../src/rules/index.js';
import { DE } from '../../src/words/de/words.js';
import { EN } from '../../src/words/en/words.js';
import { bearer, byToken, TOKEN } from '../support/access.js';
import { fixtureArchive } from '../support/archives.js';
import { planned, poolOf, type Server, shared, startServer, untilReady, upload, ZIP } from '../support/server.js';

const pool = poolOf({ auditThreads: 1 });
let server: Server;
let archive: Buffer;

beforeAll(async () => {
  await untilReady(pool);
  server = await startServer({ audits: shared(pool) });
  archive = await fixtureArchive('house');
});

afterAll(async () => {
  await server.stop();
  await pool.close();
});

const audited = (headers: Record<string, string>) => upload(server.url, archive, { ...ZIP, ...headers });
const language = ({ headers }: Response) => headers.get('content-language');
const varies = ({ headers }: Response) => headers.get('vary')?.split(/, */) ?? [];

describe('a report', () => {
  it.each([
    ['text', 'text/plain'],
    ['markdown', 'text/markdown'],
  ] as const)('as %s comes in German where that is accepted', async (format, type) => {
    const answer = await audited({ accept: type, 'accept-language': 'de' });
    const report = await audit(archive, { words: DE, asOf: dayOf(new Date()) });
    expect(await answer.text()).toBe(FORMATS[format].format(report, { archive: 'archive', words: DE }));
    expect([language(answer), varies(answer)]).toEqual(['de', ['accept-language']]);
    expect(answer.headers.get('content-type')).toBe(`${type}; charset=utf-8`);
  });

  it.each([
    ['de', 'de'],
    ['de-AT, en;q=0.5', 'de'],
    ['DE', 'de'],
    ['fr, de;q=0.7, en;q=0.3', 'de'],
    ['en, de;q=0.9', 'en'],
    ['en-GB', 'en'],
    ['fr', 'en'],
    ['*', 'en'],
    ['de;q=0', 'en'],
    ['; ,,', 'en'],
    ['', 'en'],
  ])('for "%s" is in %s', async (wanted, given) => {
    const answer = await audited({ accept: 'text/plain', 'accept-language': wanted });
    expect([answer.status, language(answer)]).toEqual([200, given]);
    expect((await answer.text()).includes('Prüfumfang')).toBe(given === 'de');
  });

  it.each(FORMAT_NAMES.filter((name) => !isForPeople(name)))(
    'as %s has the same bytes whatever is accepted',
    async (format) => {
      const ask = (headers: Record<string, string>) =>
        fetch(`${server.url}/v1/audits?format=${format}`, { method: 'POST', body: archive, headers });
      const [english, german] = [await ask(ZIP), await ask({ ...ZIP, 'accept-language': 'de' })];
      expect(await german.arrayBuffer()).toEqual(await english.arrayBuffer());
      expect([language(german), varies(german)]).toEqual([null, []]);
    },
  );

  it('of a plan comes in German too', async () => {
    const plan = 'lines:\n  - { line: "1.1", devices: [{ count: 3 }] }\n';
    const headers = { 'content-type': 'application/yaml', accept: 'text/plain', 'accept-language': 'de' };
    const answer = await planned(server.url, plan, headers);
    const report = await auditPlan({ name: 'plan', text: plan }, { words: DE });
    expect(await answer.text()).toBe(FORMATS.text.format(report, { words: DE }));
    expect(language(answer)).toBe('de');
  });
});

describe('rules', () => {
  it('come in German where that is accepted, and in English otherwise', async () => {
    const rules = (wanted: string) => fetch(`${server.url}/v1/rules`, { headers: { 'accept-language': wanted } });
    const [german, english] = [await rules('de'), await rules('fr')];
    expect(await german.json()).toEqual({ rules: rulesIn(DE).map((rule) => reportRule(rule)) });
    expect(await english.json()).toEqual({ rules: RULES.map((rule) => reportRule(rule)) });
    expect([language(german), language(english)]).toEqual(['de', 'en']);
    for (const answer of [german, english]) expect(varies(answer)).toEqual(['accept-language']);
  });

  it('are explained one by one in German', async () => {
    const headers = { 'accept-language': 'de' };
    const answer = await fetch(`${server.url}/v1/rules/low-headroom`, { headers });
    expect(await answer.json()).toMatchObject({ id: 'low-headroom', title: DE.rules['low-headroom'].title });
    expect([language(answer), varies(answer)]).toEqual(['de', ['accept-language']]);
  });

  it('that there are not are refused in German', async () => {
    const headers = { 'accept-language': 'de' };
    const answer = await fetch(`${server.url}/v1/rules/none`, { headers });
    const detail = 'GET /v1/rules lists the rules there are';
    expect(await answer.json()).toMatchObject({ ...DE.problems['rule-not-known'], status: 404, detail });
    expect([language(answer), varies(answer)]).toEqual(['de', ['accept-language']]);
  });
});

it('a page of another origin is told that the answer varies by both', async () => {
  const open = await startServer({ access: byToken({ allowedOrigins: ['https://portal.example'] }) });
  const headers = { origin: 'https://portal.example', 'accept-language': 'de', ...bearer(TOKEN.auditor) };
  const answer = await fetch(`${open.url}/v1/rules`, { headers });
  expect([language(answer), varies(answer)]).toEqual(['de', ['Origin', 'accept-language']]);
  await open.stop();
});

describe('a problem', () => {
  const nothing = (headers: Record<string, string>, address = '/nothing') =>
    fetch(`${server.url}${address}`, { headers });

  it('says what it is and what to do in German where the address names it, whatever is accepted', async () => {
    const answer = await nothing({ 'accept-language': 'en' }, '/nothing?lang=de');
    expect(await answer.json()).toMatchObject(DE.problems['not-found']);
    expect(language(answer)).toBe('de');
  });

  it('is in English where a language is named that there is not', async () => {
    expect(await (await nothing({}, '/nothing?lang=fr')).json()).toMatchObject(EN.problems['not-found']);
  });

  it.each([
    ['text/html,application/xhtml+xml,application/xml;q=0.9,*/*;q=0.8', 'text/html'],
    ['TEXT/HTML', 'text/html'],
    ['text/html, application/problem+json', 'application/problem+json'],
    ['application/json, text/html', 'application/problem+json'],
    ['text/html-other', 'application/problem+json'],
    ['*/*', 'application/problem+json'],
    ['', 'application/problem+json'],
  ])('for "%s" is %s', async (accept, type) => {
    const answer = await nothing({ accept });
    expect([answer.status, answer.headers.get('content-type')]).toEqual([404, `${type}; charset=utf-8`]);
    const body = await answer.text();
    for (const text of Object.values(EN.problems['not-found'])) expect(body).toContain(text);
  });

  it('as a page shows what comes from outside as text', async () => {
    const name = '<script>alert(1)</script>';
    const answer = await nothing({ accept: 'text/html' }, `/v1/limits/${encodeURIComponent(name)}`);
    expect(await answer.text()).not.toContain('<script');
    const asked = await upload(
      server.url,
      archive,
      { ...ZIP, accept: 'text/html' },
      `?policy=${encodeURIComponent(name)}`,
    );
    const page = await asked.text();
    expect(asked.status).toBe(400);
    expect(page).not.toContain(name);
    expect(page).toContain('&lt;script&gt;alert(1)&lt;/script&gt;');
  });
});

describe('an audit', () => {
  it('comes in the language that the address names, whatever is accepted', async () => {
    const answer = await upload(server.url, archive, { ...ZIP, 'accept-language': 'en' }, '?format=text&lang=de');
    expect([await answer.text(), language(answer)]).toEqual([expect.stringContaining('Prüfumfang'), 'de']);
  });

  it('is refused in a language that there is not', async () => {
    const answer = await upload(server.url, archive, ZIP, '?lang=fr');
    expect([answer.status, await answer.json()]).toEqual([
      400,
      expect.objectContaining({ detail: 'lang takes en, de, not "fr"' }),
    ]);
  });
});
