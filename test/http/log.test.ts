import { beforeAll, describe, expect, it } from 'vitest';
import { fixtureParts, zip } from '../support/archives.js';
import { Log } from '../support/log.js';
import { exchange, FORM, form, head, startServer, upload, ZIP } from '../support/server.js';

describe('the log', () => {
  const CANARY = 'canary7f3a';
  const parts = fixtureParts('house');
  const topology = String(parts['P-01D4/0.xml']);
  const named = topology.replaceAll('Whole house', CANARY);
  const withCanary = (text: string) => zip({ ...parts, [`${CANARY}.txt`]: CANARY, 'P-01D4/0.xml': text });
  const log = new Log();
  const answered: { status: number; id: string | null }[] = [];

  beforeAll(async () => {
    const one = await startServer({ logger: log.logger });
    const bodies = [
      await withCanary(named),
      await withCanary(named.replace('</Segment>', `</${CANARY}>`)),
      await withCanary(named.replace('http://knx.org/xml/project/23', CANARY)),
      Buffer.from(`no archive but a ${CANARY}`),
    ];
    for (const data of bodies) {
      await note(upload(one.url, data, ZIP));
      await note(upload(one.url, form([{ name: 'archive', filename: `${CANARY}.zip`, data }]), FORM));
      await note(upload(one.url, form([{ name: CANARY, filename: `${CANARY}.zip`, data }]), FORM));
      await note(upload(one.url, form([{ name: CANARY, data }]), FORM));
      await note(upload(one.url, form([{ name: 'archive', filename: CANARY, data }], ''), FORM));
      await note(upload(one.url, data, { 'content-type': 'text/plain' }));
      await note(exchange(one.port, head({ ...ZIP, 'content-length': 'many' }), data));
      await note(exchange(one.port, data));
    }
    await one.stop();
  });

  async function note(answer: Promise<{ status: number; headers: Headers }>): Promise<void> {
    const { status, headers } = await answer;
    answered.push({ status, id: headers.get('request-id') });
  }

  it('names every request by its id, at the finest level', () => {
    expect(answered.map(({ status }) => status)).toEqual([
      ...[200, 200, 400, 400, 400, 415, 400, 400],
      ...[422, 422, 400, 400, 400, 415, 400, 400],
      ...[422, 422, 400, 400, 400, 415, 400, 400],
      ...[415, 415, 400, 400, 400, 415, 400, 400],
    ]);
    const logged = new Set(log.entries.map(({ reqId }) => reqId));
    const requests = answered.filter((_, index) => index % 8 < 6);
    expect(requests.filter(({ id }) => !logged.has(id))).toEqual([]);
  });

  it('holds nothing of what was sent', () => {
    expect(log.text.length).toBeGreaterThan(1000);
    expect(log.text).not.toContain(CANARY);
    expect(log.text).not.toContain([...Buffer.from(CANARY)].join()); // bytes, as JSON writes a buffer
  });
});
