import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { bearer, byToken, TOKEN } from '../support/access.js';
import { fixtureArchive } from '../support/archives.js';
import {
  exchange,
  FORM,
  form,
  head,
  open,
  poolOf,
  reportOf,
  type Server,
  startServer,
  stubRunner,
  upload,
  ZIP,
} from '../support/server.js';

let server: Server;

afterEach(() => server.stop());

/** The samples, read by the text format's own description: comments apart, a name with labels and a number a line. */
async function samples(headers: Record<string, string> = {}): Promise<Map<string, number>> {
  const answer = await fetch(`${server.url}/metrics`, { headers });
  expect(answer.headers.get('content-type')).toMatch(/^text\/plain; version=0\.0\.4/);
  const lines = (await answer.text()).split('\n').filter((line) => line !== '' && !line.startsWith('#'));
  return new Map(
    lines.map((line) => {
      const [, name, value] = /^([a-z_]+(?:\{.*\})?) (\S+)$/.exec(line) ?? [];
      return [String(name), Number(value)];
    }),
  );
}

const audits = (outcome: string) => `linebudget_audits_total{outcome="${outcome}"}`;

describe('the figures', () => {
  it('count audits by how they ended, and time those that gave a report', async () => {
    server = await startServer();
    const house = await fixtureArchive('house');
    await upload(server.url, house);
    await upload(server.url, form([{ name: 'archive', filename: 'house.zip', data: house }]), FORM);
    await upload(server.url, 'no archive');
    await upload(server.url, house, { 'content-type': 'text/plain' });
    await fetch(`${server.url}/v1/rules`);
    const found = await samples();
    const counted = [...found].filter(([name]) => name.startsWith('linebudget_audits_total'));
    expect(Object.fromEntries(counted)).toEqual({
      [audits('report')]: 2,
      [audits('not-a-zip')]: 1,
      [audits('unsupported-media-type')]: 1,
    });
    expect(found.get('linebudget_audit_duration_seconds_count')).toBe(2);
    expect(found.get('linebudget_audit_duration_seconds_bucket{le="+Inf"}')).toBe(2);
    const seconds = found.get('linebudget_audit_duration_seconds_sum');
    expect(seconds).toBeGreaterThan(0.001);
    expect(seconds).toBeLessThan(60);
  });

  it('tell how many audits are in flight, and count one that its client gave up', async () => {
    let finish = () => {};
    const waiting = new Promise<void>((resolve) => {
      finish = resolve;
    });
    const run = () => waiting.then(() => reportOf('{}'));
    server = await startServer({ audits: stubRunner(run) });
    const running = upload(server.url, 'abc');
    const socket = await open(server.port);
    socket.write(head({ ...ZIP, 'content-length': 1000 }));
    await until(async () => (await samples()).get('linebudget_audits_in_flight') === 2);
    socket.destroy();
    await until(async () => (await samples()).get(audits('aborted')) === 1);
    finish();
    await running;
    await until(async () => (await samples()).get(audits('report')) === 1);
    expect((await samples()).get('linebudget_audits_in_flight')).toBe(0);
  });

  it('tell how many audits run and how many wait for a thread', async () => {
    const limits = { auditThreads: 1 };
    server = await startServer({ audits: poolOf(limits, './waiting-worker.mjs'), limits });
    const folder = mkdtempSync(join(tmpdir(), 'linebudget-'));
    const file = join(folder, 'go');
    const load = async () => {
      const found = await samples();
      return [found.get('linebudget_audits_running'), found.get('linebudget_audits_waiting')];
    };
    const uploads = [file, file, file].map((name) => upload(server.url, name));
    await until(async () => (await load()).join() === '1,2');
    writeFileSync(file, '');
    await Promise.all(uploads);
    expect(await load()).toEqual([0, 0]);
    rmSync(folder, { recursive: true });
  });

  it('tell the memory of the process in bytes', async () => {
    server = await startServer();
    const bytes = (await samples()).get('process_resident_memory_bytes');
    expect(bytes).toBeGreaterThan(10_000_000);
    expect(bytes).toBeLessThan(10_000_000_000);
  });

  it('are for the role "metrics", and count refusals', async () => {
    server = await startServer({ access: byToken() });
    await exchange(server.port, head({ ...ZIP, 'content-length': 1000 }));
    await upload(server.url, 'abc', { ...ZIP, ...bearer(TOKEN.watcher) });
    const found = await samples(bearer(TOKEN.watcher));
    expect([found.get(audits('token-missing')), found.get(audits('role-missing'))]).toEqual([1, 1]);
  });
});

async function until(holds: () => Promise<boolean>): Promise<void> {
  while (!(await holds())) await new Promise((resolve) => setTimeout(resolve, 10));
}
