import { gzipSync } from 'node:zlib';
import type { Group } from '../cases.js';
import { answered, refused, slow } from '../cases.js';
import { archive } from '../plant.js';
import { post, raw, request } from '../send.js';

const MIB = 1024 * 1024;
const POST = 'POST /v1/audits';
const ZIP = 'Content-Type: application/zip';
const CLOSE = ['Host: a', 'Connection: close'];
const sound = archive();
const IN_CHUNKS = request(POST, [...CLOSE, ZIP, 'Transfer-Encoding: chunked']);
const IN_ONE_CHUNK = [`${sound.length.toString(16)}\r\n`, sound, '\r\n0\r\n'];
const gzipped = gzipSync(sound);

/** A body in chunks of a mebibyte, one over the limit. */
function* chunks(mebibytes: number): Generator<string | Uint8Array> {
  const data = Buffer.alloc(MIB);
  for (let sent = 0; sent < mebibytes; sent++) yield* [`${MIB.toString(16)}\r\n`, data, '\r\n'];
  yield '0\r\n\r\n';
}

const upload = (headers: readonly string[], body: Uint8Array | string = sound, target = POST) =>
  raw(request(target, [...CLOSE, ...headers, `Content-Length: ${body.length}`]), body);

/** A client that sends its body only when it is asked for it. */
const waiting = (headers: readonly string[], target = POST) =>
  raw(request(target, ['Host: a', 'Expect: 100-continue', ...headers]));

const get = (target: string) => raw(request(`GET ${target}`, CLOSE));

export const HTTP_UPLOADS: Group = {
  name: 'uploads and requests of the wrong kind',
  cases: [
    refused(
      'a body over the limit, by its length',
      413,
      'limit-exceeded',
      raw(request(POST, [...CLOSE, ZIP, `Content-Length: ${129 * MIB}`])),
    ),
    refused(
      'a body of 8 EiB, by its length',
      413,
      'limit-exceeded',
      raw(request(POST, [...CLOSE, ZIP, 'Content-Length: 9223372036854775807'])),
    ),
    slow(refused('a body over the limit, in chunks', 413, 'limit-exceeded', raw(IN_CHUNKS, ...chunks(129)))),
    refused('no media type', 415, 'unsupported-media-type', upload([])),
    refused(
      'text',
      415,
      'unsupported-media-type',
      post('text/plain', () => sound),
    ),
    refused(
      'JSON',
      415,
      'unsupported-media-type',
      post('application/json', () => '{"__proto__": {"a": 1}}'),
    ),
    refused(
      'a media type that is none',
      415,
      'unsupported-media-type',
      post('archive', () => sound),
    ),
    refused(
      'a media type of 10,000 letters',
      415,
      'unsupported-media-type',
      post(`application/${'x'.repeat(10_000)}`, () => sound),
    ),
    refused(
      'a media type twice',
      415,
      'unsupported-media-type',
      post('application/zip, text/plain', () => sound),
    ),
    refused('packed by gzip', 415, 'unsupported-media-type', upload([ZIP, 'Content-Encoding: gzip'], gzipped)),
    refused('packed by several', 415, 'unsupported-media-type', upload([ZIP, 'Content-Encoding: gzip, br'], gzipped)),
    refused('packed by gzip and not saying so', 415, 'not-a-zip', upload([ZIP], gzipped)),
    refused('no body', 415, 'not-a-zip', upload([ZIP], '')),
    refused('no body and no type', 415, 'unsupported-media-type', raw(request(POST, CLOSE))),
    refused('a report in a form that there is not', 406, 'not-acceptable', upload([ZIP, 'Accept: application/pdf'])),
    refused('a target that is not there', 404, 'not-found', get('/admin')),
    refused('a target that leads up', 404, 'not-found', get('/v1/../../etc/passwd')),
    refused('a target that leads up, escaped', 404, 'rule-not-known', get('/v1/rules/..%2f..%2fetc%2fpasswd')),
    refused('two slashes', 404, 'not-found', get('//healthz')),
    refused('other letters', 404, 'not-found', get('/HEALTHZ')),
    refused('a rule named __proto__', 404, 'rule-not-known', get('/v1/rules/__proto__')),
    refused('a schema named constructor', 404, 'schema-not-known', get('/v1/schemas/constructor')),
    refused('a rule with a script in its name', 404, 'rule-not-known', get('/v1/rules/%3Cscript%3E')),
    refused('a tunnel', 405, 'method-not-allowed', raw(request('CONNECT a.example:443', ['Host: a']))),
    refused(
      'a tunnel to itself, and a request in it',
      405,
      'method-not-allowed',
      raw(request('CONNECT a:80', ['Host: a']) + request('GET /healthz', CLOSE)),
    ),
    answered('a query of odd names', [200], get('/healthz?__proto__[a]=1&constructor=2&a=1&a=2&%')),
    answered('a target with its host', [200], get('http://other.example/healthz')),
    answered('a body of a request that has none', [200], upload([], 'abc', 'GET /healthz')),
    answered(
      'an upgrade',
      [200],
      raw(request('GET /healthz', ['Host: a', 'Connection: Upgrade, close', 'Upgrade: websocket'])),
    ),
    refused('a client that expects something else', 417, 'expectation-failed', upload([ZIP, 'Expect: pizza'])),
    refused(
      'a wait without end for a body over the limit',
      413,
      'limit-exceeded',
      waiting([ZIP, `Content-Length: ${129 * MIB}`]),
    ),
    refused(
      'a wait without end for text',
      415,
      'unsupported-media-type',
      waiting(['Content-Type: text/plain', 'Content-Length: 3']),
    ),
    refused(
      'a wait without end for a packed body',
      415,
      'unsupported-media-type',
      waiting([ZIP, 'Content-Encoding: gzip', 'Content-Length: 3']),
    ),
    refused(
      'a wait without end where there is nothing',
      404,
      'not-found',
      waiting([ZIP, 'Content-Length: 3'], 'POST /v1'),
    ),
    answered(
      'an upgrade to HTTP/2',
      [200],
      raw(
        request('GET /healthz', [
          'Host: a',
          'Connection: Upgrade, HTTP2-Settings, close',
          'Upgrade: h2c',
          'HTTP2-Settings: AAMAAABk',
        ]),
      ),
    ),
    answered(
      'an upload that asks for an upgrade',
      [200],
      raw(
        request(POST, [
          'Host: a',
          'Connection: Upgrade, close',
          'Upgrade: websocket',
          ZIP,
          `Content-Length: ${sound.length}`,
        ]),
        sound,
      ),
    ),
    answered('a client that waits until it may send', [100, 200], upload([ZIP, 'Expect: 100-continue'])),
    answered('an encoding that is none', [200], upload([ZIP, 'Content-Encoding: identity'])),
    answered(
      'chunk extensions',
      [200],
      raw(
        request(POST, [...CLOSE, ZIP, 'Transfer-Encoding: chunked']),
        `${sound.length.toString(16)};a=b\r\n`,
        sound,
        '\r\n0\r\n\r\n',
      ),
    ),
    answered('a trailer', [200], raw(IN_CHUNKS, ...IN_ONE_CHUNK, 'X: b\r\n\r\n')),
    refused(
      'a length in a trailer',
      400,
      'malformed-request',
      raw(IN_CHUNKS, ...IN_ONE_CHUNK, 'Content-Length: 0\r\n\r\n'),
    ),
  ],
};
