import fc from 'fast-check';
import JSZip from 'jszip';
import { expect, test } from 'vitest';
import { Archive } from '../../src/archive/archive.js';
import { audit } from '../../src/audit.js';
import { InputError } from '../../src/errors.js';
import { DEFAULT_LIMITS } from '../../src/limits.js';
import type { Report } from '../../src/report/report.js';
import { contentOf, fixtureArchive, fixtureParts } from '../support/archives.js';
import { rawZip } from '../support/raw-zip.js';

const FIXTURES = ['house', 'school', 'twin-old', 'twin-new', 'repeaters'];

/** A report without the two figures that tell how its archive was packed. */
function unpacked({ archive: { sha256, bytes, ...archive }, ...report }: Report) {
  expect(sha256).toMatch(/^[0-9a-f]{64}$/);
  expect(bytes).toBeGreaterThan(0);
  return { ...report, archive };
}

const packing = fc.record({
  fixture: fc.constantFrom(...FIXTURES),
  compression: fc.constantFrom('STORE' as const, 'DEFLATE' as const),
  level: fc.integer({ min: 1, max: 9 }),
  streamFiles: fc.boolean(),
  createFolders: fc.boolean(),
  platform: fc.constantFrom('UNIX' as const, 'DOS' as const),
  comment: fc.string({ maxLength: 40 }),
});

test('how a project is packed changes nothing but the size and the digest of the archive', async () => {
  const expected = new Map<string, ReturnType<typeof unpacked>>();
  for (const fixture of FIXTURES) expected.set(fixture, unpacked(await audit(await fixtureArchive(fixture))));
  await fc.assert(
    fc.asyncProperty(packing, async ({ fixture, level, createFolders, ...options }) => {
      const archive = new JSZip();
      for (const [name, data] of Object.entries(fixtureParts(fixture))) archive.file(name, data, { createFolders });
      const file = await archive.generateAsync({ type: 'nodebuffer', compressionOptions: { level }, ...options });
      expect(unpacked(await audit(file))).toEqual(expected.get(fixture));
    }),
    { numRuns: 25 },
  );
});

test('no change of a single bit changes what is read, unless the archive is refused', async () => {
  const parts = { 'P-0001/0.xml': 'some text, some text, some text', b: 'more' };
  const file = rawZip(Object.entries(parts).map(([name, data], index) => ({ name, data, descriptor: index === 0 })));
  expect(await read(file)).toEqual(parts);
  let refused = 0;
  for (let bit = 0; bit < file.length * 8; bit++) {
    const changed = Buffer.from(file);
    changed.writeUInt8(changed.readUInt8(bit >> 3) ^ (1 << (bit & 7)), bit >> 3);
    const found = await read(changed);
    if (found === 'refused') refused++;
    else expect({ bit, found }).toEqual({ bit, found: parts });
  }
  expect(refused).toBeGreaterThan(file.length * 4); // most of them are seen
});

/** Every part's text, or that the archive or a part of it was refused. */
async function read(file: Buffer): Promise<Record<string, string> | 'refused'> {
  try {
    const archive = Archive.open(file, DEFAULT_LIMITS);
    const found: Record<string, string> = {};
    for (const part of archive.parts) found[part.name] = (await contentOf(archive, part)).toString();
    return found;
  } catch (error) {
    if (error instanceof InputError) return 'refused';
    throw error;
  }
}
