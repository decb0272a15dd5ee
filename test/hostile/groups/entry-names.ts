import { crc32 } from 'node:zlib';
import { extraField, uint32s } from '../../support/raw-zip.js';
import type { Case, Group } from '../cases.js';
import { bad, fine } from '../cases.js';
import { and, archive, balance, SOUND } from '../plant.js';

/** An entry of this name beside the plant. */
const unsafe = (what: string, name: string): Case => bad(what, 422, 'unsafe-name', () => and({ name }), name);

/** Two entries, of which the second takes what the first has. */
const twice = (what: string, first: string, second: string): Case =>
  bad(what, 422, 'ambiguous-part', () => and({ name: first }, { name: second }), second);

const notUtf8 = (what: string, ...bytes: readonly number[]): Case =>
  bad(what, 422, 'unsafe-name', () => and({ name: Buffer.from(bytes) }), Buffer.from(bytes).toString());

const second = extraField(0x7075, Buffer.from([1]), uint32s(crc32('a.xml')), Buffer.from('b.xml'));

export const ENTRY_NAMES: Group = {
  name: 'names of entries',
  cases: [
    unsafe('a way up', '../../etc/passwd'),
    unsafe('a way up in the middle', 'P-0001/../../0.xml'),
    unsafe('a way up with backslashes', '..\\..\\windows\\system.ini'),
    unsafe('a way up at the end', 'P-0001/..'),
    unsafe('an absolute path', '/etc/passwd'),
    unsafe('a share', '\\\\host\\share\\0.xml'),
    unsafe('a drive', 'C:\\0.xml'),
    unsafe('a drive without a slash', 'c:0.xml'),
    unsafe('no name', ''),
    unsafe('a name of dots and slashes', './/./'),
    unsafe('a NUL', 'P-0001/0.xml\0.txt'),
    unsafe('a line end', 'a\r\nSet-Cookie: b'),
    unsafe('an escape sequence', '\u001b[31mred'),
    unsafe('a delete', 'a\u007f'),
    unsafe('a control character beyond ASCII', 'a\u009bb'),
    notUtf8('Latin-1 that says it is UTF-8', 0x47, 0xe4, 0x2e, 0x78),
    notUtf8('an overlong slash', 0x2e, 0x2e, 0xc0, 0xaf),
    notUtf8('half of a pair', 0xed, 0xa0, 0x80),
    twice('the same name', 'more.xml', 'more.xml'),
    bad(
      'the topology document in other letters',
      422,
      'ambiguous-part',
      () => and({ name: 'p-0001/0.XML' }),
      'p-0001/0.XML',
    ),
    bad(
      'the topology document with another slash',
      422,
      'ambiguous-part',
      () => and({ name: 'P-0001\\0.xml' }),
      'P-0001\\0.xml',
    ),
    bad(
      'the topology document by a detour',
      422,
      'ambiguous-part',
      () => and({ name: './P-0001//0.xml' }),
      './P-0001//0.xml',
    ),
    twice('composed and decomposed letters', 'b\u00fcro.xml', 'bu\u0308ro.xml'),
    twice('a sharp s and two', 'stra\u00dfe.xml', 'STRASSE.xml'),
    twice('a file that is a folder', 'm', 'm/0.xml'),
    bad('a folder with data', 422, 'entry-contradictory', () => and({ name: 'm/', data: 'x' }), 'm/'),
    bad(
      'a second name in an extra field',
      422,
      'ambiguous-part',
      () => and({ name: 'a.xml', fields: { extra: second } }),
      'a.xml',
    ),
    bad('a name over its limit', 413, 'limit-exceeded', () => and({ name: 'n'.repeat(1025) }), 'n'.repeat(1024)),
    bad(
      'a name as long as a name can be',
      413,
      'limit-exceeded',
      () => and({ name: 'n'.repeat(65_535) }),
      'n'.repeat(1024),
    ),
    bad(
      'a name 33 folders deep',
      413,
      'limit-exceeded',
      () => and({ name: `${'d/'.repeat(33)}0.xml` }),
      `${'d/'.repeat(33)}0.xml`,
    ),
    fine(
      'names that only look bad',
      () => archive({ '..a': '', 'a..': '', '.hidden': '', aux: '', '~': '', '-rf': '' }),
      balance,
      SOUND,
    ),
    fine('a name that writes from right to left', () => archive({ '\u202efdp.exe': '' }), balance, SOUND),
  ],
};
