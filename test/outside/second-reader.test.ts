import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readDirectory } from '../../src/archive/directory.js';
import { audit } from '../../src/audit.js';
import { DEFAULT_LIMITS } from '../../src/limits.js';
import type { ReportDevice, ReportSegment } from '../../src/report/report.js';
import { fixtureArchive, fixtureParts, zip } from '../support/archives.js';
import { needsPython, python } from '../support/python.js';
import { plantParts } from '../support/random-plants.js';
import { encoded } from '../support/xml.js';

/**
 * The audit against a second reading of the same archives, written from the description of the interchange form alone
 * and sharing no code with this service. Its sources are those of the Python standard library: zipfile and expat.
 */
const READER = fileURLToPath(new URL('independent_reader.py', import.meta.url));

interface Drawing {
  readonly id: string;
  readonly address: string | null;
  readonly product: string | null;
  /** Null where the current is not declared. */
  readonly currentUa: number | null;
}

/** What both readers can say of a segment on twisted pair. */
interface SegmentRead {
  readonly id: string;
  readonly line: string;
  readonly number: number;
  readonly participants: readonly Drawing[];
  readonly supplies: readonly { readonly id: string; readonly ratingUa: number | null }[];
  /** Couplers from below and bridges. */
  readonly reaching: readonly Drawing[];
}

interface ArchiveRead {
  readonly entries: readonly { readonly name: string; readonly size: number; readonly crc32: number }[];
  readonly devices: number;
  readonly unassigned: number;
  readonly segments: readonly SegmentRead[];
}

interface PythonResult {
  readonly refused?: string;
  readonly entries: ArchiveRead['entries'];
  readonly installations: readonly {
    readonly deviceCount: number;
    readonly unassigned: readonly string[];
    readonly segments: readonly (SegmentRead & { readonly medium: string | null })[];
  }[];
}

/** What the independent reader says of some archives. */
function readByPython(files: readonly Buffer[]): ArchiveRead[] {
  const folder = mkdtempSync(join(tmpdir(), 'second-reader-'));
  try {
    const paths = files.map((file, index) => {
      const path = join(folder, `${index}.zip`);
      writeFileSync(path, file);
      return path;
    });
    const output = JSON.parse(python(READER, ...paths).toString()) as PythonResult | PythonResult[];
    return [output].flat().map(ofPython);
  } finally {
    rmSync(folder, { recursive: true });
  }
}

function ofPython({ refused, entries, installations }: PythonResult): ArchiveRead {
  if (refused !== undefined) throw new Error(`refused by the independent reader: ${refused}`);
  return {
    entries,
    devices: installations.reduce((sum, { deviceCount }) => sum + deviceCount, 0),
    unassigned: installations.reduce((sum, { unassigned }) => sum + unassigned.length, 0),
    segments: installations.flatMap(({ segments }) =>
      segments.filter(({ medium }) => medium === null || medium === 'MT-0').map(({ medium, ...segment }) => segment),
    ),
  };
}

/** The same out of the directory of the archive and the report of the audit. */
async function readByAudit(file: Buffer): Promise<ArchiveRead> {
  const { segments, summary } = await audit(file);
  return {
    entries: readDirectory(file, DEFAULT_LIMITS)
      .filter(({ isDirectory }) => !isDirectory)
      .map(({ name, bytes, crc32 }) => ({ name, size: bytes, crc32 })),
    devices: summary.devicesPlaced + summary.devicesUnplaced,
    unassigned: summary.devicesUnplaced,
    segments: segments.filter(({ medium }) => medium.id === 'MT-0').map(ofReport),
  };
}

const toUa = (ma: number | null) => (ma === null ? null : Math.round(ma * 1000));

function ofReport({ id, line, number, devices, supply }: ReportSegment): SegmentRead {
  const drawing = ({ currentMa, origin, ...device }: ReportDevice): Drawing => ({
    id: device.id,
    address: device.address,
    product: device.productId,
    currentUa: origin === 'declared' ? toUa(currentMa) : null,
  });
  return {
    id,
    line,
    number,
    participants: devices.filter(({ chargedAs }) => chargedAs === 'participant').map(drawing),
    supplies: supply.units.map((unit) => ({ id: unit.id, ratingUa: toUa(unit.ratedMa) })),
    reaching: devices
      .filter(({ chargedAs }) => chargedAs === 'coupler from below' || chargedAs === 'bridge')
      .map(drawing),
  };
}

const FIXTURES = ['house', 'school', 'twin-old', 'twin-new', 'repeaters'];

const isXml = (name: string) => name.endsWith('.xml');

const VARIATIONS: Readonly<Record<string, (fixture: string) => Promise<Buffer>>> = {
  'as it is': fixtureArchive,
  'under a prefix': (fixture) =>
    rewritten(fixture, (name, data) => [name, isXml(name) ? prefixed(data.toString()) : data]),
  'in UTF-16': (fixture) =>
    rewritten(fixture, (name, data) => [name, isXml(name) ? encoded(inUtf16(data.toString()), 'utf-16le') : data]),
  'in a folder, behind backslashes': (fixture) =>
    rewritten(fixture, (name, data) => [`My Export\\${name.replaceAll('/', '\\').toUpperCase()}`, data]),
};

function rewritten(
  fixture: string,
  change: (name: string, data: Buffer) => readonly [string, string | Uint8Array],
): Promise<Buffer> {
  return zip(Object.fromEntries(Object.entries(fixtureParts(fixture)).map(([name, data]) => change(name, data))));
}

function prefixed(document: string): string {
  return document.replace('xmlns=', 'xmlns:k=').replace(/<(\/?)(?=[A-Z])/g, '<$1k:');
}

function inUtf16(document: string): string {
  return document.replace(/^\ufeff/, '').replace(/(<\?xml[^>]*encoding=")[^"]*/, '$1UTF-16');
}

describe.each(Object.entries(VARIATIONS))('the fixtures, %s', (_name, archiveOf) => {
  test('are read alike', async (context) => {
    needsPython(context);
    const files = await Promise.all(FIXTURES.map(archiveOf));
    const byPython = readByPython(files);
    for (const [index, file] of files.entries()) {
      expect({ fixture: FIXTURES[index], ...(await readByAudit(file)) }).toEqual({
        fixture: FIXTURES[index],
        ...byPython[index],
      });
    }
    expect(byPython.map(({ devices }) => devices)).toEqual([19, 173, 35, 35, 51]); // as fixtures/README.md counts them
  });
});

test('one archive alone is read like one of several', async (context) => {
  needsPython(context);
  const file = await fixtureArchive('house');
  expect(readByPython([file])).toEqual(readByPython([file, file]).slice(1));
});

test('random plants are read alike', async (context) => {
  needsPython(context);
  const seed = Math.floor(Math.random() * 2 ** 31); // shown with what differs
  const plants = fc.sample(plantParts, { seed, numRuns: 180 });
  const files = await Promise.all(plants.map((parts) => zip(parts)));
  const byPython = readByPython(files); // all at once: starting python costs more than reading them
  const seen = { participants: 0, undeclared: 0, supplies: 0, unrated: 0, reaching: 0 };
  for (const [index, file] of files.entries()) {
    const [parts, expected] = [plants[index], byPython[index] as ArchiveRead];
    count(expected, seen);
    expect({ seed, parts, ...(await readByAudit(file)) }).toEqual({ seed, parts, ...expected });
  }
  for (const [what, times] of Object.entries(seen)) expect([what, times > 25]).toEqual([what, true]);
});

/** What the random plants held, lest they come out so bare that nothing is compared. */
function count({ segments }: ArchiveRead, seen: Record<string, number>): void {
  const add = (what: string, times: number) => {
    seen[what] = (seen[what] ?? 0) + times;
  };
  for (const { participants, supplies, reaching } of segments) {
    add('participants', participants.length);
    add('undeclared', participants.filter(({ currentUa }) => currentUa === null).length);
    add('supplies', supplies.length);
    add('unrated', supplies.filter(({ ratingUa }) => ratingUa === null).length);
    add('reaching', reaching.length);
  }
}
