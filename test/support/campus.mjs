// @ts-check
import { createHash } from 'node:crypto';
import { createWriteStream, existsSync, mkdirSync, readdirSync, readFileSync, renameSync } from 'node:fs';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { fileURLToPath } from 'node:url';
import JSZip from 'jszip';
import { document, hardware, information, masterData, program } from './campus/documents.mjs';
import { Catalogue, MAKERS } from './campus/products.mjs';
import { InstallationWriter } from './campus/topology.mjs';

/**
 * What a generated archive is like; see {@link CAMPUS} and {@link SMALL}.
 * @typedef {object} CampusOptions
 * @property {number} schema
 * @property {number} areas
 * @property {number} linesPerArea beside the main line
 * @property {number} devicesPerLine on average
 * @property {number} bulk factor on what a device has of parameters and communication objects
 * @property {number} makers
 * @property {number} hardwareShare factor on the length of the makers' hardware documents
 * @property {number} masterBytes
 * @property {number} programBytes of all application programs together
 */

/** 15 areas of 15 lines, about 14,000 devices, a topology document of about 100 MB. @type {CampusOptions} */
export const CAMPUS = {
  schema: 21,
  areas: 15,
  linesPerArea: 15,
  devicesPerLine: 62,
  bulk: 1,
  makers: MAKERS.length,
  hardwareShare: 1,
  masterBytes: 1_500_000,
  programBytes: 12_000_000,
};

/** A small building as it is exported: 60 devices beside as much master data and programs as the campus. */
export const SMALL = { ...CAMPUS, areas: 1, linesPerArea: 1, devicesPerLine: 60, makers: 3 };

const PROJECT = 'P-0CA4';
const CACHE = fileURLToPath(new URL('../../.tmp/', import.meta.url));
const SOURCES = fileURLToPath(new URL('./campus/', import.meta.url));
const DATE = new Date('2026-01-01T00:00:00Z');
const PIECE = 64 * 1024;

/**
 * The file of a generated archive. It is made once per options and state of the generator, and kept in `.tmp/`.
 * @param {CampusOptions} options
 * @returns {Promise<string>} its path
 */
export async function campusFile(options) {
  const path = join(CACHE, `campus-${keyOf(options)}.zip`);
  if (existsSync(path)) return path;
  mkdirSync(CACHE, { recursive: true });
  const unfinished = `${path}.${process.pid}`;
  const stream = campusZip(options).generateNodeStream({
    compression: 'DEFLATE',
    compressionOptions: { level: 6 },
    platform: 'UNIX',
  });
  await pipeline(stream, createWriteStream(unfinished));
  renameSync(unfinished, path);
  return path;
}

/** @param {CampusOptions} options */
function keyOf(options) {
  const hash = createHash('sha256').update(JSON.stringify(options));
  hash.update(readFileSync(fileURLToPath(import.meta.url)));
  for (const name of readdirSync(SOURCES).sort()) hash.update(readFileSync(join(SOURCES, name)));
  return hash.digest('hex').slice(0, 16);
}

/** @param {CampusOptions} options */
function campusZip(options) {
  const { schema, bulk, masterBytes, programBytes, hardwareShare } = options;
  const makers = MAKERS.slice(0, options.makers).map((maker) => ({
    ...maker,
    hardwareBytes: maker.hardwareBytes * hardwareShare,
  }));
  const catalogue = new Catalogue(makers, bulk);
  const zip = new JSZip();
  const add = (/** @type {string} */ name, /** @type {Iterable<string>} */ body) => {
    zip.file(name, Readable.from(pieces(document(schema, body))), { date: DATE, createFolders: false });
  };
  add('knx_master.xml', masterData(makers, masterBytes));
  for (const maker of makers) {
    const products = catalogue.all.filter((product) => product.maker === maker);
    add(`${maker.id}/Hardware.xml`, hardware(maker, products));
    const programmed = products.filter(({ kind }) => !kind.unaddressed);
    const share = programBytes / makers.length / programmed.length;
    for (const product of programmed) add(`${maker.id}/${product.programId}.xml`, program(product, share));
  }
  add(`${PROJECT}/project.xml`, information(PROJECT));
  add(`${PROJECT}/0.xml`, new InstallationWriter(PROJECT, catalogue, options).write());
  return zip;
}

/**
 * Text as bytes, in pieces of a size that streams well.
 * @param {Iterable<string>} texts
 */
function* pieces(texts) {
  let piece = '';
  for (const text of texts) {
    piece += text;
    if (piece.length < PIECE) continue;
    yield Buffer.from(piece);
    piece = '';
  }
  yield Buffer.from(piece);
}
