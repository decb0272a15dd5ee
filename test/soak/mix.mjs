// @ts-check
import { setTimeout as wait } from 'node:timers/promises';
import { badArchives, largeArchives, smallArchives } from './archives.mjs';

/**
 * The mix of requests: each kind sends something and holds the answer against what is due; what is not is thrown.
 *
 * @typedef {import('./archives.mjs').Good} Good
 * @typedef {import('./archives.mjs').Bad} Bad
 * @typedef {import('./client.mjs').Client} Client
 * @typedef {import('./client.mjs').Sent} Sent
 * @typedef {import('./client.mjs').Answer} Answer
 * @typedef {import('../support/campus/random.mjs').Random} Random
 *
 * @typedef {object} Kind
 * @property {string} name
 * @property {number} weight
 * @property {(client: Client, random: Random) => Promise<unknown>} send
 */

const ZIP = { 'content-type': 'application/zip' };
const FORM = { 'content-type': 'multipart/form-data; boundary=B' };
const TEXT = { accept: 'text/plain' };
const BURST = 40;

/**
 * @param {{ large: boolean }} options with the building and the campus
 * @returns {Promise<Kind[]>}
 */
export async function mixOf({ large }) {
  const small = await smallArchives();
  const bad = await badArchives();
  const kinds = [...goodKinds(small), ...badKinds(bad, small), burst(small)];
  if (!large) return kinds;
  const { building, campus } = await largeArchives();
  return [
    ...kinds,
    { name: 'building', weight: 6, send: (client, random) => audited(client, random, building, {}) },
    { name: 'campus', weight: 0.2, send: (client, random) => audited(client, random, campus, {}) },
  ];
}

/** @param {readonly Good[]} small @returns {Kind[]} */
function goodKinds(small) {
  return [
    { name: 'good', weight: 30, send: (client, random) => audited(client, random, random.pick(small), {}) },
    { name: 'good, as text', weight: 8, send: (client, random) => audited(client, random, random.pick(small), TEXT) },
    { name: 'good, slow', weight: 6, send: (client, random) => audited(client, random, random.pick(small), {}, 10) },
    {
      name: 'good, in a form',
      weight: 10,
      send: async (client, random) => {
        const good = random.pick(small);
        const sent = { headers: FORM, body: inForm(good.bytes), kept: random.chance(0.5) };
        requireReport(good, 'json', await answered(client, random, sent));
      },
    },
  ];
}

/** @param {readonly Bad[]} bad @param {readonly Good[]} small @returns {Kind[]} */
function badKinds(bad, small) {
  return [
    {
      name: 'bad',
      weight: 25,
      send: async (client, random) => {
        const one = random.pick(bad);
        const sent = { headers: ZIP, body: one.bytes, kept: random.chance(0.5) };
        requireProblem(one.name, one, await answered(client, random, sent));
      },
    },
    {
      name: 'of no use',
      weight: 5,
      send: async (client) => {
        const headers = { 'content-type': 'image/png' };
        const answer = await client.send({ headers, body: Buffer.from('picture') });
        requireProblem('a picture', { status: 415, code: 'urn:linebudget:problem:unsupported-media-type' }, answer);
      },
    },
    {
      name: 'no HTTP',
      weight: 5,
      send: async (client) => {
        const answer = await client.sendRaw('GARBAGE\r\n\r\n');
        if (!answer.startsWith('HTTP/1.1 400 '))
          throw new Error(`no HTTP: answered ${JSON.stringify(answer.slice(0, 60))}`);
      },
    },
    { name: 'aborted', weight: 5, send: (client, random) => client.abort(random.pick(small).bytes) },
  ];
}

/** More at once than the queue holds: each is audited in the end, after 503 as often as may be. @param {readonly Good[]} small @returns {Kind} */
function burst(small) {
  return {
    name: 'burst',
    weight: 0.5,
    send: (client, random) =>
      Promise.all(Array.from({ length: BURST }, () => audited(client, random, random.pick(small), {}))),
  };
}

/**
 * @param {Client} client
 * @param {Random} random
 * @param {Good} good
 * @param {Record<string, string>} headers
 */
async function audited(client, random, good, headers, pieces = 1) {
  const sent = { headers: { ...ZIP, ...headers }, body: good.bytes, kept: random.chance(0.5), pieces };
  requireReport(good, headers === TEXT ? 'text' : 'json', await answered(client, random, sent));
}

/**
 * The answer, after as many tries as the service asks for.
 * @param {Client} client
 * @param {Random} random
 * @param {Sent} sent
 */
async function answered(client, random, sent) {
  for (;;) {
    const answer = await client.send(sent);
    if (answer.status !== 503) return answer;
    if (!/^\d+$/.test(answer.headers['retry-after'] ?? '')) throw new Error('busy: 503 without Retry-After');
    await wait(random.between(100, 1000)); // sooner than asked for, to keep the queue full
  }
}

/** @param {Good} good @param {'json' | 'text'} format @param {Answer} answer */
function requireReport({ name, reports }, format, { status, body }) {
  if (status !== 200) throw new Error(`${name}: answered ${status} ${body.toString().slice(0, 200)}`);
  if (body.toString() !== reports[format]) throw new Error(`${name}: answered with a report that is not its own`);
}

/** @param {string} name @param {{ status: number, code: string }} due @param {Answer} answer */
function requireProblem(name, due, { status, body }) {
  const code = status >= 400 ? JSON.parse(body.toString()).type : 'no problem';
  if (status !== due.status || code !== due.code)
    throw new Error(`${name}: answered ${status} ${code}, not ${due.status} ${due.code}`);
}

/** @param {Buffer} bytes */
function inForm(bytes) {
  const head = '--B\r\nContent-Disposition: form-data; name="archive"; filename="a"\r\n\r\n';
  return Buffer.concat([Buffer.from(head), bytes, Buffer.from('\r\n--B--\r\n')]);
}
