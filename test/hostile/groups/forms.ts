import { FORM, form } from '../../support/server.js';
import type { Case, Group } from '../cases.js';
import { answered, refused } from '../cases.js';
import { archive } from '../plant.js';
import { post, raw, request } from '../send.js';

const TYPE = FORM['content-type'];
const file = { name: 'archive', filename: 'a.zip', data: archive() };
const field = (name: string) => ({ name, data: 'x' });

/** A part of a form, its header fields as they are. */
function part(...headers: readonly string[]): Buffer {
  const head = `--B\r\n${[...headers, '', ''].join('\r\n')}`;
  return Buffer.concat([Buffer.from(head), file.data, Buffer.from('\r\n--B--\r\n')]);
}

const DISPOSITION = 'Content-Disposition: form-data; name="archive"; filename="a.zip"';

const malformed = (what: string, body: () => Uint8Array | string, type = TYPE): Case =>
  refused(what, 400, 'malformed-request', post(type, body));

const tooMuch = (what: string, body: () => Uint8Array): Case => refused(what, 413, 'limit-exceeded', post(TYPE, body));

const inOneChunk = (body: Uint8Array) =>
  raw(
    request('POST /v1/audits', ['Host: a', 'Connection: close', `Content-Type: ${TYPE}`, 'Transfer-Encoding: chunked']),
    `${body.length.toString(16)}\r\n`,
    body,
    '\r\n0\r\n\r\n',
  );

export const FORMS: Group = {
  name: 'forms',
  cases: [
    malformed('no boundary', () => form([file]), 'multipart/form-data'),
    malformed('an empty boundary', () => form([file]), 'multipart/form-data; boundary='),
    malformed('another boundary', () => form([file]), 'multipart/form-data; boundary=C'),
    malformed(
      'a boundary of 10,000 letters',
      () => form([file]),
      `multipart/form-data; boundary=${'B'.repeat(10_000)}`,
    ),
    malformed('no final boundary', () => form([file], '')),
    malformed('cut off in the file', () => form([file]).subarray(0, 300)),
    malformed('cut off in the header of its part', () => `--B\r\n${DISPOSITION}`),
    malformed('nothing', () => ''),
    malformed('nothing but the end', () => form([])),
    malformed('garbage', () => 'garbage'.repeat(1000)),
    malformed('two files', () => form([file, file])),
    malformed('a file in another field', () => form([{ ...file, name: 'file' }])),
    malformed('a file in a field without a name', () => form([{ ...file, name: '' }])),
    malformed('text in place of the file', () => form([field('archive')])),
    malformed('a field behind the file', () => form([file, field('policy')])),
    malformed('a field before the file', () => form([field('policy'), file])),
    malformed('a thousand fields', () => form(Array.from({ length: 1000 }, (_, index) => field(`f${index}`)))),
    malformed('a field named __proto__', () => form([file, field('__proto__')])),
    malformed('a file in a field named __proto__', () => form([{ ...file, name: '__proto__' }])),
    malformed('a file in a field named constructor', () => form([{ ...file, name: 'constructor' }])),
    malformed('a field name of 100 KiB', () => form([field('n'.repeat(100_000))])),

    malformed('a part without a disposition', () => part('X: y')),
    malformed('a part of another disposition', () => part(DISPOSITION.replace('form-data', 'attachment'))),
    malformed(
      'a form in a form',
      () =>
        `--B\r\nContent-Disposition: form-data; name="archive"\r\nContent-Type: multipart/mixed; boundary=C\r\n\r\n--C\r\n${DISPOSITION}\r\n\r\nabc\r\n--C--\r\n\r\n--B--\r\n`,
    ),
    refused(
      'an empty file',
      415,
      'not-a-zip',
      post(TYPE, () => form([{ ...file, data: '' }])),
    ),
    refused(
      'a file that is none',
      415,
      'not-a-zip',
      post(TYPE, () => form([{ ...file, data: 'abc' }])),
    ),
    refused(
      'a form of another kind',
      415,
      'unsupported-media-type',
      post('application/x-www-form-urlencoded', () => 'archive=abc'),
    ),
    refused(
      'a multipart body that is no form',
      415,
      'unsupported-media-type',
      post('multipart/mixed; boundary=B', () => form([file])),
    ),
    tooMuch('a file name of 100 KiB', () => form([{ ...file, filename: 'n'.repeat(100_000) }])),
    tooMuch('a header of 1 MiB that nobody reads', () => part(DISPOSITION, `X: ${'x'.repeat(1 << 20)}`)),
    tooMuch('ten thousand headers that nobody reads', () =>
      part(DISPOSITION, ...Array.from({ length: 10_000 }, (_, index) => `X-${index}: y`)),
    ),
    tooMuch('100 KiB before the form', () =>
      Buffer.concat([Buffer.alloc(100_000, 'x'), Buffer.from('\r\n'), form([file])]),
    ),
    tooMuch('100 KiB behind the form', () => Buffer.concat([form([file]), Buffer.alloc(100_000, 'x')])),
    refused(
      'a file name of 100 KiB, in chunks',
      413,
      'limit-exceeded',
      inOneChunk(form([{ ...file, filename: 'n'.repeat(100_000) }])),
    ),
    answered('a form in chunks', [200], inOneChunk(form([file]))),
    answered(
      'a file whose name leads out of its folder',
      [200],
      post(TYPE, () => form([{ ...file, filename: '../../etc/passwd' }])),
    ),
    answered(
      'a file named __proto__',
      [200],
      post(TYPE, () => form([{ ...file, filename: '__proto__' }])),
    ),
    answered(
      'text before and behind the form',
      [200],
      post(TYPE, () => Buffer.concat([Buffer.from('before\r\n'), form([file]), Buffer.from('behind')])),
    ),
  ],
};
