import { describe, expect, test } from 'vitest';
import { refusalOf } from '../support/refusal.js';
import { encoded, NAMESPACE, pieces, tell } from '../support/xml.js';

/** Characters of one to four bytes in UTF-8, of two and four in UTF-16. */
const TEXT = 'aä€😀';

const documentIn = (declared: string | undefined, text = TEXT) =>
  `${declared === undefined ? '' : `<?xml version="1.0" encoding="${declared}"?>`}<KNX xmlns="${NAMESPACE}" x="${text}"/>`;

/** The bytes of a UTF-8 document in whose attribute some bytes stand. */
const around = (...bytes: readonly number[]) =>
  Buffer.concat([Buffer.from(`<KNX xmlns="${NAMESPACE}" x="`), Buffer.from(bytes), Buffer.from('"/>')]);

const attributeOf = async (bytes: Uint8Array | Iterable<Uint8Array>) => (await tell(bytes)).events[0]?.[1].x;

const READABLE = [
  ['UTF-8', 'utf-8', false, undefined],
  ['UTF-8, declared', 'utf-8', false, 'UTF-8'],
  ['UTF-8, declared in small letters', 'utf-8', false, 'utf-8'],
  ['UTF-8 with a byte order mark', 'utf-8', true, undefined],
  ['UTF-8 with a byte order mark, declared', 'utf-8', true, 'UTF-8'],
  ['UTF-16, little-endian', 'utf-16le', true, undefined],
  ['UTF-16, little-endian, declared', 'utf-16le', true, 'UTF-16'],
  ['UTF-16, little-endian, declared as such', 'utf-16le', true, 'UTF-16LE'],
  ['UTF-16, big-endian', 'utf-16be', true, undefined],
  ['UTF-16, big-endian, declared', 'utf-16be', true, 'utf-16'],
  ['UTF-16, big-endian, declared as such', 'utf-16be', true, 'UTF-16BE'],
] as const;

describe('encodings that are read', () => {
  test.each(READABLE)('%s', async (_name, encoding, withMark, declared) => {
    expect(await attributeOf(encoded(documentIn(declared), encoding, withMark))).toBe(TEXT);
  });

  test.each(READABLE)('%s, cut in two at every byte', async (_name, encoding, withMark, declared) => {
    const bytes = encoded(documentIn(declared), encoding, withMark);
    for (let at = 0; at <= bytes.length; at++) {
      expect({ at, value: await attributeOf([bytes.subarray(0, at), bytes.subarray(at)]) }).toEqual({
        at,
        value: TEXT,
      });
    }
  });

  test.each(READABLE)('%s, in pieces of one, two and three bytes', async (_name, encoding, withMark, declared) => {
    const bytes = encoded(documentIn(declared), encoding, withMark);
    for (const size of [1, 2, 3]) expect(await attributeOf(pieces(bytes, size))).toBe(TEXT);
  });
});

const unreadable = async (bytes: Uint8Array) => {
  for (const size of [bytes.length, 1]) {
    expect(await refusalOf(() => tell(pieces(bytes, size)))).toMatchObject({
      code: 'unreadable-encoding',
      status: 422,
      place: { part: 'part.xml' },
    });
  }
};

describe('a declaration that the bytes contradict', () => {
  test.each([
    ['UTF-8 declared as UTF-16', 'utf-8', 'UTF-16'],
    ['UTF-8 declared as Latin-1', 'utf-8', 'ISO-8859-1'],
    ['UTF-8 declared as a Windows code page', 'utf-8', 'windows-1252'],
    ['UTF-8 declared as US-ASCII', 'utf-8', 'US-ASCII'],
    ['UTF-16 declared as UTF-8', 'utf-16le', 'UTF-8'],
    ['UTF-16 declared with the other order of bytes', 'utf-16le', 'UTF-16BE'],
    ['UTF-16 declared as Latin-1', 'utf-16be', 'ISO-8859-1'],
  ] as const)('%s', (_name, encoding, declared) => unreadable(encoded(documentIn(declared), encoding)));
});

describe('bytes that are no UTF-8', () => {
  test.each([
    ['a continuation without a beginning', [0x80]],
    ['a beginning without its continuation', [0xc3]],
    ['three bytes of which one is missing', [0xe2, 0x82]],
    ['four bytes of which one is missing', [0xf0, 0x9f, 0x98]],
    ['an overlong slash', [0xc0, 0xaf]],
    ['an overlong NUL', [0xe0, 0x80, 0x80]],
    ['half of a pair', [0xed, 0xa0, 0x80]],
    ['a pair, each half by itself', [0xed, 0xa0, 0xbd, 0xed, 0xb8, 0x80]],
    ['a character beyond the last', [0xf4, 0x90, 0x80, 0x80]],
    ['five bytes', [0xf8, 0x88, 0x80, 0x80, 0x80]],
    ['a byte that never occurs', [0xff]],
    ['Latin-1', [0x42, 0xfc, 0x72, 0x6f]],
  ])('%s', (_name, bytes) => unreadable(around(...bytes)));

  test('a document that ends inside a character', () =>
    unreadable(Buffer.concat([around(0x61), Buffer.from('<!-- ü').subarray(0, -1)])));
});

describe('UTF-16 that cannot be read', () => {
  test.each(['utf-16le', 'utf-16be'] as const)('%s without a byte order mark', (encoding) =>
    unreadable(encoded(documentIn(undefined), encoding, false)),
  );

  test.each(['utf-16le', 'utf-16be'] as const)('%s that ends inside a unit', (encoding) =>
    unreadable(Buffer.concat([encoded(documentIn(undefined), encoding), Buffer.from(' ')])),
  );

  test.each([
    ['the first half of a pair', '\ud83d'],
    ['the second half of a pair', '\ude00'],
  ])('%s alone', (_name, half) => unreadable(encoded(documentIn(undefined, `a${half}b`), 'utf-16le')));

  test('UTF-32', async () => {
    const wide = Buffer.from(documentIn(undefined, 'a'), 'utf16le');
    const units = Array.from({ length: wide.length / 2 }, (_, index) => wide.readUInt16LE(index * 2));
    const big = Buffer.concat(units.map((unit) => Buffer.from([0, 0, 0, unit])));
    await unreadable(Buffer.concat([Buffer.from([0, 0, 0xfe, 0xff]), big]));
    await unreadable(big);
    await unreadable(Buffer.concat([Buffer.from([0xff, 0xfe, 0, 0]), Buffer.from(big).swap32()]));
  });
});

test('a wrong encoding is refused where it stands, not only at the start', async () => {
  const long = Buffer.from(`<KNX xmlns="${NAMESPACE}">${'<a/>'.repeat(50_000)}`);
  await unreadable(Buffer.concat([long, Buffer.from([0xff]), Buffer.from('</KNX>')]));
});
