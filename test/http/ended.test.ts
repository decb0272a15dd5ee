import { afterEach, beforeAll, describe, expect, it } from 'vitest';
import { audit } from '../../src/audit.js';
import { formatJson } from '../../src/report/format/json.js';
import { EN } from '../../src/words/en/words.js';
import { fixtureArchive } from '../support/archives.js';
import { heavyArchive } from '../support/heavy.js';
import { poolOf, type Server, startServer, upload } from '../support/server.js';

let server: Server;
afterEach(() => server.stop());

/** The status of an answer, what it says, and when to try again. */
async function told(answer: Response | Promise<Response>) {
  const { status, headers } = await answer;
  return { status, retryAfter: headers.get('retry-after'), body: await (await answer).text() };
}

function problem(code: keyof typeof EN.problems, detail: string) {
  return { type: `urn:linebudget:problem:${code}`, ...EN.problems[code], status: 413, detail };
}

const tooLong = problem(
  'audit-too-long',
  'the audit ran longer than the limit auditSeconds, which is 1; the same archive would fail again',
);
const tooLarge = problem(
  'audit-too-large',
  'the audit took more memory than the limit auditMemoryMib, which is 24; the same archive would fail again',
);

describe.each([
  ['without end', 'endless', tooLong],
  ['of more and more memory', 'memory', tooLarge],
])('an audit %s', (_what, command, expected) => {
  const limits = { auditThreads: 1, auditMemoryMib: 24, auditSeconds: command === 'endless' ? 1 : 60 };
  const rough = () => startServer({ audits: poolOf(limits, './rough-worker.mjs') });

  it('is ended and answered with 413, and not to be tried again', async () => {
    server = await rough();
    const { status, retryAfter, body } = await told(upload(server.url, command));
    expect([status, retryAfter]).toEqual([413, null]);
    expect(JSON.parse(body)).toEqual(expected);
  });

  it('leaves its place to a new thread', async () => {
    server = await rough();
    const bodies = [];
    for (const one of ['a', 'b', command, 'c', command, 'd', 'e']) {
      bodies.push((await told(upload(server.url, one))).body);
    }
    const counts = bodies.map((body) => /^audit (\d) of this thread$/.exec(body)?.[1]);
    expect(counts).toEqual(['1', '2', undefined, '1', undefined, '1', '2']);
  });

  it('lets those that wait behind it run, however long they have waited', async () => {
    server = await rough();
    const all = [command, command, 'a'].map((one) => upload(server.url, one));
    expect((await Promise.all(all)).map(({ status }) => status)).toEqual([413, 413, 200]);
  });
});

describe('a real archive', () => {
  let school: Buffer;
  let report: string;

  beforeAll(async () => {
    school = await fixtureArchive('school');
    report = formatJson(await audit(school));
  });

  it.each([
    ['auditMemoryMib', { auditMemoryMib: 24 }, 60_000, tooLarge],
    ['auditSeconds', { auditSeconds: 3, auditMemoryMib: 8192, elementsRead: 16_000_000 }, 600_000, tooLong],
  ])(
    'over %s is answered with 413, and the audits beside it are as ever',
    { timeout: 120_000 },
    async (_name, limits, devices, expected) => {
      server = await startServer({ limits: { auditThreads: 2, ...limits } });
      const heavy = upload(server.url, await heavyArchive(devices));
      const beside = Array.from({ length: 10 }, () => told(upload(server.url, school)));
      const { type } = JSON.parse((await told(heavy)).body);
      expect(type).toBe(expected.type);
      for (const one of await Promise.all(beside)) expect(one).toEqual({ status: 200, retryAfter: null, body: report });
      expect((await told(upload(server.url, school))).body).toBe(report);
    },
  );
});

describe('the heap of a thread', () => {
  const left = async (archive: Buffer) =>
    (await (await upload(server.url, archive)).json()) as { heapMib: number; collections: number };

  it('is given back after a large audit, and a usual one asks for no collection', async () => {
    server = await startServer({ audits: poolOf({ auditThreads: 1 }, './heap-worker.mjs') });
    const [house, heavy] = [await fixtureArchive('house'), await heavyArchive(100_000)]; // some 150 MB of heap
    expect(await left(house)).toMatchObject({ collections: 0 });
    const { heapMib, collections } = await left(heavy);
    expect(collections).toBeGreaterThan(0);
    expect(heapMib).toBeLessThan(96);
    expect(await left(house)).toMatchObject({ collections: 0 });
  });
});
