import { crc32, deflateRawSync } from 'node:zlib';
import { describe, expect, test } from 'vitest';
import { Archive } from '../../src/archive/archive.js';
import { audit } from '../../src/audit.js';
import { DEFAULT_LIMITS } from '../../src/limits.js';
import { contentOf, fixtureParts, zip } from '../support/archives.js';
import { repeated } from '../support/bombs.js';
import { extraField, FULL32, type RawEntry, rawZip, uint16s, uint64s } from '../support/raw-zip.js';
import { refusalOf } from '../support/refusal.js';

const MIB = 1024 * 1024;

/** What an audit takes at most of memory beside what it began with; the bomb would fill it many times. */
async function growth(step: () => Promise<unknown>): Promise<number> {
  const before = process.memoryUsage().rss;
  let most = before;
  const watch = setInterval(() => {
    most = Math.max(most, process.memoryUsage().rss);
  }, 5);
  await step();
  clearInterval(watch);
  return Math.max(most, process.memoryUsage().rss) - before;
}

describe('a flat bomb of ten gigabytes', () => {
  const packed = repeated('\0', 10 * 1024);
  const tenGib = { bytes: FULL32, extra: extraField(1, uint64s(10 * 1024 * MIB)) };

  test.each([
    ['declared as it is', 'limit-exceeded', tenGib],
    ['declared as a megabyte', 'size-mismatch', { bytes: MIB }],
    ['declared as nothing', 'size-mismatch', { bytes: 0 }],
  ] as const)('%s is refused before it takes memory', async (_name, code, fields) => {
    const archive = Archive.open(rawZip([{ name: 'a', packed, fields }]), DEFAULT_LIMITS);
    const [part] = archive.parts;
    if (part === undefined) throw new Error('a part was written');
    const taken = await growth(async () => {
      expect(await refusalOf(() => contentOf(archive, part))).toMatchObject({ code, place: { part: 'a' } });
    });
    expect(taken).toBeLessThan(512 * MIB);
  });

  test('is left alone where nobody reads it', async () => {
    const house = Object.entries(fixtureParts('house')).map(([name, data]) => ({ name, data }));
    const bomb: RawEntry = { name: 'M-F0A1/Baggages/manual.pdf', packed, fields: { bytes: MIB } };
    const taken = await growth(() => audit(rawZip([...house, bomb])));
    expect(taken).toBeLessThan(512 * MIB);
  });
});

test('many entries that each are within the limits are bounded together', async () => {
  const data = deflateRawSync(Buffer.alloc(60 * MIB));
  const fields = { bytes: 60 * MIB, crc: crc32(Buffer.alloc(60 * MIB)) };
  const entry = (index: number): RawEntry => ({ name: `${index}.bin`, packed: data, fields });
  const file = rawZip(Array.from({ length: 400 }, (_, index) => entry(index))); // 23 GiB
  expect(await refusalOf(() => Archive.open(file, DEFAULT_LIMITS))).toMatchObject({ code: 'limit-exceeded' });
});

test('entries that share one kernel of data are refused', async () => {
  // The shape of a bomb that does not nest: every local header is quoted, as a stored block, by the entry before it.
  const kernel: RawEntry = { name: 'k', data: Buffer.alloc(MIB) };
  const whole = rawZip([kernel]);
  const header = whole.subarray(0, whole.indexOf('PK\u0001\u0002'));
  const quote = Buffer.concat([Buffer.from([0]), uint16s(31, 0xffff - 31), header.subarray(0, 31)]);
  const packed = Buffer.concat([quote, header.subarray(31)]);
  const outer: RawEntry = { name: 'a', packed, fields: { bytes: MIB + 31 } };
  const file = rawZip([outer, { ...kernel, central: { offset: 31 + 5 } }]);
  expect(await refusalOf(() => Archive.open(file, DEFAULT_LIMITS))).toMatchObject({
    code: 'entries-overlap',
    place: { part: 'k' },
  });
});

test('an entry that holds the archive itself is a part like others', async () => {
  const inner = rawZip([{ name: 'r.zip', data: 'r' }]);
  const parts = { ...fixtureParts('house'), 'r.zip': inner, 'r/r.zip': rawZip([{ name: 'r.zip', data: inner }]) };
  const { archive } = await audit(await zip(parts));
  expect(archive.parts.map(({ name }) => name)).not.toContain('r.zip');
});

test('more entries than announced are not read to their end', async () => {
  const entries = Array.from({ length: 30_000 }, (_, index) => ({ name: `${index}`, stored: true }));
  const file = rawZip(entries, { end: { entries: 20_000, entriesHere: 20_000 } });
  expect(await refusalOf(() => Archive.open(file, DEFAULT_LIMITS))).toMatchObject({
    code: 'directory-contradictory',
    message: 'the directory goes on after the 20000 entries that are announced; export the project again',
  });
});
