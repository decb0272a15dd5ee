import type { Case, Group } from '../cases.js';
import { bad, fine } from '../cases.js';
import { and, archive, balance, changed, HARDWARE, packed, SOUND, TOPOLOGY } from '../plant.js';

const UTF8 = 0x0800;
const FULL = {
  disk: 0xffff,
  entries: 0xffff,
  entriesHere: 0xffff,
  directoryBytes: 0xffffffff,
  directoryOffset: 0xffffffff,
};

const flagged = (what: string, flags: number): Case =>
  bad(what, 422, 'protected-project', () => changed({ fields: { flags: UTF8 | flags } }), TOPOLOGY);

const method = (what: string, number: number): Case =>
  bad(what, 422, 'unsupported-packing', () => changed({ fields: { method: number } }), TOPOLOGY);

export const PACKING: Group = {
  name: 'ciphers and packing methods',
  cases: [
    flagged('the usual cipher', 0x0001),
    flagged('a strong cipher', 0x0041),
    flagged('a strong cipher, its flag alone', 0x0040),
    flagged('masked headers', 0x2000),
    flagged('a cipher and a patch', 0x0021),
    bad(
      'a cipher in product data alone',
      422,
      'protected-project',
      () => changed({ fields: { flags: UTF8 | 1 } }, HARDWARE),
      HARDWARE,
    ),
    bad(
      'a cipher where nobody reads',
      422,
      'protected-project',
      () => and({ name: 'manual.pdf', fields: { flags: UTF8 | 1 } }),
      'manual.pdf',
    ),
    bad(
      'a cipher before the data alone',
      422,
      'entry-contradictory',
      () => changed({ local: { flags: UTF8 | 1 } }),
      TOPOLOGY,
    ),
    bad(
      'the method of a cipher',
      422,
      'protected-project',
      () => changed({ fields: { flags: UTF8 | 1, method: 99 } }),
      TOPOLOGY,
    ),
    bad('an encrypted directory', 422, 'protected-project', () =>
      packed({ zip64: { recordBytes: 72n, version: 62 }, end: FULL }),
    ),
    bad(
      'a project in an archive of its own',
      422,
      'protected-project',
      () => archive({ 'P-0001.zip': 'sealed' }),
      'P-0001.zip',
    ),
    bad('a patch', 422, 'unsupported-packing', () => changed({ fields: { flags: UTF8 | 0x20 } }), TOPOLOGY),
    method('shrunk', 1),
    method('imploded', 6),
    method('deflated, 64 KiB back', 9),
    method('packed by bzip2', 12),
    method('packed by LZMA', 14),
    method('packed by Zstandard', 93),
    method('packed by XZ', 95),
    method('a cipher’s method without a cipher', 99),
    method('a method that nobody has', 0xffff),
    bad(
      'a later version of the format',
      422,
      'unsupported-packing',
      () => changed({ central: { version: 64 } }),
      TOPOLOGY,
    ),
    bad(
      'a method that is not read where nobody reads',
      422,
      'unsupported-packing',
      () => and({ name: 'manual.pdf', fields: { method: 12 } }),
      'manual.pdf',
    ),
    fine('stored', () => changed({ stored: true }), balance, SOUND),
  ],
};
