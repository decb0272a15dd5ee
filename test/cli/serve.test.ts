import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { ended, linebudget, start } from '../support/linebudget.js';

const folder = mkdtempSync(join(tmpdir(), 'linebudget-'));
const FILE = join(folder, 'linebudget.yaml');

afterAll(() => rmSync(folder, { recursive: true }));

/** Starts the service, asks it, and stops it. */
async function asked(args: readonly string[], ask: (url: string) => Promise<void>): Promise<void> {
  const child = start('serve', '--port', '0', ...args);
  let log = '';
  const url = new Promise<string>((resolve, reject) => {
    child.stderr.on('data', (chunk) => {
      log += chunk;
      const [, found] = /Server listening at (http:[^"]+)/.exec(log) ?? [];
      if (found !== undefined) resolve(found);
    });
    child.once('close', () => reject(new Error(log)));
  });
  const end = ended(child);
  await ask(await url).finally(() => child.kill('SIGTERM'));
  expect(await end, log).toEqual({ code: 0, signal: null });
}

describe('linebudget token', () => {
  it('prints a token that the service lets in by the entry beside it', async () => {
    const { code, stdout, stderr } = await linebudget('token', '--name', 'ci', '--role', 'audit', '--role', 'metrics');
    expect(code).toBe(0);
    expect(stdout).toMatch(/^[\w-]{43}\n$/); // 256 bits in base64url (RFC 4648)
    const token = stdout.trim();
    expect(stderr).not.toContain(token);
    const [, entry = ''] =
      /\n( {2}- name: ci\n {4}sha256: [0-9a-f]{64}\n {4}roles: \[audit, metrics\]\n)/.exec(stderr) ?? [];
    writeFileSync(FILE, `tokens:\n${entry}`);
    await asked(['--config', FILE], async (url) => {
      const statuses = async (headers: Record<string, string>) => {
        const answers = ['/healthz', '/v1/rules', '/metrics'].map((path) => fetch(`${url}${path}`, { headers }));
        return (await Promise.all(answers)).map(({ status }) => status);
      };
      expect(await statuses({ authorization: `Bearer ${token}` })).toEqual([200, 200, 200]);
      expect(await statuses({})).toEqual([200, 401, 401]);
    });
  });

  it('never prints the same twice', async () => {
    const both = await Promise.all([linebudget('token', '--name', 'a'), linebudget('token', '--name', 'a')]);
    expect(new Set(both.map(({ stdout }) => stdout)).size).toBe(2);
  });

  it.each([
    [[], 'name the client that gets the token, with --name'],
    [['--name', 'two words'], '--name takes 1 to 64 letters, digits'],
    [['--name', 'ci', '--role', 'admin'], '--role takes audit, metrics, not "admin"'],
  ])('%j is a wrong call', async (args, said) => {
    const { code, stdout, stderr } = await linebudget('token', ...args);
    expect([code, stdout]).toEqual([2, '']);
    expect(stderr.startsWith(`linebudget: ${said}`)).toBe(true);
  });
});

describe('linebudget serve', () => {
  it('does not start where others reach it and nobody said how', async () => {
    const { code, stdout, stderr } = await linebudget('serve', '--host', '0.0.0.0', '--port', '0');
    expect([code, stdout]).toEqual([2, '']);
    expect(stderr).toBe(
      'linebudget: on "0.0.0.0" others reach the service, and no token is configured: make one with ' +
        '"linebudget token --name NAME" and start with --config FILE that holds its entry, or let everybody in with --open\n',
    );
  });

  it('starts there with --open', async () => {
    await asked(['--host', '0.0.0.0', '--open'], async (url) => {
      expect((await fetch(`${url}/v1/rules`)).status).toBe(200);
    });
  });

  it('takes its limits from the file', async () => {
    writeFileSync(FILE, 'limits: { uploadBytes: 1000 }');
    await asked(['--config', FILE], async (url) => {
      const { limits } = (await (await fetch(`${url}/v1/limits`)).json()) as { limits: object[] };
      expect(limits).toContainEqual(expect.objectContaining({ name: 'uploadBytes', value: 1000 }));
    });
  });

  it.each([
    ['port: 70000', '  port: "70000" is not allowed; it takes a whole number from 0 to 65535\n'],
    ['ports: 1', '  the file: there is no key "ports"; this is a mapping of host, port, '],
    ['port: [', 'is neither YAML nor JSON: '],
  ])('with %s in the file ends with 2, and says where and what is allowed', async (text, said) => {
    writeFileSync(FILE, text);
    const { code, stdout, stderr } = await linebudget('serve', '--config', FILE);
    expect([code, stdout]).toEqual([2, '']);
    expect(stderr.startsWith(`linebudget: ${FILE} `)).toBe(true);
    expect(stderr).toContain(said);
  });

  it.each([
    [['--config', join(folder, 'none.yaml')], `--config ${join(folder, 'none.yaml')} cannot be read (ENOENT)\n`],
    [['--host', 'none.invalid'], 'cannot listen on none.invalid (E'], // RFC 2606; how it fails is the resolver's to say
    [['--host', ''], '--host takes an address or a name of this machine\n'],
  ])('%j ends with 2 and says why', async (args, said) => {
    const { code, stderr } = await linebudget('serve', ...args);
    expect(code).toBe(2);
    expect(stderr.startsWith(`linebudget: ${said}`)).toBe(true);
  });
});
