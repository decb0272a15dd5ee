import { crc32, deflateRawSync } from 'node:zlib';
import { repeated } from '../../support/bombs.js';
import { extraField, FULL32, type RawEntry, rawZip, uint16s, uint64s } from '../../support/raw-zip.js';
import { knx, NAMESPACE } from '../../support/xml.js';
import type { Group } from '../cases.js';
import { bad, fine, slow } from '../cases.js';
import { and, archive, balance, changed, HARDWARE, MASTER, SOUND, TOPOLOGY } from '../plant.js';

const MIB = 1024 * 1024;
const TEN_GIB = 10 * 1024;
const BEGINNING = `<KNX xmlns="${NAMESPACE}">`;

/** A part of ten gigabytes, in whatever size it declares. */
const zeros = (bytes: number) => ({ packed: repeated('\0', TEN_GIB), fields: { bytes } });
const text = (bytes: number) => ({ packed: repeated(' ', TEN_GIB, BEGINNING), fields: { bytes } });
const wide = {
  packed: repeated('\0', TEN_GIB),
  fields: { bytes: FULL32, extra: extraField(1, uint64s(TEN_GIB * MIB)) },
};

/** A folder of entries. */
const many = (count: number): RawEntry[] =>
  Array.from({ length: count }, (_, index) => ({ name: `x/${index}`, stored: true }));

/** Product parts of a size each, with noise in them so that none is over the limit of the ratio. */
function productParts(count: number, mebibytes: number): RawEntry[] {
  const noise = Buffer.from(Array.from({ length: 60_000 }, (_, index) => 97 + (((index * index * 7919) >> 5) % 26)));
  const data = Buffer.concat([
    Buffer.from(BEGINNING),
    noise,
    Buffer.alloc(mebibytes * MIB, ' '),
    Buffer.from('</KNX>'),
  ]);
  const [packed, crc] = [deflateRawSync(data), crc32(data)];
  return Array.from({ length: count }, (_, index) => ({
    name: `M-${(index + 256).toString(16).padStart(4, '0')}/Hardware.xml`,
    packed,
    fields: { bytes: data.length, crc },
  }));
}

/** Entries that each quote the header of the next one as stored data, down to a kernel that all of them share. */
function sharedKernel(): Buffer {
  const kernel: RawEntry = { name: 'k', data: Buffer.alloc(MIB) };
  const whole = rawZip([kernel]);
  const header = whole.subarray(0, whole.indexOf('PK\u0001\u0002'));
  const quote = Buffer.concat([Buffer.from([0]), uint16s(31, 0xffff - 31), header.subarray(0, 31)]);
  const outer: RawEntry = {
    name: 'a',
    packed: Buffer.concat([quote, header.subarray(31)]),
    fields: { bytes: MIB + 31 },
  };
  return rawZip([outer, { ...kernel, central: { offset: 31 + 5 } }]);
}

/** An archive in an archive, and so on. */
function nested(levels: number): Buffer {
  let inner = archive();
  for (let level = 0; level < levels; level++) inner = rawZip([{ name: 'inner.zip', data: inner }]);
  return inner;
}

export const BOMBS: Group = {
  name: 'bombs and counts',
  cases: [
    bad('10 GiB of zeros, declared so', 413, 'limit-exceeded', () => changed(wide), TOPOLOGY),
    bad('10 GiB of text, declared as a megabyte', 422, 'size-mismatch', () => changed(text(MIB)), TOPOLOGY),
    bad('10 GiB of zeros, declared as nothing', 422, 'size-mismatch', () => changed(zeros(0)), TOPOLOGY),
    bad(
      '10 GiB of zeros, declared at the limit',
      422,
      'unreadable-encoding',
      () => changed(zeros(512 * MIB)),
      TOPOLOGY,
    ),
    slow(bad('10 GiB of text, declared as 400 MiB', 422, 'size-mismatch', () => changed(text(400 * MIB)), TOPOLOGY)),
    slow(
      bad(
        '10 GiB of text in product data, declared at the limit',
        422,
        'size-mismatch',
        () => changed(text(64 * MIB), HARDWARE),
        HARDWARE,
      ),
    ),
    bad(
      '10 GiB of text in product data, declared a byte over the limit',
      413,
      'limit-exceeded',
      () => changed(text(64 * MIB + 1), HARDWARE),
      HARDWARE,
    ),
    bad('10 GiB of zeros in the master data', 413, 'limit-exceeded', () => and({ name: MASTER, ...wide }), MASTER),
    fine('10 GiB of zeros where nobody reads', () => and({ name: 'manual.pdf', ...zeros(MIB) }), balance, SOUND),
    bad('a ratio over its limit', 413, 'limit-exceeded', () => changed({ data: knx(' '.repeat(4 * MIB)) }), TOPOLOGY),
    bad(
      '17 GiB declared where nobody reads',
      413,
      'limit-exceeded',
      () =>
        and({
          name: 'manual.pdf',
          packed: Buffer.alloc(9),
          fields: { bytes: FULL32, extra: extraField(1, uint64s(17 * 1024 * MIB)) },
        }),
      'manual.pdf',
    ),
    slow(
      bad(
        'parts that are too large together',
        413,
        'limit-exceeded',
        () => and(...productParts(18, 60)),
        'M-0111/Hardware.xml',
      ),
    ),
    bad('entries that share one kernel of data', 422, 'entries-overlap', sharedKernel, 'k'),
    bad('20,001 entries', 413, 'limit-exceeded', () => rawZip(many(20_001))),
    fine('20,000 entries', () => and(...many(19_998)), balance, SOUND),
    bad('60,000 entries where 2 are announced', 422, 'directory-contradictory', () =>
      rawZip(many(60_000), { end: { entries: 2, entriesHere: 2 } }),
    ),
    bad('an archive in an archive, ten times', 422, 'no-project', () => nested(10)),
    fine('an archive beside the project', () => archive({ 'copy.zip': nested(3) }), balance, SOUND),
    bad(
      'an archive where a protected project stands',
      422,
      'protected-project',
      () => archive({ 'P-0001.zip': nested(0) }),
      'P-0001.zip',
    ),
  ],
};
