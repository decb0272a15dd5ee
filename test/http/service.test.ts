import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pino } from 'pino';
import { afterAll, afterEach, describe, expect, it } from 'vitest';
import type { Limits } from '../../src/limits.js';
import { EN } from '../../src/words/en/words.js';
import { Log } from '../support/log.js';
import { poolOf, reportOf, type Server, startServer, stubRunner, upload } from '../support/server.js';

let server: Server;

describe('while audits run', () => {
  const folder = mkdtempSync(join(tmpdir(), 'linebudget-'));
  const gate = join(folder, 'gate');
  const waiting = (limits: Partial<Limits>) => poolOf(limits, './waiting-worker.mjs');

  afterEach(async () => {
    writeFileSync(gate, ''); // also where a test failed before
    await server.stop();
    rmSync(gate);
  });
  afterAll(() => rmSync(folder, { recursive: true }));

  it('everything else is answered', async () => {
    server = await startServer({ audits: waiting({ auditThreads: 1 }) });
    const audits = [upload(server.url, gate), upload(server.url, gate)];
    for (const path of ['/healthz', '/readyz', '/v1/rules', '/v1/limits', '/v1/schemas/report', '/openapi.yaml']) {
      expect([path, (await fetch(`${server.url}${path}`)).status]).toEqual([path, 200]);
    }
    writeFileSync(gate, '');
    for (const answer of await Promise.all(audits)) expect(await answer.text()).toBe(`${gate} is there`);
  });

  it.each([
    { queue: 0, taken: 1 },
    { queue: 1, taken: 2 },
    { queue: 3, taken: 4 },
  ])(
    'one too many for a queue of $queue is refused with 503, and the others are answered',
    async ({ queue, taken }) => {
      server = await startServer({ audits: waiting({ auditThreads: 1, auditQueue: queue }) });
      const answers = Array.from({ length: taken + 1 }, () => upload(server.url, gate));
      const refused = await Promise.race(answers);
      expect([refused.status, refused.headers.get('retry-after')]).toEqual([503, '5']);
      expect(await refused.json()).toEqual({
        type: 'urn:linebudget:problem:busy',
        ...EN.problems.busy,
        status: 503,
        detail: 'as many audits are waiting as may (the limit auditQueue); try again in a few seconds',
      });
      writeFileSync(gate, '');
      const statuses = (await Promise.all(answers)).map(({ status }) => status);
      expect(statuses.sort()).toEqual([...Array(taken).fill(200), 503]);
    },
  );
});

describe('a fault of our own', () => {
  afterEach(() => server.stop());

  it('is answered with 500 without internals, and logged with the request id and its place, not its words', async () => {
    const log = new Log();
    const audits = stubRunner(() => Promise.reject(new Error('the secret of the house')));
    server = await startServer({ audits, logger: log.logger });
    const answer = await upload(server.url, 'abc');
    const body = await answer.text();
    expect(answer.status).toBe(500);
    expect(JSON.parse(body)).toMatchObject({ type: 'urn:linebudget:problem:internal-fault', status: 500 });
    expect(body).not.toContain('secret');
    const logged = log.entries.filter(({ level }) => level === pino.levels.values.error);
    expect(logged).toHaveLength(1);
    expect(logged[0]).toMatchObject({
      reqId: answer.headers.get('request-id'),
      err: expect.stringMatching(/^Error\n +at .*service\.test\.ts:\d+/),
    });
    expect(log.text).not.toContain('secret');
  });

  it('in a rule is logged with the request id, beside the report', async () => {
    const log = new Log();
    const ruleFailures = [{ rule: 'some-rule', cause: 'Error: at some line' }];
    server = await startServer({
      audits: stubRunner(async () => ({ ...reportOf('{}'), ruleFailures })),
      logger: log.logger,
    });
    const answer = await upload(server.url, 'abc');
    expect([answer.status, await answer.text()]).toEqual([200, '{}']);
    const reqId = answer.headers.get('request-id');
    expect(log.entries).toContainEqual(expect.objectContaining({ ...ruleFailures[0], reqId, msg: 'a rule failed' }));
  });
});
