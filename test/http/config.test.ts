import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { createToken } from '../../src/http/access/tokens.js';
import { ConfigError } from '../../src/http/config.js';
import { type Flags, settingsOf } from '../../src/http/settings.js';
import { DEFAULT_LIMITS } from '../../src/limits.js';

const folder = mkdtempSync(join(tmpdir(), 'linebudget-'));
const FILE = join(folder, 'linebudget.yaml');
const SHA256 = createToken('ci', ['audit']).entry.sha256;
const TOKENS = `tokens: [{ name: ci, sha256: ${SHA256}, roles: [audit] }]\n`;

afterAll(() => rmSync(folder, { recursive: true }));

function settings(text: string, flags: Flags = {}) {
  writeFileSync(FILE, text);
  return settingsOf(FILE, flags);
}

async function objection(text: string, flags: Flags = {}): Promise<string> {
  const cause = await settings(text, flags).then(
    () => undefined,
    (error: unknown) => error,
  );
  expect(cause).toBeInstanceOf(ConfigError);
  return (cause as ConfigError).message;
}

describe('a configuration', () => {
  const LOCAL = { tokens: [], trustProxy: [], allowedOrigins: [], rateLimit: null };
  const NOTHING = { host: '127.0.0.1', port: 8080, limits: DEFAULT_LIMITS, access: LOCAL };

  it('is not needed on the loopback address', async () => {
    expect(await settingsOf(undefined, {})).toEqual(NOTHING);
    expect(await settings('')).toEqual(NOTHING);
    expect(await settings('# nothing yet\n')).toEqual(NOTHING);
  });

  const FULL = {
    host: '0.0.0.0',
    port: 9000,
    trustProxy: ['10.0.0.0/8', '2001:db8::1'],
    tokens: [{ name: 'ci', sha256: SHA256, roles: ['audit', 'metrics'] }],
    allowedOrigins: ['https://portal.example'],
    rateLimit: { requestsPerMinute: 10 },
    limits: { uploadBytes: 1000, xmlDepth: 10 },
  };

  it('is read in JSON, which is YAML too, with every setting', async () => {
    const { host, port, limits, ...access } = FULL;
    const expected = { host, port, limits: { ...DEFAULT_LIMITS, ...limits }, access };
    expect(await settings(JSON.stringify(FULL))).toEqual(expected);
  });

  it('is in the README, with every setting but "open"', async () => {
    const readme = readFileSync(new URL('../../README.md', import.meta.url), 'utf8');
    const [, example = ''] = /```yaml\n(# linebudget\.yaml.*?)```/s.exec(readme) ?? [];
    const { access } = await settings(example);
    expect(access.tokens.map(({ name }) => name)).toEqual(['build-server']);
    for (const name of Object.keys(FULL)) expect(example).toMatch(new RegExp(`^${name}:`, 'm'));
  });

  it('gives way to the command line', async () => {
    const { host, port } = await settings(JSON.stringify(FULL), { host: '127.0.0.1', port: 0 });
    expect([host, port]).toEqual(['127.0.0.1', 0]);
    await expect(settings('open: false', { host: '0.0.0.0', open: true })).resolves.toMatchObject({ host: '0.0.0.0' });
    const { limits } = await settings('limits: { partBytes: 5, xmlDepth: 6 }', { limits: { xmlDepth: 7 } });
    expect(limits).toEqual({ ...DEFAULT_LIMITS, partBytes: 5, xmlDepth: 7 });
  });

  it('leaves room for at least one upload', async () => {
    const said = 'the limit uploadBytesHeld (99) has to be at least uploadBytes (100)';
    expect(await objection('limits: { uploadBytes: 100 }', { limits: { uploadBytesHeld: 99 } })).toContain(said);
    const { limits } = await settings('limits: { uploadBytes: 100, uploadBytesHeld: 100 }');
    expect(limits.uploadBytesHeld).toBe(100);
    const wide = await settings('limits: { uploadBytes: 1073741824 }');
    expect(wide.limits.uploadBytesHeld).toBe(1073741824);
  });
});

describe('the address', () => {
  it.each(['127.0.0.1', '127.9.9.9', '::1', 'localhost', '::ffff:127.0.0.1', '127.1'])(
    '%s is the loopback: it needs no token and has no rate limit',
    async (host) => {
      expect(await settings('', { host })).toMatchObject({ access: { tokens: [], rateLimit: null } });
    },
  );

  // Addresses that lead to all of a machine, and documentation addresses of RFC 5737 and RFC 3849.
  it.each(['0.0.0.0', '::', '0', '192.0.2.1', '2001:db8::1', '::ffff:192.0.2.1', '::ffff:0.0.0.0', ''])(
    '"%s" needs tokens or a word that it is open',
    async (host) => {
      const said = await objection('', { host });
      for (const word of [`on "${host}"`, 'linebudget token', '--config FILE', '--open']) expect(said).toContain(word);
      const limited = { access: { rateLimit: { requestsPerMinute: 60 } } };
      expect(await settings('', { host, open: true })).toMatchObject(limited);
      expect(await settings(TOKENS, { host })).toMatchObject(limited);
      expect(await settings('open: true\nrateLimit: null', { host })).toMatchObject({ access: { rateLimit: null } });
    },
  );

  it('behind a proxy counts as reached by others, wherever it is', async () => {
    expect(await objection('trustProxy: [127.0.0.1]')).toContain('behind a proxy');
    const limited = { access: { rateLimit: { requestsPerMinute: 60 } } };
    expect(await settings(`trustProxy: [127.0.0.1]\n${TOKENS}`)).toMatchObject(limited);
  });

  it('cannot be open and take tokens', async () => {
    expect(await objection(`open: true\n${TOKENS}`)).toContain('leave out either');
    expect(await objection(TOKENS, { open: true })).toContain('leave out either');
  });

  it('of no machine is a fault of the address', async () => {
    await expect(settings('', { host: 'none.invalid' })).rejects.toMatchObject({ syscall: 'getaddrinfo' }); // RFC 2606
  });
});

describe('a configuration that cannot be used', () => {
  const token = (fields: string) => `tokens: [{ name: ci, ${fields} }]`;

  it.each([
    [
      'hosts: localhost',
      'the file: there is no key "hosts"; this is a mapping of host, port, open, trustProxy, tokens',
    ],
    ['just words', 'the file: "just words" is not allowed; it takes a mapping of host'],
    ['[1, 2]', 'the file: a list is not allowed; it takes a mapping of host'],
    ['host: ""', 'host: "" is not allowed; it takes an address or a name'],
    ['host: 7', 'host: "7" is not allowed'],
    ['port: 70000', 'port: "70000" is not allowed; it takes a whole number from 0 to 65535'],
    ['port: "80"', 'port: "80" is not allowed'],
    ['port: 80.5', 'port: "80.5" is not allowed'],
    ['port: -1', 'port: "-1" is not allowed'],
    ['port:', 'port: "null" is not allowed'],
    ['open: yes', 'open: "yes" is not allowed; it takes true or false'],
    ['trustProxy: true', 'trustProxy: "true" is not allowed; it takes a list of addresses and networks'],
    [
      'trustProxy: [proxy]',
      'trustProxy[0]: "proxy" is not allowed; it takes an address or a network such as 10.0.0.0/8',
    ],
    ['trustProxy: [10.0.0.0/33]', 'trustProxy[0]: "10.0.0.0/33" is not allowed'],
    ['trustProxy: [0.0.0.0/0]', 'trustProxy[0]: "0.0.0.0/0" is not allowed'],
    ['trustProxy: ["::1", "fe80::1%eth0"]', 'trustProxy[1]: "fe80::1%eth0" is not allowed'],
    [
      'allowedOrigins: ["*"]',
      'allowedOrigins[0]: "*" is not allowed; it takes an origin such as https://portal.example',
    ],
    ['allowedOrigins: [https://a.example/]', 'allowedOrigins[0]: "https://a.example/" is not allowed'],
    ['allowedOrigins: [https://A.example]', 'allowedOrigins[0]: "https://A.example" is not allowed'],
    ['allowedOrigins: ["null"]', 'allowedOrigins[0]: "null" is not allowed'],
    ['allowedOrigins: ["file://x"]', 'allowedOrigins[0]: "file://x" is not allowed'],
    ['rateLimit: 5', 'rateLimit: "5" is not allowed; it takes a mapping of requestsPerMinute'],
    ['rateLimit: {}', 'rateLimit.requestsPerMinute: nothing is not allowed; it takes a whole number from 1 to 1000000'],
    ['rateLimit: { requestsPerMinute: 0 }', 'rateLimit.requestsPerMinute: "0" is not allowed'],
    [
      'limits: { uploadByte: 5 }',
      'limits: there is no key "uploadByte"; this is a mapping of uploadBytes, archiveEntries',
    ],
    ['limits: { xmlDepth: 0 }', 'limits.xmlDepth: "0" is not allowed; it takes a whole number from 1 to'],
    ['tokens: {}', 'tokens: a mapping is not allowed; it takes a list of tokens'],
    [token(`sha256: ${SHA256}`), 'tokens[0].roles: nothing is not allowed; it takes a list of roles'],
    [token(`sha256: ${SHA256}, roles: []`), 'tokens[0].roles: a list is not allowed; it takes at least one of audit'],
    [
      token(`sha256: ${SHA256}, roles: [admin]`),
      'tokens[0].roles[0]: "admin" is not allowed; it takes one of audit, metrics',
    ],
    ['tokens: [{ name: "a b" }]', 'tokens[0].name: "a b" is not allowed; it takes 1 to 64 letters'],
    [
      `tokens: [{ name: a, sha256: ${SHA256}, roles: [audit] }, { name: a, sha256: ${SHA256.replace(/./g, 'a')}, roles: [audit] }]`,
      'it takes tokens of different names',
    ],
    [
      `tokens: [{ name: a, sha256: ${SHA256}, roles: [audit] }, { name: b, sha256: ${SHA256.toUpperCase()}, roles: [audit] }]`,
      'it takes tokens of different hashes',
    ],
    ['port: 1\nport: 2', 'the key "port" stands twice in one mapping'],
    ['{ "port": 1', 'is neither YAML nor JSON: '],
    ['port: 1\n---\nport: 2', 'it holds several documents; keep one'],
    ['port: !!js/function 1', 'port: "1" is not allowed'],
    ['"__proto__": { open: true }', 'the file: there is no key "__proto__"'],
  ])('%s', async (text, said) => {
    const message = await objection(text);
    expect(message).toContain(FILE);
    expect(message).toContain(said);
  });

  it('names every fault at once', async () => {
    const lines = (await objection('port: x\nopen: 1\nhosts: y\nlimits: { a: 1, b: 2 }')).split('\n');
    expect(lines.map((line) => line.trim().split(':')[0])).toEqual([
      `${FILE} cannot be used`,
      'port',
      'open',
      'limits',
      'limits',
      'the file',
    ]);
  });

  it('does not repeat a token that stands in a wrong place', async () => {
    const { token: secret } = createToken('ci', ['audit']);
    for (const text of [
      token(`sha256: ${secret}, roles: [audit]`),
      `tokens: ["${secret}"]`,
      `tokens: "${secret}"`,
      `tokens: [{ name: ci, token: "${secret}", roles: [audit] }]`,
      `tokens: [{ "${secret}": ci }]`,
      `tokens: [{ name: "${secret}!", sha256: ${SHA256}, roles: [audit] }]`,
      token(`sha256: ${SHA256}, roles: ["${secret}"]`),
    ]) {
      expect(await objection(text)).not.toContain(secret);
    }
  });
});
