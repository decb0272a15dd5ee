import { encoded } from '../../support/xml.js';
import type { Case, Group } from '../cases.js';
import { bad, fine } from '../cases.js';
import { archive, area, device, HARDWARE, line, PROJECT, SUPPLY_ON_LINE, segment, TOPOLOGY } from '../plant.js';

/** A topology with a lamp of this name, in a declared encoding or with no declaration. */
function named(name: string, declared?: string): string {
  const lamp = `<DeviceInstance Id="lamp" Address="1" ProductRefId="lp" Name="${name}"/>`;
  const declaration = declared === undefined ? '' : `<?xml version="1.0" encoding="${declared}"?>`;
  return area(line(SUPPLY_ON_LINE + lamp)).replace(/<\?xml.*?\?>/, declaration);
}

const unreadable = (what: string, document: () => Uint8Array): Case =>
  bad(what, 422, 'unreadable-encoding', () => archive({ [TOPOLOGY]: document() }), TOPOLOGY);

const read = (what: string, document: () => Uint8Array): Case =>
  fine(
    what,
    () => archive({ [TOPOLOGY]: document() }),
    (report) => device('lamp')(report)?.name,
    'Büro €😀',
  );

/** The lamp's name as these bytes. */
function bytes(...values: readonly number[]): Buffer {
  const [before = '', after = ''] = named('¦').split('¦');
  return Buffer.concat([Buffer.from(before), Buffer.from(values), Buffer.from(after)]);
}

/** Each character as four bytes. */
function utf32(text: string, mark: readonly number[] = []): Buffer {
  const units = Array.from(text, (character) => [0, 0, 0, character.charCodeAt(0)]);
  return Buffer.from([...mark, ...units.flat()]);
}

export const ENCODINGS: Group = {
  name: 'encodings',
  cases: [
    unreadable('UTF-16, little-endian, without a mark', () => encoded(named('a'), 'utf-16le', false)),
    unreadable('UTF-16, big-endian, without a mark', () => encoded(named('a'), 'utf-16be', false)),
    unreadable('UTF-16 that declares itself UTF-8', () => encoded(named('a', 'utf-8'), 'utf-16le')),
    unreadable('UTF-16 that declares the other order', () => encoded(named('a', 'UTF-16BE'), 'utf-16le')),
    unreadable('UTF-8 that declares itself UTF-16', () => encoded(named('a', 'UTF-16'), 'utf-8')),
    unreadable('Latin-1, declared', () => Buffer.from(named('Büro', 'ISO-8859-1'), 'latin1')),
    unreadable('a Windows code page, declared', () => Buffer.from(named('Büro', 'windows-1252'), 'latin1')),
    unreadable('US-ASCII, declared', () => Buffer.from(named('Buro', 'US-ASCII'))),
    unreadable('UTF-7, declared', () => Buffer.from(named('+ADw-script+AD4-', 'UTF-7'))),
    unreadable('an encoding that nobody knows', () => Buffer.from(named('a', 'x-mine'))),
    unreadable('Latin-1 that says nothing', () => Buffer.from(named('Büro'), 'latin1')),
    unreadable('UTF-32 with a mark', () => utf32(named('a'), [0, 0, 0xfe, 0xff])),
    unreadable('UTF-32 without a mark', () => utf32(named('a'))),
    unreadable('UTF-32, little-endian, with a mark', () =>
      Buffer.concat([Buffer.from([0xff, 0xfe, 0, 0]), Buffer.from(utf32(named('a'))).swap32()]),
    ),
    unreadable('half of a pair in UTF-16', () => encoded(named('a\ud800b'), 'utf-16le')),
    unreadable('half of a pair in UTF-8', () => bytes(0xed, 0xa0, 0x80)),
    unreadable('both halves of a pair in UTF-8', () => bytes(0xed, 0xa0, 0xbd, 0xed, 0xb8, 0x80)),
    unreadable('an overlong quotation mark', () => bytes(0xc0, 0xa2)),
    unreadable('a character beyond the last', () => bytes(0xf4, 0x90, 0x80, 0x80)),
    unreadable('a continuation without a beginning', () => bytes(0x80)),
    unreadable('half of a character at the end', () =>
      Buffer.concat([Buffer.from(named('a')), Buffer.from([0xe2, 0x82])]),
    ),
    unreadable('UTF-16 that ends in half of a unit', () =>
      Buffer.concat([encoded(named('a'), 'utf-16le'), Buffer.from(' ')]),
    ),
    bad(
      'EBCDIC',
      422,
      'unreadable-encoding',
      () => archive({ [TOPOLOGY]: Buffer.from('4c6fa7949340a58599a28996957e7ff14bf07f6f6e', 'hex') }),
      TOPOLOGY,
    ),
    bad('a NUL', 422, 'malformed-xml', () => archive({ [TOPOLOGY]: bytes(0) }), TOPOLOGY),
    bad(
      'a NUL in UTF-16',
      422,
      'malformed-xml',
      () => archive({ [TOPOLOGY]: encoded(named('\0'), 'utf-16le') }),
      TOPOLOGY,
    ),
    bad('a bell', 422, 'malformed-xml', () => archive({ [TOPOLOGY]: bytes(7) }), TOPOLOGY),
    bad(
      'a character that is none',
      422,
      'malformed-xml',
      () => archive({ [TOPOLOGY]: bytes(0xef, 0xbf, 0xbf) }),
      TOPOLOGY,
    ),
    bad('a mark, twice', 422, 'malformed-xml', () => archive({ [TOPOLOGY]: `\ufeff\ufeff${segment()}` }), TOPOLOGY),
    bad(
      'Latin-1 in product data',
      422,
      'unreadable-encoding',
      () => archive({ [HARDWARE]: Buffer.from('<KNX x="ü"/>', 'latin1') }),
      HARDWARE,
    ),
    bad(
      'Latin-1 in the project’s information',
      422,
      'unreadable-encoding',
      () => archive({ [PROJECT]: Buffer.from('<KNX x="ü"/>', 'latin1') }),
      PROJECT,
    ),
    read('UTF-8 with a mark', () => encoded(named('Büro €😀', 'utf-8'), 'utf-8', true)),
    read('UTF-16, little-endian', () => encoded(named('Büro €😀', 'utf-16'), 'utf-16le')),
    read('UTF-16, big-endian', () => encoded(named('Büro €😀', 'utf-16'), 'utf-16be')),
  ],
};
