import type { Case, Group } from '../cases.js';
import { answered, refused } from '../cases.js';
import { raw, rawAndEnd, request } from '../send.js';

const POST = 'POST /v1/audits';
const GET = 'GET /healthz';
const ZIP = 'Content-Type: application/zip';
const CLOSE = ['Host: a', 'Connection: close'];
/** What would be answered with 200 if a body were taken to end before it. */
const SMUGGLED = request(GET, CLOSE);

/** Answered once, and the connection is closed though nobody asked for that: what follows on it cannot be trusted. */
const malformed = (what: string, headers: readonly string[], body = ''): Case =>
  refused(what, 400, 'malformed-request', raw(request(POST, ['Host: a', ZIP, ...headers]), body));

const noRequest = (what: string, ...pieces: readonly (string | Uint8Array)[]): Case =>
  refused(what, 400, 'malformed-request', raw(...pieces));

export const HTTP_REQUESTS: Group = {
  name: 'requests that can be read in two ways, or in none',
  cases: [
    malformed('a length and chunks', ['Content-Length: 6', 'Transfer-Encoding: chunked'], `0\r\n\r\n${SMUGGLED}`),
    malformed('chunks and a length', ['Transfer-Encoding: chunked', 'Content-Length: 6'], `0\r\n\r\n${SMUGGLED}`),
    malformed('two lengths', ['Content-Length: 3', 'Content-Length: 4'], `abc${SMUGGLED}`),
    malformed('one length twice', ['Content-Length: 3', 'Content-Length: 3'], `abc${SMUGGLED}`),
    malformed('two lengths in one field', ['Content-Length: 3, 3'], `abc${SMUGGLED}`),
    malformed('a negative length', ['Content-Length: -3'], SMUGGLED),
    malformed('a length with a sign', ['Content-Length: +3'], `abc${SMUGGLED}`),
    malformed('a hexadecimal length', ['Content-Length: 0x3'], `abc${SMUGGLED}`),
    malformed('a length with a fraction', ['Content-Length: 3.0'], `abc${SMUGGLED}`),
    malformed('a length beyond 64 bits', ['Content-Length: 18446744073709551619'], `abc${SMUGGLED}`),
    malformed('no length in its field', ['Content-Length: '], `abc${SMUGGLED}`),
    malformed('a blank before the colon', ['Content-Length : 3'], `abc${SMUGGLED}`),
    malformed('a blank before the colon of the chunks', ['Transfer-Encoding : chunked'], `0\r\n\r\n${SMUGGLED}`),
    malformed('chunks in a folded field', ['Transfer-Encoding:\r\n chunked', 'Content-Length: 3'], `abc${SMUGGLED}`),
    malformed('a field folded with a tab', ['X: a\r\n\tb', 'Content-Length: 3'], 'abc'),
    malformed(
      'chunks that are not the last encoding',
      ['Transfer-Encoding: chunked, identity'],
      `0\r\n\r\n${SMUGGLED}`,
    ),
    malformed('an encoding that nobody knows', ['Transfer-Encoding: xchunked'], `0\r\n\r\n${SMUGGLED}`),
    malformed('chunks by another letter', ['Transfer-Encoding: \u000bchunked'], `0\r\n\r\n${SMUGGLED}`),
    malformed('a field that is no field', ['nonsense'], SMUGGLED),
    malformed('a field without a name', [': a'], SMUGGLED),
    malformed('a NUL in a field', ['X: a\0b'], SMUGGLED),
    malformed('a NUL in the name of a field', ['X\0: a'], SMUGGLED),
    malformed('a bare line feed in a field', ['X: a\nContent-Length: 3'], `abc${SMUGGLED}`),
    malformed('a bare carriage return in a field', ['X: a\rContent-Length: 3'], `abc${SMUGGLED}`),
    malformed('a control character in a field', ['X: \u0001'], SMUGGLED),
    malformed('a chunk size that is none', ['Transfer-Encoding: chunked'], `xyz\r\nabc\r\n0\r\n\r\n`),
    malformed('a negative chunk size', ['Transfer-Encoding: chunked'], `-3\r\nabc\r\n0\r\n\r\n`),
    malformed('a chunk size with a prefix', ['Transfer-Encoding: chunked'], `0x3\r\nabc\r\n0\r\n\r\n`),
    malformed('a chunk size beyond 64 bits', ['Transfer-Encoding: chunked'], `fffffffffffffffff\r\nabc`),
    malformed('a chunk longer than its size', ['Transfer-Encoding: chunked'], `3\r\nabcdef\r\n0\r\n\r\n`),
    malformed('a chunk line that ends in a bare line feed', ['Transfer-Encoding: chunked'], `3\nabc\r\n0\r\n\r\n`),
    malformed(
      'chunk extensions of 64 KiB',
      ['Transfer-Encoding: chunked'],
      `3;${'a'.repeat(65_536)}\r\nabc\r\n0\r\n\r\n`,
    ),
    malformed('a length in a trailer and a bare return', ['Transfer-Encoding: chunked'], `0\r\nX: a\rb\r\n\r\n`),
    noRequest('nothing that is HTTP', 'a shopping list\r\n\r\n'),
    noRequest('an archive', Buffer.from('504b0304140000000800', 'hex')),
    noRequest('a greeting of TLS', Buffer.from('16030100c8010000c40303', 'hex')),
    noRequest('a preface of HTTP/2', 'PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n'),
    noRequest('HTTP/3', request(GET, CLOSE, 'HTTP/3.0')),
    noRequest('HTTP/1.10', request(GET, CLOSE, 'HTTP/1.10')),
    noRequest('a protocol in small letters', request(GET, CLOSE, 'http/1.1')),
    noRequest('a method in small letters', request('get /healthz', CLOSE)),
    noRequest('a method that nobody has', request('BREW /v1/audits', CLOSE)),
    noRequest('HTTP/2.0', request(GET, CLOSE, 'HTTP/2.0')),
    noRequest('HTTP/0.9', request(GET, CLOSE, 'HTTP/0.9')),
    noRequest('no protocol', `${GET}\r\n\r\n`),
    noRequest('no host', request(GET, ['Connection: close'])),
    noRequest('no host, on a connection to be kept', request(GET, [])),
    noRequest('two hosts', request(GET, ['Host: a', 'Host: b'])),
    noRequest('one host twice', request(GET, ['Host: a', 'host: a'], 'HTTP/1.0')),
    noRequest('an empty host', request(GET, ['Host:'])),
    noRequest('a host with a blank', request(GET, ['Host: a b'])),
    noRequest('a host with a path', request(GET, ['Host: a/b'])),
    noRequest('a host with a user', request(GET, ['Host: a@b'])),
    noRequest('two hosts in one field', request(GET, ['Host: a, b'])),
    noRequest('a host with a port that is none', request(GET, ['Host: a:http'])),
    noRequest('a host with a bracket alone', request(GET, ['Host: [::1'])),
    noRequest('a host beside that of the target', request('GET http://a/healthz', ['Host: a?'])),
    noRequest('no target', request('GET', CLOSE)),
    noRequest('two targets', request('GET /healthz /readyz', CLOSE)),
    noRequest('a NUL in the target', request('GET /health\0z', CLOSE)),
    noRequest('a line feed in the target', request('GET /health\nz', CLOSE)),
    noRequest('a target with a backslash', request('GET \\healthz', CLOSE)),
    noRequest('a target without a slash', request('GET healthz', CLOSE)),
    noRequest('a target of a host that is none', request('GET http://', CLOSE)),
    noRequest('a target with a name of a rule that is too long', request(`GET /v1/rules/${'a'.repeat(1000)}`, CLOSE)),
    noRequest('line feeds alone', SMUGGLED.replaceAll('\r', '')),
    noRequest('a field in front of which a blank stands', request(GET, [...CLOSE, ' X: y'])),
    noRequest(
      'chunks of HTTP/1.0',
      request(POST, ['Host: a', 'Connection: keep-alive', ZIP, 'Transfer-Encoding: chunked'], 'HTTP/1.0'),
      `0\r\n\r\n${SMUGGLED}`,
    ),
    noRequest(
      'chunks and a length of HTTP/1.0',
      request(POST, ['Host: a', ZIP, 'Transfer-Encoding: chunked', 'Content-Length: 5'], 'HTTP/1.0'),
      `0\r\n\r\n${SMUGGLED}`,
    ),
    noRequest('a body of HTTP/1.0 without a length', `${request(POST, [...CLOSE, ZIP], 'HTTP/1.0')}PK`),
    noRequest('a target that is not decodable', request('GET /v1/rules/%', CLOSE)),
    noRequest('a target that decodes to no UTF-8', request('GET /v1/rules/%ff', CLOSE)),
    refused('a header of 64 KiB', 431, 'headers-too-large', raw(request(GET, [...CLOSE, `X: ${'x'.repeat(65_536)}`]))),
    refused(
      'ten thousand header fields',
      431,
      'headers-too-large',
      raw(request(GET, [...CLOSE, ...Array.from({ length: 10_000 }, (_, index) => `X-${index}: y`)])),
    ),
    refused('a target of 64 KiB', 431, 'headers-too-large', raw(request(`GET /${'a'.repeat(65_536)}`, CLOSE))),
    refused(
      'a request that ends in its header',
      400,
      'malformed-request',
      rawAndEnd('POST /v1/audits HTTP/1.1\r\nHost: a\r\nContent-'),
    ),
    refused(
      'a body that ends before its length',
      400,
      'malformed-request',
      rawAndEnd(request(POST, ['Host: a', ZIP, 'Content-Length: 100']), 'abc'),
    ),
    refused(
      'chunks that end before the last',
      400,
      'malformed-request',
      rawAndEnd(request(POST, ['Host: a', ZIP, 'Transfer-Encoding: chunked']), '3\r\nabc\r\n'),
    ),
    answered('two requests at once', [200, 200], raw(request(GET, ['Host: a']) + SMUGGLED)),
    answered('a hundred requests at once', Array(100).fill(200), raw(request(GET, ['Host: a']).repeat(99) + SMUGGLED)),
    answered('HTTP/1.0 without a host', [200], raw(request(GET, [], 'HTTP/1.0'))),
    ...['a.example', 'a.example:80', 'a:', '127.0.0.1:8080', '[::1]', '[fe80::1%25eth0]:80', 'a_b', '%C3%A4'].map(
      (host) => answered(`the host ${host}`, [200], raw(request(GET, [`Host: ${host}`, 'Connection: close']))),
    ),
    answered('an empty line before the request', [200], raw(`\r\n${SMUGGLED}`)),
    answered('a request byte by byte', [200], raw(...SMUGGLED)),
  ],
};
