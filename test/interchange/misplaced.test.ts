import { describe, expect, test } from 'vitest';
import type { DeviceRecord } from '../../src/interchange/records.js';
import { topologyOf, topologyXml } from '../support/xml.js';

const DEVICE = '<DeviceInstance Id="D" Address="1"/>';
const line = (content: string) => `<Line Id="L" Address="1">${content}</Line>`;
const area = (content: string) => `<Area Id="A" Address="1">${content}</Area>`;

/** No form of the interchange has any of these. What the audit cannot place, it says it cannot place. */
describe('a device is unassigned, not lost,', () => {
  test.each([
    ['on a line in no area', line(DEVICE)],
    ['on a line in something unknown', area(`<Branch>${line(DEVICE)}</Branch>`)],
    ['on a segment of a line in no area', line(`<Segment Id="S">${DEVICE}</Segment>`)],
    ['on a segment in no line', area(`<Segment Id="S">${DEVICE}</Segment>`)],
    ['behind a segment in its segment', area(line(`<Segment Id="S"><Segment Id="T"/>${DEVICE}</Segment>`))],
    ['behind a line in its line', area(line(`${line('')}${DEVICE}`))],
  ])('%s', async (_where, content) => {
    const { installations } = await topologyOf(topologyXml(content));
    expect(installations[0]?.unassigned).toMatchObject([{ id: 'D' } satisfies Partial<DeviceRecord>]);
  });
});
