import { beforeAll, describe, expect, it } from 'vitest';
import { AUDIT_FORM, COMPARISON_FORM, PLAN_FORM, WHAT_IF_FORM } from '../../src/http/forms.js';
import { bearer, byToken, TOKEN } from '../support/access.js';
import { fixtureParts, zip } from '../support/archives.js';
import { Log } from '../support/log.js';
import { rawZip } from '../support/raw-zip.js';
import {
  compared,
  exchange,
  FORM,
  filesForm,
  form,
  head,
  planned,
  type Server,
  startServer,
  stubRunner,
  upload,
  whatIfOf,
  ZIP,
} from '../support/server.js';

/** A word that is found again, and one behind it that an error text has to have cut off. */
const CANARY = 'canary7f3a';
const TAIL = 'tail9c1d';
const LONG = CANARY + 'x'.repeat(200) + TAIL;

const house = fixtureParts('house');
const xmlNames = Object.keys(house).filter((name) => /\.xml$/i.test(name));
const textOf = (name: string) => String(house[name]);
const distinct = (found: Iterable<RegExpMatchArray>) => [...new Set([...found].map(([, name]) => String(name)))];

interface Planted {
  readonly what: string;
  readonly bytes: () => Buffer | Promise<Buffer>;
}

/** A part of the house, changed. */
function changed(what: string, name: string, change: (text: string) => string | Buffer): Planted {
  return { what: `${name}: ${what}`, bytes: () => zip({ ...house, [name]: change(textOf(name)) }) };
}

/** The word as the value of every attribute there is, and as the name of every element and attribute, one at a time. */
function plantedIn(name: string): Planted[] {
  const attributes = distinct(textOf(name).matchAll(/\s([\w:.-]+)="/g));
  const elements = distinct(textOf(name).matchAll(/<(\w[\w:.-]*)/g));
  return [
    ...attributes.map((attribute) =>
      changed(`value of ${attribute}`, name, (text) =>
        text.replaceAll(new RegExp(`(\\s${attribute}=)"[^"]*"`, 'g'), `$1"${LONG}"`),
      ),
    ),
    ...attributes.map((attribute) =>
      changed(`name of ${attribute}`, name, (text) => text.replaceAll(` ${attribute}="`, ` ${LONG}="`)),
    ),
    ...elements.map((element) =>
      changed(`element ${element}`, name, (text) =>
        text.replaceAll(new RegExp(`(</?)${element}\\b`, 'g'), `$1${LONG}`),
      ),
    ),
    ...elements.map((element) =>
      changed(`end of ${element}`, name, (text) => text.replace(`</${element}>`, `</${LONG}>`)),
    ),
    changed('comment, instruction and foreign element', name, (text) =>
      text.replace(
        /(<KNX[^>]*>)/,
        `$1<!--${LONG}--><?${CANARY} ${LONG}?><f:${CANARY} xmlns:f="urn:${LONG}">${LONG}</f:${CANARY}>`,
      ),
    ),
    changed('encoding', name, (text) => text.replace(/encoding="[^"]*"/i, `encoding="${LONG}"`)),
    changed('document type', name, (text) => text.replace('?>', `?><!DOCTYPE ${LONG} SYSTEM "${LONG}">`)),
    changed('entity', name, (text) => text.replace(/(<KNX[^>]*>)/, `$1&${LONG};`)),
    changed('text without end', name, (text) => `${text.slice(0, text.length / 2)}<${LONG}`),
    changed('text behind the end', name, (text) => text + LONG),
    changed('no XML', name, () => LONG),
    changed('no UTF-8', name, (text) => Buffer.concat([Buffer.from(text + LONG), Buffer.of(0xff)])),
  ];
}

const entries = Object.entries(house).map(([name, data]) => ({ name, data }));

const ARCHIVES: readonly Planted[] = [
  ...xmlNames.flatMap(plantedIn),
  { what: 'part names', bytes: () => zip({ ...house, [`${LONG}.txt`]: LONG, [`P-01D4/${LONG}.xml`]: LONG }) },
  { what: 'a part name twice', bytes: () => rawZip([...entries, { name: `${LONG}.xml` }, { name: `${LONG}.XML` }]) },
  { what: 'a name that climbs', bytes: () => rawZip([...entries, { name: `../${LONG}` }]) },
  { what: 'the comment', bytes: () => rawZip(entries, { comment: Buffer.from(LONG) }) },
  { what: 'behind the end', bytes: () => rawZip(entries, { trailing: Buffer.from(LONG) }) },
  { what: 'a sealed part', bytes: () => rawZip([...entries, { name: `P-0001/${LONG}.xml`, fields: { flags: 1 } }]) },
  { what: 'a sealed project', bytes: () => zip({ 'P-01D4.zip': LONG, [`${LONG}.xml`]: LONG }) },
  { what: 'no project', bytes: () => zip({ [LONG]: LONG }) },
  { what: 'no archive', bytes: () => Buffer.from(LONG) },
];

const KEY = 'a'.repeat(32);

/** Files beside an archive, by field: read and refused, by what reads the text and by what holds it against a shape. */
const DOCUMENTS: readonly (readonly [field: string, text: string])[] = [
  ['policy', `# ${LONG}\ntargetLoad: 0.7`],
  ['policy', `products: [{ orderNumber: ${CANARY}, currentMa: 5, note: ${CANARY} }]`],
  ...['policy', 'oldPolicy', 'newPolicy', 'site', 'waivers'].flatMap((field) =>
    [
      LONG,
      `${LONG}: ${LONG}`,
      `"${LONG}": [${LONG}`,
      `a: !${LONG} ${LONG}`,
      `a: *${LONG}`,
      `a: |${LONG}\n b`,
      `a: &${LONG} 1\nb: *${LONG}\n? ${LONG}\n? ${LONG}`,
      `%${LONG}\n---\n${LONG}`,
      `a: "${LONG}\\q`,
      `a: ${LONG}\n ${LONG}\n- ${LONG}`,
      `a: 1\n...\n${LONG}`,
      `\t${LONG}: |${LONG}`,
      `{"${LONG}": "${LONG}"`,
    ].map((text) => [field, text] as const),
  ),
  ['policy', `targetLoad: ${LONG}\nstock: [{ ratingMa: ${LONG}, kinds: [${LONG}] }]\nseverities: { ${LONG}: off }`],
  ['policy', `growth: [{ line: ${LONG}, ${LONG}: 1 }]\nproducts: [{ id: "${LONG}", kind: ${LONG}, note: "" }]`],
  ['waivers', waiverOf(`reason: ${CANARY}, author: ${CANARY}, expires: 2027-06-30`)],
  ['waivers', waiverOf(`reason: ${LONG}, author: ${LONG}, expires: ${LONG}, accepted: ${LONG}, ${LONG}: 1`)],
  ['products', `productId,currentMa,note,${CANARY}\n${CANARY},5,${CANARY},${CANARY}`],
  ['products', LONG],
  ['products', `${LONG},${LONG}\n${LONG}`],
  ['products', `productId,currentMa,note\n${LONG},${LONG},${LONG},${LONG}\n${LONG}\n*${LONG},1,${LONG}`],
  ['products', `productId,currentMa\n"${LONG}`],
  ['site', `segments: [{ segment: ${CANARY}, measured: { currents: [{ supply: ${CANARY}, current: 5 mA }] } }]`],
  ['site', `segments: [{ segment: "${LONG}", ${LONG}: 1 }]`],
  ['measured', `segmentId,quantity,supplyId,measured,${CANARY}\n${CANARY},current,${CANARY},5,${CANARY}`],
  ['measured', `segmentId,quantity,point,measured\n${CANARY},voltage,${LONG},5\n${LONG},${LONG},,${LONG}`],
  ['products', `productId;currentMa\n${LONG};1\n${LONG};2`],
  ['baseline', LONG],
  ['baseline', `{"${LONG}": "${LONG}"}`],
  ['baseline', `{"reportVersion": 1, "${LONG}": "${LONG}", "findings": ["${LONG}"]}`],
  ['baseline', `{"reportVersion": "${LONG}"}`],
  ['plan', `lines: [{line: "${LONG}", "${LONG}": 1}]`],
  ['plan', `line,count\n${LONG},${LONG}`],
  ['plan', LONG],
  ['changes', `changes: [{line: "${LONG}", add: 1, product: "${LONG}"}]`],
  ['changes', `changes: [{line: "${LONG}", "${LONG}": 1}]`],
  ['changes', LONG],
  ['old', `{"reportVersion": 1, "${LONG}": "${LONG}"}`],
  ['new', LONG],
];

function waiverOf(values: string): string {
  return `waivers: [{ fingerprint: ${KEY}, rule: low-headroom, ${values} }]`;
}

/** Each in a form, for an audit or a comparison, whichever has the field. */
async function sendDocuments({ url }: Server): Promise<void> {
  const archive = await zip(house);
  const headers = { ...FORM, ...HEADERS, ...bearer(TOKEN.auditor) };
  for (const [field, text] of DOCUMENTS) {
    for (const data of [Buffer.from(text), Buffer.concat([Buffer.from(text), Buffer.of(0xff)])]) {
      if (field in AUDIT_FORM) await noteAll([upload(url, filesForm({ archive, [field]: data }), headers)]);
      const plan = { plan: '{lines: [{line: "1.1"}]}', [field]: data };
      if (field in PLAN_FORM) await noteAll([planned(url, filesForm(plan), headers)]);
      const both = { old: archive, new: archive, [field]: data };
      if (field in COMPARISON_FORM) await noteAll([compared(url, filesForm(both), headers)]);
      const changed = { archive, changes: 'changes: [{line: "1.1", add: 1, current: 9 mA}]', [field]: data };
      if (field in WHAT_IF_FORM) await noteAll([whatIfOf(url, filesForm(changed), headers)]);
    }
  }
}

/** What an address may ask for, and what it may not. */
async function sendOddQueries({ url }: Server): Promise<void> {
  const archive = await zip(house);
  const allowed = bearer(TOKEN.auditor);
  const ask = (query: string) => upload(url, archive, { ...ZIP, ...allowed }, query);
  await noteAll([
    ask(`?archiveName=${CANARY}&format=annotations`),
    ask(`?archiveName=${LONG}&format=junit`),
    ask(`?archiveName=${LONG}%00`),
    ...['format', 'policy', 'asOf', LONG, `%zz${CANARY}`].map((name) => ask(`?${name}=${LONG}`)),
    ask(`?format=${CANARY}&format=${CANARY}`),
    compared(url, filesForm({}), { ...FORM, ...allowed }, `?${LONG}=${LONG}`),
  ]);
}

const log = new Log();
const statuses: number[] = [];
const details: string[] = [];

/** Notes how it ended and, of a refusal, what is said. What names the part holds it as the archive does. */
function note({ status, body }: { readonly status: number; readonly body: string }): void {
  statuses.push(status);
  if (status < 400) return;
  const { part: _, detail } = JSON.parse(body);
  details.push(detail);
}

async function noteAll(answers: readonly Promise<Response>[]): Promise<void> {
  for (const answer of await Promise.all(answers)) note({ status: answer.status, body: await answer.text() });
}

/** Everything around an archive that a client can choose. */
const HEADERS = {
  'user-agent': CANARY,
  referer: CANARY,
  cookie: CANARY,
  'accept-version': CANARY,
  [`x-${CANARY}`]: CANARY,
};

async function sendOddRequests({ url, port }: Server): Promise<void> {
  const allowed = bearer(TOKEN.auditor);
  const boundary = `B${CANARY}`;
  const formed = (parts: Parameters<typeof form>[0]) => form(parts).toString().replaceAll('--B', `--${boundary}`);
  const multipart = { 'content-type': `multipart/form-data; boundary=${boundary}`, ...HEADERS, ...allowed };
  await noteAll([
    upload(url, formed([{ name: 'archive', filename: CANARY, data: CANARY }]), multipart),
    upload(url, formed([{ name: CANARY, filename: CANARY, data: CANARY }]), multipart),
    upload(url, formed([{ name: CANARY, data: CANARY }]), multipart),
    upload(url, `--${boundary}\r\n${CANARY}\r\n\r\n${CANARY}`, multipart),
    upload(url, CANARY, { 'content-type': `text/${CANARY}`, ...allowed }),
    upload(url, CANARY, { ...ZIP, 'content-encoding': CANARY, ...allowed }),
    upload(url, CANARY, { ...ZIP, accept: `text/${CANARY}`, ...allowed }),
    upload(url, CANARY, { ...ZIP, authorization: `Bearer ${CANARY}` }),
    upload(url, CANARY, { ...ZIP, authorization: `Basic ${CANARY}` }),
    ...[
      `/${CANARY}`,
      `/v1/rules/${CANARY}`,
      `/v1/schemas/${CANARY}?${CANARY}`,
      `/healthz?${CANARY}`,
      `/${CANARY}/%zz`,
    ].map((path) => fetch(`${url}${path}`, { headers: { ...HEADERS, ...allowed } })),
    fetch(`${url}/v1/rules/${LONG}`, { headers: allowed }),
  ]);
  note(await exchange(port, head({ ...ZIP, ...allowed, host: CANARY, 'content-length': CANARY })));
  note(await exchange(port, head({ ...ZIP, ...allowed, 'x-forwarded-for': CANARY, 'content-length': 0 })));
  note(await exchange(port, `${CANARY} /${CANARY} HTTP/1.1\r\n${CANARY}: ${CANARY}\r\n\r\n`));
  note(await exchange(port, `GET /${CANARY} HTTP/${CANARY}\r\n\r\n`));
  note(await exchange(port, head({ [CANARY]: CANARY.repeat(3000) })));
}

beforeAll(async () => {
  const access = byToken({ allowedOrigins: [`https://${CANARY}.example`], trustProxy: ['127.0.0.1'] });
  const server = await startServer({ logger: log.logger, access });
  for (const { bytes } of ARCHIVES) {
    await noteAll([upload(server.url, await bytes(), { ...ZIP, ...HEADERS, ...bearer(TOKEN.auditor) })]);
  }
  await sendDocuments(server);
  await sendOddQueries(server);
  await sendOddRequests(server);
  await server.stop();
}, 120_000);

describe('a word in every place that a client can choose', () => {
  it('was there in archives that are read and in archives that fail, for many reasons', () => {
    const count = (status: number) => statuses.filter((one) => one === status).length;
    expect(statuses.length).toBeGreaterThan(100);
    expect(count(200)).toBeGreaterThan(20);
    expect(count(422)).toBeGreaterThan(50);
    for (const status of [400, 401, 404, 406, 415, 431]) expect([status, count(status)]).not.toEqual([status, 0]);
    expect(count(500)).toBe(0);
  });

  it('is in no line of the log, at the finest level', () => {
    expect(log.entries.length).toBeGreaterThan(2 * (ARCHIVES.length + DOCUMENTS.length));
    expect(log.text.toLowerCase()).not.toContain(CANARY);
    expect(log.text).not.toContain([...Buffer.from(CANARY)].join()); // bytes, as JSON writes a buffer
    for (const token of Object.values(TOKEN)) expect(log.text).not.toContain(token);
  });

  it('is in an error only quoted and cut to a sane length', () => {
    expect(details.filter((detail) => detail.includes(CANARY)).length).toBeGreaterThan(5);
    expect(details.filter((detail) => detail.includes(TAIL))).toEqual([]);
    for (const detail of details) {
      for (const [quote] of detail.matchAll(new RegExp(`[^"]*${CANARY}[^"]*`, 'g'))) {
        expect(quote.length, detail).toBeLessThanOrEqual(121); // 120 and the sign that more was there
      }
    }
  });
});

describe('a fault of our own that stumbles over the word', () => {
  it.each([
    ['in its message', () => new Error(CANARY)],
    [
      'in a message of several lines, one like a place in code',
      () => new Error(`a\n    at ${CANARY} (/${CANARY}.js:1:2)\nb`),
    ],
    [
      'in what it carries along',
      () => Object.assign(new Error('a fault', { cause: new Error(CANARY) }), { value: CANARY }),
    ],
    ['in place of an error', () => CANARY],
    ['in an object in place of an error', () => ({ message: CANARY, stack: CANARY, code: CANARY })],
  ])('%s is logged by its place alone', async (_what, fault) => {
    const faults = new Log();
    const server = await startServer({ audits: stubRunner(() => Promise.reject(fault())), logger: faults.logger });
    const answer = await upload(server.url, 'abc');
    await server.stop();
    expect(answer.status).toBe(500);
    expect(await answer.text()).not.toContain(CANARY);
    const reqId = answer.headers.get('request-id');
    expect(faults.entries).toContainEqual(expect.objectContaining({ reqId, level: 50, msg: 'a fault of our own' }));
    expect(faults.text).not.toContain(CANARY);
  });
});
