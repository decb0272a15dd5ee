import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { audit } from '../../src/audit.js';
import { fixtureArchive, fixtureParts, zip } from '../support/archives.js';
import { needsPython } from '../support/python.js';
import { plantParts } from '../support/random-plants.js';
import { type ArchiveRead, readByAudit, readByPython } from '../support/second-reader.js';
import { encoded } from '../support/xml.js';

/** The audit against a second reading of the same archives; see {@link readByPython}. */
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
      expect({ fixture: FIXTURES[index], ...readByAudit(file, await audit(file)) }).toEqual({
        fixture: FIXTURES[index],
        ...byPython[index],
      });
    }
    expect(byPython.map((read) => 'devices' in read && read.devices)).toEqual([19, 173, 35, 35, 51]); // as fixtures/README.md counts them
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
  const byPython = readByPython(files);
  const seen = { participants: 0, undeclared: 0, supplies: 0, unrated: 0, reaching: 0 };
  for (const [index, file] of files.entries()) {
    const [parts, expected] = [plants[index], byPython[index] as ArchiveRead];
    expect({ seed, parts, ...readByAudit(file, await audit(file)) }).toEqual({ seed, parts, ...expected });
    count(expected, seen);
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
