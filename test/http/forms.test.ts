import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { fixtureArchive } from '../support/archives.js';
import {
  answerOn,
  exchange,
  FORM,
  type FormPart,
  form,
  head,
  open,
  type Server,
  startServer,
} from '../support/server.js';

let server: Server;
let archive: Buffer;

beforeAll(async () => {
  server = await startServer();
  archive = await fixtureArchive('house');
});

afterAll(() => server.stop());

const PREAMBLE = '--B\r\nContent-Disposition: form-data; name="archive"; filename="a.zip"\r\n\r\n';
const good = (): FormPart => ({ name: 'archive', filename: 'house.zip', data: archive });

function otherwiseBound(body: Buffer): Buffer {
  return Buffer.from(body.toString('latin1').replaceAll('--B', '--C'), 'latin1');
}

function post(body: Uint8Array | string, type = FORM['content-type'], length = body.length) {
  return exchange(server.port, head({ 'content-type': type, 'content-length': length }), body);
}

describe('a form', () => {
  it('with the archive as its only field is read', async () => {
    expect((await post(form([good()]))).status).toBe(200);
  });

  const FIELDS =
    'the form takes files in the fields "archive", "policy", "products", "site", "measured", "waivers", "baseline", each at most once, and nothing else';
  const NO_FILE = 'the form has no file in the field "archive"';

  it.each<[string, () => string | Buffer, string]>([
    ['in another field', () => form([{ ...good(), name: 'file' }]), FIELDS],
    ['in a field without a name', () => form([{ ...good(), name: '' }]), FIELDS],
    ['as text and no file', () => form([{ name: 'archive', data: 'abc' }]), FIELDS],
    ['twice', () => form([good(), good()]), FIELDS],
    ['before another field', () => form([good(), { name: 'site', data: 'a' }]), FIELDS],
    ['after another field', () => form([{ name: 'site', data: 'a' }, good()]), FIELDS],
    ['before a field named __proto__', () => form([good(), { name: '__proto__', data: 'a' }]), FIELDS],
    ['in a field named __proto__', () => form([{ ...good(), name: '__proto__' }]), 'the form cannot be read'],
    ['in a field named constructor', () => form([{ ...good(), name: 'constructor' }]), 'the form cannot be read'],
    ['without the end of the form', () => form([good()], ''), 'the form cannot be read'],
    ['cut off in its middle', () => form([good()]).subarray(0, 3000), 'the form cannot be read'],
    ['cut off in its head', () => PREAMBLE.slice(0, 40), 'the form cannot be read'],
    ['behind other boundaries', () => otherwiseBound(form([good()])), 'the form cannot be read'],
    ['nowhere, only the end', () => form([]), NO_FILE],
    ['nowhere, not even the end', () => '', NO_FILE],
    ['nowhere, only garbage', () => 'garbage'.repeat(1000), 'the form cannot be read'],
    ['in a part without a disposition', () => '--B\r\nX: y\r\n\r\nabc\r\n--B--\r\n', NO_FILE],
  ])('with the archive %s is answered with 400', async (_what, body, says) => {
    const answer = await post(body());
    expect(answer.status).toBe(400);
    const problem = JSON.parse(answer.body);
    expect(problem).toMatchObject({ type: 'urn:linebudget:problem:malformed-request', status: 400 });
    expect(problem.detail).toContain(says);
  });

  it.each(['multipart/form-data', 'multipart/form-data; boundary=', 'multipart/form-data; border=B'])(
    'sent as %s, without a boundary, is answered with 400',
    async (type) => {
      const answer = await post(form([good()]), type);
      expect(answer.status).toBe(400);
      expect(JSON.parse(answer.body).type).toBe('urn:linebudget:problem:malformed-request');
    },
  );

  it('that ends before its announced end is answered with 400', async () => {
    const socket = await open(server.port);
    socket.write(head({ ...FORM, 'content-length': 100_000 }));
    socket.end(form([good()]).subarray(0, 1000));
    const answer = await answerOn(socket);
    expect(answer.status).toBe(400);
    expect(JSON.parse(answer.body).detail).toContain('ends before its announced end');
  });
});

/** Clients that send all before they read must come to the end of it: whatever is refused is still taken off them. */
describe('a form of 30 MB that is refused', () => {
  const large = Buffer.alloc(30_000_000, 'x');

  it.each<[string, () => Buffer]>([
    ['for its field', () => form([{ name: 'file', filename: 'a', data: large }])],
    ['for a name that nobody may take', () => form([{ name: '__proto__', filename: 'a', data: large }])],
    ['for a second file', () => form([good(), { name: 'archive', filename: 'b', data: large }])],
    ['for a field beside the file', () => form([good(), { name: 'policy', data: large }])],
    ['for its boundaries', () => otherwiseBound(form([{ name: 'archive', data: large }]))],
  ])('%s is taken to its end, and its answer arrives', async (_what, body) => {
    const bytes = body();
    const socket = await open(server.port);
    socket.pause();
    socket.write(head({ ...FORM, 'content-length': bytes.length, connection: 'keep-alive' }));
    await new Promise((resolve) => socket.write(bytes, resolve));
    socket.end();
    const answer = await answerOn(socket);
    expect(answer.status).toBe(400);
    expect(JSON.parse(answer.body)).toMatchObject({ type: 'urn:linebudget:problem:malformed-request' });
    expect((await post(form([good()]))).status).toBe(200);
  });
});

describe('a client that goes away', () => {
  it.each([
    ['in its archive', PREAMBLE],
    ['in another field', PREAMBLE.replace('archive', 'file')],
    ['between the parts', String(form([{ name: 'archive', filename: 'a', data: 'abc' }], ''))],
  ])('%s leaves a service that serves on', async (_what, body) => {
    const socket = await open(server.port);
    const arrived = new Promise((resolve) => server.app.server.once('request', resolve));
    socket.write(head({ ...FORM, 'content-length': 100_000 }));
    socket.write(body);
    await arrived;
    socket.destroy();
    expect((await post(form([good()]))).status).toBe(200);
  });
});
