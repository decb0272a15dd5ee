import { crc32 } from 'node:zlib';
import { describe, expect, test } from 'vitest';
import { readDirectory } from '../../src/archive/directory.js';
import { normalisedPath } from '../../src/archive/names.js';
import { DEFAULT_LIMITS } from '../../src/limits.js';
import { extraField, type RawEntry, rawZip, uint32s } from '../support/raw-zip.js';
import { refusalOf } from '../support/refusal.js';

const UTF8 = 0x0800;

const namesOf = (...entries: readonly RawEntry[]) =>
  readDirectory(rawZip(entries), DEFAULT_LIMITS).map(({ name }) => name);

const refusal = (...entries: readonly RawEntry[]) => refusalOf(() => namesOf(...entries));

/** The name again, said of some bytes. */
const unicodePath = (of: Uint8Array, name: string | Buffer) =>
  extraField(0x7075, Buffer.from([1]), uint32s(crc32(of)), Buffer.from(name));

describe('a name is read', () => {
  const bytes = (...values: readonly number[]) => Buffer.from(values);
  const buro = bytes(0x42, 0x81, 0x72, 0x6f);

  test.each([
    ['as UTF-8 where the flag says so', Buffer.from('Büro 😀'), UTF8, 'Büro 😀'],
    ['as code page 437 where it does not', buro, 0, 'Büro'],
    ['as code page 437 at its ends', bytes(0x80, 0xe1, 0xff), 0, 'Çß\u00a0'],
    ['as code page 437, though it could be UTF-8', Buffer.from('Bü'), 0, 'B├╝'],
    ['as ASCII in either way', Buffer.from('P-0001/0.xml'), 0, 'P-0001/0.xml'],
  ])('%s', (_name, name, flags, expected) => {
    expect(namesOf({ name, fields: { flags } })).toEqual([expected]);
  });

  test('from a unicode path where its own bytes are of a code page', () => {
    const latin1 = Buffer.from('Büro', 'latin1');
    const extra = unicodePath(latin1, 'Büro');
    expect(namesOf({ name: latin1, fields: { flags: 0, extra } })).toEqual(['Büro']);
    expect(namesOf({ name: latin1, fields: { flags: 0 }, central: { extra } })).toEqual(['Büro']);
  });

  test('from itself where a unicode path repeats it, is of another name, or holds nothing', () => {
    const a = Buffer.from('a');
    for (const extra of [unicodePath(a, 'a'), unicodePath(Buffer.from('stale'), 'b'), extraField(0x7075)]) {
      expect(namesOf({ name: 'a', fields: { extra } })).toEqual(['a']);
    }
  });
});

describe('a name that is not safe', () => {
  test.each([
    ['', 'is empty'],
    ['.', 'is empty'],
    ['.//./', 'is empty'],
    ['/a', 'is an absolute path'],
    ['\\a', 'is an absolute path'],
    ['\\\\host\\share\\a', 'is an absolute path'],
    ['C:\\a', 'begins with a drive'],
    ['c:a', 'begins with a drive'],
    ['..', 'leads out of its folder'],
    ['../a', 'leads out of its folder'],
    ['..\\a', 'leads out of its folder'],
    ['a/../../b', 'leads out of its folder'],
    ['a/..', 'leads out of its folder'],
    ['a\\..\\b', 'leads out of its folder'],
    ['a\0.xml', 'holds a control character'],
    ['a\nb', 'holds a control character'],
    ['a\u007f', 'holds a control character'],
    ['a\u0085', 'holds a control character'],
  ])('%j', async (name, why) => {
    const { code, status, place, message } = await refusal({ name });
    expect([code, status, place.part]).toEqual(['unsafe-name', 422, name]);
    expect(message).toContain(`the name of the entry ${why}; rename it, or export the project again`);
  });

  test.each([
    ['a byte of another encoding', [0x42, 0xfc]],
    ['a character that is cut', [0x42, 0xc3]],
    ['a slash written too long', [0xc0, 0xaf]],
    ['half of a pair', [0xed, 0xa0, 0x80]],
  ])('no UTF-8, as it claims to be: %s', async (_name, bytes) => {
    const refused = await refusal({ name: Buffer.from(bytes) });
    expect(refused.code).toBe('unsafe-name');
    expect(refused.message).toContain('is not valid UTF-8');
  });

  test('by its unicode path', async () => {
    const name = Buffer.from([0x81]);
    const unsafe = (path: string | Buffer) => refusal({ name, fields: { flags: 0, extra: unicodePath(name, path) } });
    expect((await unsafe('../a')).code).toBe('unsafe-name');
    expect((await unsafe(Buffer.from([0xff]))).code).toBe('unsafe-name');
  });

  test.each(['..a', 'a..', '...', 'a/..b/c', '.hidden', 'a b', '~', '-', 'a/./b', 'a//b', './a', 'aux'])(
    '%j only looks like one',
    (name) => expect(namesOf({ name })).toEqual([name]),
  );
});

describe('a name twice', () => {
  test.each([
    ['the same', 'P-0001/0.xml', 'P-0001/0.xml'],
    ['other letters', 'P-00ab/0.xml', 'p-00AB/0.XML'],
    ['other slashes', 'P-0001/0.xml', 'P-0001\\0.xml'],
    ['composed and not', 'b\u00fcro.xml', 'bu\u0308ro.xml'],
    ['composed in another order', 'a\u0323\u0307', 'a\u0307\u0323'],
    ['a sharp s', 'Straße', 'STRASSE'],
    ['a capital sharp s', 'STRAẞE', 'straße'],
    ['a capital sharp s as two letters', 'STRAẞE', 'strasse'],
    ['a dotted capital i', '\u0130', 'i\u0307'],
    ['a final sigma', 'ΟΔΟΣ', 'οδος'],
    ['a sigma inside', 'οδοσ', 'οδος'],
    ['a ligature', 'ﬃ', 'FFI'],
    ['an iota below', 'ᾳ', 'ΑΙ'],
    ['a sign that is a letter', '\u212a', 'k'],
    ['from here', 'a', './a'],
    ['by a detour', 'a/b', 'a/./b'],
    ['with a slash more', 'a/b', 'a//b'],
    ['a folder', 'P-0001/', 'p-0001\\'],
    ['a file and a folder', 'a', 'A/'],
    ['a folder and a file', 'a/', 'A'],
  ])('%s', async (_name, first, second) => {
    const refused = await refusal({ name: 'x' }, { name: first }, { name: 'y' }, { name: second });
    expect(refused).toMatchObject({ code: 'ambiguous-part', status: 422, place: { part: second } });
    expect(refused.message).toContain(`another entry has the same name: "${first}"; export the project again`);
  });

  test.each([
    ['a', 'a/b'],
    ['a', 'A\\b'],
    ['a/b', 'a/b/c/d'],
    ['Straße', 'STRASSE/0.xml'],
  ])('a file %s that is a folder of %s', async (file, inside) => {
    for (const names of [
      [file, inside],
      [inside, file],
    ]) {
      const refused = await refusal(...['a.', 'a!', ...names, 'a-b'].map((name) => ({ name })));
      expect(refused).toMatchObject({ code: 'ambiguous-part', place: { part: inside } });
      expect(refused.message).toContain(`a file has the name of a folder of the entry: "${file}"`);
    }
  });

  test('neither folders, nor names that only begin alike', () => {
    const names = ['a/', 'a/b/', 'a/b/c', 'a/b.c', 'a.b', 'a b', 'ab', 'a-b/c', 'a-b/d', 'z/a'];
    expect(namesOf(...names.map((name) => ({ name })))).toEqual(names);
  });

  test('in a unicode path', async () => {
    const extra = unicodePath(Buffer.from('a'), 'other');
    for (const entry of [{ fields: { extra } }, { central: { extra } }, { local: { extra } }]) {
      expect(await refusal({ name: 'a', ...entry })).toMatchObject({ code: 'ambiguous-part', place: { part: 'a' } });
    }
  });
});

test('one spelling of a path is its own spelling', () => {
  for (const name of ['.\\P-0001//0.XML', 'STRAẞE/ΟΔΟΣ', '\u0130', 'Bu\u0308ro', 'ΐ/\u1fd3', 'a/']) {
    expect(normalisedPath(normalisedPath(name))).toBe(normalisedPath(name));
  }
  expect(normalisedPath('.\\Export//P-0001/./0.XML')).toBe('export/p-0001/0.xml');
});
