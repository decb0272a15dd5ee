import { crc32, deflateRawSync } from 'node:zlib';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { normalisedPath } from '../../src/archive/names.js';
import type { InputFault } from '../../src/errors.js';
import { needsPython, python } from '../support/python.js';
import { descriptor, extraField, type RawEntry, type RawZipOptions, rawZip, uint32s } from '../support/raw-zip.js';
import { readByPython, readHere } from '../support/zip-reader.js';

/**
 * The archive layer against Python's zipfile on the same bytes: what is accepted here is read alike there, name by name
 * and byte by byte. Python accepts more; every reason for which an archive is refused here that Python reads is listed.
 */
const STRICTER: Partial<Record<InputFault, string>> = {
  'not-a-zip': 'Python passes over what stands before the archive and behind it at once',
  'archive-cut-off': 'Python takes a comment that is cut for a shorter one',
  'archive-split': 'Python does not look at the numbers of volumes',
  'archive-gap': 'Python passes over bytes that belong to nothing; another reader could find an archive in them',
  'ambiguous-directory': 'Python takes the last end record; readers that go by the comment take another',
  'directory-misplaced': 'Python shifts all places by what does not fit',
  'directory-contradictory': 'Python does not look at the number of entries',
  'entry-contradictory': 'Python believes the directory alone; readers of a stream believe the local headers',
  'entries-overlap': 'Python reads bytes twice',
  'unsafe-name': 'Python leaves names to who writes the files',
  'ambiguous-part': 'Python takes the last of two entries of a name',
  'unsupported-packing': 'Python reads more methods',
  'size-mismatch': 'Python is content with less data than is declared',
  'inflate-failed': 'Python takes the end of the data for the end of a stream that is cut, if size and checksum fit',
  'protected-project': 'Python does not look at the flags of strong ciphers and masked headers',
  'limit-exceeded': 'Python has no limits',
};

const name = fc.constantFrom<string | Buffer>(
  ...['a', 'b', 'A', 'P-0001/0.xml', 'P-0001/', 'x\\y', 'Büro/ß.xml', './a', 'a/b', '../a', '/a', 'a//c', ''],
  Buffer.from([0x42, 0x81, 0x72, 0x6f]),
);
const data = fc.constantFrom('', 'x', 'some text, some text, some text', 'PK\u0003\u0004', 'PK\u0005\u0006 and more');
const extra = fc.constantFrom(
  ...[Buffer.alloc(0), Buffer.alloc(3), extraField(0x5455, Buffer.from([1]), uint32s(1)), extraField(0x9999)],
  extraField(0x7075, Buffer.from([1]), uint32s(0), Buffer.from('stale')),
);

/** An entry that tells the truth, written in one of the ways that the format knows. */
const sound = fc
  .record({
    name,
    data,
    stored: fc.boolean(),
    isSaidUtf8: fc.boolean(),
    form: fc.option(fc.record({ signed: fc.boolean(), wide: fc.boolean() })),
    localExtra: extra,
    centralExtra: extra,
    comment: fc.constantFrom('', '', 'a comment'),
  })
  .map(({ name, data, stored, isSaidUtf8, form, localExtra, centralExtra, comment }): RawEntry => {
    const isFolder = typeof name === 'string' && /[/\\]$/.test(name);
    const text = Buffer.from(isFolder ? '' : data);
    const packed = stored ? text : deflateRawSync(text);
    const figures = { crc: crc32(text), packedBytes: packed.length, bytes: text.length };
    const flags = (isSaidUtf8 && typeof name === 'string' ? 0x0800 : 0) | (form ? 0x0008 : 0);
    return {
      name,
      data: text,
      stored,
      fields: { flags },
      local: { extra: localExtra },
      central: { extra: centralExtra, comment: Buffer.from(comment) },
      ...(form ? { descriptor: descriptor(figures, form) } : {}),
    };
  });

const number = fc.constantFrom(0, 1, 2, 8, 9, 12, 31, 0x0800, 0x7fff, 0xffff);
const figure = fc.constantFrom('flags', 'method', 'crc', 'packedBytes', 'bytes');

/** An entry that lies about one figure, to one reader or to both, or that has something in front of it. */
const lying = fc.oneof(
  fc
    .record({ entry: sound, before: data })
    .map(({ entry, before }): RawEntry => ({ ...entry, before: Buffer.from(before) })),
  fc
    .record({
      entry: sound,
      where: fc.constantFrom('fields' as const, 'local' as const, 'central' as const),
      figure,
      value: number,
    })
    .map(({ entry, where, figure, value }): RawEntry => ({ ...entry, [where]: { ...entry[where], [figure]: value } })),
);

const entries = fc.array(fc.oneof({ weight: 6, arbitrary: sound }, { weight: 1, arbitrary: lying }), { maxLength: 4 });

const options = fc.oneof(
  { weight: 6, arbitrary: fc.constant<RawZipOptions>({}) },
  { weight: 2, arbitrary: data.map((comment): RawZipOptions => ({ comment: Buffer.from(comment) })) },
  { weight: 2, arbitrary: fc.constant<RawZipOptions>({ zip64: {} }) },
  { weight: 1, arbitrary: data.map((trailing): RawZipOptions => ({ trailing: Buffer.from(trailing) })) },
  {
    weight: 1,
    arbitrary: fc
      .record({ disk: number, entries: number, directoryBytes: number, directoryOffset: number }, { requiredKeys: [] })
      .map((end): RawZipOptions => ({ end })),
  },
);

const change = fc.record({ at: fc.nat(), drops: fc.constantFrom(0, 1, 1, 4), adds: fc.uint8Array({ maxLength: 2 }) });

/** An archive, most as it was written, some with bytes taken out, put in, or put in the place of others. */
const archive = fc
  .record({
    entries,
    options,
    changes: fc.oneof(
      { weight: 3, arbitrary: fc.constant([]) },
      { weight: 1, arbitrary: fc.array(change, { maxLength: 2 }) },
    ),
  })
  .map(({ entries, options, changes }) => {
    let file = rawZip(entries, options);
    for (const { at, drops, adds } of changes) {
      const from = at % file.length;
      file = Buffer.concat([file.subarray(0, from), adds, file.subarray(from + drops)]);
    }
    return file;
  });

test('random archives, sound and broken, are read as Python reads them, or refused for a reason', async (context) => {
  needsPython(context);
  const seed = Math.floor(Math.random() * 2 ** 31); // shown with what differs
  const files = fc.sample(archive, { seed, numRuns: 800 });
  const byPython = readByPython(files);
  let accepted = 0;
  for (const [index, file] of files.entries()) {
    const here = await readHere(file);
    const there = byPython[index];
    const shown = { seed, file: file.toString('base64') };
    if (typeof here !== 'string') {
      accepted++;
      expect({ ...shown, here }).toEqual({ ...shown, here: there });
    } else if (there !== undefined) {
      expect({ ...shown, here, reason: typeof STRICTER[here] }).toEqual({ ...shown, here, reason: 'string' });
    }
  }
  expect(accepted).toBeGreaterThan(files.length / 10);
  expect(files.length - accepted).toBeGreaterThan(files.length / 10);
});

test('names that are one by the full case folding of Unicode are one name', (context) => {
  needsPython(context);
  const program = `
import json
characters = (chr(code) for code in range(0x110000) if not 0xD800 <= code < 0xE000)
print(json.dumps([[each, each.casefold()] for each in characters if each != each.casefold()]))
`;
  const folded = JSON.parse(python('-c', program).toString()) as [string, string][];
  expect(folded.length).toBeGreaterThan(1000);
  const apart = folded.filter(([character, fold]) => normalisedPath(character) !== normalisedPath(fold));
  expect(apart).toEqual([]);
});
