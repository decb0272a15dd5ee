import { extraField, FULL32, uint64s } from '../../support/raw-zip.js';
import type { Group } from '../cases.js';
import { bad } from '../cases.js';
import { changed, HARDWARE, segment, TOPOLOGY } from '../plant.js';

const { length } = segment();
const stored = (bytes: number) => changed({ stored: true, data: segment(), fields: { bytes } });

export const SIZES: Group = {
  name: 'sizes and checksums that lie',
  cases: [
    bad('a byte more than declared', 422, 'size-mismatch', () => changed({ fields: { bytes: length - 1 } }), TOPOLOGY),
    bad('a byte less than declared', 422, 'size-mismatch', () => changed({ fields: { bytes: length + 1 } }), TOPOLOGY),
    bad('declared as nothing', 422, 'size-mismatch', () => changed({ fields: { bytes: 0 } }), TOPOLOGY),
    bad('declared as 4 GiB', 413, 'limit-exceeded', () => changed({ fields: { bytes: FULL32 - 1 } }), TOPOLOGY),
    bad(
      'declared as 2⁶³ bytes',
      413,
      'limit-exceeded',
      () => changed({ fields: { bytes: FULL32, extra: extraField(1, uint64s(2n ** 63n)) } }),
      TOPOLOGY,
    ),
    bad(
      'a product part declared over its limit',
      413,
      'limit-exceeded',
      () => changed({ fields: { bytes: 65 << 20 } }, HARDWARE),
      HARDWARE,
    ),
    bad('stored, a byte more than declared', 422, 'size-mismatch', () => stored(length - 1), TOPOLOGY),
    bad('stored, a byte less than declared', 422, 'size-mismatch', () => stored(length + 1), TOPOLOGY),
    bad('another checksum', 422, 'checksum-mismatch', () => changed({ fields: { crc: 1 } }), TOPOLOGY),
    bad('no checksum', 422, 'checksum-mismatch', () => changed({ fields: { crc: 0 } }), TOPOLOGY),
    bad(
      'another checksum, stored',
      422,
      'checksum-mismatch',
      () => changed({ stored: true, fields: { crc: 1 } }),
      TOPOLOGY,
    ),
    bad(
      'noise instead of packed data',
      422,
      'inflate-failed',
      () => changed({ packed: Buffer.alloc(500, 0xff) }),
      TOPOLOGY,
    ),
    bad('no packed data', 422, 'inflate-failed', () => changed({ packed: Buffer.alloc(0) }), TOPOLOGY),
    bad(
      'packed data that does not end',
      422,
      'inflate-failed',
      () => changed({ packed: Buffer.from([0, 0, 0, 0xff, 0xff]), data: '' }),
      TOPOLOGY,
    ),
    bad(
      'a reference to before the first byte',
      422,
      'inflate-failed',
      () => changed({ packed: Buffer.from([0x03, 0x02, 0x00]) }),
      TOPOLOGY,
    ),
  ],
};
