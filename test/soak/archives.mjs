// @ts-check
import { readFileSync } from 'node:fs';
import JSZip from 'jszip';
import { CAMPUS, campusFile, SMALL } from '../support/campus.mjs';
import { fixtureParts } from '../support/fixture-parts.mjs';

const dist = (/** @type {string} */ name) => import(new URL(`../../dist/${name}`, import.meta.url).href);
/** @type {typeof import('../../src/audit.js')} */
const { audit } = await dist('audit.js');
/** @type {typeof import('../../src/errors.js')} */
const { INPUT_FAULTS } = await dist('errors.js');
/** @type {typeof import('../../src/report/format/index.js')} */
const { FORMATS } = await dist('report/format/index.js');

/**
 * What is uploaded, and what has to come back.
 *
 * @typedef {object} Good
 * @property {string} name
 * @property {Buffer} bytes
 * @property {Record<'json' | 'text', string>} reports
 *
 * @typedef {object} Bad
 * @property {string} name
 * @property {Buffer} bytes
 * @property {number} status
 * @property {string} code
 */

const TOPOLOGY = 'P-01D4/0.xml';
const HARDWARE = 'M-F0A1/Hardware.xml';
const house = fixtureParts('house');
const topology = String(house[TOPOLOGY]);

/**
 * @param {Record<string, string | Buffer>} parts
 * @param {'STORE' | 'DEFLATE'} compression
 */
function zip(parts, compression = 'DEFLATE') {
  const archive = new JSZip();
  for (const [name, data] of Object.entries(parts)) archive.file(name, data, { createFolders: false });
  return archive.generateAsync({ type: 'nodebuffer', compression });
}

/** Small archives that are audited, with their reports as this process makes them. */
export async function smallArchives() {
  const names = ['house', 'school', 'twin-old', 'twin-new', 'repeaters'];
  return Promise.all(names.map(async (name) => withReports(name, await zip(fixtureParts(name)))));
}

/** A building of 60 devices under a mass of programs, and a campus. */
export async function largeArchives() {
  const [building, campus] = [await campusFile(SMALL), await campusFile(CAMPUS)];
  return {
    building: await withReports('building', readFileSync(building)),
    campus: await withReports('campus', readFileSync(campus)),
  };
}

/**
 * @param {string} name
 * @param {Buffer} bytes
 * @returns {Promise<Good>}
 */
async function withReports(name, bytes) {
  const report = await audit(bytes);
  const { json, text } = FORMATS;
  return { name, bytes, reports: { json: json.format(report), text: text.format(report) } };
}

/** One archive, at least, for nearly every fault there is. @returns {Promise<Bad[]>} */
export async function badArchives() {
  const houseWith = (/** @type {Record<string, string | Buffer>} */ parts) => zip({ ...house, ...parts });
  const whole = await houseWith({});
  const stored = await zip(house, 'STORE');
  const unlike = Buffer.from(stored);
  unlike.write('X', stored.indexOf('Puid="1"') + 6); // an attribute that nobody reads: only the checksum tells
  return Promise.all([
    bad('not-a-zip', Buffer.from('a shopping list')),
    bad('not-a-zip', Buffer.alloc(0)),
    bad('archive-cut-off', whole.subarray(0, whole.length / 2)),
    bad('checksum-mismatch', unlike),
    bad('no-project', zip({ 'letter.txt': 'Dear planner' })),
    bad('protected-project', zip({ 'P-01D4.zip': 'sealed' })),
    bad('ambiguous-part', houseWith({ [TOPOLOGY.toLowerCase()]: topology })),
    bad('malformed-xml', houseWith({ [TOPOLOGY]: topology.slice(0, -20) })),
    bad('wrong-namespace', houseWith({ [TOPOLOGY]: topology.replace('http://knx.org', 'http://example.org') })),
    bad(
      'unreadable-encoding',
      houseWith({ [TOPOLOGY]: Buffer.from(topology.replace('<KNX', '<!--é--><KNX'), 'latin1') }),
    ),
    bad('invalid-value', houseWith({ [HARDWARE]: String(house[HARDWARE]).replace('IsCoupler="0"', 'IsCoupler="x"') })),
    bad('no-segments', houseWith({ [TOPOLOGY]: topology.replace(/<Topology>.*<\/Topology>/s, '') })),
  ]);
}

/**
 * @param {keyof typeof INPUT_FAULTS} code
 * @param {Buffer | Promise<Buffer>} bytes
 * @returns {Promise<Bad>}
 */
async function bad(code, bytes) {
  return { name: code, bytes: await bytes, status: INPUT_FAULTS[code].status, code: `urn:linebudget:problem:${code}` };
}
