import { mkdtempSync, rmSync, truncateSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { DEFAULT_LIMITS } from '../../src/limits.js';
import { fixtureArchive } from '../support/archives.js';
import { BAD_ARCHIVES } from '../support/bad-archives.js';
import { linebudget } from '../support/linebudget.js';
import { type Server, startServer, upload } from '../support/server.js';

const folder = mkdtempSync(join(tmpdir(), 'linebudget-'));
let server: Server;

beforeAll(async () => {
  server = await startServer();
});

afterAll(async () => {
  await server.stop();
  rmSync(folder, { recursive: true });
});

it('the command line says of bad input what the service says', async () => {
  const told: { file: string; problem: string; code: string }[] = [];
  for (const [index, { bytes, code }] of BAD_ARCHIVES.entries()) {
    const file = join(folder, `${index}`);
    const archive = await bytes();
    writeFileSync(file, archive);
    const { detail } = (await (await upload(server.url, archive)).json()) as { detail: string };
    told.push({ file, problem: detail, code });
  }
  const files = told.map(({ file }) => file);
  const ended = await linebudget('audit', '--format', 'json', ...files);
  expect(JSON.parse(ended.stdout)).toEqual(told);
  const lines = told.map(({ file, problem, code }) => `${file}: ${problem} [${code}]\n`);
  expect(ended.stderr).toBe(lines.join(''));
  expect(ended.code).toBe(2);
});

it('a file over the limit of an upload is refused', async () => {
  const file = join(folder, 'large');
  const bytes = DEFAULT_LIMITS.uploadBytes + 1;
  writeFileSync(file, '');
  truncateSync(file, bytes);
  const { code, stdout, stderr } = await linebudget('audit', file);
  const said = `the archive has more than ${bytes - 1} bytes; the limit uploadBytes is ${DEFAULT_LIMITS.uploadBytes}`;
  expect([code, stdout, stderr]).toEqual([2, '', `${file}: ${said} [limit-exceeded]\n`]);
});

it.skipIf(process.platform === 'win32')('stops at the limit where a file has no end', async () => {
  const { code, stderr } = await linebudget('audit', '/dev/zero');
  expect(stderr).toContain(`the limit uploadBytes is ${DEFAULT_LIMITS.uploadBytes}`);
  expect(code).toBe(2);
});

it('a limit that is set is held, and named', async () => {
  const file = join(folder, 'house');
  writeFileSync(file, await fixtureArchive('house'));
  const limited = await linebudget(
    'audit',
    '--limit',
    'partBytes=1',
    '--limit',
    'xmlDepth=3',
    '--limit',
    'partBytes=9999999',
    file,
  );
  expect([limited.code, limited.stdout]).toEqual([2, '']);
  expect(limited.stderr).toContain('the limit xmlDepth is 3');
  const upload = await linebudget('audit', '--limit=uploadBytes=10', file);
  expect(upload.stderr).toContain('the archive has more than 10 bytes; the limit uploadBytes is 10');
});
